/** Work that the run clocks know of and no count has taken yet: minutes in a lot that is begun and not done. */
import { type Counting, hear, ownerOf, type RunningClock, unitsWorked } from '../../../model/log/index.ts';
import { closedWithin, personNamed, type Surroundings } from '../../calendar/index.ts';
import type { TimedEntry } from '../../log/index.ts';
import type { Instant, Minutes } from '../../types.ts';

/** A clock that nothing was heard of for this many minutes was forgotten (common sense, no source). */
export const FORGOTTEN_MINUTES = 8 * 60;

/** What somebody has worked at a step (and set) since they counted there last. */
interface Uncounted {
  readonly owner: string;
  readonly step: string;
  readonly set: number | null;
  readonly minutes: Minutes;
}

/**
 * Minutes on the run clocks since the last count, by whose they are, in the order in which they began. A count takes
 * its owner's minutes at the step, or everybody's where its owner has none. A stretch that the person was away in the
 * middle of (a lunch, a night) counts without it; of a clock that was forgotten nothing counts. Takes entries that
 * stand, in the order in which they happened. O(entries x people).
 *
 * @example began 17:30 and paused 19:20, nothing counted: one of 110 minutes.
 */
export function uncountedWork(standing: readonly TimedEntry[], surroundings: Surroundings): Uncounted[] {
  const worked = new Map<string, Uncounted>();
  const since = new Map<string, Instant>();
  const clocks = new Map<string, RunningClock>();
  const add = (owner: string, { step, set, beganAt }: RunningClock, until: Instant): void => {
    const key = keyOf(owner, step, set);
    const from = Math.max(beganAt, since.get(key) ?? beganAt);
    const open = personNamed(surroundings, owner)?.open ?? surroundings.working;
    const minutes = until - from - closedWithin(open, from, until);
    if (minutes <= 0 || minutes >= FORGOTTEN_MINUTES) return;
    worked.set(key, { owner, step, set, minutes: minutes + (worked.get(key)?.minutes ?? 0) });
  };
  for (const entry of standing) {
    for (const { owner, clock } of hear(clocks, entry)) add(owner, clock, entry.at);
    if (entry.step === undefined || unitsWorked(entry as Counting) === 0) continue;
    const own = ownerOf(entry);
    const here = [...clocks, ...[...worked.values()].map((one) => [one.owner, one] as const)].filter(
      ([, { step }]) => step === entry.step,
    );
    const taken = here.filter(([owner]) => owner === own);
    for (const [owner, { step, set }] of taken.length > 0 ? taken : here) {
      worked.delete(keyOf(owner, step, set));
      since.set(keyOf(owner, step, set), entry.at);
    }
  }
  for (const [owner, clock] of clocks)
    if (surroundings.now - clock.heardAt < FORGOTTEN_MINUTES) add(owner, clock, surroundings.now);
  return [...worked.values()];
}

function keyOf(owner: string, step: string, set: number | null): string {
  return JSON.stringify([owner, step, set]);
}
