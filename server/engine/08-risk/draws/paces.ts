/** How fast a step goes: one factor for the work of hands, one for the runs of machines. */

import { isPacedByLot, type PlannedStep } from '../../02-steps/index.ts';
import { ESTIMATE_SPREAD, RUN_SPREAD, type RunTime, type StepPace } from '../../03-pace/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import type { Remaining } from '../../stages/index.ts';
import type { HandsPhase, Phase, RunPhase, WaitPhase } from '../../types.ts';
import type { PaceDraw, VaryingPhase } from '../futures.ts';
import { paceFactorAmong, type Sampler, spreadFactor, threePointFactor } from '../samplers.ts';
import { keyOf } from '../streams.ts';
import type { Context } from './context.ts';

/** Single units scatter around the step's pace by this share until counts say more (common practice, no source). */
const UNIT_NOISE = 0.25;

/** The draws of a step's pace; none where nothing of it varies. A phase that is under way keeps to its minutes. */
export function paceDraws({ planned, phaseFirst, longest }: Context, plan: PlannedStep, step: number): PaceDraw[] {
  const hands: VaryingPhase[] = [];
  const runs: VaryingPhase[] = [];
  const timed = planned.runTimes.get(plan.id);
  const pace = countedPace(planned, plan);
  // The units of a lot that is timed as a whole share its scatter.
  const isOneTime = pace !== null && isPacedByLot(plan);
  const unitNoise = pace?.unitSpread ?? UNIT_NOISE;
  for (const lot of lotsOfStep(planned.work, step)) {
    const { phases, firstUnit, lastUnit, begunAt } = planned.work.lots[lot]!;
    phases.forEach((phase, i) => {
      if (!isVarying(phase, timed) || (begunAt !== null && i === 0)) return;
      const byHand = phase.kind === 'hands' || (phase.kind === 'run' && phase.attended && timed === undefined);
      (byHand ? hands : runs).push({
        phase: phaseFirst[lot]! + i,
        minutes: phase.minutes,
        units: isOneTime ? 1 : Math.max(1, lastUnit - firstUnit + 1),
        most: phase.kind === 'wait' ? Number.POSITIVE_INFINITY : longest(lot, phase),
      });
    });
  }
  return [
    { step, key: keyOf(`${plan.id} hands`), factor: handsFactor(planned, plan), unitNoise, phases: hands },
    { step, key: keyOf(`${plan.id} runs`), factor: runFactor(timed, plan), unitNoise: 0, phases: runs },
  ].filter(({ phases }) => phases.length > 0);
}

function countedPace({ paces }: Remaining, { id }: PlannedStep): StepPace | null {
  const pace = paces.get(id);
  return pace !== undefined && pace.units > 0 ? pace : null;
}

function isVarying(phase: Phase, timed: RunTime | undefined): phase is HandsPhase | RunPhase | WaitPhase {
  return phase.kind === 'hands' || phase.kind === 'run' || (phase.kind === 'wait' && timed?.kind === 'wait');
}

/** As runs usually keep to their minutes, until loads are back that say more. */
function runFactor(timed: RunTime | undefined, plan: PlannedStep): Sampler {
  return timed === undefined ? spreadFactor(RUN_SPREAD[plan.origin ?? 'guessed']) : paceFactorAmong(timed.likely);
}

function handsFactor({ paces }: Remaining, plan: PlannedStep): Sampler {
  const pace = paces.get(plan.id);
  if (pace === undefined) return spreadFactor(plan.kind === 'step' ? ESTIMATE_SPREAD[plan.origin ?? 'guessed'] : 0.3);
  const range = plan.phases.flatMap((phase) =>
    phase.kind === 'hands' && phase.estimate?.kind === 'range' ? [phase.estimate.range] : [],
  )[0];
  return pace.units === 0 && range !== undefined ? threePointFactor(range) : paceFactorAmong(pace.likely);
}
