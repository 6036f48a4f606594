/** Edits in a few words, where only their numbers are at hand: in the ledger of room. */

import { type EditTexts, editSubjectText } from '../../../views/words/cause-words.ts';
import { editText } from '../../../views/words/edit-words.ts';
import type { LedgerSum, RevisionCause } from '../../model/index.ts';
import { language } from '../../model/texts/language.ts';
import type { Web } from '../web.ts';
import { editLines } from './edit-lines.ts';

type Planner = Web['planner'];

/** What was put into words before, by language: an edit never changes. */
const known = new WeakMap<Planner, Map<string, string>>();
const MOST_KNOWN = 2000;

/** The words of a build's edits. An edit is read and compared when it is asked for, and only once. */
export function editTextsOf(planner: Planner, id: string): EditTexts {
  const revisions = new Map(planner.revisions(id).map((it) => [it.revision, it]));
  const texts = known.get(planner) ?? new Map<string, string>();
  known.set(planner, texts);
  return (edit) => {
    const revision = revisions.get(edit);
    if (revision === undefined) return null;
    const key = `${language()} ${id} ${edit} ${revision.savedAt}`;
    const text = texts.get(key) ?? textOf(planner, id, edit, revision.cause);
    if (texts.size >= MOST_KNOWN) texts.clear();
    texts.set(key, text);
    return text;
  };
}

/** Sums of the ledger with the edits among their subjects in words. */
export function withEditTexts(sums: readonly LedgerSum[], textOf: EditTexts): LedgerSum[] {
  return sums.map((sum) => ({
    ...sum,
    subjects: sum.subjects.map((it) =>
      sum.kind !== 'edit' || it.subject === null ? it : { ...it, subject: editSubjectText(it.subject, textOf) },
    ),
  }));
}

function textOf(planner: Planner, id: string, edit: number, cause: RevisionCause): string {
  const past = planner.pastEdit(id, edit);
  return editText(cause, past === null ? [] : editLines(past));
}
