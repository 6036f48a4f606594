/**
 * The schedule last given out of each build. The next forecast leaves it alone unless changing it gains real time.
 */
import type { Forecast } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { type WrittenSchedule, writtenInTurns, writtenSchedule } from './background/former.ts';
import { textOf } from './background/parcel.ts';
import type { GroundState } from './ground.ts';

export interface KeptSchedules {
  /**
   * The schedule of the last settled forecast of the build, of whatever state. Where an edit has been taken back, by
   * whatever hand, it is the one that stood before that edit: a detour costs nothing. Undefined where there is none
   * yet.
   */
  of(state: GroundState): WrittenSchedule | undefined;
  put(state: GroundState, forecast: Forecast): void;
  /** Says what the disk has, where nothing newer is known. */
  know(key: number, kept: Pick<Forecast, 'lots' | 'steps'>): void;
  /** Whether it was said, or something newer is known. */
  knows(key: number): boolean;
  /** When what is at hand of a build has been written, so that nobody waits for it who asks. */
  written(key: number): Promise<unknown> | undefined;
  /** The schedule of the last settled forecast of a build, whatever the edit; undefined where there is none. */
  last(key: number): WrittenSchedule | undefined;
  /** Lets go of what is held of a build; what was settled last is read from the disk again. */
  letGo(key: number): void;
}

interface Kept {
  readonly revision: number;
  readonly build: string;
  readonly schedule: () => WrittenSchedule;
}

/** Edits that are remembered, while the server runs, with the schedule given out then. */
const MOST_EDITS = 8;

/** The schedules of all builds of a store; at first what it keeps on disk. */
export function createKeptSchedules(store: Store): KeptSchedules {
  const byKey = new Map<number, readonly Kept[]>();
  const newest = new Map<number, () => WrittenSchedule>();
  const writing = new Map<number, Promise<unknown>>();
  /** Written when it is asked for or in the next turns, whichever comes first. */
  const inTime = (key: number, forecast: Pick<Forecast, 'lots' | 'steps'>): (() => WrittenSchedule) => {
    let from: Pick<Forecast, 'lots' | 'steps'> | null = forecast;
    let schedule: WrittenSchedule | null = null;
    const written = (): WrittenSchedule => {
      schedule ??= writtenSchedule(from!);
      from = null;
      return schedule;
    };
    // Whoever asks for it hears of it where it goes wrong.
    writing.set(
      key,
      writtenInTurns(forecast).then(written, () => undefined),
    );
    return written;
  };

  const last = (key: number): WrittenSchedule | undefined => {
    const known = newest.get(key);
    if (known !== undefined) return known();
    const kept = store.forecasts.last(key);
    if (kept === null) return undefined;
    const schedule = writtenSchedule(kept.forecast);
    newest.set(key, () => schedule);
    return schedule;
  };

  return {
    last,
    written: (key) => writing.get(key),
    knows: (key) => newest.has(key),
    know: (key, kept) => {
      if (!newest.has(key)) newest.set(key, inTime(key, kept));
    },
    of: ({ key, version, build }) => {
      const all = byKey.get(key) ?? [];
      const before = all[0];
      if (before?.revision === version.revision) return before.schedule();
      const text = textOf(build);
      return (all.find((one) => one.build === text) ?? before)?.schedule() ?? last(key);
    },
    put: ({ key, version, build }, forecast) => {
      const schedule = inTime(key, forecast);
      const kept = { revision: version.revision, build: textOf(build), schedule };
      const others = (byKey.get(key) ?? []).filter(({ revision }) => revision !== version.revision);
      byKey.set(key, [kept, ...others].slice(0, MOST_EDITS));
      newest.set(key, schedule);
    },
    letGo: (key) => {
      byKey.delete(key);
      writing.delete(key);
      newest.delete(key);
    },
  };
}
