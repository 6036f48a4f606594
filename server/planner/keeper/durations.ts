/** How long the forecasts of each build take, by those that were made, for whoever would wait for the next one. */
import type { Depth } from '../../store/index.ts';

export interface Durations {
  /** A forecast is begun; what it gives back says that it is there. */
  begin(id: string, depth: Depth): () => void;
  /** Milliseconds until the next one may be there, by how long the last took; 0 where there was none. */
  expected(id: string, depth: Depth): number;
  forget(id: string): void;
}

/** Nothing was made yet. `clock`: milliseconds since whenever. */
export function createDurations(clock: () => number): Durations {
  const taken = new Map<string, Map<Depth, number>>();
  const begun = new Map<string, Map<Depth, number>>();
  return {
    begin: (id, depth) => {
      const from = clock();
      put(begun, id, depth, from);
      return () => {
        if (begun.get(id)?.get(depth) !== from) return;
        put(taken, id, depth, clock() - from);
        begun.get(id)!.delete(depth);
      };
    },
    expected: (id, depth) => {
      const last = taken.get(id)?.get(depth) ?? 0;
      const from = begun.get(id)?.get(depth);
      return from === undefined ? last : Math.max(0, from + last - clock());
    },
    forget: (id) => {
      taken.delete(id);
      begun.delete(id);
    },
  };
}

function put(times: Map<string, Map<Depth, number>>, id: string, depth: Depth, value: number): void {
  const ofBuild = times.get(id) ?? new Map<Depth, number>();
  ofBuild.set(depth, value);
  times.set(id, ofBuild);
}
