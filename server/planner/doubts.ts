/** What is kept but asked about: a count above what is left, and the same lot logged by two people. */
import { readWall } from '../engine/clock.ts';
import type { Forecast, LogEntry, NewLogEntry } from '../model/index.ts';
import type { Doubt } from '../store/index.ts';

const SECONDS_APART = 60;
/** Kinds that say nothing of units. */
const NEVER_TWICE: ReadonlySet<LogEntry['kind']> = new Set(['undo', 'began', 'paused', 'confirmed']);

/** What an entry is held against. */
export interface Standing {
  readonly forecast: Forecast | null;
  /** Entries that the forecast does not know of yet. */
  readonly since: readonly LogEntry[];
  /** The log in order of arrival, and what was sent with this entry before it. */
  readonly log: readonly LogEntry[];
  readonly sent: readonly LogEntry[];
}

/** The questions that an entry raises, in sentences; most raise none. It is stored all the same. */
export function doubtsOf(entry: NewLogEntry, standing: Standing): Doubt[] {
  const asked = [tooMany(entry, standing), twice(entry, standing), undoneBefore(entry, standing)];
  return asked.filter((one) => one !== null).map((one) => ({ entry: entry.id, ...one }));
}

/** Those that nobody has answered: neither of the two entries has been taken back, and nobody has confirmed it. */
export function openDoubts(asked: readonly Doubt[], log: readonly LogEntry[]): Doubt[] {
  if (asked.length === 0) return [];
  const settled = takenBack(log);
  for (const { id, kind, confirms } of log) if (kind === 'confirmed' && !settled.has(id)) settled.add(confirms ?? '');
  return asked.filter(({ entry, other }) => !settled.has(entry) && (other === null || !settled.has(other)));
}

/** Whether a count above what is left has been asked about already: each further tap there is the same question. */
export function isAsked(
  { other }: Doubt,
  entry: NewLogEntry,
  open: readonly Doubt[],
  find: (id: string) => LogEntry | undefined,
): boolean {
  if (other !== null || entry.kind === 'undo') return false;
  return open.some((doubt) => {
    const one = doubt.other === null ? find(doubt.entry) : undefined;
    return one?.who === entry.who && one?.step === entry.step && one?.set === entry.set && one?.kind === entry.kind;
  });
}

/** Ids of entries that an undo has taken back which was not taken back itself; an undo always comes after what it undoes. */
function takenBack(log: readonly LogEntry[]): Set<string> {
  const gone = new Set<string>();
  for (const { id, kind, undoes } of [...log].reverse()) if (kind === 'undo' && !gone.has(id)) gone.add(undoes ?? '');
  return gone;
}

type Asked = Omit<Doubt, 'entry'> | null;

function tooMany(entry: NewLogEntry, { forecast, since }: Standing): Asked {
  if ((entry.kind !== 'done' && entry.kind !== 'received') || entry.n === undefined) return null;
  const step = forecast?.steps.find((one) => one.id === entry.step);
  // What is ordered comes in packs and may well be more than is needed.
  if (!step || step.kind === 'order') return null;
  const counted = step.sets.find((one) => one.set === (entry.set ?? null)) ?? step;
  const left = Math.max(0, counted.left - madeSince(entry, since));
  if (entry.n <= left) return null;
  const where = entry.set === undefined ? `"${step.name}"` : `"${step.name}", set ${entry.set},`;
  const question = `${where} has ${left} left and this entry says ${entry.n}: are there more than planned, or is it a slip?`;
  return { question, other: null };
}

/** Units of the step (and set) that the forecast does not know of yet. */
function madeSince({ step, set }: NewLogEntry, since: readonly LogEntry[]): number {
  const undone = new Set(since.flatMap(({ kind, undoes }) => (kind === 'undo' && undoes ? [undoes] : [])));
  let units = 0;
  for (const one of since) {
    if (one.step !== step || (set !== undefined && one.set !== set) || undone.has(one.id)) continue;
    if (one.kind === 'done' || one.kind === 'received') units += one.n ?? 0;
    if (one.kind === 'sent-back') units -= one.n ?? 0;
  }
  return units;
}

/**
 * The same count of the same step by somebody else within a minute: two lots, or one logged twice? Two people who tap one
 * unit at a time side by side are not asked.
 */
function twice(entry: NewLogEntry, { forecast, log, sent }: Standing): Asked {
  if (NEVER_TWICE.has(entry.kind) || entry.n === 1) return null;
  const at = secondsOf(entry);
  const same = [...log, ...sent].find(
    (one) =>
      one.step === entry.step &&
      one.n === entry.n &&
      one.kind === entry.kind &&
      one.who !== entry.who &&
      one.set === entry.set &&
      Math.abs(secondsOf(one) - at) <= SECONDS_APART &&
      !log.some(({ undoes }) => undoes === one.id) &&
      !sent.some(({ undoes }) => undoes === one.id),
  );
  if (!same) return null;
  const what = entry.n === undefined ? `"${entry.kind}"` : `${entry.n} ${entry.kind}`;
  const name = forecast?.steps.find((one) => one.id === entry.step)?.name ?? entry.step;
  const where = name === undefined ? '' : ` at "${name}"`;
  const question = `${same.who ?? 'Somebody'} and ${entry.who ?? 'somebody'} both logged ${what}${where} within a minute: one lot or two?`;
  return { question, other: same.id };
}

function undoneBefore(entry: NewLogEntry, { log, sent }: Standing): Asked {
  if (entry.kind !== 'undo') return null;
  const isBefore = (one: LogEntry): boolean => one.kind === 'undo' && one.undoes === entry.undoes;
  const before = log.find(isBefore) ?? sent.find(isBefore);
  if (!before) return null;
  return {
    question: `That entry had been taken back before, by ${before.who ?? 'somebody'}; it counts once.`,
    other: null,
  };
}

/** Entries never change, and each is compared with many that come after it. */
const seconds = new WeakMap<NewLogEntry, number>();

function secondsOf(entry: NewLogEntry): number {
  const known = seconds.get(entry);
  if (known !== undefined) return known;
  const minutes = readWall(entry.at, 'UTC');
  const value = minutes.ok ? minutes.value * 60 + Number(/T\d\d:\d\d:(\d\d)/.exec(entry.at)?.[1] ?? 0) : Number.NaN;
  seconds.set(entry, value);
  return value;
}
