/** One edit, from what was asked to the revision that is kept: all of it or nothing. */
import {
  applyChanges,
  type Build,
  changesBetween,
  type Forecast,
  type NewLogEntry,
  type Problem,
  type Result,
} from '../../model/index.ts';
import type { GroundState } from '../ground.ts';
import { changedMeanwhile, openBuild, refused } from '../refusals.ts';
import type { Asked, EditParts, Made, Revised } from './edit-parts.ts';
import { logged } from './made-units.ts';
import { addedErrors, movesEvent } from './new-errors.ts';

/** How often an edit that waits for no edit in particular is made again because another came between. */
const MOST_TRIES = 3;

/** Makes an edit; again on the newer state where another came between and none in particular was expected. */
export async function makeEdit(parts: EditParts, asked: Asked): Promise<Result<Revised>> {
  for (let tries = 1; ; tries++) {
    const begun = openBuild(parts.ground, asked.id);
    if (!begun.ok) return begun;
    const made = await tryEdit(parts, begun.value, asked);
    if (made !== null) return made;
    const { revision } = begun.value.version;
    if (tries === MOST_TRIES) return changedMeanwhile(parts.store, parts.ground.get(asked.id) ?? begun.value, revision);
  }
}

/** The build as an edit makes it, with the entries that go into the log beside it. */
interface Draft {
  readonly build: Build;
  readonly changes: Made['changes'];
  readonly entries: readonly NewLogEntry[];
}

/** Null: the state was another by the time it was to be saved. */
async function tryEdit(parts: EditParts, state: GroundState, asked: Asked): Promise<Result<Revised> | null> {
  const { revision } = state.version;
  const { id, expected } = asked;
  if (expected !== undefined && expected !== revision) return changedMeanwhile(parts.store, state, expected);
  const drafted = draftOf(parts, state, asked);
  if (!drafted.ok) return drafted;
  const draft = drafted.value;
  if (changesBetween(state.build, draft.build).length === 0) return { ok: true, value: { revision } };
  const checked = asked.unchecked ? null : await check(parts, state, draft);
  if (checked && checked.added.length > 0) return refused(...checked.added);
  const before = parts.keeper.at(id, state);
  const saved = save(parts, state, draft, asked);
  if (saved === null) return null;
  const logSeq = state.version.logSeq + draft.entries.length;
  parts.saved?.(id, { revision: saved, logSeq, before });
  handOn(parts, id, { revision: saved, logSeq }, checked?.after ?? null);
  return { ok: true, value: { revision: saved } };
}

/**
 * What `makeEdit` would refuse these changes for, were they asked on the state as it is; empty where it would keep
 * them. Nothing is kept.
 */
export async function objectionsTo(parts: EditParts, asked: Asked): Promise<readonly Problem[]> {
  const begun = openBuild(parts.ground, asked.id);
  if (!begun.ok) return begun.problems;
  const drafted = draftOf(parts, begun.value, asked);
  return drafted.ok ? (await check(parts, begun.value, drafted.value)).added : drafted.problems;
}

function draftOf(parts: EditParts, state: GroundState, { who, changesOf }: Asked): Result<Draft> {
  const made = changesOf(state);
  if (!made.ok) return made;
  const { changes } = made.value;
  const build = applyChanges(state.build, changes);
  if (!build.ok) return build;
  const entries = made.value.entries.map((entry) => logged(entry, who, parts.stamp()));
  return { ok: true, value: { build: build.value, changes, entries } };
}

/** What speaks against the build after an edit, besides what was wrong with it before; with the forecast of it. */
async function check(
  { compute, keeper }: EditParts,
  state: GroundState,
  { build, entries }: Draft,
): Promise<{ after: Forecast; added: Problem[] }> {
  const numbered = entries.map((entry, i) => ({ ...entry, seq: state.version.logSeq + i + 1 }));
  const after = await compute(build, [...state.log, ...numbered], state);
  const before = keeper.at(state.build.id, state);
  const errors = await addedErrors(after, before, () => compute(state.build, state.log));
  return { after, added: errors.filter(({ code }) => code !== 'event-past' || movesEvent(state.build, build)) };
}

/** The number of the new revision; null where the state that the edit was made on is not the last any more. */
function save(parts: EditParts, state: GroundState, draft: Draft, { id, who, cause }: Asked): number | null {
  const { store } = parts;
  const { build, changes, entries } = draft;
  const caused = entries.length === 0 ? cause : { ...cause, logged: entries.map((entry) => entry.id) };
  const revision = store.together(() => {
    const present = store.builds.ground(id);
    if (present?.key !== state.key || present.revision !== state.version.revision) return null;
    if (store.builds.closed(state.key) !== null) return null;
    // What was counted meanwhile may have moved the units that the entries speak of.
    if (entries.length > 0 && present.logSeq !== state.version.logSeq) return null;
    if (entries.length > 0) store.log.append(state.key, entries, parts.stamp());
    return store.builds.save(state.key, build, { savedAt: parts.stamp(), who, cause: caused, changes });
  });
  if (revision !== null) parts.changed(id);
  return revision;
}

/** Hands on the forecast that the edit was checked with, unless something was counted meanwhile. */
function handOn(
  { ground, keeper }: EditParts,
  id: string,
  saved: GroundState['version'],
  after: Forecast | null,
): void {
  const present = ground.get(id);
  if (present?.version.revision !== saved.revision) return;
  if (after !== null && present.version.logSeq === saved.logSeq) keeper.take(id, present, after);
  else keeper.refresh(id);
}
