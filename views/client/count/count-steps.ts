/**
 * What changes do to the counts of steps: to their own, to those before them on the route, and to those that take the
 * units of any of them.
 */
import { effectOf } from '../../../server/model/log/index.ts';
import type { CountLoad, CountSet, CountStep, EntryKind } from '../outbox/count-wire.ts';

/** An entry that counts, or no longer does. */
export interface Change {
  readonly kind: EntryKind;
  readonly step: string;
  readonly set: number | null;
  readonly n: number;
  readonly counted: boolean | null;
  readonly until: string | null;
  /** 1 as it was counted, -1 when it is taken back. */
  readonly sign: 1 | -1;
  readonly entry: string;
  readonly atMs: number;
}

/** Where steps are, by id, and those of each part in the order of the route. */
interface Places {
  readonly at: ReadonlyMap<string, number>;
  readonly ofPart: ReadonlyMap<string, readonly number[]>;
}

/** A step before and after a change. */
interface Moved {
  readonly at: number;
  readonly was: CountStep;
  readonly is: CountStep;
}

/** Changes move no step: the places found for a list are those of every list that comes of it. */
const placesOf = new WeakMap<readonly CountStep[], Places>();

/**
 * The steps after these changes, one after another; a step that no change reaches is the same object. A change costs
 * what it reaches, and the list is copied once.
 */
export function afterChanges(steps: readonly CountStep[], changes: readonly Change[]): readonly CountStep[] {
  if (changes.length === 0) return steps;
  const places = placesOf.get(steps) ?? foundPlaces(steps);
  const after = [...steps];
  for (const change of changes) put(after, places, change);
  placesOf.set(after, places);
  return after;
}

function foundPlaces(steps: readonly CountStep[]): Places {
  const ofPart = new Map<string, number[]>();
  for (const [at, { part }] of steps.entries()) {
    if (part === null) continue;
    const known = ofPart.get(part);
    if (known === undefined) ofPart.set(part, [at]);
    else known.push(at);
  }
  return { at: new Map(steps.map(({ id }, at) => [id, at])), ofPart };
}

function put(steps: CountStep[], { at: places, ofPart }: Places, change: Change): void {
  const at = places.get(change.step);
  if (at === undefined) return;
  const { good, scrapped } = effectOf(change);
  const own = steps[at]!;
  const earlier = scrapped > 0 && own.part !== null ? ofPart.get(own.part)!.filter((other) => other < at) : [];
  const { set, sign } = change;
  const moved: readonly Moved[] = [
    ...earlier.map((one) => ({ at: one, was: steps[one]!, is: withUnits(steps[one]!, set, -scrapped * sign, 0) })),
    { at, was: own, is: { ...withUnits(own, set, good * sign, scrapped * sign), ...underWay(own, change) } },
  ];
  const before = new Map(moved.map((one) => [one.at, one.was]));
  for (const one of moved) steps[one.at] = one.is;
  const fed = moved.flatMap(({ is }) => is.feeds.flatMap(({ step }) => places.get(step) ?? []));
  for (const one of new Set([...before.keys(), ...fed])) {
    const step = steps[one]!;
    const readyNow = readyAfter(before.get(one) ?? step, step, moved);
    if (readyNow !== step.readyNow) steps[one] = { ...step, readyNow };
  }
}

/** What is in a machine, in a wait or on its way after a change, and what is still to be ordered. */
function underWay(step: CountStep, change: Change): Pick<CountStep, 'underWay' | 'toOrder'> {
  const { back } = effectOf(change);
  const { underWay, toOrder } = step;
  if (change.kind === 'promised') return { underWay: promised(underWay, change), toOrder };
  if (change.kind === 'ordered' || change.kind === 'loaded') {
    const open = change.sign === 1 ? [...underWay, load(step, change)] : without(step, change);
    const ordered = change.kind === 'ordered' ? change.n * change.sign : 0;
    return { underWay: open, toOrder: Math.max(0, toOrder - ordered) };
  }
  return { underWay: change.sign === 1 && back > 0 ? unloaded(underWay, back) : underWay, toOrder };
}

/** More or fewer good and scrapped units: of the set that is named, else as the server reads what names none. */
function withUnits(step: CountStep, set: number | null, good: number, scrapped: number): CountStep {
  const named = step.sets.findIndex((one) => one.set === set);
  const shares = named >= 0 ? step.sets.map((_, i) => (i === named ? good : 0)) : spread(step.sets, good);
  const sets = step.sets.map((one, i): CountSet => {
    const counted = Math.max(0, one.counted + shares[i]!);
    const lost = Math.max(0, one.scrapped + (i === Math.max(named, 0) ? scrapped : 0));
    return { ...one, counted, scrapped: lost, left: Math.max(0, one.total - counted) };
  });
  return { ...step, sets };
}

/** Units that name no set: more of them fill the sets in their order, fewer are taken from the last. */
function spread(sets: readonly CountSet[], units: number): number[] {
  let rest = Math.abs(units);
  const rooms = units >= 0 ? sets.map(({ left }) => left) : sets.map(({ counted }) => counted).reverse();
  const put = rooms.map((room) => {
    const here = Math.min(room, rest);
    rest -= here;
    return here;
  });
  return units >= 0 ? put.map((here, i) => (i === put.length - 1 ? here + rest : here)) : put.reverse().map((n) => -n);
}

/**
 * Units that can be worked on after a change: all that is left and not under way, where nothing feeds the step; else as
 * many more or fewer as the step itself and what feeds it have moved. What else may hold it up only the server knows.
 */
function readyAfter(before: CountStep, after: CountStep, moved: readonly Moved[]): number | null {
  if (before.readyNow === null) return null;
  const most = Math.max(0, leftOf(after) - loadedOf(after));
  if (!after.fed) return before === after ? before.readyNow : most;
  const own = doneOf(before) + loadedOf(before) - doneOf(after) - loadedOf(after);
  const fed = moved.reduce((more, { was, is }) => {
    const feed = is.feeds.find(({ step }) => step === after.id);
    if (feed === undefined || feed.ratio <= 0) return more;
    return more + Math.floor(doneOf(is) / feed.ratio) - Math.floor(doneOf(was) / feed.ratio);
  }, 0);
  return own === 0 && fed === 0 ? before.readyNow : Math.max(0, Math.min(most, before.readyNow + own + fed));
}

/** Units that make others ready: those beyond the plan do not. */
function doneOf(step: CountStep): number {
  return step.sets.reduce((sum, set) => sum + Math.min(set.counted, set.total), 0);
}

function leftOf(step: CountStep): number {
  return step.sets.reduce((sum, set) => sum + set.left, 0);
}

function loadedOf(step: CountStep): number {
  return step.underWay.reduce((units, one) => units + one.units, 0);
}

/** What was begun a moment ago; when an order is here only the server knows. */
function load(step: CountStep, change: Change): CountLoad {
  const minutes = change.kind === 'ordered' ? null : (step.runMinutesPerLot ?? step.waitMinutes ?? 0);
  return {
    entry: change.entry,
    kind: change.kind === 'ordered' ? 'ordered' : 'loaded',
    set: change.set,
    units: change.n,
    since: new Date(change.atMs).toISOString(),
    backAt: minutes === null ? null : new Date(change.atMs + minutes * 60_000).toISOString(),
    promised: false,
  };
}

function without(step: CountStep, change: Change): CountLoad[] {
  return step.underWay.filter((one) => one.entry !== change.entry);
}

/** The supplier's word is about the oldest order that has none, else it moves the oldest. */
function promised(loads: readonly CountLoad[], { until, sign }: Change): readonly CountLoad[] {
  const orders = loads.filter(({ kind }) => kind === 'ordered');
  const order = orders.find((one) => !one.promised) ?? orders[0];
  if (sign !== 1 || until === null) return loads;
  return loads.map((one) => (one === order ? { ...one, backAt: until, promised: true } : one));
}

/** What is taken out empties the oldest loads first. */
function unloaded(loads: readonly CountLoad[], units: number): CountLoad[] {
  let left = units;
  return loads.flatMap((one) => {
    const taken = Math.min(left, one.units);
    left -= taken;
    return one.units > taken ? [{ ...one, units: one.units - taken }] : [];
  });
}
