/**
 * From a change of a build to its forecast: a gap between taps is waited for, then the answer is asked for, and when it
 * has been shown for a moment the search.
 */
import type { Depth } from '../../store/index.ts';

/**
 * Milliseconds: taps that follow each other more closely than `quiet` share one forecast; a search begins `calm` after
 * its answer.
 */
export interface Pauses {
  readonly quiet: number;
  readonly calm: number;
}

interface LoopParts {
  readonly pauses: Pauses | undefined;
  /** Whether a forecast of this depth is wanted for the present state. */
  readonly needs: (id: string, depth: Depth) => boolean;
  /** Whether what is shown is of the present state. */
  readonly isOfNow: (id: string) => boolean;
  /** Asks the queue for it; over when it is shown, or not wanted any more. */
  readonly ask: (id: string, depth: Depth) => Promise<void>;
  readonly failed: (id: string) => void;
  readonly report: (error: unknown) => void;
}

interface Loop {
  /** Sees to the forecast of a build, not in the turn of whoever asks: whoever tapped is answered first. */
  begin(id: string): void;
  /** When nothing is seen to any more. */
  settled(): Promise<void>;
  /** Begins nothing any more. */
  close(): void;
}

const PAUSES: Pauses = { quiet: 40, calm: 250 };
/** The most times that taps in a row are waited for. */
const MOST_PAUSES = 50;

/** Nothing is seen to yet. */
export function createLoop({ pauses = PAUSES, needs, isOfNow, ask, failed, report }: LoopParts): Loop {
  /** Builds whose next answer waits for a gap between taps; true: another came meanwhile. */
  const gathering = new Map<string, boolean>();
  const following = new Set<Promise<void>>();
  let isClosed = false;

  /**
   * Waits until nothing has been asked for a moment, but not for ever; what was asked meanwhile is served by what
   * follows.
   */
  const quiet = async (id: string): Promise<void> => {
    for (let n = 0; n < MOST_PAUSES; n++) {
      gathering.set(id, false);
      await pause(pauses.quiet);
      if (!gathering.get(id)) break;
    }
    gathering.delete(id);
  };

  const follow = async (id: string): Promise<void> => {
    await quiet(id);
    if (isClosed) return;
    try {
      if (needs(id, 'quick')) {
        await ask(id, 'quick');
        await pause(pauses.calm);
      }
      // A newer tap sees to its own answer and search.
      if (!isClosed && !gathering.has(id) && isOfNow(id)) await ask(id, 'deep');
    } catch (error) {
      report(error);
      failed(id);
    }
  };

  return {
    begin: (id) => {
      if (isClosed) return;
      if (gathering.has(id)) {
        gathering.set(id, true);
        return;
      }
      gathering.set(id, false);
      const one = follow(id)
        .catch(report)
        .finally(() => following.delete(one));
      following.add(one);
    },
    settled: async () => {
      while (following.size > 0) await Promise.all(following);
    },
    close: () => {
      isClosed = true;
    },
  };
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
