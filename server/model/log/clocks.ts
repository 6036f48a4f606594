/** Whose run clock is on. */
import { type Counting, unitsWorked } from './effect.ts';

/** As much of an entry as a run clock hears of. Instants are numbers of whatever unit. */
export interface ClockEntry extends Counting {
  readonly at: number;
  readonly step?: string | undefined;
  readonly set?: number | null | undefined;
  readonly person?: string | undefined;
  readonly who?: string | undefined;
}

/**
 * A run clock that is on: the step, its set where one was named, when it was begun, and when and how much was counted
 * since.
 */
export interface RunningClock {
  readonly step: string;
  readonly set: number | null;
  readonly beganAt: number;
  /** When it was begun or last counted. */
  readonly heardAt: number;
  /** Units counted since, good and scrapped. */
  readonly units: number;
}

/** Clocks by whose they are. */
type Clocks = ReadonlyMap<string, RunningClock>;

/** An entry and the clock are of the person it names, else of whoever tapped. */
export function ownerOf({ person, who }: Pick<ClockEntry, 'person' | 'who'>): string {
  return person ?? who ?? '';
}

/**
 * The clocks that are on after these entries. Everybody has one at most; it ends with `paused`, with a clock begun
 * elsewhere and with a count elsewhere. A pause of somebody whose clock is not on stops all of that step. Takes entries
 * that stand, in the order in which they happened. O(entries).
 */
export function runningClocks(standing: readonly ClockEntry[]): Clocks {
  const clocks = new Map<string, RunningClock>();
  for (const entry of standing) hear(clocks, entry);
  return clocks;
}

/** What one more entry does to the clocks that are on; says which it has stopped. */
export function hear(clocks: Map<string, RunningClock>, entry: ClockEntry): readonly StoppedClock[] {
  const { kind, step, set = null, at } = entry;
  if (step === undefined) return [];
  const owner = ownerOf(entry);
  const own = clocks.get(owner);
  if (kind === 'began') {
    clocks.delete(owner);
    clocks.set(owner, { step, set, beganAt: at, heardAt: at, units: 0 });
    return own === undefined ? [] : [{ owner, clock: own }];
  }
  if (kind === 'paused') {
    const stopped: StoppedClock[] = [...clocks].flatMap(([whose, clock]) =>
      clock.step === step && (whose === owner || own?.step !== step) ? [{ owner: whose, clock }] : [],
    );
    for (const { owner: whose } of stopped) clocks.delete(whose);
    return stopped;
  }
  if ((kind !== 'done' && kind !== 'scrapped') || own === undefined) return [];
  if (own.step === step) {
    clocks.set(owner, { ...own, heardAt: at, units: own.units + unitsWorked(entry) });
    return [];
  }
  clocks.delete(owner);
  return [{ owner, clock: own }];
}

interface StoppedClock {
  readonly owner: string;
  readonly clock: RunningClock;
}
