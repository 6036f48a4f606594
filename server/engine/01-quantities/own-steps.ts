/** Which steps each part has of its own. */
import type { Build, Step } from '../../model/index.ts';

/** A build is never changed, so its steps are sorted once for all who ask. */
const known = new WeakMap<Build['steps'], ReadonlyMap<string, readonly Step[]>>();
const NONE: readonly Step[] = [];

/** The steps of a part in the order of the build. The first question is O(steps), each further one O(1). */
export function stepsOfPart(part: string, { steps }: Pick<Build, 'steps'>): readonly Step[] {
  const sorted = known.get(steps) ?? byPart(steps);
  known.set(steps, sorted);
  return sorted.get(part) ?? NONE;
}

function byPart(steps: Build['steps']): ReadonlyMap<string, readonly Step[]> {
  const sorted = new Map<string, Step[]>();
  for (const step of steps) {
    if (step.part === undefined) continue;
    const own = sorted.get(step.part);
    if (own === undefined) sorted.set(step.part, [step]);
    else own.push(step);
  }
  return sorted;
}
