/** Minutes of hands that went into what is done, at a machine and on orders too. */
import { type PlannedPhase, type PlannedStep, pinsOf } from '../02-steps/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { Instant, Minutes } from '../types.ts';
import { isFirstOfStep, lastUnitOfLot } from './lot-cuts.ts';
import { handsMinutesOf, handsOf } from './lot-hands.ts';
import { phaseMinutes, phasesOfLot } from './lot-phases.ts';
import { lotsOfStep } from './lot-run.ts';
import type { BuildWork } from './work.ts';

/** What went into a step so far, in minutes of everybody's hands. */
interface HandsDone {
  readonly minutes: Minutes;
  /** What of it went into loads and orders that are not back yet, and when: no unit of theirs is counted. */
  readonly underWay: readonly { readonly at: Instant; readonly minutes: Minutes }[];
}

/**
 * What went into a step at its present pace: the hands of all its lots, had nothing been done, less those of the lots
 * that are left; so what is done and what is left add up to the same whatever is counted. More where the log says more,
 * such as an order that went out in two. `loads`: how often a machine was loaded, what waits in the middle of work was
 * begun, or an order was placed. O(lots).
 *
 * @example to order 90 hooks takes 15 min. Before that 0 min are done and 15 left, then 15 and 0. Once 30 of them are
 * ordered and the others are not, 15 and 15.
 */
export function handsDone(
  plan: PlannedStep,
  step: number,
  work: BuildWork,
  surroundings: Surroundings,
  loads: number,
): HandsDone {
  const lots = lotsOfStep(work, step).map((lot) => work.lots[lot]!);
  const wholeOf = (first: number, last: number, isFirst: boolean) =>
    handsMinutesOf({ phases: phasesOfLot(plan, first, last, isFirst, surroundings) });
  const underWay = lots.flatMap((lot) => {
    if (lot.begunAt === null) return [];
    const whole = wholeOf(lot.firstUnit, lot.lastUnit, isFirstOfStep(plan, lot.firstUnit));
    return [{ at: lot.begunAt, minutes: Math.max(0, whole - handsMinutesOf(lot)) }];
  });
  let whole = 0;
  for (const set of plan.sets) {
    const pins = pinsOf(plan.pins, set);
    for (let first = set.offset + 1; first <= set.offset + set.total; ) {
      const last = lastUnitOfLot(plan, set, pins, first);
      whole += wholeOf(first, last, first === 1);
      first = last + 1;
    }
  }
  const back = Math.max(0, loads - plan.tally.starts.length);
  const logged = underWay.reduce((sum, { minutes }) => sum + minutes, back === 0 ? 0 : handsOfLoads(plan, back));
  return { minutes: Math.max(whole - handsOf(lots), logged), underWay };
}

/** The hands of loads that came back, and of the units that are done. */
function handsOfLoads(plan: PlannedStep, loads: number): Minutes {
  let setup = plan.setupEachLot ? plan.setupMinutes : 0;
  let minutes = 0;
  for (const phase of plan.phases) {
    const people = peopleIn(phase);
    if (phase.kind === 'lead' || people === 0) continue;
    const units =
      plan.total === plan.left ? 0 : phaseMinutes({ ...phase, fixedMinutes: 0 }, plan, 1, plan.total - plan.left);
    minutes += people * (loads * (Math.round(phase.fixedMinutes) + setup) + units);
    setup = 0;
  }
  return minutes;
}

function peopleIn(phase: PlannedPhase): number {
  return phase.kind === 'hands' || phase.kind === 'run' ? phase.people : 0;
}
