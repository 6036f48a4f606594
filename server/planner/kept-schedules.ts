/**
 * The schedule last given out of each build. The next forecast leaves it alone unless changing it gains real time.
 */
import { type KeptSchedule, keptScheduleOf } from '../engine/index.ts';
import type { Forecast } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { textOf } from './background/parcel.ts';
import type { GroundState } from './ground.ts';

export interface KeptSchedules {
  /**
   * The schedule of the last settled forecast of the build, of whatever state. Where an edit has been taken back, by
   * whatever hand, it is the one that stood before that edit: a detour costs nothing. Undefined where there is none
   * yet.
   */
  of(state: GroundState): KeptSchedule | undefined;
  put(state: GroundState, forecast: Forecast): void;
  /** Says what the disk has, where nothing newer is known. */
  know(key: number, kept: Forecast): void;
  /** The schedule of the last settled forecast of a build, whatever the edit; undefined where there is none. */
  last(key: number): KeptSchedule | undefined;
  /** Lets go of what is held of a build; what was settled last is read from the disk again. */
  letGo(key: number): void;
}

interface Kept {
  readonly revision: number;
  readonly build: string;
  readonly schedule: () => KeptSchedule;
}

/** Edits that are remembered, while the server runs, with the schedule given out then. */
const MOST_EDITS = 8;

/** The schedules of all builds of a store; at first what it keeps on disk. */
export function createKeptSchedules(store: Store): KeptSchedules {
  const byKey = new Map<number, readonly Kept[]>();
  const newest = new Map<number, () => KeptSchedule>();

  const last = (key: number): KeptSchedule | undefined => {
    const known = newest.get(key);
    if (known !== undefined) return known();
    const kept = store.forecasts.last(key);
    if (kept === null) return undefined;
    const schedule = keptScheduleOf(kept.forecast);
    newest.set(key, () => schedule);
    return schedule;
  };

  return {
    last,
    know: (key, kept) => {
      if (!newest.has(key)) newest.set(key, inTime(kept));
    },
    of: ({ key, version, build }) => {
      const all = byKey.get(key) ?? [];
      const before = all[0];
      if (before?.revision === version.revision) return before.schedule();
      const text = textOf(build);
      return (all.find((one) => one.build === text) ?? before)?.schedule() ?? last(key);
    },
    put: ({ key, version, build }, forecast) => {
      const schedule = inTime(forecast);
      const kept = { revision: version.revision, build: textOf(build), schedule };
      const others = (byKey.get(key) ?? []).filter(({ revision }) => revision !== version.revision);
      byKey.set(key, [kept, ...others].slice(0, MOST_EDITS));
      newest.set(key, schedule);
    },
    letGo: (key) => {
      byKey.delete(key);
      newest.delete(key);
    },
  };
}

/** The schedule of a forecast, taken out of it when it is asked for or in the next turn, whichever comes first. */
function inTime(forecast: Forecast): () => KeptSchedule {
  let from: Forecast | null = forecast;
  let schedule: KeptSchedule | null = null;
  const taken = (): KeptSchedule => {
    schedule ??= keptScheduleOf(from!);
    from = null;
    return schedule;
  };
  setImmediate(() => {
    try {
      taken();
    } catch {
      // Whoever asks for it hears of it.
    }
  });
  return taken;
}
