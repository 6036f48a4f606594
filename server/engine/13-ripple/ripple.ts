/** The ripple of a change: all that depends on it, and what is made to the old value. */
import {
  applyChanges,
  type Build,
  type Change,
  type LogEntry,
  type Part,
  type Ripple,
  thingAt,
} from '../../model/index.ts';
import {
  chosenOf,
  dependentsOf,
  learntYields,
  type Quantities,
  quantitiesOf,
  type Tied,
  type TieKind,
  tiesOf,
} from '../01-quantities/index.ts';
import { type Tally, tallyLog, timedEntries } from '../log/index.ts';
import { limitsBroken } from './limits-broken.ts';
import { madeOf } from './made.ts';
import { showReached } from './show-reached.ts';

/**
 * What changes of a build reach, from the parameters, drawings and materials that they change: all parameters, parts,
 * steps, gates, orders, limits, boxes, points to hang from and jobs of the strike that depend on these in the graph of
 * the build before or after (see `tiesOf`), with the values and counts of both; and the units that are made or ordered
 * so far of each part whose drawing is reached. `before` and `after` are the build before and after the changes. Empty
 * lists where nothing of the kind is changed. Those are most edits, and cost a look at the parameters and parts alone;
 * else O(size of the build and its log).
 */
export function rippleOf(before: Build, after: Build, changes: readonly Change[], log: readonly LogEntry[]): Ripple {
  const called = renamedIn(before, changes);
  const sources = changedIn(called, after);
  if (sources.length === 0) return NO_RIPPLE;
  const reached = distinct([called, after].flatMap((build) => dependentsOf(tiesOf(build), sources)));
  const all = distinct([...sources, ...reached]);
  const tally = tallyLog(timedEntries(log).entries);
  const [was, is] = [countedIn(called, tally), countedIn(after, tally)];
  const idsOf = (...kinds: readonly TieKind[]) =>
    new Set(all.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id));
  const [values, counts, drawings] = [idsOf('parameter'), idsOf('count'), idsOf('drawing')];
  const [units, work, times, links] = [idsOf('units'), idsOf('work'), idsOf('time'), idsOf('link')];
  const steps = new Set([...units, ...work, ...times, ...links]);
  const limits = idsOf('limit');
  const parts = after.parts ?? [];
  return {
    because: sources
      .map((source) => reasonOf(source, called, after, was, is))
      .join(', ')
      .slice(0, LONGEST_REASON),
    sets: all.some(({ kind }) => kind === 'sets') ? { before: was.setCount, after: is.setCount } : null,
    parameters: (after.parameters ?? [])
      .filter(({ name }) => values.has(name))
      .map(({ name }) => ({ name, before: was.values.get(name) ?? null, after: is.values.get(name) ?? null })),
    parts: parts
      .filter(({ id }) => counts.has(id) || drawings.has(id))
      .map(({ id }) => ({
        part: id,
        drawing: drawings.has(id),
        count: counts.has(id),
        before: unitsOf(was, id),
        after: unitsOf(is, id),
      })),
    steps: [...steps].map((step) => ({
      step,
      units: units.has(step),
      work: work.has(step),
      time: times.has(step),
      link: links.has(step),
    })),
    ...showReached(called, after, {
      boxes: idsOf('box'),
      points: idsOf('point'),
      strike: idsOf('strike'),
      parameters: values,
      parts: new Set([...counts, ...drawings]),
    }),
    limits: limitsBroken(called, after, limits),
    made: parts.filter(({ id }) => drawings.has(id)).flatMap((part) => madeOf(part, after, tally)),
  };
}

const NO_RIPPLE: Ripple = {
  because: '',
  sets: null,
  parameters: [],
  parts: [],
  steps: [],
  boxes: [],
  points: [],
  strike: [],
  limits: [],
  made: [],
};

/** A reason is kept with the units that nobody looked at. */
const LONGEST_REASON = 200;

/** The build before with what the changes rename under its new name, so that a new name alone changes nothing. */
function renamedIn(before: Build, changes: readonly Change[]): Build {
  const named = applyChanges(
    before,
    changes.filter(({ kind }) => kind === 'rename'),
  );
  return named.ok ? named.value : before;
}

/** Parameters of another value, parts of another drawing, and parts that something else goes into than before. */
function changedIn(before: Build, after: Build): Tied[] {
  const [wasParameters, isParameters] = [parametersOf(before), parametersOf(after)];
  const parameters = namesOf(before, after).filter((name) => {
    const was = wasParameters.get(name);
    return was !== undefined && valueText(was) !== valueText(isParameters.get(name));
  });
  const wasParts = new Map((before.parts ?? []).map((part) => [part.id, part]));
  const [wasIn, isIn] = [goesInto(before), goesInto(after)];
  const drawings = (after.parts ?? []).filter((part) => {
    const was = wasParts.get(part.id);
    if (was === undefined) return false;
    return drawingText(was) !== drawingText(part) || wasIn(part.id) !== isIn(part.id);
  });
  return [
    ...parameters.map((id): Tied => ({ kind: 'parameter', id })),
    ...drawings.map(({ id }): Tied => ({ kind: 'drawing', id })),
  ];
}

function parametersOf({ parameters = [] }: Build): ReadonlyMap<string, NonNullable<Build['parameters']>[number]> {
  return new Map(parameters.map((parameter) => [parameter.name, parameter]));
}

function namesOf(...builds: readonly Build[]): string[] {
  return [...new Set(builds.flatMap(({ parameters = [] }) => parameters.map(({ name }) => name)))];
}

function valueText(parameter: { value?: number; formula?: string; range?: unknown } | undefined): string {
  return JSON.stringify([parameter?.value, parameter?.formula, parameter?.range]);
}

/** What is bought is drawn by nobody: its name says what it is. */
function drawingText({ revision, source, name }: Part): string {
  return JSON.stringify([revision, source === 'buy' ? name : null]);
}

/** What goes into each part, and how much of each, as a text. */
function goesInto({ parts = [] }: Build): (part: string) => string {
  const uses = new Map<string, unknown[][]>();
  for (const part of parts) {
    for (const use of part.usedIn ?? []) {
      const others = uses.get(use.part) ?? [];
      uses.set(use.part, others);
      others.push([part.id, use.count, use.way]);
    }
  }
  return (part) => JSON.stringify((uses.get(part) ?? []).sort((a, b) => (String(a[0]) < String(b[0]) ? -1 : 1)));
}

function countedIn(build: Build, tally: Tally): Quantities {
  const { build: chosen } = chosenOf(build);
  return quantitiesOf(chosen, new Map(), learntYields(chosen, tally));
}

function unitsOf({ parts }: Quantities, id: string): number | null {
  const count = parts.get(id);
  return count === undefined ? null : (count.toBuy ?? count.toMake);
}

/** `drop 480 → 500`, or the name of the part. */
function reasonOf({ kind, id }: Tied, before: Build, after: Build, was: Quantities, is: Quantities): string {
  if (kind === 'parameter') return `${id} ${was.values.get(id) ?? '?'} → ${is.values.get(id) ?? '?'}`;
  const [old, now] = [before, after].map((build) => thingAt(build, 'parts', id) as Part | null);
  const drawn = old?.revision === now?.revision ? '' : ` ${old?.revision ?? '?'} → ${now?.revision ?? '?'}`;
  return `${now?.name ?? id}${drawn}`;
}

function distinct(all: readonly Tied[]): Tied[] {
  return [...new Map(all.map((one) => [`${one.kind} ${one.id}`, one])).values()];
}
