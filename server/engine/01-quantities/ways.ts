/** Parts that may come about in several ways: the build by the ways that are chosen, as if there were no others. */
import {
  type After,
  type Build,
  chosenWay,
  type Part,
  type Problem,
  problem,
  problemTexts,
  type Step,
  type Way,
} from '../../model/index.ts';
import { ceilCount } from '../numbers/index.ts';
import { createEvaluator, type Evaluator } from './amounts.ts';
import { solveParameters } from './formula.ts';
import { quantitiesOf } from './quantities.ts';
import { hasLead, impliedOrderId } from './yield-learning.ts';

/** A build by its chosen ways, and what is wrong with them. */
export interface Chosen {
  readonly build: Build;
  readonly problems: readonly Problem[];
}

/**
 * The build as it is planned: each part with ways has the source, supplier, costs and yield of the one chosen, and the
 * steps of ways that are not taken are left out; what named these waits for the order instead, where there is one. The
 * units that come another way (`units` of it) are a part of their own, `bough--welder`, that goes into the same parents
 * in proportion: a parent's first units take their share of both. Where steps of the part name no way they are done to
 * all of it, and each way is then a part that goes into it. The units of a way are compared with the need of the part
 * as a whole. A build without ways is itself. Known builds are remembered; else linear in the build, and the quantities
 * once more where a part is split.
 */
export function chosenOf(build: Build, overrides: ReadonlyMap<string, number> = new Map()): Chosen {
  if (!build.parts?.some(({ ways }) => ways !== undefined) && !build.steps.some(({ way }) => way !== undefined)) {
    return { build, problems: [] };
  }
  if (overrides.size > 0) return choose(build, overrides);
  const known = REMEMBERED.get(build);
  if (known !== undefined) return known;
  const chosen = choose(build, overrides);
  REMEMBERED.set(build, chosen);
  REMEMBERED.set(chosen.build, { build: chosen.build, problems: [] });
  return chosen;
}

const REMEMBERED = new WeakMap<Build, Chosen>();

function choose(build: Build, overrides: ReadonlyMap<string, number>): Chosen {
  const problems = wrongWays(build);
  const whole = withOrders(byWay(build), build);
  if (!build.parts?.some((part) => sharesOf(part).length > 0)) return { build: whole, problems };
  const { parts } = quantitiesOf(whole, overrides);
  const { values } = solveParameters(build.parameters ?? [], overrides);
  const evaluator = createEvaluator(values);
  let split = byWay(build);
  for (const part of build.parts) {
    const need = parts.get(part.id)?.need ?? 0;
    const shares = readShares(part, need, evaluator, problems);
    if (shares.length > 0)
      split = withSplit(split, { part, need, shares, typed: build.parts, steps: build.steps, evaluator });
  }
  return { build: withOrders(split, build), problems: [...problems, ...evaluator.problems] };
}

/** Names of ways that there are not, and two ways of one name. */
function wrongWays({ parts = [], steps }: Build): Problem[] {
  const say = problemTexts.ways;
  const known = (part: Part | undefined, way: string) => part?.ways?.some(({ id }) => id === way) ?? false;
  const listed = (part: Part | undefined) => (part?.ways ?? []).map(({ id }) => id).join(', ');
  const byId = new Map(parts.map((part) => [part.id, part]));
  return [
    ...parts.flatMap((part) => {
      const field = `parts.${part.id}`;
      const ids = (part.ways ?? []).map(({ id }) => id);
      const twice = ids.find((id, at) => ids.indexOf(id) < at);
      const gone = part.way !== undefined && !known(part, part.way) ? [part.way] : [];
      return [
        ...(twice === undefined ? [] : [problem('duplicate-id', `${field}.ways`, twice, say.twice(part.name, twice))]),
        ...gone.map((way) => problem('unknown-name', `${field}.way`, way, say.unknown(part.name, way, listed(part)))),
        ...(part.usedIn ?? []).flatMap(({ part: parent, way }) =>
          way === undefined || known(byId.get(parent), way)
            ? []
            : [
                problem(
                  'unknown-name',
                  `${field}.usedIn.${parent}.way`,
                  way,
                  say.unknown(byId.get(parent)?.name ?? parent, way, listed(byId.get(parent))),
                ),
              ],
        ),
      ];
    }),
    ...steps.flatMap(({ id, name, part, way }) => {
      if (way === undefined) return [];
      const its = part === undefined ? undefined : byId.get(part);
      if (its === undefined) return [problem('unknown-name', `steps.${id}.way`, way, say.noPart(name, way))];
      if (known(its, way)) return [];
      return [problem('unknown-name', `steps.${id}.way`, way, say.unknown(its.name, way, listed(its)))];
    }),
  ];
}

/** The build by the chosen ways alone, nothing split. */
function byWay(build: Build): Build {
  const parts = (build.parts ?? []).map((part) => partBy(part, chosenWay(part)));
  const chosen = new Map((build.parts ?? []).map((part) => [part.id, chosenWay(part)?.id]));
  return {
    ...build,
    parts: parts.map((part) => {
      if (part.usedIn === undefined) return part;
      const isTaken = ({ part: parent, way }: Use) => way === undefined || way === chosen.get(parent);
      return { ...part, usedIn: part.usedIn.map((use) => ({ part: use.part, count: isTaken(use) ? use.count : 0 })) };
    }),
    steps: build.steps
      .filter(({ part, way }) => way === undefined || part === undefined || way === chosen.get(part))
      .map(({ way: _, ...step }) => step),
  };
}

/** A part that comes about this way: what the way leaves out is as the part says. */
function partBy({ ways: _, way: __, ...part }: Part, way: Way | null): Part {
  if (way === null) return part;
  const { supplier, ...rest } = part;
  const own = way.supplier ?? supplier;
  return {
    ...rest,
    source: way.source,
    ...(own === undefined || (way.source === 'make' && way.supplier === undefined) ? {} : { supplier: own }),
    ...(way.unitCost === undefined ? {} : { unitCost: way.unitCost }),
    ...(way.onceCost === undefined ? {} : { onceCost: way.onceCost }),
    ...(way.yield === undefined ? {} : { yield: way.yield }),
  };
}

interface WayUnits {
  readonly way: Way;
  readonly units: number;
}

/** The ways that have units though another is chosen. */
function sharesOf(part: Part): Way[] {
  const chosen = chosenWay(part);
  return (part.ways ?? []).filter((way) => way.units !== undefined && way.id !== chosen?.id);
}

function readShares(part: Part, need: number, evaluator: Evaluator, problems: Problem[]): WayUnits[] {
  let left = need;
  return sharesOf(part).flatMap((way) => {
    const field = `parts.${part.id}.ways.${way.id}.units`;
    const units = evaluator.count(way.units!, field);
    if (units === null || units === 0) return [];
    if (units > left) {
      problems.push(problem('range', field, units, problemTexts.ways.tooMany(part.name, way.name, units, left)));
      return [];
    }
    left -= units;
    return [{ way, units }];
  });
}

interface Split {
  readonly part: Part;
  readonly need: number;
  readonly shares: readonly WayUnits[];
  /** All parts and steps of the build as they are typed. */
  readonly typed: readonly Part[];
  readonly steps: readonly Step[];
  readonly evaluator: Evaluator;
}

function withSplit(build: Build, { part, need, shares, typed, steps, evaluator }: Split): Build {
  const chosen = chosenWay(part)!;
  const main = build.parts!.find(({ id }) => id === part.id)!;
  const rest = { way: chosen, units: need - shares.reduce((sum, { units }) => sum + units, 0) };
  const isShared = steps.some((step) => step.part === part.id && step.way === undefined);
  const own = main.count === undefined ? 0 : (evaluator.count(main.count, `parts.${part.id}.count`) ?? 0);
  // What the part itself costs once comes once, with the first of its ways that says no cost of its own.
  const bearer = [rest, ...shares].find(({ way, units }) => units > 0 && way.onceCost === undefined)?.way.id;
  const subs = (isShared ? [rest, ...shares] : shares).map(({ way, units }): Part => {
    const { count: _, spares: __, onHand: ___, yield: ____, usedIn = [], ...base } = main;
    const { onceCost, ...it } = partBy({ ...base, ...(part.ways === undefined ? {} : { ways: part.ways }) }, way);
    const once = onceCost === undefined || (way.onceCost === undefined && way.id !== bearer) ? {} : { onceCost };
    const share = units / need;
    const uses = isShared ? [{ part: main.id, count: share }] : usedBy(main.id, usedIn, share, evaluator);
    const counted = isShared ? {} : ownCount(own, own - ownOf(own, need, need - units));
    return { ...it, ...once, id: shareId(part, way), name: wayName(part, way), usedIn: uses, ...counted };
  });
  const left = isShared ? 1 : rest.units / need;
  const changed = isShared ? wholeOf(main) : restOf(main, part, chosen, left, ownOf(own, need, rest.units), evaluator);
  return {
    ...build,
    parts: withChildren(build.parts!, { part, typed, isShared, shares }).flatMap((it) =>
      it.id === part.id ? [changed, ...subs] : [it],
    ),
    steps: withSteps(build.steps, { part, isShared, shares, steps }),
  };
}

/** What all ways lead to: it is worked on by the steps that name none. */
function wholeOf({ supplier: _, unitCost: __, onceCost: ___, packSize: ____, ...main }: Part): Part {
  return { ...main, source: 'make' };
}

function restOf(main: Part, part: Part, way: Way, share: number, own: number, evaluator: Evaluator): Part {
  const { count: _, ...rest } = main;
  const usedIn = usedBy(main.id, main.usedIn ?? [], share, evaluator);
  return { ...rest, name: wayName(part, way), ...ownCount(own, own), ...(main.usedIn === undefined ? {} : { usedIn }) };
}

/** The share of a way in a part's own count: in proportion to what the way has of the whole need. */
function ownOf(own: number, need: number, units: number): number {
  return need === 0 ? 0 : ceilCount((own * units) / need);
}

function ownCount(own: number, count: number): Pick<Part, 'count'> {
  return own === 0 ? {} : { count };
}

function usedBy(id: string, usedIn: NonNullable<Part['usedIn']>, share: number, evaluator: Evaluator) {
  return usedIn.map((use) => ({
    part: use.part,
    count: (evaluator.amount(use.count, `parts.${id}.usedIn.${use.part}`) ?? 0) * share,
  }));
}

/** What goes into the part goes into each of its ways; what goes into it by one way only, into that. */
function withChildren(parts: readonly Part[], { part, typed, isShared, shares }: Children): Part[] {
  const chosen = chosenWay(part)!;
  const ids = new Map(shares.map(({ way }) => [way.id, shareId(part, way)]));
  ids.set(chosen.id, isShared ? shareId(part, chosen) : part.id);
  const whole = isShared ? [part.id] : [...ids.values()];
  const inWays = (use: Use): Use[] => {
    if (use.part !== part.id) return [];
    const into = use.way === undefined ? whole : [ids.get(use.way) ?? []].flat();
    return into.length === 0 ? [{ part: part.id, count: 0 }] : into.map((id) => ({ part: id, count: use.count }));
  };
  return parts.map((it) => {
    const uses = typed.find(({ id }) => id === it.id)?.usedIn ?? [];
    if (it.usedIn === undefined || !uses.some((use) => use.part === part.id)) return it;
    return { ...it, usedIn: [...it.usedIn.filter((use) => use.part !== part.id), ...uses.flatMap(inWays)] };
  });
}

type Use = NonNullable<Part['usedIn']>[number];

interface Children extends Pick<Split, 'part' | 'shares'> {
  /** The parts as they are typed. */
  readonly typed: readonly Part[];
  readonly isShared: boolean;
}

/** The steps of the shared ways come back, each with the part that its units are; `uses` takes from all. */
function withSteps(
  present: readonly Step[],
  { part, isShared, shares, steps }: Pick<Split, 'part' | 'shares' | 'steps'> & { readonly isShared: boolean },
): Step[] {
  const there = new Set(present.map(({ id }) => id));
  const subs = new Map(shares.map(({ way }) => [way.id, shareId(part, way)]));
  if (isShared) subs.set(chosenWay(part)!.id, shareId(part, chosenWay(part)!));
  return steps.flatMap((typed) => {
    const own = present.find(({ id }) => id === typed.id);
    const sub = typed.part === part.id && typed.way !== undefined ? subs.get(typed.way) : undefined;
    if (own === undefined && sub === undefined) return [];
    const { way: _, ...plain } = typed;
    const step = own ?? plain;
    if (sub !== undefined) return [{ ...step, part: sub }];
    if (!there.has(typed.id) || isShared || !step.uses?.includes(part.id)) return [step];
    return [{ ...step, uses: [...step.uses, ...subs.values()] }];
  });
}

/** The id of the units of a split part that come by a way, as a part of their own: `bough--welder`. */
export function shareId(part: Pick<Part, 'id'>, way: Pick<Way, 'id'>): string {
  return `${part.id}--${way.id}`.slice(0, 60);
}

/**
 * The parts that are shares of others where these are split, each with the part as it is typed: `bough--welder` with
 * `bough`. A part that is typed under such an id is itself. O(parts x ways).
 */
export function wholesOf({ parts = [] }: Pick<Build, 'parts'>): ReadonlyMap<string, string> {
  const typed = new Set(parts.map(({ id }) => id));
  const shares = parts.flatMap((part) => (part.ways ?? []).map((way) => [shareId(part, way), part.id] as const));
  return new Map(shares.filter(([id]) => !typed.has(id)));
}

function wayName(part: Part, way: Way): string {
  return `${part.name} (${way.name})`.slice(0, 120);
}

/** What names a step that is not taken waits for the order of its part, or for the part's steps that are. */
function withOrders(planned: Build, build: Build): Build {
  const there = new Set(planned.steps.map(({ id }) => id));
  const out = new Map(build.steps.filter(({ id }) => !there.has(id)).map(({ id, part }) => [id, part]));
  const orders = new Map(
    (planned.parts ?? []).map((part) => [
      part.id,
      part.source !== 'make' && part.supplier !== undefined && !hasLead(part, planned) ? impliedOrderId(part) : null,
    ]),
  );
  const ordered = new Set(orders.values());
  const unordered = new Map(
    (build.parts ?? []).flatMap((part) => (part.ways === undefined ? [] : [[impliedOrderId(part), part.id] as const])),
  );
  const instead = (id: string): string[] => {
    if (out.has(id)) return [orders.get(out.get(id) ?? '') ?? []].flat();
    const part = ordered.has(id) || there.has(id) ? undefined : unordered.get(id);
    return part === undefined ? [id] : planned.steps.filter((step) => step.part === part).map((step) => step.id);
  };
  const all = (ids: readonly string[]) => [...new Set(ids.flatMap(instead))];
  const one = <T>(thing: T, id: string): T[] =>
    instead(id)
      .slice(0, 1)
      .map((step) => ({ ...thing, step }));
  const after = (it: After): After[] => (typeof it === 'string' ? instead(it) : one(it, it.step));
  return {
    ...planned,
    steps: planned.steps.map((step) =>
      step.after === undefined ? step : { ...step, after: step.after.flatMap(after) },
    ),
    ...(planned.boxes && {
      boxes: planned.boxes.map(({ opensAt, ...box }) =>
        opensAt === undefined || out.has(opensAt) ? box : { ...box, opensAt },
      ),
    }),
    ...(planned.feeds && {
      feeds: planned.feeds.flatMap((feed) =>
        out.has(feed.to) ? [] : instead(feed.from).map((from) => ({ ...feed, from })),
      ),
    }),
    ...(planned.gates && {
      gates: planned.gates.map((gate) => ({
        ...gate,
        after: all(gate.after),
        ...(gate.before && { before: all(gate.before) }),
        ...(gate.holds && { holds: all(gate.holds) }),
        ...(gate.sendsBack && { sendsBack: gate.sendsBack.flatMap((back) => one(back, back.step)) }),
      })),
    }),
    ...(planned.decisions && {
      decisions: planned.decisions.map((decision) => ({ ...decision, waits: all(decision.waits) })),
    }),
  };
}
