/** An edit as a test likes to write it: what is to be different, done to a copy of the build. */
import { type Build, changesBetween, type Result } from '../../../server/model/index.ts';
import type { Planner } from '../../../server/planner/index.ts';

/** Makes the changes that lead to the build as `work` leaves a copy of it. */
export function editBy(
  planner: Pick<Planner, 'build' | 'edit'>,
  id: string,
  work: (build: Build) => void,
  expected?: number,
): Promise<Result<{ revision: number }>> {
  const { build } = planner.build(id)!;
  const draft = structuredClone(build);
  work(draft);
  return planner.edit(id, changesBetween(build, draft), 'maker', expected);
}
