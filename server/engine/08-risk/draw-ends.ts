/** When futures end, and nothing else of them: drawn a few at a time, as many as are asked for. */
import { madeAt, type Planned } from '../stages/index.ts';
import type { FutureEnds } from './compare-futures.ts';
import { worldsOf } from './worlds.ts';

/** Futures of one planned case that can be drawn on. */
export interface EndsDrawn {
  /** The ends of the first `futures` of them; those that are drawn already are kept. */
  readonly upTo: (futures: number) => FutureEnds;
}

/**
 * The ends of futures 0, 1, 2 … of a planned case: those of `runFutures` with the same seed, without what else is
 * gathered of them, which takes a third of the time. Null where nothing is left or nothing could be placed. `most`: no
 * more are ever asked for. O(futures x lots) in all, whatever the steps in which they are asked for.
 */
export function drawEnds(planned: Planned, seed: number, most: number): EndsDrawn | null {
  const { schedule, work, surroundings } = planned;
  if (schedule === null || work.lots.length === 0) return null;
  const worlds = worldsOf(planned, schedule, seed);
  const { readyBy, event, from } = surroundings;
  const [readySince, finishSince] = [madeAt(planned, false) ?? from, madeAt(planned, true) ?? from];
  const readyAt = new Int32Array(most);
  const finishAt = new Int32Array(most);
  let count = 0;
  return {
    upTo: (futures) => {
      const asked = Math.min(most, futures);
      for (; count < asked; count++) {
        const world = worlds[count % worlds.length]!;
        const { finishes } = world.run(count);
        readyAt[count] = latestOf(finishes, world.workshopLots, readySince);
        finishAt[count] = latestOf(finishes, world.lots, finishSince);
      }
      return { seed, readyBy, event, readyAt: readyAt.subarray(0, asked), finishAt: finishAt.subarray(0, asked) };
    },
  };
}

function latestOf(finishes: Int32Array, lots: Int32Array, none: number): number {
  if (lots.length === 0) return none;
  let latest = finishes[lots[0]!]!;
  for (const lot of lots) latest = Math.max(latest, finishes[lot]!);
  return latest;
}
