/** What is wrong with the boxes, ways, points and jobs of a build: names that are gone, formulas, ids, dates. */
import { type Problem, problem, problemTexts, type Sentence, warning } from '../../model/index.ts';
import { createEvaluator } from '../01-quantities/index.ts';
import { readWall } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { boxedOf } from './site-units.ts';

const say = problemTexts.show;

/** Problems with what is typed for the show; the plan of the work itself does not rest on it. */
export function showProblems(planned: Planned): Problem[] {
  return [...twice(planned), ...unknownNames(planned), ...formulas(planned), ...tooSoon(planned)];
}

function twice({ build }: Planned): Problem[] {
  return (['boxes', 'passages', 'points', 'strike'] as const).flatMap((list) => {
    const seen = new Set<string>();
    return (build[list] ?? []).flatMap(({ id }) => {
      if (!seen.has(id)) {
        seen.add(id);
        return [];
      }
      return [problem('duplicate-id', `${list}.${id}`, id, say.twice(list, id))];
    });
  });
}

function unknownNames({ build, plans }: Planned): Problem[] {
  const parts = new Set(build.parts?.map(({ id }) => id));
  const people = new Set(build.people?.map(({ id }) => id));
  const steps = new Set(plans.map(({ id }) => id));
  const gates = new Set(build.gates?.map(({ id }) => id));
  const unknown = (field: string, value: string, what: Sentence): Problem =>
    problem('unknown-name', field, value, what);
  return [
    ...(build.boxes ?? []).flatMap(({ id, name, parts: inBox = [], opensAt }) => [
      ...inBox
        .filter(({ part }) => !parts.has(part))
        .map(({ part }) => unknown(`boxes.${id}.parts`, part, say.noPart(name, part))),
      ...(opensAt === undefined || steps.has(opensAt)
        ? []
        : [unknown(`boxes.${id}.opensAt`, opensAt, say.noStep(name, opensAt))]),
    ]),
    ...(build.points ?? []).flatMap(({ id, name, gate }) =>
      gate === undefined || gates.has(gate) ? [] : [unknown(`points.${id}.gate`, gate, say.noGate(name, gate))],
    ),
    ...(build.strike ?? []).flatMap(({ id, name, who = [] }) =>
      who.filter((one) => !people.has(one)).map((one) => unknown(`strike.${id}.who`, one, say.noPerson(name, one))),
    ),
  ];
}

function formulas(planned: Planned): Problem[] {
  const { build, quantities } = planned;
  const evaluator = createEvaluator(quantities.values);
  for (const { id, parts = [] } of build.boxes ?? []) {
    for (const [i, { part, count }] of parts.entries()) {
      boxedOf(planned, part, evaluator)(count, `boxes.${id}.parts.${i + 1}.count`);
    }
  }
  for (const { id, load } of build.points ?? []) evaluator.amount(load, `points.${id}.load`);
  for (const { id, minutes } of build.strike ?? []) evaluator.span(minutes, `strike.${id}.minutes`);
  return [...evaluator.problems];
}

function tooSoon({ build, surroundings }: Planned): Problem[] {
  if (build.strikeFrom === undefined) return [];
  const from = readWall(build.strikeFrom, surroundings.zone);
  if (!from.ok) return [problem('not-a-date', 'strikeFrom', from.problem.value, from.problem)];
  if (from.value >= surroundings.event) return [];
  return [warning('conflict', 'strikeFrom', build.strikeFrom, say.strikeTooSoon(build.strikeFrom, build.event))];
}
