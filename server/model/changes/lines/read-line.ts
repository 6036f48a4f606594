/**
 * One line of plain words as changes of a build: a number of the design, a part with how it comes about and what is
 * done to it, or a job of its own.
 */
import type { Build } from '../../build.ts';
import type { Change } from '../change.ts';
import { knownNames } from '../formulas.ts';
import { takeClause } from './clauses.ts';
import { emptyDraft, type LineDraft } from './draft.ts';
import type { Assumed, Fact, WhyNot } from './facts.ts';
import { readParameter, takePart, takeWorkOn } from './head.ts';
import { heard } from './heard.ts';
import { changesOf, parameterChanges } from './line-changes.ts';
import { closeSupply } from './supply.ts';
import { whyNot } from './why-not.ts';

const STARTS_WITH_TIME =
  /^(?:for )?(?:\d+(?:[.,]\d+)?(?: ?(?:to|-|–) ?\d+(?:[.,]\d+)?)? ?(?:h|hours?|hrs?|min|mins|minutes?|s|sec|secs|seconds?)|\d+ in \d+|\d{1,2}:\d{2})\b/i;

/** What a line says; `wrong` is the clause that was not understood, and then nothing of the line is changed. */
export interface LineRead {
  readonly facts: readonly Fact[];
  readonly assumed: readonly Assumed[];
  readonly changes: readonly Change[];
  readonly wrong: string | null;
  /** Why it was not taken, where that is known. */
  readonly why?: WhyNot;
}

/**
 * Reads one line against the build as it is. What it names that is there already is changed, the rest is new; steps of
 * a part follow each other as they are said, and a job of no part comes after everything that is there.
 */
export function readLine(typed: string, build: Build): LineRead {
  const line = heard(typed);
  const parameter = readParameter(line);
  if (parameter !== null) return parameterRead(parameter, build);
  const draft = emptyDraft(build);
  const clauses = clausesOf(line);
  const at = clauses.findIndex((clause, i) => !(i === 0 ? takeHead(draft, clause) : takeClause(draft, clause)));
  const left = at < 0 ? (closeSupply(draft) ?? leftOpen(draft)) : unread(draft, clauses.slice(at));
  if (left !== null) return notRead(draft, left);
  if (testsNothing(draft)) return { facts: [], assumed: [], changes: [], wrong: line.trim(), why: 'nothing-to-test' };
  const changes = changesOf(draft);
  return { facts: draft.facts, assumed: draft.assumed, changes, wrong: null };
}

function notRead(draft: LineDraft, wrong: string): LineRead {
  const why = draft.why ?? whyNot(wrong);
  return { facts: draft.facts, assumed: [], changes: [], wrong, ...(why === null ? {} : { why }) };
}

/** The first clause: a part, work on one that is there, or a job. A part whose count or name is odd is no job. */
function takeHead(draft: LineDraft, clause: string): boolean {
  if (takePart(draft, clause)) return true;
  const work = takeWorkOn(draft, clause);
  return work === '' || (draft.why === null && takeClause(draft, work ?? clause));
}

/**
 * Clauses lie between commas and semicolons; a comma between digits is a decimal one. A job and its time are one:
 * `pack, 3 h`.
 */
function clausesOf(line: string): string[] {
  const [first, second, ...more] = line
    .split(/;|,(?!\d)|(?<!\d),/)
    .map((clause) => clause.trim())
    .filter((clause) => clause !== '');
  if (first === undefined || second === undefined) return first === undefined ? [] : [first];
  return !/\d|^an? /i.test(first) && STARTS_WITH_TIME.test(second)
    ? [`${first} ${second}`, ...more]
    : [first, second, ...more];
}

/** A row of words without times is wrong as a whole, from the first of them. */
function unread({ pending, why }: LineDraft, [first, ...more]: readonly string[]): string {
  const isBare = (clause: string): boolean => whyNot(clause) === 'no-number';
  if (why !== null || !isBare(first!)) return first!;
  return [...(pending === null ? [] : [pending]), first, ...more.filter(isBare)].join('; ');
}

/** A test of its own on a build in which nothing is done yet. */
function testsNothing({ gates, steps, build }: LineDraft): boolean {
  return gates.length > 0 && steps.length === 0 && build.steps.length === 0;
}

/** What a line begins and does not end: a supplier without days, a plate without a time. */
function leftOpen({ pending, lotBefore, steps, facts }: LineDraft): string | null {
  if (pending !== null) return pending;
  if (lotBefore !== null) return String(lotBefore.lot);
  return facts.length === 0 && steps.length === 0 ? '' : null;
}

function parameterRead(typed: NonNullable<ReturnType<typeof readParameter>>, build: Build): LineRead {
  const names = [...(build.parameters ?? []).map(({ name }) => name), typed.name];
  const parameter = typed.formula === undefined ? typed : { ...typed, formula: knownNames(typed.formula, names) };
  const { name, value, formula, range } = parameter;
  const said = value === undefined ? (formula ?? `${range!.low} / ${range!.likely} / ${range!.high}`) : String(value);
  const facts: Fact[] = [{ code: 'parameter', name, value: said }];
  return { facts, assumed: [], changes: parameterChanges(build, parameter), wrong: null };
}
