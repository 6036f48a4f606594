/** Late dates where the hours on site are too few: nobody gets in before the load-in, whatever is to be done there. */
import { isInstant } from '../calendar/index.ts';
import type { Instant, Lot, Minutes, Schedule, Work } from '../types.ts';

/** Late dates by the deadlines there are, and by those that leave time enough on site; the same where these do. */
interface Late<T> {
  readonly asAsked: T;
  readonly inTime: T;
}

/** How often the deadlines on site are moved: the hours before may be closed. */
const MOST_MOVES = 6;

/**
 * What is worked out backwards from the deadlines has work on site begin before the load-in where the hours from there
 * to the event are too few, and the workshop be done before that, which would help nobody. `inTime` is the same with
 * the deadlines on site moved back until that work begins after the load-in: the last moments of what comes before it.
 * `lateOf` works it out, `startsOf` says when each lot begins by it. Costs `lateOf` once, up to seven times where hours
 * are missing.
 */
export function lateThere<T>(
  work: Work,
  lateOf: (work: Work) => T,
  startsOf: (late: T) => ArrayLike<Instant>,
): Late<T> {
  const asAsked = lateOf(work);
  let [inTime, moved] = [asAsked, 0];
  for (let move = 0; move < MOST_MOVES; move++) {
    const missing = missingBefore(work, startsOf(inTime));
    if (missing === 0) break;
    moved += missing;
    inTime = lateOf(withLaterEvent(work, moved));
  }
  return { asAsked, inTime };
}

/** Lots that can begin after the load-in alone; spares of the workshop's are none. */
export function isOfSite({ onSite, release }: Lot, { loadIn }: Pick<Work, 'loadIn'>): boolean {
  return loadIn !== null && onSite && release >= loadIn;
}

/** The schedule by the deadlines for the lots on site, and in time for those for all others. */
export function mixed(work: Work, { asAsked, inTime }: Late<Schedule>): Schedule {
  if (asAsked === inTime) return asAsked;
  const isSite = work.lots.map((lot) => isOfSite(lot, work));
  const chosen = (own: Int32Array, other: Int32Array) => other.map((at, l) => (isSite[l] ? own[l]! : at));
  return {
    ...inTime,
    starts: chosen(asAsked.starts, inTime.starts),
    finishes: chosen(asAsked.finishes, inTime.finishes),
    placements: [
      ...inTime.placements.filter(({ lot }) => !isSite[lot]),
      ...asAsked.placements.filter(({ lot }) => isSite[lot]),
    ],
  };
}

/** By how many minutes the first needed work on site begins before the load-in. */
function missingBefore(work: Work, starts: ArrayLike<Instant>): Minutes {
  return work.lots.reduce((most, lot, l) => {
    if (lot.spare === true || lot.begunAt !== null || !isOfSite(lot, work) || !isInstant(starts[l]!)) return most;
    return Math.max(most, work.loadIn! - starts[l]!);
  }, 0);
}

function withLaterEvent(work: Work, minutes: Minutes): Work {
  const lots = work.lots.map((lot) => (isOfSite(lot, work) ? { ...lot, deadline: lot.deadline + minutes } : lot));
  return { ...work, lots, event: work.event + minutes };
}
