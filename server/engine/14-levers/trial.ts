/** A build tried out: worked through, with futures that can be drawn on. */
import { applyChanges, type Change, type Problem } from '../../model/index.ts';
import { drawEnds, type EndsDrawn, type FutureEnds } from '../08-risk/index.ts';
import { missingOf, roomAnswer } from '../10-answers/index.ts';
import { type Case, type Planned, problemsOf, workThrough } from '../stages/index.ts';
import type { Instant } from '../types.ts';

export interface Trial {
  readonly planned: Planned;
  /** When the workshop is ready as planned; null: there is no date. */
  readonly readyAt: Instant | null;
  readonly problems: readonly Problem[];
  /** The ends of its first futures; null where there is no date. */
  readonly ends: ((futures: number) => FutureEnds) | null;
  /** Its chance to be ready in time, where that is known from more futures than are drawn here. */
  readonly known: KnownPlan | null;
}

/** What the sheets say of the plan as it is, by more futures than a search draws of it. */
export interface KnownPlan {
  readonly readyAt: Instant | null;
  /** To be ready in time, with its standard error. */
  readonly chance: number;
  readonly error: number;
}

/** How all trials of a search are worked out alike. */
export interface TrialOptions {
  readonly seed: number;
  /** No more futures of one trial are ever asked for. */
  readonly futures: number;
}

/** A case as it is; `known` of it is left aside where it is of another plan, ready at another minute. */
export function trialOf(asked: Case, { seed, futures }: TrialOptions, known?: KnownPlan): Trial {
  const planned = workThrough(asked, 'schedules');
  const problems = problemsOf(planned);
  // What an error leaves out would be promised by every figure of the rest.
  const isWhole =
    problems.every(({ severity }) => severity !== 'error') &&
    missingOf(planned.plans, planned.quantities, problems, planned.work.lots).length === 0;
  const readyAt = roomAnswer(planned, isWhole).readyBy.finish;
  const drawn: EndsDrawn | null = isWhole && readyAt !== null ? drawEnds(planned, seed, futures) : null;
  const own = known?.readyAt === readyAt ? known : null;
  return { planned, readyAt, problems, ends: drawn?.upTo ?? null, known: own };
}

/** The same with changes made; the problems where they cannot be, or where the changed plan has an error more. */
export function changedTrial(
  asked: Case,
  changes: readonly Change[],
  options: TrialOptions,
  present: Trial,
): Trial | readonly Problem[] {
  const made = applyChanges(asked.build, changes);
  if (!made.ok) return made.problems;
  const trial = trialOf({ ...asked, build: made.value }, options);
  const known = new Set(present.problems.map(keyOf));
  const added = trial.problems.filter((it) => it.severity === 'error' && !known.has(keyOf(it)));
  return added.length > 0 ? added : trial;
}

function keyOf({ code, field }: Problem): string {
  return `${code} ${field}`;
}

/** Whether changes could be made and tried. */
export function isTrial(tried: Trial | readonly Problem[]): tried is Trial {
  return 'planned' in tried;
}
