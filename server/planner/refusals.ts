/** Why an edit is refused before it is read: no such build, a closed one, no such edit, another edit meanwhile. */
import { type Problem, problem, problemTexts, type Result } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { closedProblem } from './closed.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { MAKER } from './log-check.ts';

const say = problemTexts.edits;

/** A result that is these problems. */
export function refused(...problems: readonly Problem[]): Result<never> {
  return { ok: false, problems };
}

/** The present state of a build that takes edits. */
export function openBuild(ground: GroundCache, id: string): Result<GroundState> {
  const state = ground.get(id);
  if (!state) return refused(noBuild(id));
  if (state.closed !== null) return refused(closedProblem(state.build, state.closed));
  return { ok: true, value: state };
}

/** Refuses what was begun on an edit that is not the last any more, by who made the last. */
export function changedMeanwhile(store: Store, { key, version }: GroundState, begun: number): Result<never> {
  const who = store.builds.revisions(key).at(-1)?.who ?? MAKER;
  return refused(problem('conflict', 'revision', begun, say.changedMeanwhile(who, version.revision, begun)));
}

/** No build has this id. */
export function noBuild(id: string): Problem {
  return problem('unknown-name', 'build', id, say.noBuild(id));
}

/** The build has no edit of this number. */
export function noEdit(edit: number, { version }: GroundState): Problem {
  return problem('unknown-name', 'revision', edit, say.noEdit(edit, version.revision));
}

/** The first edit made the build, so nothing is left when it is undone. */
export function firstEdit(edit: number): Problem {
  return problem('unknown-name', 'revision', edit, say.firstEdit);
}

/** Another build has this id. */
export function idTaken(id: string): Problem {
  return problem('duplicate-id', 'id', id, say.taken(id));
}
