/** What is wanted before the rest: parts and steps with a due instant of their own, and the steps that must be done. */
import type { PlannedStep } from '../02-steps/index.ts';
import { accept, readWall } from '../calendar/index.ts';
import type { Instant } from '../types.ts';
import type { Remaining } from './planned.ts';

export interface Due {
  readonly list: 'parts' | 'steps';
  readonly id: string;
  readonly name: string;
  readonly at: Instant;
  /** Numbers of the steps whose units must be done by then. */
  readonly steps: readonly number[];
}

/** The dues of a case, the earliest first. A part is due with all steps of its route. O(steps x dues). */
export function duesOf({ build, plans, surroundings }: Pick<Remaining, 'build' | 'plans' | 'surroundings'>): Due[] {
  const due = (list: Due['list'], id: string, name: string, text: string | undefined, own: StepTest): Due[] => {
    if (text === undefined) return [];
    // A date that cannot be read has its problem already.
    const at = accept(readWall(text, surroundings.zone), '', []);
    const steps = plans.flatMap((plan, step) => (own(plan) ? [step] : []));
    return at === null || steps.length === 0 ? [] : [{ list, id, name, at, steps }];
  };
  const parts = (build.parts ?? []).flatMap((it) => due('parts', it.id, it.name, it.due, ({ part }) => part === it.id));
  const steps = build.steps.flatMap((it) => due('steps', it.id, it.name, it.due, ({ id }) => id === it.id));
  return [...parts, ...steps].sort((a, b) => a.at - b.at);
}

type StepTest = (plan: PlannedStep) => boolean;
