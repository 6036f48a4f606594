/**
 * What stands on the sheets of each build: the plan that the next forecast leaves alone unless changing it gains real
 * time.
 */
import { type KeptSchedule, keptScheduleOf } from '../engine/index.ts';
import type { Forecast } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { textOf } from './background/parcel.ts';
import type { GroundState } from './ground.ts';

export interface Sheets {
  /**
   * The plan of the last settled forecast of the build, of whatever state. Where an edit has been taken back, by
   * whatever hand, it is the one that stood before that edit: a detour costs nothing. Undefined where there is none
   * yet.
   */
  of(state: GroundState): KeptSchedule | undefined;
  put(state: GroundState, forecast: Forecast): void;
  /** Says what the disk has, where nothing newer is known. */
  know(key: number, kept: Forecast): void;
  /** The plan of the last settled forecast of a build, whatever the edit; undefined where there is none. */
  last(key: number): KeptSchedule | undefined;
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
  const newest = new Map<number, KeptSchedule>();

  const last = (key: number): KeptSchedule | undefined => {
    const known = newest.get(key);
    if (known !== undefined) return known;
    const kept = store.forecasts.last(key);
    if (kept === null) return undefined;
    const plan = keptScheduleOf(kept.forecast);
    newest.set(key, plan);
    return plan;
  };

  return {
    last,
    know: (key, kept) => {
      if (!newest.has(key)) newest.set(key, keptScheduleOf(kept));
    },
    of: ({ key, version, build }) => {
      const sheets = byKey.get(key) ?? [];
      const before = sheets[0];
      if (before?.revision === version.revision) return before.plan;
      const text = textOf(build);
      return (sheets.find((sheet) => sheet.build === text) ?? before)?.plan ?? last(key);
    },
    put: ({ key, version, build }, forecast) => {
      const plan = keptScheduleOf(forecast);
      const sheet = { revision: version.revision, build: textOf(build), plan };
      const others = (byKey.get(key) ?? []).filter(({ revision }) => revision !== version.revision);
      byKey.set(key, [sheet, ...others].slice(0, MOST_EDITS));
      newest.set(key, plan);
    },
    letGo: (key) => {
      byKey.delete(key);
      newest.delete(key);
    },
  };
}
