/**
 * What stands on the sheets of each build: the plan that the next forecast leaves alone unless changing it gains real
 * time.
 */
import { type KeptSchedule, keptScheduleOf } from '../engine/index.ts';
import type { Forecast } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { GroundState } from './ground.ts';

export interface Sheets {
  /**
   * The plan of the last settled forecast of the build, of whatever state. Where an edit has been taken back, by
   * whatever hand, it is the one that stood before that edit: a detour costs nothing. Undefined where there is none
   * yet.
   */
  of(state: GroundState): KeptSchedule | undefined;
  put(state: GroundState, forecast: Forecast): void;
  /** Lets go of what is held of a build; what was settled last is read from the disk again. */
  letGo(key: number): void;
}

interface Sheet {
  readonly revision: number;
  readonly build: string;
  readonly plan: KeptSchedule;
}

/** Edits that are remembered, while the server runs, with what stood on the sheets then. */
const MOST_EDITS = 8;

/** The sheets of all builds of a store; at first what it keeps on disk. */
export function createSheets(store: Store): Sheets {
  const byKey = new Map<number, readonly Sheet[]>();
  const onDisk = new Map<number, KeptSchedule>();

  return {
    of: ({ key, version, build }) => {
      const sheets = byKey.get(key) ?? [];
      const newest = sheets[0];
      if (newest?.revision === version.revision) return newest.plan;
      const text = JSON.stringify(build);
      const alike = sheets.find((sheet) => sheet.build === text) ?? newest;
      if (alike !== undefined) return alike.plan;
      const known = onDisk.get(key);
      if (known !== undefined) return known;
      const kept = store.forecasts.last(key);
      if (kept === null) return undefined;
      const plan = keptScheduleOf(kept.forecast);
      onDisk.set(key, plan);
      return plan;
    },
    put: ({ key, version, build }, forecast) => {
      const sheet = { revision: version.revision, build: JSON.stringify(build), plan: keptScheduleOf(forecast) };
      const others = (byKey.get(key) ?? []).filter(({ revision }) => revision !== version.revision);
      byKey.set(key, [sheet, ...others].slice(0, MOST_EDITS));
      onDisk.delete(key);
    },
    letGo: (key) => {
      byKey.delete(key);
      onDisk.delete(key);
    },
  };
}
