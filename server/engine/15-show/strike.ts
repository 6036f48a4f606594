/** The work after the event, forwards from when it may begin. */
import type { StrikeLine } from '../../model/index.ts';
import type { Evaluator } from '../01-quantities/index.ts';
import { readWall } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';

/**
 * The jobs of taking down and bringing back, one after the other in the maker's order: from `strikeFrom`, or from the
 * event itself where nobody has said when it ends. In clock minutes: whoever takes down works until it is done. A job
 * whose length cannot be computed is left out.
 */
export function strikeAnswer({ build, surroundings }: Planned, evaluator: Evaluator): StrikeLine[] {
  const from = build.strikeFrom === undefined ? null : readWall(build.strikeFrom, surroundings.zone);
  let at = Math.max(surroundings.event, from?.ok ? from.value : surroundings.event);
  return (build.strike ?? []).flatMap(({ id, name, minutes: given, people, who = [] }) => {
    const minutes = evaluator.span(given, `strike.${id}.minutes`);
    if (minutes === null) return [];
    const start = at;
    at += minutes;
    return [{ id, name, start, finish: at, people: Math.max(people ?? 1, who.length), who }];
  });
}
