/** What the page shows: the server's counts, with this phone's own entries that are not in them yet laid on top. */
import type { CountDoubt, CountLoad, CountSet, CountState, CountStep, EntryKind } from './count-wire.ts';
import type { Kept } from './outbox-shelf.ts';

/** One of my entries, wherever it lies. */
export interface Mine {
  readonly id: string;
  readonly kind: string;
  readonly atMs: number;
  readonly step: string | null;
  readonly set: number | null;
  readonly n: number | null;
  readonly where: 'phone' | 'arrived' | 'refused';
  readonly undone: boolean;
}

interface Change {
  readonly kind: EntryKind;
  readonly step: string;
  readonly set: number | null;
  readonly n: number;
  /** 1 as it was counted, -1 when it is taken back. */
  readonly sign: 1 | -1;
  readonly entry: string;
  readonly atMs: number;
}

/**
 * The steps with their counts. Own entries count when the state does not hold them yet: those that wait and are not in the
 * server's list of mine, and those that arrived under a number above the state's. Where nothing can be kept (`durable` false) only what has arrived counts.
 */
export function shownSteps(state: CountState, kept: readonly Kept[], durable: boolean): CountStep[] {
  const steps = new Map(state.steps.map((step) => [step.id, step]));
  for (const change of changesOn(state, kept, durable)) {
    const step = steps.get(change.step);
    if (step === undefined) continue;
    const before = doneOf(step);
    const after = changed(step, change);
    steps.set(step.id, after);
    for (const feed of step.feeds) {
      const taker = steps.get(feed.step);
      if (taker) steps.set(taker.id, moreReady(taker, before, doneOf(after), feed.ratio));
    }
  }
  return [...steps.values()];
}

/** My entries, newest first: those on this phone, and those that the server holds from elsewhere. The run clock's are left out. */
export function myEntries(state: CountState, kept: readonly Kept[]): Mine[] {
  const here = new Set(kept.map((entry) => entry.id));
  const undone = new Set<string>();
  for (const { entry, state: at } of kept) if (entry.undoes !== undefined && at !== 'refused') undone.add(entry.undoes);
  for (const entry of state.mine) if (entry.undoes !== null) undone.add(entry.undoes);
  const own = kept.map(
    ({ entry, state: at }): Mine => ({
      id: entry.id,
      kind: entry.kind,
      atMs: Date.parse(entry.at),
      step: entry.step ?? null,
      set: entry.set ?? null,
      n: entry.n ?? null,
      where: at === 'waiting' ? 'phone' : at,
      undone: undone.has(entry.id),
    }),
  );
  const elsewhere = state.mine
    .filter((entry) => !here.has(entry.id))
    .map(
      ({ undoes: _undoes, seq: _seq, at, ...entry }): Mine => ({
        ...entry,
        atMs: Date.parse(at),
        where: 'arrived',
        undone: undone.has(entry.id),
      }),
    );
  return [...own.reverse(), ...elsewhere]
    .filter((entry) => !['undo', 'began', 'paused', 'confirmed'].includes(entry.kind))
    .sort(newestFirst);
}

/** What waits on this phone is the newest, in the order of tapping: its instants are not corrected yet. */
function newestFirst(a: Mine, b: Mine): number {
  if (a.where === 'phone' && b.where === 'phone') return 0;
  return Number(b.where === 'phone') - Number(a.where === 'phone') || b.atMs - a.atMs;
}

/** What the server asks and this phone has not answered, sent or not: by taking one of the two back, or by confirming. */
export function openDoubts({ doubts }: CountState, kept: readonly Kept[]): CountDoubt[] {
  const answered = new Set(
    kept.flatMap(({ entry, state }) => (state === 'refused' ? [] : [entry.undoes ?? entry.confirms ?? ''])),
  );
  return doubts.filter(({ entry, other }) => !answered.has(entry) && !answered.has(other ?? entry));
}

function changesOn(state: CountState, kept: readonly Kept[], durable: boolean): Change[] {
  const byId = new Map(kept.map((entry) => [entry.id, entry]));
  const elsewhere = new Map(state.mine.map((entry) => [entry.id, entry]));
  // An entry may have arrived though its answer was lost: the server's own list knows it by its number.
  const seqOf = (entry: Kept): number | null => entry.seq ?? elsewhere.get(entry.id)?.seq ?? null;
  const inState = (entry: Kept): boolean => {
    const seq = entry.state === 'refused' ? null : seqOf(entry);
    return seq !== null && seq <= state.logSeq;
  };
  const counts = (entry: Kept): boolean =>
    entry.state !== 'refused' && !inState(entry) && (durable || entry.state === 'arrived');
  const fresh = kept.filter(counts);
  const undone = new Set(fresh.flatMap(({ entry }) => (entry.undoes === undefined ? [] : [entry.undoes])));
  const changes: Change[] = [];
  for (const { entry } of fresh) {
    if (entry.step !== undefined && !undone.has(entry.id)) changes.push(changeOf(entry, 1));
  }
  for (const id of undone) {
    const own = byId.get(id);
    const other = elsewhere.get(id);
    if (own !== undefined) {
      if (inState(own) && own.entry.step !== undefined) changes.push(changeOf(own.entry, -1));
    } else if (other !== undefined && other.seq <= state.logSeq) changes.push(changeOf(other, -1));
  }
  return changes;
}

function changeOf(
  entry: { id: string; kind: string; step?: string | null; set?: number | null; n?: number | null; at: string },
  sign: 1 | -1,
): Change {
  return {
    kind: entry.kind as EntryKind,
    step: entry.step ?? '',
    set: entry.set ?? null,
    n: entry.n ?? 1,
    sign,
    entry: entry.id,
    atMs: Date.parse(entry.at),
  };
}

function changed(step: CountStep, change: Change): CountStep {
  const n = change.n * change.sign;
  switch (change.kind) {
    case 'done':
    case 'received':
    case 'passed':
      return {
        ...counted(step, change.set, n, 0),
        readyNow: fewerReady(step.readyNow, n),
        underWay: change.sign === 1 ? unloaded(step.underWay, change.n) : step.underWay,
      };
    case 'scrapped':
      return {
        ...counted(step, change.set, 0, n),
        readyNow: fewerReady(step.readyNow, n),
        underWay: change.sign === 1 ? unloaded(step.underWay, change.n) : step.underWay,
      };
    case 'sent-back':
      return counted(step, change.set, -n, 0);
    case 'loaded':
      return { ...step, underWay: change.sign === 1 ? [...step.underWay, load(step, change)] : without(step, change) };
    default:
      return step;
  }
}

function counted(step: CountStep, set: number | null, done: number, scrapped: number): CountStep {
  const place = step.sets.findIndex((one) => one.set === set);
  const at = Math.max(place, 0);
  const sets = step.sets.map((one, index): CountSet => {
    if (index !== at) return one;
    const doneNow = Math.max(0, one.done + done);
    return {
      ...one,
      done: doneNow,
      scrapped: Math.max(0, one.scrapped + scrapped),
      left: Math.max(0, Math.min(one.total, one.left - (doneNow - one.done))),
    };
  });
  return { ...step, sets };
}

function fewerReady(readyNow: number | null, by: number): number | null {
  return readyNow === null ? null : Math.max(0, readyNow - by);
}

/** A step that takes these units can work on more of them; how many more is known only as far as this one feed goes. */
function moreReady(taker: CountStep, before: number, after: number, ratio: number): CountStep {
  if (taker.readyNow === null || ratio <= 0) return taker;
  const more = Math.floor(after / ratio) - Math.floor(before / ratio);
  const left = taker.sets.reduce((sum, set) => sum + set.left, 0);
  return { ...taker, readyNow: Math.max(0, Math.min(left, taker.readyNow + more)) };
}

function doneOf(step: CountStep): number {
  return step.sets.reduce((sum, set) => sum + set.done, 0);
}

function load(step: CountStep, change: Change): CountLoad {
  return {
    entry: change.entry,
    kind: 'loaded',
    set: change.set,
    units: change.n,
    since: new Date(change.atMs).toISOString(),
    backAt: new Date(change.atMs + (step.runMinutesPerLot ?? 0) * 60_000).toISOString(),
  };
}

function without(step: CountStep, change: Change): CountLoad[] {
  return step.underWay.filter((one) => one.entry !== change.entry);
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
