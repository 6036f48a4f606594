/** What is wrong with a case, from all its stages. */
import { answerProblems, type Problem, problem, problemTexts, warning } from '../../model/index.ts';
import { orphanProblems } from '../04-lots/index.ts';
import { HORIZON_AFTER_MINUTES } from '../calendar/index.ts';
import { latePins } from './late-pins.ts';
import type { Planned } from './planned.ts';

/** Problems and warnings of a planned case in the order of its stages, each once. */
export function problemsOf(planned: Planned): Problem[] {
  const { build, surroundings, quantities, plans, feeds, work, found } = planned;
  const isOver = plans.length > 0 && plans.every(({ left }) => left === 0);
  return distinct([
    ...planned.unread,
    // Nothing is left to do: no other event is asked for where this one is past.
    ...surroundings.problems.filter(({ code }) => code !== 'event-past' || !isOver),
    ...quantities.problems,
    ...found.steps,
    ...found.feeds,
    ...found.circles,
    ...orphanProblems(plans, feeds),
    ...work.problems,
    ...(plans.length === 0 && build.steps.length === 0 ? [noSteps()] : []),
    ...(planned.beyond.size > 0 ? [beyondProblem(planned)] : []),
    ...latePins(planned),
    ...wrongAnswers(planned),
  ]);
}

function distinct(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter((found) => {
    const key = `${found.code} ${found.field} ${found.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Answers that do not fit the build any more: the decision can still be made, but not this way. */
function wrongAnswers({ asked: { build } }: Planned): Problem[] {
  const open = (build.decisions ?? []).filter(({ decided }) => decided === undefined);
  return open
    .flatMap((decision) => answerProblems(build, decision))
    .map((it) => warning('gone', it.field, it.value, it));
}

function noSteps(): Problem {
  return warning('orphan', 'steps', 'none', problemTexts.steps.none);
}

function beyondProblem({ plans, work, beyond }: Planned): Problem {
  const nameOf = (lot: number): string => plans[work.lots[lot]!.step]!.name;
  const list = [...new Set([...beyond].map(nameOf))].slice(0, 5).join(', ');
  return problem('beyond-horizon', 'steps', list, problemTexts.steps.beyondHorizon(list, HORIZON_AFTER_MINUTES / 1440));
}
