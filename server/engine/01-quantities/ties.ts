/** What depends on what in a build: a graph from each parameter, drawing and count to whatever follows from it. */
import type { Amount, Build, Estimate, Part, Step } from '../../model/index.ts';
import { readDuration } from './amounts.ts';
import { parseFormula } from './formula-syntax.ts';
import { hasLead, impliedOrderId } from './yield-learning.ts';

/**
 * What a node of the graph stands for: the value of a parameter, the number of sets, a limit; of a part how many there
 * are and what each of them is (its drawing); of a step or a gate how many units it has, what is worked on, how long it
 * takes and what it waits for; what is in a box, what hangs on a point, how long a job of the strike takes.
 */
export type TieKind =
  | ('parameter' | 'sets' | 'limit' | 'count' | 'drawing' | 'units' | 'work' | 'time' | 'link')
  | ('box' | 'point' | 'strike');

/** A node: its kind and the name of the parameter, or the id of the part, the limit, the step, the gate or whatever. */
export interface Tied {
  readonly kind: TieKind;
  readonly id: string;
}

/**
 * Names in a formula or a named tie lead from a parameter; what follows from the lists of parts and steps is `made`.
 */
type TieLabel = 'named' | 'follows';

/**
 * By node, the nodes that depend on it, each with the label of its edge. Plain tables: a build has some thousand edges,
 * which the graph library takes twenty times as long to lay (20 microseconds each), on the thread that answers
 * requests.
 */
export type Ties = ReadonlyMap<string, ReadonlyMap<string, TieLabel>>;

/**
 * The graph of a build. Named ties go from a parameter to whatever has it in a formula, and to the part whose drawing
 * depends on it. The rest follows: the count of a part sets the counts of the parts in it and the units of its steps
 * and its order; its drawing is that of the part it goes into as well, and is what its steps work on; the sets set the
 * units of what is done once a set. What is in a box depends on how many there are of a part, and on its drawing.
 * O(size of the build).
 */
export function tiesOf(build: Build): Ties {
  const ties = new Map<string, Map<string, TieLabel>>();
  const tie = (from: Tied, to: Tied, label: TieLabel): void => {
    const [source, target] = [keyOf(from), keyOf(to)];
    if (source === target) return;
    const edges = ties.get(source) ?? new Map<string, TieLabel>();
    ties.set(source, edges.set(target, label));
  };
  const named = (to: Tied, ...texts: readonly unknown[]): void => {
    for (const id of texts.flatMap(namesInAmount)) tie({ kind: 'parameter', id }, to, 'named');
  };
  for (const { name, formula } of build.parameters ?? []) named({ kind: 'parameter', id: name }, formula);
  for (const { id, of, least, most } of build.limits ?? []) named({ kind: 'limit', id }, of, least, most);
  named(SETS, build.sets?.count);
  for (const part of build.parts ?? []) tiesOfPart(part, build, tie, named);
  for (const step of build.steps) tiesOfStep(step, tie, named);
  for (const { to, ratio, lag } of build.feeds ?? []) named({ kind: 'link', id: to }, ratio, lag);
  for (const { id, minutes, perSet, sendsBack } of build.gates ?? []) {
    named({ kind: 'time', id }, minutes);
    if (perSet) tie(SETS, { kind: 'units', id }, 'follows');
    for (const { step, units } of sendsBack ?? []) named({ kind: 'link', id: step }, units);
  }
  tiesOfShow(build, tie, named);
  return ties;
}

/**
 * All that depends on these, themselves left out unless a circle leads back; `over` keeps to edges of that label.
 * O(edges).
 */
export function dependentsOf(ties: Ties, from: readonly Tied[], over?: TieLabel): Tied[] {
  const reached = new Set<string>();
  const queue = from.map(keyOf);
  for (const node of queue) {
    for (const [next, label] of ties.get(node) ?? []) {
      if (reached.has(next) || (over !== undefined && label !== over)) continue;
      reached.add(next);
      queue.push(next);
    }
  }
  return [...reached].map(tiedOf);
}

/** The names of parameters in an amount, a span or an estimate; none in a number or a length of time. */
export function namesInAmount(text: unknown): readonly string[] {
  if (typeof text !== 'string' || readDuration(text) !== null) return [];
  const parsed = parseFormula(text);
  return parsed.ok ? parsed.formula.names : [];
}

/** All amounts that say how long a step takes. */
function amountsOfTime(step: Step): readonly (Amount | Estimate)[] {
  const phases = (step.phases ?? []).flatMap((phase) => [
    'minutes' in phase ? phase.minutes : undefined,
    'perUnit' in phase ? phase.perUnit : undefined,
  ]);
  return [step.takes, step.setup, step.lotSize, ...phases].filter((it) => it !== undefined);
}

type Tie = (from: Tied, to: Tied, label: TieLabel) => void;
type Named = (to: Tied, ...texts: readonly unknown[]) => void;

const SETS: Tied = { kind: 'sets', id: '' };

function tiesOfPart(part: Part, build: Build, tie: Tie, named: Named): void {
  const { id, usedIn = [] } = part;
  const [count, drawing] = [{ kind: 'count', id } as const, { kind: 'drawing', id } as const];
  const ways = (part.ways ?? []).map((way) => way.units);
  named(count, part.count, part.spares, ...ways, ...usedIn.map((use) => use.count));
  for (const name of part.dependsOn ?? []) tie({ kind: 'parameter', id: name }, drawing, 'named');
  for (const use of usedIn) {
    tie({ kind: 'count', id: use.part }, count, 'follows');
    tie(drawing, { kind: 'drawing', id: use.part }, 'follows');
  }
  if (part.source !== 'make' && part.supplier !== undefined && !hasLead(part, build)) {
    tie(count, { kind: 'units', id: impliedOrderId(part) }, 'follows');
    tie(drawing, { kind: 'work', id: impliedOrderId(part) }, 'follows');
  }
}

function tiesOfStep(step: Step, tie: Tie, named: Named): void {
  const { id, part, count, perSet, uses = [], after = [] } = step;
  if (part !== undefined) {
    tie({ kind: 'count', id: part }, { kind: 'units', id }, 'follows');
    tie({ kind: 'drawing', id: part }, { kind: 'work', id }, 'follows');
  } else {
    named({ kind: 'units', id }, count);
  }
  if (perSet) tie(SETS, { kind: 'units', id }, 'follows');
  for (const used of uses) tie({ kind: 'drawing', id: used }, { kind: 'work', id }, 'follows');
  named({ kind: 'time', id }, ...amountsOfTime(step));
  for (const link of after) if (typeof link === 'object') named({ kind: 'link', id }, link.ratio, link.lag);
}

function tiesOfShow({ boxes = [], points = [], strike = [] }: Build, tie: Tie, named: Named): void {
  for (const { id, parts = [] } of boxes) {
    for (const { part, count } of parts) {
      named({ kind: 'box', id }, count);
      tie({ kind: 'count', id: part }, { kind: 'box', id }, 'follows');
      tie({ kind: 'drawing', id: part }, { kind: 'box', id }, 'follows');
    }
  }
  for (const { id, load } of points) named({ kind: 'point', id }, load);
  for (const { id, minutes } of strike) named({ kind: 'strike', id }, minutes);
}

function keyOf({ kind, id }: Tied): string {
  return `${kind} ${id}`;
}

function tiedOf(key: string): Tied {
  const at = key.indexOf(' ');
  return { kind: key.slice(0, at) as TieKind, id: key.slice(at + 1) };
}
