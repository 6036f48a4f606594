/** The phases of one lot, in whole minutes, so that the lots of a step add up to the whole. */

import type { PlannedLead, PlannedPhase, PlannedStep } from '../02-steps/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import { lotMinutes } from '../numbers/index.ts';
import type { Minutes, Phase } from '../types.ts';

/** The phases of a lot of units first..last (absolute numbers); `firstOfStep` adds the setup that is made once. */
export function phasesOfLot(
  plan: PlannedStep,
  first: number,
  last: number,
  firstOfStep: boolean,
  surroundings: Surroundings,
): Phase[] {
  const phases: Phase[] = [];
  let setup = plan.setupEachLot || firstOfStep ? plan.setupMinutes : 0;
  const hasHands = plan.phases.some((phase) => workOf(phase) === 'hands');
  for (const phase of plan.phases) {
    if (phase.kind === 'lead') {
      const supplier = surroundings.suppliers.get(phase.supplier)!;
      phases.push({ kind: 'lead', workingDays: phase.workingDays, arrivals: supplier.arrivals(phase.workingDays) });
      continue;
    }
    const work = workOf(phase);
    const takesSetup = setup > 0 && (work === 'hands' || (!hasHands && work === 'run'));
    const minutes = phaseMinutes(phase, plan, first, last) + (takesSetup ? setup : 0);
    if (takesSetup) setup = 0;
    if (minutes > 0) phases.push(sized(phase, minutes));
  }
  return phases;
}

/**
 * Minutes of one phase for units first..last: the fixed part and the units', rounded so that lots add up to the whole.
 */
export function phaseMinutes(
  phase: Exclude<PlannedPhase, PlannedLead>,
  plan: PlannedStep,
  first: number,
  last: number,
): Minutes {
  const each = phase.kind === 'hands' ? phase.firstUnitMinutes : phase.minutesPerUnit;
  if (each === 0) return Math.round(phase.fixedMinutes);
  const rate = workOf(phase) === 'hands' ? plan.learningRate : 1;
  return Math.round(phase.fixedMinutes) + minutesUpTo(last, each, rate) - minutesUpTo(first - 1, each, rate);
}

function minutesUpTo(unit: number, each: number, rate: number): Minutes {
  return unit < 1 ? 0 : Math.round(lotMinutes(each, rate, 1, unit));
}

/** What kind of work a phase is, also where nobody can do it. */
function workOf(phase: PlannedPhase): PlannedPhase['kind'] {
  return phase.kind === 'wait' ? (phase.insteadOf ?? 'wait') : phase.kind;
}

function sized(phase: Exclude<PlannedPhase, PlannedLead>, minutes: Minutes): Phase {
  if (phase.kind === 'wait') return { kind: 'wait', minutes };
  const { people, eligible, open } = phase;
  if (phase.kind === 'hands') return { kind: 'hands', minutes, people, eligible, oneGo: phase.oneGo, open };
  return { kind: 'run', minutes, machine: phase.machine, attended: phase.attended, people, eligible, open };
}
