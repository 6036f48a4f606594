/** How the ledger of room says why a row is there. */
import type { CalledThen, TurnCause, TurnFact } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';

const say = texts.ledger.cause;

type Names = Pick<BuildPage, 'build' | 'forecast'>;

/** The words of an edit by its number; null where there is none. */
export type EditTexts = (edit: number) => string | null;

/** A line such as `step “Cut” changed; 12 done at cut ribs, 2 scrapped at cut ribs`. */
export function turnCauseText(cause: TurnCause, page: Names, editText: EditTexts): string {
  return cause.length === 0 ? say.timeWentBy : cause.map((fact) => factText(fact, page, editText)).join('; ');
}

/** What an edit among the parts of a row is called: its words by its number, or the sentence that was kept of it. */
export function editSubjectText(subject: string, editText: EditTexts): string {
  if (!/^\d+$/.test(subject)) return subject;
  return editText(Number(subject)) ?? say.edit(subject);
}

function factText(fact: TurnFact, page: Names, editText: EditTexts): string {
  switch (fact.code) {
    case 'edit':
      return editText(fact.edit) ?? say.edit(String(fact.edit));
    case 'nothing-counted':
      return say.nothingCounted;
    case 'more':
      return say.more(fact.n);
    case 'said':
      return fact.text;
    default:
      return loggedText(fact, page);
  }
}

function loggedText({ kind, n, step, of }: Extract<TurnFact, { code: 'logged' }>, page: Names): string {
  const stepName = step === undefined ? null : nameNow(step, page.forecast.steps);
  const { people = [], machines = [] } = page.build;
  switch (kind) {
    case 'lost':
      return say.lost(of === undefined ? null : nameNow(of, [...people, ...machines]));
    case 'undo':
      return say.undo(n);
    case 'passed':
    case 'failed':
      return say[kind](stepName ?? '');
    case 'promised':
      return say.promised(stepName ?? '');
    default:
      return say.counted(n, say.kinds[kind], stepName);
  }
}

/** As a thing is called now; as it was called then where it is gone. */
function nameNow({ id, name }: CalledThen, things: readonly { readonly id: string; readonly name: string }[]): string {
  return things.find((it) => it.id === id)?.name ?? name;
}
