/**
 * Which entries stand: an undo takes an entry back, and an undo of that undo brings it back. However often, it counts
 * once.
 */
import type { LogKind } from './kinds.ts';

/** As much of an entry as says what it takes back. */
export interface Undoing {
  readonly id: string;
  readonly kind: LogKind;
  readonly undoes?: string | null | undefined;
}

interface Standing<E extends Undoing> {
  /** Whether nothing that stands takes the entry back. True of an id that is not among the entries, too. */
  stands(id: string): boolean;
  /** Whether this entry tells of something that happened, and stands: undos and what only answers a question do not. */
  counts(entry: E): boolean;
  /** The undos that keep an entry from standing, in the order given. */
  undosOf(id: string): E[];
}

/**
 * Says of any id whether it stands among these entries, in whatever order they are. A circle of undos, which no phone
 * makes, ends: the one that is asked about first falls. O(entries) at first, then each answer is known.
 *
 * @example standingAmong([{ id: 'a', kind: 'done' }, { id: 'b', kind: 'undo', undoes: 'a' }]).stands('a') // false
 */
export function standingAmong<E extends Undoing>(entries: Iterable<E>): Standing<E> {
  const undos = new Map<string, E[]>();
  for (const entry of entries) {
    if (entry.kind !== 'undo' || entry.undoes === undefined || entry.undoes === null) continue;
    const known = undos.get(entry.undoes);
    if (known === undefined) undos.set(entry.undoes, [entry]);
    else known.push(entry);
  }
  const known = new Map<string, boolean>();
  const stands = (id: string): boolean => (undos.has(id) ? (known.get(id) ?? decide(id, undos, known)) : true);
  const counts = ({ id, kind }: E): boolean => kind !== 'undo' && kind !== 'confirmed' && stands(id);
  return { stands, counts, undosOf: (id) => (undos.get(id) ?? []).filter((undo) => undo.id !== id && stands(undo.id)) };
}

/** The entries that stand, each id once: undos and what only answers a question are left out. Keeps the order. */
export function standingEntries<E extends Undoing>(entries: readonly E[]): E[] {
  const { counts } = standingAmong(entries);
  const seen = new Set<string>();
  return entries.filter((entry) => {
    if (seen.has(entry.id) || !counts(entry)) return false;
    seen.add(entry.id);
    return true;
  });
}

/**
 * What an undo takes back in the end, through undos of undos; any other entry is its own. An end that is not known
 * leaves the undo itself.
 */
export function rootOf<E extends Undoing>(entry: E, find: (id: string) => E | undefined): E {
  const seen = new Set<string>();
  let root: E | undefined = entry;
  while (root?.kind === 'undo' && typeof root.undoes === 'string' && !seen.has(root.id)) {
    seen.add(root.id);
    root = find(root.undoes);
  }
  return root ?? entry;
}

/** Walks a chain of undos from its end, without recursion: a chain may be as long as the log. */
function decide(id: string, undos: ReadonlyMap<string, readonly Undoing[]>, known: Map<string, boolean>): boolean {
  const path = [id];
  const onPath = new Set(path);
  while (path.length > 0) {
    const last = path.at(-1)!;
    const own = (undos.get(last) ?? []).filter((undo) => !onPath.has(undo.id));
    const next = own.find((undo) => !known.has(undo.id));
    const fallen = own.some((undo) => known.get(undo.id) === true);
    if (next !== undefined && !fallen) {
      path.push(next.id);
      onPath.add(next.id);
    } else {
      known.set(last, !fallen);
      onPath.delete(last);
      path.pop();
    }
  }
  return known.get(id)!;
}
