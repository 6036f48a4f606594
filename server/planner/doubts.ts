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

/**
 * Whether a count above what is left has been asked about already: each further tap there is the same question while it is
 * open, and none once somebody has said that they are there. It is asked anew when more is counted at once than was said
 * to be right, or when the plan has since asked for as many as there were then.
 */
export function isAsked(
  { other }: Doubt,
  entry: NewLogEntry,
  asked: readonly Doubt[],
  standing: Standing,
  find: (id: string) => LogEntry | undefined,
): boolean {
  if (other !== null || entry.kind === 'undo') return false;
  const same = asked.flatMap((doubt) => {
    const one = doubt.other === null ? find(doubt.entry) : undefined;
    return one?.step === entry.step && one?.set === entry.set && one?.kind === entry.kind ? [one] : [];
  });
  if (same.length === 0) return false;
  const all = [...standing.log, ...standing.sent];
  const gone = takenBack(all);
  const right = new Set(all.flatMap(({ id, confirms }) => (confirms !== undefined && !gone.has(id) ? [confirms] : [])));
  return same.some((one) => {
    if (gone.has(one.id)) return false;
    if (!right.has(one.id)) return one.who === entry.who;
    return (entry.n ?? 1) <= (one.n ?? 1) && wasAbove(one, standing, gone);
  });
}

/** Whether the plan as it is asks for fewer than were counted up to an entry and with it. */
function wasAbove(one: LogEntry, { forecast, log, sent }: Standing, gone: ReadonlySet<string>): boolean {
  const all = [...log, ...sent];
  const until = all.slice(0, all.findIndex(({ id }) => id === one.id) + 1);
  const total = countedOf(one, forecast)?.total ?? Number.POSITIVE_INFINITY;
  return unitsOf(one, until, gone) > total;
}

/** Ids of entries that an undo has taken back which was not taken back itself; an undo always comes after what it undoes. */
function takenBack(log: readonly LogEntry[]): Set<string> {
  const gone = new Set<string>();
  for (const { id, kind, undoes } of [...log].reverse()) if (kind === 'undo' && !gone.has(id)) gone.add(undoes ?? '');
  return gone;
}

type Asked = Omit<Doubt, 'entry'> | null;

function tooMany(entry: NewLogEntry, standing: Standing): Asked {
  const { forecast } = standing;
  if ((entry.kind !== 'done' && entry.kind !== 'received') || entry.n === undefined) return null;
  const step = forecast?.steps.find((one) => one.id === entry.step);
  const counted = countedOf(entry, forecast);
  // What is ordered comes in packs and may well be more than is needed.
  if (!step || !counted || step.kind === 'order') return null;
  const left = Math.max(0, counted.left - madeSince(entry, standing));
  if (entry.n <= left) return null;
  const where = entry.set === undefined ? `"${step.name}"` : `"${step.name}", set ${entry.set},`;
  const question = `${where} has ${left} left and this entry says ${entry.n}: are there more than planned, or is it a slip?`;
  return { question, other: null };
}

/** The set that an entry was counted for, or the whole step. */
function countedOf({ step, set }: NewLogEntry, forecast: Forecast | null): { total: number; left: number } | null {
  const found = forecast?.steps.find((one) => one.id === step);
  return found?.sets.find((one) => one.set === (set ?? null)) ?? found ?? null;
}

/** Units of the step (and set) that the forecast does not know of yet, less those that it knows and that were taken back since. */
function madeSince(of: NewLogEntry, { since, log, sent }: Standing): number {
  if (!since.some(({ kind }) => kind === 'undo')) return unitsOf(of, since, new Set());
  const before = log.slice(0, log.length + sent.length - since.length);
  const gone = takenBack([...log, ...sent]);
  return unitsOf(of, since, gone) + unitsOf(of, before, gone) - unitsOf(of, before, takenBack(before));
}

/** Units of the step (and set) of an entry that stand among some entries. */
function unitsOf({ step, set }: NewLogEntry, entries: readonly LogEntry[], gone: ReadonlySet<string>): number {
  let units = 0;
  for (const one of entries) {
    if (one.step !== step || (set !== undefined && one.set !== set) || gone.has(one.id)) continue;
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
  const all = [...log, ...sent];
  const near = all.filter(
    (one) =>
      one.step === entry.step &&
      one.n === entry.n &&
      one.kind === entry.kind &&
      one.who !== entry.who &&
      one.set === entry.set &&
      Math.abs(secondsOf(one) - at) <= SECONDS_APART,
  );
  if (near.length === 0) return null;
  const gone = takenBack(all);
  const same = near.find(({ id }) => !gone.has(id));
  if (!same) return null;
  const what = entry.n === undefined ? `"${entry.kind}"` : `${entry.n} ${entry.kind}`;
  const name = forecast?.steps.find((one) => one.id === entry.step)?.name ?? entry.step;
  const where = name === undefined ? '' : ` at "${name}"`;
  const question = `${same.who ?? 'Somebody'} and ${entry.who ?? 'somebody'} both logged ${what}${where} within a minute: one lot or two?`;
  return { question, other: same.id };
}

function undoneBefore(entry: NewLogEntry, { log, sent }: Standing): Asked {
  if (entry.kind !== 'undo') return null;
  const all = [...log, ...sent];
  const earlier = all.filter((one) => one.undoes === entry.undoes);
  if (earlier.length === 0) return null;
  const gone = takenBack(all);
  const before = earlier.find(({ id }) => !gone.has(id));
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
