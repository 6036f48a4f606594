/** What the page shows: the server's counts, with this phone's own entries that are not in them yet laid on top. */
import { standingAmong } from './count-undo.ts';
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
  /** The undos by which it is taken back. */
  readonly undos: readonly string[];
  /** Somebody else by whom it is taken back; only they or the maker may bring it back. */
  readonly undoneBy: string | null;
}

/** An entry that this phone knows of, kept here or heard of from the server. */
interface Known {
  readonly id: string;
  readonly kind: string;
  readonly at: string;
  readonly step: string | null;
  readonly set: number | null;
  readonly n: number | null;
  readonly undoes: string | null;
  readonly by: string | null;
  readonly seq: number | null;
  readonly where: Mine['where'];
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
  const known = knownEntries(state, kept);
  const { undosOf } = standingAmong(known.filter(({ where }) => where !== 'refused'));
  return known
    .reverse()
    .filter(({ kind }) => !['undo', 'began', 'paused', 'confirmed'].includes(kind))
    .sort(newestFirst)
    .map(({ id, kind, at, step, set, n, where }) => {
      const undos = undosOf(id);
      const undoneBy = undos.find(({ by }) => by !== null)?.by ?? null;
      const ids = undos.map((undo) => undo.id);
      return { id, kind, atMs: Date.parse(at), step, set, n, where, undone: ids.length > 0, undos: ids, undoneBy };
    });
}

/** What the server holds from elsewhere, then what was kept on this phone, each once. */
function knownEntries(state: CountState, kept: readonly Kept[]): Known[] {
  const here = new Set(kept.map(({ id }) => id));
  // An entry may have arrived though its answer was lost: the server's own list knows it by its number.
  const heard = new Map(state.mine.map(({ id, seq }) => [id, seq]));
  const elsewhere = state.mine.filter(({ id }) => !here.has(id)).map((one): Known => ({ ...one, where: 'arrived' }));
  const own = kept.map(
    ({ id, entry, state: lies, seq }): Known => ({
      id,
      kind: entry.kind,
      at: entry.at,
      step: entry.step ?? null,
      set: entry.set ?? null,
      n: entry.n ?? null,
      undoes: entry.undoes ?? null,
      by: null,
      seq: seq ?? heard.get(id) ?? null,
      where: lies === 'waiting' ? 'phone' : lies,
    }),
  );
  return [...elsewhere, ...own];
}

/** What waits on this phone is the newest, in the order of tapping: its instants are not corrected yet. */
function newestFirst(a: Known, b: Known): number {
  if (a.where === 'phone' && b.where === 'phone') return 0;
  return Number(b.where === 'phone') - Number(a.where === 'phone') || Date.parse(b.at) - Date.parse(a.at);
}

/** What the server asks and this phone has not answered, sent or not: by taking one of the two back, or by confirming. */
export function openDoubts({ doubts }: CountState, kept: readonly Kept[]): CountDoubt[] {
  const answers = kept.flatMap(({ id, entry, state }) =>
    state === 'refused' ? [] : [{ id, undoes: entry.undoes ?? null, answers: entry.undoes ?? entry.confirms }],
  );
  const { stands } = standingAmong(answers);
  const answered = new Set(answers.filter(({ id }) => stands(id)).map((one) => one.answers));
  return doubts.filter(({ entry, other }) => !answered.has(entry) && !answered.has(other ?? entry));
}

/** What is different from the state: each entry counts as it stands now, less as it stood when the state was made. */
function changesOn(state: CountState, kept: readonly Kept[], durable: boolean): Change[] {
  const counts = ({ where }: Known): boolean => where === 'arrived' || (where === 'phone' && durable);
  const now = knownEntries(state, kept).filter(counts);
  const isBefore = ({ seq }: Known): boolean => seq !== null && seq <= state.logSeq;
  const [before, after] = [standingAmong(now.filter(isBefore)), standingAmong(now)];
  return now.flatMap((entry): Change[] => {
    const { id, kind, step, set, n, at } = entry;
    const sign = Number(after.stands(id)) - Number(isBefore(entry) && before.stands(id));
    if (step === null || sign === 0) return [];
    const same = { kind: kind as EntryKind, step, set, n: n ?? 1, entry: id, atMs: Date.parse(at) };
    return [{ ...same, sign: sign > 0 ? 1 : -1 }];
  });
}

function changed(step: CountStep, change: Change): CountStep {
  const n = change.n * change.sign;
  switch (change.kind) {
    case 'done':
    case 'received':
    case 'passed': {
      const after = counted(step, change.set, n, 0);
      return {
        ...after,
        readyNow: fewerReady(step.readyNow, leftOf(step) - leftOf(after) - outOfLoads(step, change)),
        underWay: change.sign === 1 ? unloaded(step.underWay, change.n) : step.underWay,
      };
    }
    case 'scrapped':
      return {
        ...counted(step, change.set, 0, n),
        readyNow: fewerReady(step.readyNow, n - outOfLoads(step, change)),
        underWay: change.sign === 1 ? unloaded(step.underWay, change.n) : step.underWay,
      };
    case 'sent-back':
      return counted(step, change.set, -n, 0);
    case 'loaded':
      return {
        ...step,
        readyNow: fewerReady(step.readyNow, n),
        underWay: change.sign === 1 ? [...step.underWay, load(step, change)] : without(step, change),
      };
    case 'ordered':
      return { ...step, toOrder: Math.max(0, step.toOrder - n) };
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
      left: Math.max(0, one.total - doneNow),
    };
  });
  return { ...step, sets };
}

/** Units of a count that come out of a machine: they were no longer ready. */
function outOfLoads({ underWay }: CountStep, { sign, n }: Change): number {
  const loaded = underWay.reduce((units, one) => units + one.units, 0);
  return sign === 1 ? Math.min(n, loaded) : 0;
}

function fewerReady(readyNow: number | null, by: number): number | null {
  return readyNow === null ? null : Math.max(0, readyNow - by);
}

/** A step that takes these units can work on more of them; how many more is known only as far as this one feed goes. */
function moreReady(taker: CountStep, before: number, after: number, ratio: number): CountStep {
  if (taker.readyNow === null || ratio <= 0) return taker;
  const more = Math.floor(after / ratio) - Math.floor(before / ratio);
  return { ...taker, readyNow: Math.max(0, Math.min(leftOf(taker), taker.readyNow + more)) };
}

/** Units that make others ready: those beyond the plan do not. */
function doneOf(step: CountStep): number {
  return step.sets.reduce((sum, set) => sum + Math.min(set.done, set.total), 0);
}

function leftOf(step: CountStep): number {
  return step.sets.reduce((sum, set) => sum + set.left, 0);
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
