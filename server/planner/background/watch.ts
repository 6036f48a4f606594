/** How long work goes on in a thread: until it is done, its time is over, or the queue signals that it should end. */
import { LeftOff, SIGNAL } from './tasks.ts';

/** What a computation asks now and then, and tells. */
export interface Watch {
  /** Milliseconds since some instant. */
  readonly clock: () => number;
  /** Whether it should end with the best so far. Throws `LeftOff` where it should end without an answer. */
  readonly isEnough: () => boolean;
  readonly progress: (done: number, total: number) => void;
}

/** The least time between two reports of progress. */
const TELL_MILLISECONDS = 250;

/** The watch of a thread: `signal` is shared with the queue, `say` reaches it. */
export function watchOf(signal: Int32Array, say: (said: { done: number; total: number }) => void): Watch {
  let told = performance.now();
  return {
    clock: () => performance.now(),
    isEnough: () => {
      const now = Atomics.load(signal, 0);
      if (now === SIGNAL.leave) throw new LeftOff();
      return now === SIGNAL.enough;
    },
    progress: (done, total) => {
      if (performance.now() - told < TELL_MILLISECONDS) return;
      told = performance.now();
      say({ done, total });
    },
  };
}

/** Milliseconds: more than any budget has. */
const AGE = 1e17;

/**
 * A clock for the engine that leaps by an age with every look once it is enough: what is under way then is over, and
 * what begins afterwards is over at its second look.
 */
export function clockOf({ clock, isEnough }: Watch): () => number {
  let leapt = 0;
  return () => {
    if (isEnough()) leapt += AGE;
    return clock() + leapt;
  };
}

/**
 * The watch of work that nobody ends: its clock stands still, so that the same work gives the same answer however long
 * it takes.
 */
export function watchAlone(): Watch {
  return { clock: () => 0, isEnough: () => false, progress: () => undefined };
}
