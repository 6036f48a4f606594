/** What a thread of the background runs (see `pool.ts`). */
import { setPriority } from 'node:os';
import { type MessagePort, threadId } from 'node:worker_threads';
import { answersAfter, attributeRoom, type LedgerSpan } from '../../engine/index.ts';
import type { BuildFile, Forecast, LedgerPart, Result } from '../../model/index.ts';
import { readBuildFile } from '../build-text.ts';
import { computePlan, tryPlan } from './compute.ts';
import type { Said } from './pool.ts';
import type { PlanTask, Tried } from './tasks.ts';
import { clockOf, watchOf } from './watch.ts';

/** On Linux this is of the calling thread alone: a search never holds up the thread that answers taps. */
const BEHIND_OTHERS = 5;
if (process.platform === 'linux' && threadId !== 0) setPriority(0, BEHIND_OTHERS);

interface Asked {
  readonly signal: Int32Array;
  readonly port: MessagePort;
}

/** A forecast; what is planned is said as soon as it is there. */
export function plan({ task, signal, port }: Asked & { readonly task: PlanTask }): Forecast {
  const say = (said: Said): void => port.postMessage(said);
  return computePlan(task, watchOf(signal, say), (early) => say({ plan: early }));
}

/** A build file from its text. */
export function read({ text, name }: { readonly text: string; readonly name: string }): Result<BuildFile> {
  return readBuildFile(text, name);
}

/** A plan with how its futures ended. */
export function tryOut({ task, signal, port }: Asked & { readonly task: PlanTask }): Tried {
  const watch = watchOf(signal, (said) => port.postMessage(said));
  return tryPlan(task, watch);
}

/** Where the room went. */
export function attribute({ span, signal, port }: Asked & { readonly span: LedgerSpan }): LedgerPart[] {
  const watch = watchOf(signal, (said) => port.postMessage(said));
  return attributeRoom(span, answersAfter(span.former, clockOf(watch)), watch.progress);
}
