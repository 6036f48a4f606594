/** What the page shows: the server's counts, with this phone's own entries that are not in them yet laid on top. */
import { effectOf, standingAmong } from '../../../server/model/log/index.ts';
import type { CountDoubt, CountLoad, CountSet, CountState, CountStep, EntryKind } from '../outbox/count-wire.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';

/** One of my entries, wherever it is. */
export interface Mine {
  readonly id: string;
  readonly kind: EntryKind;
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
  readonly kind: EntryKind;
  readonly at: string;
  readonly step: string | null;
  readonly set: number | null;
  readonly n: number | null;
  readonly counted: boolean | null;
  readonly until: string | null;
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
  readonly counted: boolean | null;
  readonly until: string | null;
  /** 1 as it was counted, -1 when it is taken back. */
  readonly sign: 1 | -1;
  readonly entry: string;
  readonly atMs: number;
}

/**
 * The steps with their counts. Own entries count when the state does not hold them yet: those that wait and are not in
 * the server's list of mine, and those that arrived under a number above the state's. Where nothing can be kept
 * (`durable` false) only what has arrived counts.
 */
export function shownSteps(state: CountState, kept: readonly Kept[], durable: boolean): readonly CountStep[] {
  return changesOn(state, kept, durable).reduce<readonly CountStep[]>(changed, state.steps);
}

/** The steps after a tap that was kept a moment ago: what is painted before the rest is worked out. */
export function afterTap(steps: readonly CountStep[], kept: readonly Kept[]): readonly CountStep[] {
  return kept.reduce((before, { entry, phoneMs, id }) => {
    const { step, kind, set = null, n = 1, counted = null, until = null } = entry;
    if (step === undefined) return before;
    return changed(before, { step, kind, set, n, counted, until, sign: 1, entry: id, atMs: phoneMs });
  }, steps);
}

/**
 * My entries, newest first: those on this phone, and those that the server holds from elsewhere. The run clock's are
 * left out.
 */
export function myEntries(state: CountState, kept: readonly Kept[]): Mine[] {
  const known = knownEntries(state, kept);
  const { undosOf } = standingAmong(known.filter(({ where }) => where !== 'refused'));
  return known
    .reverse()
    .filter(({ kind }) => !['undo', 'began', 'paused', 'confirmed', 'packed'].includes(kind))
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
      counted: entry.counted ?? null,
      until: entry.until ?? null,
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

/**
 * What the server asks and this phone has not answered, sent or not: by taking one of the two back, or by confirming.
 */
export function openDoubts({ doubts }: CountState, kept: readonly Kept[]): CountDoubt[] {
  const answers = kept.flatMap(({ id, entry, state }) =>
    state === 'refused' ? [] : [{ ...entry, id, answers: entry.undoes ?? entry.confirms }],
  );
  const { stands } = standingAmong(answers);
  const answered = new Set(answers.filter(({ id }) => stands(id)).map((one) => one.answers));
  return doubts.filter(({ entry, other }) => !answered.has(entry) && !answered.has(other ?? entry));
}

/** What is different from the state: each entry counts as it is now, less as it stood when the state was made. */
function changesOn(state: CountState, kept: readonly Kept[], durable: boolean): Change[] {
  const counts = ({ where }: Known): boolean => where === 'arrived' || (where === 'phone' && durable);
  const now = knownEntries(state, kept).filter(counts);
  const isBefore = ({ seq }: Known): boolean => seq !== null && seq <= state.logSeq;
  const [before, after] = [standingAmong(now.filter(isBefore)), standingAmong(now)];
  return now.flatMap((entry): Change[] => {
    const { id, kind, step, set, n, counted, until, at } = entry;
    const sign = Number(after.stands(id)) - Number(isBefore(entry) && before.stands(id));
    if (step === null || sign === 0) return [];
    const same = { kind, step, set, n: n ?? 1, counted, until, entry: id, atMs: Date.parse(at) };
    return [{ ...same, sign: sign > 0 ? 1 : -1 }];
  });
}

/** The steps after one change: its own, those before it on the route, and those that take the units of any of them. */
function changed(steps: readonly CountStep[], change: Change): readonly CountStep[] {
  const at = steps.findIndex(({ id }) => id === change.step);
  const own = steps[at];
  if (own === undefined) return steps;
  const { good, scrapped } = effectOf(change);
  const isBefore = (step: CountStep, i: number): boolean => step.part !== null && step.part === own.part && i < at;
  const after = steps.map((step, i) => {
    if (i === at)
      return { ...withUnits(step, change.set, good * change.sign, scrapped * change.sign), ...underWay(step, change) };
    return scrapped > 0 && isBefore(step, i) ? withUnits(step, change.set, -scrapped * change.sign, 0) : step;
  });
  return after.map((step, i) => {
    const readyNow = readyAfter(steps[i]!, step, steps, after);
    return readyNow === step.readyNow ? step : { ...step, readyNow };
  });
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
function readyAfter(
  before: CountStep,
  after: CountStep,
  stepsBefore: readonly CountStep[],
  stepsAfter: readonly CountStep[],
): number | null {
  if (before.readyNow === null) return null;
  const most = Math.max(0, leftOf(after) - loadedOf(after));
  if (!after.fed) return before === after ? before.readyNow : most;
  const own = doneOf(before) + loadedOf(before) - doneOf(after) - loadedOf(after);
  const fed = stepsAfter.reduce((more, feeder, i) => {
    const was = stepsBefore[i]!;
    const feed = feeder === was ? undefined : feeder.feeds.find(({ step }) => step === after.id);
    if (feed === undefined || feed.ratio <= 0) return more;
    return more + Math.floor(doneOf(feeder) / feed.ratio) - Math.floor(doneOf(was) / feed.ratio);
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
