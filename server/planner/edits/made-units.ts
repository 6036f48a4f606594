/** Entries of the log that are made and taken back together with an edit: what became of units made before it. */
import { randomUUID } from 'node:crypto';
import { askedBy, settleRipple } from '../../engine/index.ts';
import {
  applyChanges,
  type Build,
  type Change,
  type NewLogEntry,
  type Result,
  type RippleAsked,
  type RippleEntry,
} from '../../model/index.ts';
import { standingAmong } from '../../model/log/index.ts';
import type { Store } from '../../store/index.ts';
import type { GroundState } from '../ground.ts';
import type { RippleTold } from '../types.ts';
import type { Made } from './edit-parts.ts';

/** The build after changes, and what is asked of units that are made before they are saved. */
interface Reach {
  readonly after: Build;
  readonly asked: RippleAsked;
}

/** By the changes themselves, for they are asked about as the form is read and once more as they are saved. */
const lastAsked = new WeakMap<readonly Change[], { state: GroundState; part: string | null; reach: Reach }>();

/** What changes of a state reach; `part`: the one whose form it is. The problems where they cannot be made. */
export function reachOf(state: GroundState, changes: readonly Change[], part: string | null): Result<Reach> {
  const last = lastAsked.get(changes);
  if (last?.state === state && last.part === part) return { ok: true, value: last.reach };
  const after = applyChanges(state.build, changes);
  if (!after.ok) return after;
  const reach = { after: after.value, asked: askedBy(state.build, after.value, changes, state.log, part) };
  lastAsked.set(changes, { state, part, reach });
  return { ok: true, value: reach };
}

/** Changes with what the answers about units that are made come to; what is not answered stays unchecked. */
export function withAnswers(
  state: GroundState,
  changes: readonly Change[],
  { answers, part }: RippleTold,
): Result<Made> {
  const reached = reachOf(state, changes, part);
  if (!reached.ok) return reached;
  const { after, asked } = reached.value;
  const { made, ripple, isAnswer } = asked;
  if (made.length === 0 && answers.length === 0) return { ok: true, value: { changes, entries: [] } };
  const drawn = [...new Set(made.map((units) => units.part))].map((id) => {
    const [was, is] = [state.build, after].map((build) => build.parts?.find((one) => one.id === id)?.revision);
    return { id, revision: was ?? '', isRaised: !isAnswer && was === is };
  });
  const settled = settleRipple({
    build: after,
    log: state.log,
    made,
    answers,
    revisions: new Map(drawn.map(({ id, revision }) => [id, revision])),
    raised: new Set(drawn.filter(({ isRaised }) => isRaised).map(({ id }) => id)),
    because: ripple.because,
  });
  if (!settled.ok) return settled;
  return { ok: true, value: { changes: [...changes, ...settled.value.changes], entries: settled.value.entries } };
}

/** An entry that goes with an edit, as one that a phone would have sent. */
export function logged(entry: RippleEntry, who: string, at: string): NewLogEntry {
  return { id: randomUUID(), at, who, ...entry };
}

/** The entries that were made with an edit, by id. */
export function entriesOf(store: Store, { key }: GroundState, edit: number): readonly string[] {
  const cause = store.builds.revisions(key).find(({ revision }) => revision === edit)?.cause;
  return cause !== undefined && 'logged' in cause ? (cause.logged ?? []) : [];
}

/**
 * What takes back the entries made with the edits after one: those of them that stand, and undos among them that keep
 * down an entry from before.
 */
export function entriesSince(store: Store, state: GroundState, edit: number): RippleEntry[] {
  const later = store.builds
    .revisions(state.key)
    .filter(({ revision }) => revision > edit)
    .flatMap(({ revision }) => entriesOf(store, state, revision));
  const { stands } = standingAmong(state.log);
  const known = new Set(later);
  return later.flatMap((id): RippleEntry[] => {
    const entry = state.entries.get(id);
    const isWanted = entry?.kind !== 'undo' || (entry.undoes !== undefined && !known.has(entry.undoes));
    return entry !== undefined && stands(id) && isWanted ? [{ kind: 'undo', undoes: id }] : [];
  });
}
