/** Changes of a build: refused when they add an error, kept as a revision otherwise. */
import { changesBack, changesBetween, problem, problemTexts, type Result } from '../../model/index.ts';
import type { GroundState } from '../ground.ts';
import { documentOf, pastEdit } from '../history.ts';
import { changedMeanwhile, firstEdit, noEdit, openBuild, refused } from '../refusals.ts';
import type { Planner, RippleTold } from '../types.ts';
import { bringBuild } from './bring-build.ts';
import type { EditParts, Made } from './edit-parts.ts';
import { entriesOf, entriesSince, reachOf, withAnswers } from './made-units.ts';
import { makeEdit, objectionsTo } from './make-edit.ts';

const say = problemTexts.edits;

type Edits = Pick<
  Planner,
  | 'edit'
  | 'objections'
  | 'ripple'
  | 'takeBack'
  | 'undo'
  | 'create'
  | 'remove'
  | 'removed'
  | 'bringBack'
  | 'revisions'
  | 'pastEdit'
>;

const NOTHING_TOLD: RippleTold = { answers: [], part: null };

/** Makes, changes, takes back and removes the builds in the store. */
export function createEdits(parts: EditParts): Edits {
  const { store, ground } = parts;
  return {
    edit: (id, changes, who, expected, cause = { code: 'edit' }, told = NOTHING_TOLD) =>
      makeEdit(parts, { id, who, cause, expected, changesOf: (state) => withAnswers(state, changes, told) }),
    objections: (id, changes) =>
      objectionsTo(parts, {
        ...{ id, who: '', cause: { code: 'edit' } },
        changesOf: (state) => withAnswers(state, changes, NOTHING_TOLD),
      }),
    ripple: (id, changes, expected, part = null) => {
      const open = openBuild(ground, id);
      if (!open.ok) return open;
      if (open.value.version.revision !== expected) return changedMeanwhile(store, open.value, expected);
      const reached = reachOf(open.value, changes, part);
      return reached.ok ? { ok: true, value: reached.value.asked } : reached;
    },
    // What was once right may have become wrong with time; back to it one may go all the same.
    takeBack: (id, edit, who) =>
      makeEdit(parts, {
        id,
        who,
        cause: { code: 'back-to', edit },
        changesOf: (state) => backTo(parts, state, edit),
        unchecked: true,
      }),
    undo: (id, edit, who) =>
      makeEdit(parts, { id, who, cause: { code: 'undo', edit }, changesOf: (state) => without(parts, state, edit) }),
    create: (build, log, who) => bringBuild(parts, build, log, who),
    ...createRemoving(parts),
    revisions: (id) => {
      const state = ground.get(id);
      return state ? store.builds.revisions(state.key) : [];
    },
    pastEdit: (id, revision) => {
      const state = ground.get(id);
      return state && pastEdit(store, state, revision);
    },
  };
}

/** Builds that were removed may be brought back while their id is free. */
function createRemoving({ store, keeper, changed, stamp }: EditParts): Pick<Edits, 'remove' | 'removed' | 'bringBack'> {
  return {
    remove: (id) => {
      const removed = store.builds.remove(id, stamp());
      if (!removed) return false;
      keeper.drop(id);
      changed(id);
      return true;
    },
    removed: () => store.builds.removed(),
    bringBack: (key) => {
      const found = store.builds.removed().find((one) => one.key === key);
      if (found === undefined) return refused(problem('gone', 'build', String(key), say.notRemoved));
      const { id } = found;
      if (!store.builds.bringBack(key)) return refused(problem('duplicate-id', 'build', id, say.idTaken(id)));
      changed(id);
      return { ok: true, value: { id } };
    },
  };
}

/** What makes the build again as it was after an edit. */
function backTo({ store }: EditParts, state: GroundState, edit: number): Result<Made> {
  const document = documentOf(store, state, edit);
  if (!document) return refused(noEdit(edit, state));
  const changes = changesBetween(state.build, document);
  return { ok: true, value: { changes, entries: entriesSince(store, state, edit) } };
}

/** What takes one edit out of the build and leaves the later ones. */
function without({ store }: EditParts, state: GroundState, edit: number): Result<Made> {
  const past = pastEdit(store, state, edit);
  if (past === null) return refused(edit === 1 ? firstEdit(edit) : noEdit(edit, state));
  const changes = changesBack(past, state.build);
  if (!changes.ok) return changes;
  const entries = entriesOf(store, state, edit).map((entry) => ({ kind: 'undo' as const, undoes: entry }));
  return { ok: true, value: { changes: changes.value, entries: entries.reverse() } };
}
