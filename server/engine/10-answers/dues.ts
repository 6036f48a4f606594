/** What has a due instant of its own: when it is finished, and with how much room. */

import type { ForecastDue } from '../../model/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { openMinutesBetween } from '../calendar/index.ts';
import { type Due, duesOf, type Planned } from '../stages/index.ts';

/** Each part and step that is due by itself, the earliest first. O(dues x lots of their steps). */
export function duesAnswer(planned: Planned): ForecastDue[] {
  return duesOf(planned).map((due) => {
    const { list, id, name, at } = due;
    const finish = finishOf(planned, due);
    const left = planned.plans[due.steps.at(-1)!]!.neededLeft;
    return {
      list,
      id,
      name,
      at,
      left,
      finish,
      clock: finish === null ? null : at - finish,
      working: finish === null ? null : openMinutesBetween(planned.surroundings.working, finish, at),
    };
  });
}

/** When the last of its units is finished; what is done was finished when it was last counted. */
function finishOf({ work, schedule, beyond, plans, now }: Planned, { steps }: Due): number | null {
  const lots = steps.flatMap((step) => lotsOfStep(work, step));
  const needed = lots.filter((lot) => work.lots[lot]!.spare !== true);
  if (needed.length === 0) return Math.max(...steps.map((step) => Math.min(now, plans[step]!.tally.lastAt ?? now)));
  if (schedule === null || needed.some((lot) => beyond.has(lot))) return null;
  return Math.max(...needed.map((lot) => schedule.finishes[lot]!));
}
