/** Open questions with their last moments, and until when each answer is possible. */

import { answersOf, applyChanges, type Decision, type ForecastDecision } from '../../model/index.ts';
import { wholesOf } from '../01-quantities/index.ts';
import { measuredPaces } from '../03-pace/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { isInstant } from '../calendar/index.ts';
import { type Planned, type Remaining, workThrough } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import { lastStartOf, lateStartOf } from './last-moments.ts';

/**
 * Open questions with the last moment to answer: before the earliest last moment of the steps and orders that wait for
 * it, and of those that any answer would bring, so that the way which needs the longest is still possible; what is
 * under way already waits no more; `now` where the calendars know of none. Answers that carry changes are worked
 * through to their dates, hands and machines unlimited; one that cannot be made, or no longer, has no moment and holds
 * up none.
 */
export function decisionsAnswer(planned: Planned): ForecastDecision[] {
  return (planned.build.decisions ?? []).map((decision) => {
    const isOpen = (lot: number) => planned.work.lots[lot]!.begunAt === null;
    const asPlanned = momentOf(decision.waits, planned, (lot) => lastStartOf(planned, lot), isOpen);
    const answers = decision.decided === undefined ? answerMoments(decision, planned) : [];
    const open = answers.flatMap(({ by }) => by ?? []);
    const decideBy = asPlanned === null && open.length === 0 ? null : Math.min(asPlanned ?? open[0]!, ...open);
    return {
      id: decision.id,
      question: decision.question,
      decideBy,
      decided: decision.decided ?? null,
      waits: decision.waits,
      ...(answers.length === 0 ? {} : { answers }),
    };
  });
}

/** Until when each answer is possible; none where no answer carries a change. */
function answerMoments(decision: Decision, planned: Planned): NonNullable<ForecastDecision['answers']> {
  const answers = answersOf(decision);
  if (answers.every(({ changes }) => changes.length === 0)) return [];
  const { asked, paces, now } = planned;
  return answers.map(({ name, changes }) => {
    const made = applyChanges(asked.build, changes);
    if (!made.ok) return { name, by: null };
    const changed = { ...asked, build: made.value, paces: asked.paces ?? measuredPaces(paces) };
    const other = made.value === asked.build ? planned : workThrough(changed, 'dates', planned);
    const wholes = wholesOf(made.value);
    const parts = changes.flatMap((change) => (change.list === 'parts' ? [change.key] : []));
    const own = (part: string | null) => parts.some((id) => part === id || wholes.get(part ?? '') === id);
    const concerned = other.plans.flatMap(({ id, part }) => (own(part) ? [id] : []));
    const waits = other.build.decisions?.find(({ id }) => id === decision.id)?.waits ?? [];
    const by = momentOf([...waits, ...concerned], other, (lot) => lateStartOf(other, lot));
    return { name, by: by !== null && by >= now ? by : null };
  });
}

/** The earliest last start of those of these steps' lots that count; null where they have none left. */
function momentOf(
  steps: readonly string[],
  { plans, work, now }: Remaining,
  lastStart: (lot: number) => Instant,
  counts: (lot: number) => boolean = () => true,
): Instant | null {
  const indexById = new Map(plans.map((plan, index) => [plan.id, index]));
  const lots = [...new Set(steps)].flatMap((id) => {
    const index = indexById.get(id);
    return index === undefined ? [] : lotsOfStep(work, index).filter(counts);
  });
  const moments = lots.map(lastStart);
  const known = moments.filter(isInstant);
  return moments.length === 0 ? null : known.length === 0 ? now : Math.min(...known);
}
