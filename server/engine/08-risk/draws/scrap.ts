/** How many units are lost on their way, so that others must be made in their place. */

import { nextUnitMinutes, type PlannedStep } from '../../02-steps/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import type { Minutes, Phase } from '../../types.ts';
import type { OtherDraw } from '../futures.ts';
import { keyOf } from '../streams.ts';
import type { Context } from './context.ts';

/** A draw for each part that is made with a yield below one; what lacks is made with the last lot of every step. */
export function scrapDraws({ planned, phaseFirst, longest }: Context): OtherDraw[] {
  return [...planned.quantities.parts.values()].flatMap((count): OtherDraw[] => {
    const route = planned.plans.flatMap((plan, step) =>
      plan.part === count.part.id && plan.kind === 'step' ? [{ plan, step }] : [],
    );
    const last = route.at(-1)?.plan;
    if (last === undefined || count.yield >= 1 || last.left === 0) return [];
    const need = Math.max(0, count.need - count.onHand - (last.total - last.left));
    const places = route.flatMap(({ plan, step }) => {
      const lot = lotsOfStep(planned.work, step).at(-1);
      return lot === undefined
        ? []
        : [{ plan, step, index: lot, lot: planned.work.lots[lot]!, first: phaseFirst[lot]! }];
    });
    const first = places[0];
    if (first === undefined) return [];
    return [
      {
        step: first.step,
        key: keyOf(`${count.part.id} scrap`),
        draw: (stream, minutes, factors) => {
          let good = 0;
          for (let unit = 0; unit < last.left; unit++) if (stream.unit() < count.yield) good++;
          if (good >= need) return 0;
          const extra = Math.ceil((need - good) / count.yield);
          let added = 0;
          for (const { plan, step, index, lot, first: from } of places) {
            lot.phases.forEach((phase, i) => {
              const more = extraMinutes(plan, phase, extra, factors[step]!);
              const room = phase.kind === 'hands' || phase.kind === 'run' ? longest(index, phase) : 0;
              const longer = Math.max(0, Math.min(more, room - minutes[from + i]!));
              minutes[from + i] = minutes[from + i]! + longer;
              added += longer;
            });
          }
          return added;
        },
        reset: () => {},
      },
    ];
  });
}

function extraMinutes(plan: PlannedStep, phase: Phase, units: number, factor: number): Minutes {
  if (phase.kind === 'hands') return Math.round(units * nextUnitMinutes(plan) * factor);
  if (phase.kind === 'run') return Math.ceil(units / Math.max(1, plan.lotSize)) * phase.minutes;
  return 0;
}
