/** Which entries stand: an undo takes one back, and an undo of that undo brings it back. However often, it counts once. */

export interface Undoing {
  readonly id: string;
  readonly undoes: string | null;
}

export interface Standing<T extends Undoing> {
  stands(id: string): boolean;
  /** The undos that keep an entry from standing, in the order given. */
  undosOf(id: string): T[];
}

/** Says of any id whether it stands among these entries; one that is not among them and that nothing takes back does. */
export function standingAmong<T extends Undoing>(entries: readonly T[]): Standing<T> {
  const undos = new Map<string, T[]>();
  for (const entry of entries) {
    if (entry.undoes !== null) undos.set(entry.undoes, [...(undos.get(entry.undoes) ?? []), entry]);
  }
  const undosOf = (id: string, seen: ReadonlySet<string>): T[] =>
    (undos.get(id) ?? []).filter((undo) => !seen.has(undo.id) && stands(undo.id, seen));
  // A circle of undos, which no phone makes, must not hang the page.
  const stands = (id: string, seen: ReadonlySet<string>): boolean => undosOf(id, new Set([...seen, id])).length === 0;
  return { stands: (id) => stands(id, new Set()), undosOf: (id) => undosOf(id, new Set([id])) };
}
