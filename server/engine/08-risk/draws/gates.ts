/** Whether a gate passes, and what it costs where it does not. */

import { failChanceOf, nextUnitMinutes, type PlannedStep } from '../../02-steps/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import type { HandsPhase } from '../../types.ts';
import type { OtherDraw } from '../futures.ts';
import { keyOf } from '../streams.ts';
import type { Context } from './context.ts';

/** A gate fails this often in a row at most, even one that is said always to fail. */
const MOST_FAILURES = 5;

/** A draw for each lot of a gate that may fail: it is repeated, with what it sends back, until it passes. */
export function gateDraws({ planned, phaseFirst }: Context, plan: PlannedStep, step: number): OtherDraw[] {
  const chance = failChanceOf(plan);
  if (chance <= 0) return [];
  const { evaluator } = planned.quantities;
  const back = (plan.gate?.sendsBack ?? []).flatMap(({ step: id, units }) => {
    const at = planned.plans.findIndex((other) => other.id === id);
    const count = at < 0 ? null : evaluator.count(units, `gates.${plan.id}.sendsBack`);
    return count === null ? [] : [{ at, minutes: count * nextUnitMinutes(planned.plans[at]!) }];
  });
  return lotsOfStep(planned.work, step).flatMap((index): OtherDraw[] => {
    const { phases, id } = planned.work.lots[index]!;
    const hands = phases.findIndex((phase) => phase.kind === 'hands');
    if (hands < 0) return [];
    const phase = phaseFirst[index]! + hands;
    const again = phases[hands]!.kind === 'hands' ? (phases[hands] as HandsPhase).minutes : 0;
    return [
      {
        step,
        key: keyOf(`${id} gate`),
        draw: (stream, minutes, factors) => {
          let failures = 0;
          while (failures < MOST_FAILURES && stream.unit() < chance) failures++;
          if (failures === 0) return 0;
          const rework = back.reduce((sum, sent) => sum + sent.minutes * factors[sent.at]!, 0);
          const added = Math.round(failures * (again + rework));
          minutes[phase] = minutes[phase]! + added;
          return added;
        },
        reset: () => {},
      },
    ];
  });
}
