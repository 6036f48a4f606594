/** Counts requests in a window of time by whoever makes them, so that one cannot take the time of all. */

interface Attempts {
  /** Notes one more attempt; seconds to wait when there have been too many, otherwise 0. */
  take(by: string, nowMs: number): number;
}

interface Limits {
  readonly windowMs: number;
  readonly most: number;
}

interface Window {
  count: number;
  endsMs: number;
}

/** Windows are forgotten when they have ended, and at the latest when there are this many. */
const MOST_WINDOWS = 5000;

/** A limit of `most` in each window for each. */
export function createAttempts({ windowMs, most }: Limits): Attempts {
  const windows = new Map<string, Window>();

  const windowOf = (by: string, nowMs: number): Window => {
    const there = windows.get(by);
    if (there !== undefined && there.endsMs > nowMs && there.endsMs <= nowMs + windowMs) return there;
    if (windows.size >= MOST_WINDOWS) for (const [key, { endsMs }] of windows) if (endsMs <= nowMs) windows.delete(key);
    if (windows.size >= MOST_WINDOWS) windows.clear();
    const fresh = { count: 0, endsMs: nowMs + windowMs };
    windows.set(by, fresh);
    return fresh;
  };
  return {
    take: (by, nowMs) => {
      const window = windowOf(by, nowMs);
      window.count += 1;
      return window.count > most ? Math.max(1, Math.ceil((window.endsMs - nowMs) / 1000)) : 0;
    },
  };
}
