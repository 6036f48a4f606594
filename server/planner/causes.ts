/** Why the answer changed: the edits and entries between two versions, in a line. */
import type { LogEntry } from '../model/index.ts';

const MOST_CAUSES = 6;
export const TIME_WENT_BY = 'time went by';

/** What a step is called: those of a forecast, which knows the orders that nobody typed too. */
export type NamedSteps = readonly { readonly id: string; readonly name: string }[];

/** A line such as `step "cut" changed; 12 done at cut, 2 scrapped at cut`; `time went by` when nothing was edited or logged. */
export function causeOf(edits: readonly string[], entries: readonly LogEntry[], steps: NamedSteps): string {
  const names = new Map(steps.map(({ id, name }) => [id, name]));
  const causes = [...edits, ...logged(entries, names)];
  if (causes.length === 0) return TIME_WENT_BY;
  const rest = causes.length - MOST_CAUSES;
  return rest > 0 ? `${causes.slice(0, MOST_CAUSES).join('; ')}; and ${rest} more` : causes.join('; ');
}

function logged(entries: readonly LogEntry[], names: ReadonlyMap<string, string>): string[] {
  const units = new Map<string, number>();
  for (const { kind, step, n, person } of entries) {
    const words = wordsOf(kind, step === undefined ? null : (names.get(step) ?? step), person ?? null);
    if (words !== null) units.set(words, (units.get(words) ?? 0) + (n ?? 1));
  }
  return [...units].map(([words, n]) => words.replace('#', String(n)));
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
