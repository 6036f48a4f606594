/** Pauses that nobody logged: of a run clock that was begun again while it was on. */
import { hear, ownerOf, type RunningClock } from '../../model/log/index.ts';
import type { TimedEntry } from './log-tally.ts';

/**
 * The standing entries of a log, in the order in which they happened, with a `paused` where a run clock was begun again
 * at its step while it was on: whoever begins says that they did not work before, so the clock was off since it was
 * last heard of, at its begin or its last count. A phone logs that pause itself (`views/client/count/count-clock.ts`);
 * a program, another phone and a log from a file need not. O(entries).
 *
 * @example began 9:00, 12 done 9:24, began 9:40, 12 done 10:04: paused from 9:24, so 24 minutes each.
 */
export function withPauses(standing: readonly TimedEntry[]): readonly TimedEntry[] {
  const clocks = new Map<string, RunningClock>();
  const heardAs = new Map<string, number>();
  const pauses = new Map<number, TimedEntry>();
  standing.forEach((entry, i) => {
    const owner = ownerOf(entry);
    const own = clocks.get(owner);
    if (entry.kind === 'began' && own !== undefined && own.step === entry.step && own.heardAt < entry.at)
      pauses.set(heardAs.get(owner)!, pauseBefore(entry, own));
    hear(clocks, entry);
    if (clocks.get(owner) !== own) heardAs.set(owner, i);
  });
  if (pauses.size === 0) return standing;
  return standing.flatMap((entry, i) => {
    const pause = pauses.get(i);
    return pause === undefined ? [entry] : [entry, pause];
  });
}

function pauseBefore({ n: _, set: __, ...began }: TimedEntry, { set, heardAt }: RunningClock): TimedEntry {
  return { ...began, id: `${began.id}-paused`, kind: 'paused', at: heardAt, ...(set === null ? {} : { set }) };
}
