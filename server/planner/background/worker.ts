/** What a thread of the background runs (see `pool.ts`). */
import { setPriority } from 'node:os';
import { type MessagePort, threadId } from 'node:worker_threads';
import { answersAfter, attributeRoom } from '../../engine/index.ts';
import type { LedgerPart, LeverSearch, Sizing, WaysBeside } from '../../model/index.ts';
import { piecesOf } from '../../store/forecast-pieces.ts';
import { readBuildFile } from '../build-text.ts';
import { computeLevers, computePlan, computeSizing, computeWays, tryPlan } from './compute.ts';
import { readSchedule, writtenSchedule } from './former.ts';
import { type FileParcel, type PlanParcel, type SpanParcel, unwrapSpan, unwrapTask, wrapFile } from './parcel.ts';
import type { Planned, Said, TriedPieces } from './pool.ts';
import type { LeversTask } from './tasks.ts';
import { numberOfThread } from './threads.ts';
import { clockOf, watchOf } from './watch.ts';

/** On Linux this is of the calling thread alone: a search never holds up the thread that answers taps. */
const BEHIND_OTHERS = 10;
if (process.platform === 'linux' && threadId !== 0) setPriority(0, BEHIND_OTHERS);

interface Asked {
  readonly signal: Int32Array;
  readonly port: MessagePort;
}

/**
 * A forecast in pieces, those of a searched one as they are kept, with its schedule; what is planned is said as soon as
 * it is there.
 */
export function plan({ task: parcel, signal, port }: Asked & { readonly task: PlanParcel }): Planned {
  const task = unwrapTask(parcel);
  const say = (said: Said): void => port.postMessage(said);
  const forecast = computePlan(task, watchOf(signal, say), (early) => say({ plan: piecesOf(early) }));
  if (task.depth === 'quick') return { pieces: piecesOf(forecast) };
  return { pieces: piecesOf(forecast, true), schedule: writtenSchedule(forecast).text };
}

interface ReadAsked {
  readonly text: string | Uint8Array;
  readonly name: string;
  /** Where the thread says which it is, so that its work can be told from waiting. */
  readonly thread: Int32Array;
}

/** A build file from its text. */
export function read({ text, name, thread }: ReadAsked): Promise<FileParcel> {
  Atomics.store(thread, 0, numberOfThread());
  return wrapFile(readBuildFile(text, name));
}

/** A plan with how its futures ended. */
export function tryOut({ task, signal, port }: Asked & { readonly task: PlanParcel }): TriedPieces {
  const watch = watchOf(signal, (said) => port.postMessage(said));
  const { forecast, ...rest } = tryPlan(unwrapTask(task), watch);
  return { ...rest, pieces: piecesOf(forecast) };
}

/** Rows are said no more often: each time they are copied to the other thread, and pages fetch them. */
const ROWS_MILLISECONDS = 500;

/** What would buy time; the rows so far are said now and then. */
export function findLevers({ task, signal, port }: Asked & { readonly task: LeversTask }): LeverSearch {
  let told = Number.NEGATIVE_INFINITY;
  const say = (levers: LeverSearch): void => {
    const at = performance.now();
    if (at - told < ROWS_MILLISECONDS) return;
    told = at;
    port.postMessage({ levers });
  };
  return computeLevers(
    task,
    say,
    watchOf(signal, (said) => port.postMessage(said)),
  );
}

/** How large a parameter may be. */
export function rightSize({
  task,
  signal,
  port,
}: Asked & { readonly task: LeversTask & { readonly parameter: string } }): Sizing | null {
  return computeSizing(
    task,
    watchOf(signal, (said) => port.postMessage(said)),
  );
}

/** Make or send out; the parts so far are said one by one. */
export function waysBeside({ task, signal, port }: Asked & { readonly task: LeversTask }): WaysBeside {
  return computeWays(
    task,
    (ways) => port.postMessage({ ways }),
    watchOf(signal, (said) => port.postMessage(said)),
  );
}

/** Where the room went. */
export function attribute({ span: parcel, signal, port }: Asked & { readonly span: SpanParcel }): LedgerPart[] {
  const watch = watchOf(signal, (said) => port.postMessage(said));
  const span = unwrapSpan(parcel);
  const former = readSchedule(span.former);
  return attributeRoom({ ...span, former }, answersAfter(former, clockOf(watch)), watch.progress);
}
