/** Minutes of hands and machines in which plans differ. */
import { handsMinutesOf } from '../04-lots/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Lot, Minutes } from '../types.ts';

interface Apart {
  readonly hands: Minutes;
  readonly machine: Minutes;
}

/** By plan, what of its work that is left is not in all of them: step by step, beyond the least that any has. */
export function minutesApart(plans: readonly Planned[]): Apart[] {
  const hands = beyondLeast(plans.map((planned) => byStep(planned, handsMinutesOf)));
  const machine = beyondLeast(plans.map((planned) => byStep(planned, runMinutes)));
  return plans.map((_, i) => ({ hands: hands[i]!, machine: machine[i]! }));
}

function byStep({ work, plans }: Planned, minutesOf: (lot: Lot) => Minutes): Map<string, Minutes> {
  const minutes = new Map<string, Minutes>();
  for (const lot of work.lots) {
    const { id } = plans[lot.step]!;
    minutes.set(id, (minutes.get(id) ?? 0) + minutesOf(lot));
  }
  return minutes;
}

function beyondLeast(all: readonly ReadonlyMap<string, Minutes>[]): Minutes[] {
  return all.map((own) =>
    [...own].reduce((sum, [step, minutes]) => sum + minutes - Math.min(...all.map((one) => one.get(step) ?? 0)), 0),
  );
}

function runMinutes({ phases }: Lot): Minutes {
  return phases.reduce((sum, phase) => sum + (phase.kind === 'run' ? phase.minutes : 0), 0);
}
