/** Threads that read files: each file in one of its own, which holds up no forecast and which the file may end. */
import { readFileSync } from 'node:fs';
import { Piscina } from 'piscina';
import { type BuildFile, problem, problemTexts, type Result } from '../../model/index.ts';
import { type FileParcel, unwrapFile } from './parcel.ts';
import type { Background } from './tasks.ts';
import { flagsOf } from './threads.ts';

/** What a file may take to be read: with 250,000 log entries it takes some seconds and half of this memory. */
interface ReadingLimit {
  /** The thread's own work counts, however long that takes on a machine that has other things to do. */
  readonly milliseconds: number;
  readonly megabytes: number;
}

const READING: ReadingLimit = { milliseconds: 30_000, megabytes: 1_536 };

/** By the clock, times the limit: a thread that gets no more than this share of the machine will not come back. */
const LEAST_SHARE = 20;
const LOOK_MILLISECONDS = 250;

/**
 * Reads each file in a thread of its own. A file that takes more work or more memory than the limit is refused as too
 * large; work is what the system says of that thread, and where it does not say, what this process has worked since,
 * the clock at most.
 */
export function createReaders(
  worker: URL,
  limit: ReadingLimit = READING,
): { read: Background['read']; close: () => Promise<unknown> } {
  const readers = new Set<Piscina<unknown, unknown>>();
  return {
    read: async (text, name): Promise<Result<BuildFile>> => {
      const reader = new Piscina<unknown, unknown>({
        filename: worker.href,
        name: 'read',
        maxThreads: 1,
        resourceLimits: { maxOldGenerationSizeMb: limit.megabytes },
        execArgv: flagsOf(worker),
      });
      reader.on('error', () => undefined);
      readers.add(reader);
      const tooMuch = new AbortController();
      const thread = new Int32Array(new SharedArrayBuffer(4));
      const stopLooking = whenWorked(thread, limit.milliseconds, () => tooMuch.abort());
      try {
        const read = await reader.run({ text, name, thread }, { signal: tooMuch.signal });
        return await unwrapFile(read as FileParcel);
      } catch {
        const message = problemTexts.files.tooSlow(name, limit.milliseconds / 1000, limit.megabytes);
        return { ok: false, problems: [problem('too-large', 'file', name, message)] };
      } finally {
        stopLooking();
        readers.delete(reader);
        await reader.destroy();
      }
    },
    close: () => Promise.all([...readers].map((reader) => reader.destroy())),
  };
}

/** Calls once a thread has worked this many milliseconds; what this returns ends the watch. */
function whenWorked(thread: Int32Array, milliseconds: number, call: () => void): () => void {
  const began = performance.now();
  const before = process.cpuUsage();
  const look = (): void => {
    const passed = performance.now() - began;
    const { user, system } = process.cpuUsage(before);
    const worked = workedBy(Atomics.load(thread, 0)) ?? Math.min(passed, (user + system) / 1000);
    if (worked > milliseconds || passed > LEAST_SHARE * milliseconds) call();
  };
  const timer = setInterval(look, Math.min(LOOK_MILLISECONDS, milliseconds));
  timer.unref();
  return () => clearInterval(timer);
}

/** Milliseconds that a thread has worked in all, by its number in the system; null where the system does not say. */
function workedBy(thread: number): number | null {
  if (thread === 0) return null;
  try {
    const [nanoseconds] = readFileSync(`/proc/self/task/${thread}/schedstat`, 'latin1').split(' ');
    return Number(nanoseconds) / 1e6;
  } catch {
    return null;
  }
}
