/**
 * The phone's clock, which somebody may set while entries wait: back or forward, with the page open or shut, and right
 * again before the server answers. Each entry keeps its reading, the server's answers say what the clock comes to
 * between them, and from both follows by how much each entry's own reading was off.
 */

/** What the clocks said when something was kept or heard. */
export interface ClockReading {
  /** The phone's clock, milliseconds since the epoch. */
  readonly wallMs: number;
  /** A clock of the page that only runs forward, and may stand still while the phone sleeps. */
  readonly steadyMs: number;
  /** The page that read it: steady clocks of two pages cannot be compared. */
  readonly page: string;
}

/** The server's lead over the phone, as it was heard last. */
export interface Heard extends ClockReading {
  readonly offsetMs: number;
}

/** Readings of one clock that differ by less are the same. */
export const CLOCK_NOISE_MS = 2000;
/** Two clocks drift apart by about so much: a part in ten thousand, some seconds a day. */
const DRIFT = 1e-4;

/** Reads both clocks of a page. */
export function createPhoneClock(page: string): () => ClockReading {
  return () => ({ wallMs: Date.now(), steadyMs: performance.now(), page });
}

/**
 * By how much the phone's clock was set after each of some entries was kept, by their numbers, in milliseconds.
 * `heard`: when the server's clock was heard before them; `sumMs`: by how much the phone's was set since then in all;
 * both null where that is unknown.
 */
export function shiftsOf(
  heard: ClockReading | null,
  entries: readonly { readonly number: number; readonly read: ClockReading }[],
  now: ClockReading,
  sumMs: number | null,
): Map<number, number> {
  const before = heard === null ? [] : [heard];
  const set = settingsOf([...before, ...entries.map(({ read }) => read), now], sumMs);
  const shifts = new Map<number, number>();
  let afterMs = 0;
  for (let i = entries.length - 1; i >= 0; i--) {
    afterMs += set[i + before.length]!;
    shifts.set(entries[i]!.number, afterMs);
  }
  return shifts;
}

/**
 * By how much the phone's clock was set in each gap between two readings, in milliseconds (forward is positive); one
 * fewer than there are readings. Time that the steady clock saw has passed; what the phone slept or the page was shut
 * is unknown but never negative. So a gap in which the clock fell behind was a setting back; and what then lacks to the
 * sum that the server's two answers give (`sumMs`, null where only one is known) happened in the likeliest gap: a
 * setting forward in the one that has just room for it, a setting back in the longest.
 */
function settingsOf(readings: readonly ClockReading[], sumMs: number | null): number[] {
  const steps = readings.slice(1).map((to, i) => stepOf(readings[i]!, to));
  const set = steps.map((step) => (step < -CLOCK_NOISE_MS ? step : 0));
  if (sumMs === null) return set;
  const spanMs = steps.reduce((sum, step) => sum + Math.abs(step), 0);
  let lacks = sumMs - set.reduce((sum, one) => sum + one, 0);
  const isNoise = (): boolean => Math.abs(lacks) <= CLOCK_NOISE_MS + spanMs * DRIFT;
  const give = (gap: number | undefined, mostMs: number): void => {
    if (gap === undefined) return;
    set[gap]! += mostMs;
    lacks -= mostMs;
  };
  if (isNoise()) return set;
  if (lacks < 0) {
    give(longestSetBack(readings, steps), lacks);
    return set;
  }
  const rooms = steps.map((step, gap) => ({ gap, room: step - set[gap]! })).filter(({ room }) => room > CLOCK_NOISE_MS);
  const fits = rooms.filter(({ room }) => room >= lacks - CLOCK_NOISE_MS).sort((a, b) => a.room - b.room)[0];
  if (fits !== undefined) give(fits.gap, lacks);
  else if (rooms.reduce((sum, { room }) => sum + room, 0) >= lacks) {
    for (const { gap, room } of rooms.sort((a, b) => b.room - a.room)) if (!isNoise()) give(gap, Math.min(room, lacks));
  }
  return set;
}

/**
 * By how much the phone's clock ran ahead of what is known to have passed: the most by which it can have been set
 * forward.
 */
function stepOf(from: ClockReading, to: ClockReading): number {
  const passed = from.page === to.page ? Math.max(0, to.steadyMs - from.steadyMs) : 0;
  return Math.round(to.wallMs - from.wallMs - passed);
}

/**
 * The gap in which a setting back is the likeliest: one where the clock fell behind while nothing was watched, else the
 * longest that was not.
 */
function longestSetBack(readings: readonly ClockReading[], steps: readonly number[]): number | undefined {
  const gaps = steps.map((step, gap) => ({ gap, step, shut: readings[gap]!.page !== readings[gap + 1]!.page }));
  const behind = gaps.filter(({ step, shut }) => shut && step < -CLOCK_NOISE_MS).sort((a, b) => a.step - b.step);
  const unwatched = gaps.filter(({ step }) => step > CLOCK_NOISE_MS).sort((a, b) => b.step - a.step);
  return (behind[0] ?? unwatched[0])?.gap;
}
