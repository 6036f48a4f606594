/**
 * What is handed to a thread: what may be large goes as text, which is copied many times faster than objects are, and
 * made only once.
 */
import type { LedgerSpan } from '../../engine/index.ts';
import type { BuildFile, LogEntry, Result } from '../../model/index.ts';
import { flatMapInTurns, inTurns } from '../../turns/turns.ts';
import { textOfSchedule, type WrittenSchedule } from './former.ts';
import type { PlanTask, WrittenSpan } from './tasks.ts';

/** Text; in memory that threads share where it is long and stays: a long log is not copied for each task. */
type SharedText = string | SharedArrayBuffer;

/** A log as JSON, a list for every few hundred entries. */
type LogText = readonly SharedText[];

export type PlanParcel = Omit<PlanTask, 'log' | 'former'> & {
  readonly log: LogText;
  readonly former?: WrittenSchedule;
};

/** A span of the ledger; its logs in order: before, of each edit, after. */
export interface SpanParcel {
  readonly span: Omit<LedgerSpan, 'former'>;
  readonly logs: readonly LogText[];
  readonly former: WrittenSchedule;
}

/** A build file that was read in a thread: its log as text. */
export type FileParcel = Result<Omit<BuildFile, 'log'> & { readonly log?: LogText }>;

/** What was read, for the thread that asked. */
export async function wrapFile(read: Result<BuildFile>): Promise<FileParcel> {
  if (!read.ok || read.value.log === undefined) return read as FileParcel;
  return { ok: true, value: { ...read.value, log: await logTextOf(read.value.log) } };
}

/** The file of a parcel; its log is put together in turns with others' work. */
export async function unwrapFile(read: FileParcel): Promise<Result<BuildFile>> {
  if (!read.ok || read.value.log === undefined) return read as Result<BuildFile>;
  const log = await flatMapInTurns(read.value.log, entriesIn);
  return { ok: true, value: { ...read.value, log } };
}

/** A task for a thread; a long log that was never written before is written in turns with others' work. */
export async function wrapTask({ log, former, ...rest }: PlanTask): Promise<PlanParcel> {
  const parcel = { ...rest, log: await logTextOf(log) };
  return former === undefined ? parcel : { ...parcel, former: { text: textOfSchedule(former) } };
}

/** The task of a parcel. */
export function unwrapTask({ log, ...rest }: PlanParcel): PlanTask {
  return { ...rest, log: logIn(log) };
}

/** A span of the ledger for a thread, likewise. */
export async function wrapSpan({ before, edits, after, former }: WrittenSpan): Promise<SpanParcel> {
  const logs: LogText[] = [];
  for (const { log } of [before, ...edits, after]) logs.push(await logTextOf(log));
  const empty = { log: [] };
  const span = {
    before: { ...before, ...empty },
    edits: edits.map((edit) => ({ ...edit, ...empty })),
    after: { ...after, ...empty },
  };
  return { span, logs, former: { text: textOfSchedule(former) } };
}

/** The span of a parcel. */
export function unwrapSpan({ span, logs, former }: SpanParcel): WrittenSpan {
  const log = (i: number): { log: readonly LogEntry[] } => ({ log: logIn(logs.at(i)!) });
  return {
    before: { ...span.before, ...log(0) },
    edits: span.edits.map((edit, i) => ({ ...edit, ...log(i + 1) })),
    after: { ...span.after, ...log(-1) },
    former,
  };
}

const texts = new WeakMap<object, string>();

/** The JSON of a value that is never changed. */
export function textOf(value: object): string {
  const known = texts.get(value);
  if (known !== undefined) return known;
  const text = JSON.stringify(value);
  texts.set(value, text);
  return text;
}

const ENTRIES_IN_A_TEXT = 500;

interface Known {
  readonly entries: readonly LogEntry[];
  readonly text: SharedText;
}

/** By their first entry: entries that follow each other, with their text. Logs of one build share their entries. */
const known = new WeakMap<LogEntry, Known>();

async function logTextOf(log: readonly LogEntry[]): Promise<LogText> {
  const list: SharedText[] = [];
  for await (const text of inTurns(textsOf(log))) list.push(text);
  return list;
}

function* textsOf(log: readonly LogEntry[]): Generator<SharedText> {
  for (let first = 0; first < log.length; first += ENTRIES_IN_A_TEXT) {
    yield textOfEntries(log.slice(first, first + ENTRIES_IN_A_TEXT));
  }
}

/** The JSON of entries that follow each other in a log; made once for each full list of them. */
function textOfEntries(entries: readonly LogEntry[]): SharedText {
  const there = known.get(entries[0]!);
  if (there?.entries.length === entries.length && there.entries.every((entry, i) => entry === entries[i])) {
    return there.text;
  }
  const whole = JSON.stringify(entries);
  const text = entries.length === ENTRIES_IN_A_TEXT ? shared(whole) : whole;
  known.set(entries[0]!, { entries, text });
  return text;
}

function logIn(list: LogText): LogEntry[] {
  return list.flatMap((text) => JSON.parse(textIn(text)) as LogEntry[]);
}

/** The entries of a text, which is known from now on. */
function entriesIn(text: SharedText): LogEntry[] {
  const entries = JSON.parse(textIn(text)) as LogEntry[];
  if (entries.length > 0) known.set(entries[0]!, { entries, text });
  return entries;
}

function shared(text: string): SharedArrayBuffer {
  const memory = new SharedArrayBuffer(Buffer.byteLength(text));
  Buffer.from(memory).write(text);
  return memory;
}

function textIn(text: SharedText): string {
  return typeof text === 'string' ? text : Buffer.from(text).toString();
}
