/** What the page shows: the server's counts, with this phone's own entries that are not in them yet laid on top. */
import { type RunningClock, standingAmong } from '../../../server/model/log/index.ts';
import type { CountDoubt, CountState, CountStep, EntryKind } from '../outbox/count-wire.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';
import { createRunningClock } from './count-clock.ts';
import { afterChanges, type Change } from './count-steps.ts';

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
  readonly atMs: number;
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

/** The server's state with what this phone knows laid on top. */
export interface Laid {
  readonly steps: readonly CountStep[];
  readonly mine: readonly Mine[];
  readonly running: RunningClock | null;
}

type Overlay = (state: CountState, kept: readonly Kept[], durable: boolean) => Laid;

/** What an overlay remembers of when it was asked last. */
interface Asked extends Laid {
  readonly state: CountState;
  readonly kept: readonly Kept[];
  readonly durable: boolean;
  /** Ids that the server's list of mine holds, or that something takes back. */
  readonly known: ReadonlySet<string>;
}

/**
 * Lays entries on the state as `shownSteps` and `myEntries` do, and remembers what came of it: where nothing is new but
 * entries that wait, as after a tap, only these are worked out.
 */
export function createOverlay(): Overlay {
  let last: Asked | null = null;
  const clockOf = createRunningClock();
  return (state, kept, durable) => {
    const running = clockOf(kept);
    const fresh = last === null ? null : freshIn(kept, last, state, durable);
    const { steps, mine } =
      fresh === null
        ? { steps: shownSteps(state, kept, durable), mine: myEntries(state, kept) }
        : laidOn(last!, fresh, durable);
    const known = fresh === null ? knownIds(state, kept) : last!.known;
    last = { state, kept, durable, known, steps, mine, running };
    return { steps, mine, running };
  };
}

/** The entries that were only added, where these wait and nothing else has changed; else null. */
function freshIn(kept: readonly Kept[], last: Asked, state: CountState, durable: boolean): readonly Kept[] | null {
  if (state !== last.state || durable !== last.durable || kept.length < last.kept.length) return null;
  if (!last.kept.every((entry, i) => entry === kept[i])) return null;
  const fresh = kept.slice(last.kept.length);
  const isPlain = ({ id, entry, state }: Kept): boolean =>
    state === 'waiting' && entry.kind !== 'undo' && !last.known.has(id);
  return fresh.every(isPlain) ? fresh : null;
}

function knownIds({ mine }: CountState, kept: readonly Kept[]): ReadonlySet<string> {
  const undone = [...mine, ...kept.map(({ entry }) => entry)].flatMap(({ undoes }) => undoes ?? []);
  return new Set([...mine.map(({ id }) => id), ...undone]);
}

function laidOn({ steps, mine }: Asked, fresh: readonly Kept[], durable: boolean): Pick<Laid, 'steps' | 'mine'> {
  const known = fresh.map((entry) => ownEntry(entry, null));
  return {
    steps: durable
      ? afterChanges(
          steps,
          known.flatMap((one) => changeOf(one, 1)),
        )
      : steps,
    mine: [
      ...known
        .filter(isListed)
        .reverse()
        .map((one) => mineOf(one, [])),
      ...mine,
    ],
  };
}

/**
 * The steps with their counts. Own entries count when the state does not hold them yet: those that wait and are not in
 * the server's list of mine, and those that arrived under a number above the state's. Where nothing can be kept
 * (`durable` false) only what has arrived counts.
 */
export function shownSteps(state: CountState, kept: readonly Kept[], durable: boolean): readonly CountStep[] {
  return afterChanges(state.steps, changesOn(state, kept, durable));
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
    .filter(isListed)
    .sort(newestFirst)
    .map((one) => mineOf(one, undosOf(one.id)));
}

function isListed({ kind }: Known): boolean {
  return !['undo', 'began', 'paused', 'confirmed', 'packed'].includes(kind);
}

function mineOf({ id, kind, atMs, step, set, n, where }: Known, undos: readonly Known[]): Mine {
  const undoneBy = undos.find(({ by }) => by !== null)?.by ?? null;
  const ids = undos.map((undo) => undo.id);
  return { id, kind, atMs, step, set, n, where, undone: ids.length > 0, undos: ids, undoneBy };
}

/** What the server holds from elsewhere, then what was kept on this phone, each once. */
function knownEntries(state: CountState, kept: readonly Kept[]): Known[] {
  const here = new Set(kept.map(({ id }) => id));
  // An entry may have arrived though its answer was lost: the server's own list knows it by its number.
  const heard = new Map(state.mine.map(({ id, seq }) => [id, seq]));
  const elsewhere = state.mine
    .filter(({ id }) => !here.has(id))
    .map(({ at, ...one }): Known => ({ ...one, atMs: Date.parse(at), where: 'arrived' }));
  return [...elsewhere, ...kept.map((one) => ownEntry(one, heard.get(one.id) ?? null))];
}

/** An entry of this phone; `heard` is the number under which the server's own list has it. */
function ownEntry({ id, entry, state: lies, seq }: Kept, heard: number | null): Known {
  return {
    id,
    kind: entry.kind,
    atMs: Date.parse(entry.at),
    step: entry.step ?? null,
    set: entry.set ?? null,
    n: entry.n ?? null,
    counted: entry.counted ?? null,
    until: entry.until ?? null,
    undoes: entry.undoes ?? null,
    by: null,
    seq: seq ?? heard,
    where: lies === 'waiting' ? 'phone' : lies,
  };
}

/** What waits on this phone is the newest, in the order of tapping: its instants are not corrected yet. */
function newestFirst(a: Known, b: Known): number {
  if (a.where === 'phone' && b.where === 'phone') return 0;
  return Number(b.where === 'phone') - Number(a.where === 'phone') || b.atMs - a.atMs;
}

/**
 * What the server asks and this phone has not answered, sent or not: by taking one of the two back, or by confirming.
 */
export function openDoubts({ doubts }: CountState, kept: readonly Kept[]): CountDoubt[] {
  if (doubts.length === 0) return [];
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
    const sign = Number(after.stands(entry.id)) - Number(isBefore(entry) && before.stands(entry.id));
    return sign === 0 ? [] : changeOf(entry, sign > 0 ? 1 : -1);
  });
}

/** What an entry changes; nothing where it names no step. */
function changeOf({ id, kind, step, set, n, counted, until, atMs }: Known, sign: Change['sign']): Change[] {
  return step === null ? [] : [{ kind, step, set, n: n ?? 1, counted, until, sign, entry: id, atMs }];
}
