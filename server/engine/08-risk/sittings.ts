/** How much of what must be done in one go somebody can sit through. */
import { clipOpenTime, intersectionOf } from '../calendar/index.ts';
import type { Remaining } from '../stages/index.ts';
import type { Calendar, HandsPhase, Instant, Minutes, RunPhase, Schedule } from '../types.ts';

/**
 * By lot and phase: the most minutes that one crew (with its machine) can do without a pause from now until the lot is
 * due, or until it is planned to end if that is later; no less than it is planned to take. What is drawn longer than
 * that would fit nowhere in time: whoever is there hands it on, or parts it. Without end where the work may pause. Each
 * kind of phase is looked at once for each due time.
 */
export function sittingsOf(
  { work }: Remaining,
  schedule: Schedule,
): (lot: number, phase: HandsPhase | RunPhase) => Minutes {
  const known = new Map<string, Minutes>();
  return (l, phase) => {
    if (phase.kind === 'hands' && !phase.oneGo) return Number.POSITIVE_INFINITY;
    const due = Math.max(work.lots[l]!.deadline, schedule.finishes[l]!);
    const machine = phase.kind === 'run' ? phase.machine : -1;
    const key = `${due} ${machine} ${phase.people} ${phase.eligible.join()}`;
    const longest = known.get(key) ?? longestOf(phase, machine, work, due);
    known.set(key, longest);
    return Math.max(phase.minutes, longest);
  };
}

/** Several at once stay no longer than the one who can stay least long of as many as are needed. */
function longestOf(
  { people, eligible, open }: HandsPhase | RunPhase,
  machine: number,
  { resources, now }: Remaining['work'],
  due: Instant,
): Minutes {
  if (machine >= 0 && people === 0) return longestIn(clipOpenTime(resources[machine]!.open, now, due));
  const each = eligible.map((person) =>
    longestIn(clipOpenTime(intersectionOf([resources[person]!.open, open]), now, due)),
  );
  return each.sort((a, b) => b - a)[people - 1] ?? 0;
}

function longestIn({ opens, closes }: Calendar): Minutes {
  let longest = 0;
  for (let i = 0; i < opens.length; i++) longest = Math.max(longest, closes[i]! - opens[i]!);
  return longest;
}
