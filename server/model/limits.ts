/**
 * How large a build may be. What is larger is refused in a sentence before any work begins: a plan of such a size would
 * hold up everybody else, or never come.
 */
import { type Problem, problem } from './problem.ts';
import { problemTexts } from './texts/index.ts';

/** Things of each kind at most. Ten times what the largest piece that one crew can make has. */
export const MOST = {
  parameters: 2000,
  limits: 500,
  parts: 2000,
  suppliers: 200,
  people: 200,
  machines: 200,
  steps: 2000,
  feeds: 10_000,
  gates: 500,
  decisions: 500,
  boxes: 500,
  passages: 50,
  points: 500,
  strike: 200,
} as const;

/** Links between steps, gates and decisions together: a step has two or three. */
export const MOST_LINKS = 10_000;

/**
 * Lots for which it is planned who does what when: units divided by the units in a lot, over all steps. The first plan
 * of as many takes about a minute, each further one the half of it, and all searching and drawing ends by its time.
 */
export const MOST_SCHEDULED_LOTS = 20_000;

/** Lots for which there are counts, early and late dates and a bound: half a minute. */
export const MOST_LOTS = 40_000;

/** Sets: as many as an entry of the log can name. */
export const MOST_SETS = 10_000;

/** Options kept beside a build, and letters of the name of one: as many as can be compared at a look. */
export const MOST_OPTIONS = 5;
export const LONGEST_OPTION_NAME = 60;

/** The lists of a build that name other things of it. */
interface Linked {
  readonly steps: readonly { readonly after?: readonly unknown[] | undefined }[];
  readonly feeds?: readonly unknown[] | undefined;
  readonly gates?:
    | readonly {
        readonly after: readonly unknown[];
        readonly before?: readonly unknown[] | undefined;
        readonly holds?: readonly unknown[] | undefined;
        readonly sendsBack?: readonly unknown[] | undefined;
      }[]
    | undefined;
  readonly decisions?: readonly { readonly waits: readonly unknown[] }[] | undefined;
}

/** More links than a plan can follow; empty where there are not. */
export function linkProblems({ steps, feeds = [], gates = [], decisions = [] }: Linked): Problem[] {
  const lists = [
    ...steps.map(({ after }) => after),
    feeds,
    ...gates.flatMap(({ after, before, holds, sendsBack }) => [after, before, holds, sendsBack]),
    ...decisions.map(({ waits }) => waits),
  ];
  const links = lists.reduce((sum, list) => sum + (list?.length ?? 0), 0);
  if (links <= MOST_LINKS) return [];
  const message = problemTexts.steps.tooManyLinks(links, MOST_LINKS);
  return [problem('too-large', 'feeds', links, message)];
}
