/** Why the answer changed: the edits and entries between two versions, in a line. */
import type { LogEntry } from '../model/index.ts';

const MOST_CAUSES = 6;
export const TIME_WENT_BY = 'time went by';

/** How an edit stands in a cause: by its number alone, for what it changed is kept with it. */
export function editCode(edit: number): string {
  return `edit ${edit}`;
}

/**
 * A cause with its edits in words, by their numbers. What is no edit stays as it is, such as the sentence that an
 * earlier program kept.
 */
export function withEditWords(cause: string, wordsOf: (edit: number) => string | null): string {
  const parts = cause.split('; ').map((part) => {
    const code = /^edit (\d+)$/.exec(part);
    return (code && wordsOf(Number(code[1]))) ?? part;
  });
  return parts.join('; ');
}

type Named = readonly { readonly id: string; readonly name: string }[];

/**
 * What ids are called: steps by a forecast, which knows the orders that nobody typed too; people and machines by the
 * build.
 */
export interface CauseNames {
  readonly steps: Named;
  readonly people: Named;
}

/**
 * A line such as `step "cut" changed; 12 done at cut, 2 scrapped at cut`; `time went by` when nothing was edited or
 * logged.
 */
export function causeOf(edits: readonly string[], entries: readonly LogEntry[], names: CauseNames): string {
  const causes = [...edits, ...logged(entries, names)];
  if (causes.length === 0) return TIME_WENT_BY;
  const rest = causes.length - MOST_CAUSES;
  return rest > 0 ? `${causes.slice(0, MOST_CAUSES).join('; ')}; and ${rest} more` : causes.join('; ');
}

function logged(entries: readonly LogEntry[], { steps, people }: CauseNames): string[] {
  const [stepName, personName] = [namesOf(steps), namesOf(people)];
  const units = new Map<string, number>();
  for (const { kind, step, n, person, machine } of entries) {
    const words = wordsOf(kind, stepName(step), personName(machine ?? person));
    if (words !== null) units.set(words, (units.get(words) ?? 0) + (n ?? 1));
  }
  return [...units].map(([words, n]) => words.replace('#', String(n)));
}

/** The name of an id, the id itself of what is no longer there, null of none. */
function namesOf(things: Named): (id: string | undefined) => string | null {
  const names = new Map(things.map(({ id, name }) => [id, name]));
  return (id) => (id === undefined ? null : (names.get(id) ?? id));
}

function wordsOf(kind: LogEntry['kind'], step: string | null, person: string | null): string | null {
  const at = step === null ? '' : ` at ${step}`;
  switch (kind) {
    case 'began':
    case 'paused':
    case 'confirmed':
      return null;
    case 'lost':
      return person === null ? 'time lost' : `time of ${person} lost`;
    case 'undo':
      return '# taken back';
    case 'passed':
    case 'failed':
      return `${step} ${kind}`;
    case 'promised':
      return `a date promised for ${step}`;
    default:
      return `# ${kind}${at}`;
  }
}
