/** Why there is a revision of a build: a fact with its values, put into words where it is shown. */

export type RevisionCause =
  /** Begun with nothing in it. */
  | { readonly code: 'made' }
  /** Brought from a file, with the entries of a log. */
  | { readonly code: 'import'; readonly entries: number }
  /** Changed by a list of changes, which is kept beside it. */
  | ({ readonly code: 'edit' } & WithEntries)
  /** The plan of a file in the place of the one before. */
  | ({ readonly code: 'file' } & WithEntries)
  /** Put back as it was at edit number `edit`. */
  | ({ readonly code: 'back-to'; readonly edit: number } & WithEntries)
  /** Edit number `edit` alone taken back. */
  | ({ readonly code: 'undo'; readonly edit: number } & WithEntries)
  /** Changed by the changes of an option of that name, which are kept beside it. */
  | ({ readonly code: 'option'; readonly name: string } & WithEntries)
  /** From before causes were facts: the sentence that was kept. */
  | { readonly code: 'said'; readonly text: string };

/** Ids of the entries of the log that were made with the edit, and that go with it when it is undone. */
interface WithEntries {
  readonly logged?: readonly string[];
}

/**
 * What a sentence says that was kept as the cause of a revision before causes were facts. Whatever is not known stays
 * the sentence it is.
 *
 * @example causeOfSentence('put back as it was at revision 3') // { code: 'back-to', edit: 3 }
 */
export function causeOfSentence(text: string): RevisionCause {
  if (text === 'made') return { code: 'made' };
  const brought = /^brought from a file with (\d+) log entr(?:y|ies)$/.exec(text);
  if (brought) return { code: 'import', entries: Number(brought[1]) };
  const back = /^put back as it was at revision (\d+)$/.exec(text);
  if (back) return { code: 'back-to', edit: Number(back[1]) };
  return { code: 'said', text };
}
