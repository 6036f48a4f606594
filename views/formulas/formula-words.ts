/** A function for formulas in words: its call, its arguments, its example. */
import type { ListedArgument, ListedFormula } from '../../server/model/index.ts';
import { formulaCatalogue as catalogue } from '../texts/begin/formula-catalogue.ts';
import { formulaTexts as say } from '../texts/begin/formulas.ts';
import { figure } from '../words/wording.ts';

/** How it is called: `cutting_minutes(path, feed, depth, stepdown, plunge_feed?)`; a `?` may be left out. */
export function callText({ name, arguments: ranges, rest }: ListedFormula): string {
  const args = ranges.map((one) => `${one.name}${one.optional === true ? '?' : ''}`);
  return `${name}(${[...args, ...(rest ? ['...'] : [])].join(', ')})`;
}

/** What it gives, with its unit. */
export function givesText({ name, gives }: ListedFormula): string {
  return say.givesIn(catalogue.answers[name]!, unitText(gives));
}

/** An argument with its unit and what it may be: `volume: cm³, at least 0`; null where there is nothing to say. */
export function argumentText({ name, unit, ...range }: ListedArgument, isLast: boolean, rest: boolean): string | null {
  const { above, least, below, most, whole, optional } = range;
  const said = [
    unit === '' ? null : unitText(unit),
    bound(say.above, above),
    bound(say.least, least),
    bound(say.below, below),
    bound(say.most, most),
    whole === true ? say.whole : null,
    optional === true ? say.optional : null,
    isLast && rest ? say.again : null,
  ].filter((it) => it !== null);
  return said.length === 0 ? null : `${name}: ${said.join(', ')}`;
}

/** All arguments that need a word. */
export function argumentTexts({ arguments: ranges, rest }: ListedFormula): string[] {
  return ranges.map((one, i) => argumentText(one, i === ranges.length - 1, rest)).filter((it) => it !== null);
}

/** The example with what it comes to: `print_minutes(18.5, 11) = 28.0303 min`. */
export function exampleText({ example, gives }: ListedFormula): string {
  const unit = unitText(gives);
  return say.example(example.text, `${figure(example.value, 4)}${unit === '' ? '' : ` ${unit}`}`);
}

/** Where it comes from, and how far it can be trusted. */
export function sourceText({ source, class: trust }: ListedFormula): string {
  return say.source(catalogue.source[source], say.trust[trust]);
}

/** The function with what it answers and where it comes from in words, as data. */
export function saidFormula(formula: ListedFormula) {
  return { ...formula, answers: catalogue.answers[formula.name]!, source: catalogue.source[formula.source] };
}

/** The functions by subject, in the order of the list. */
export function bySubject(formulas: readonly ListedFormula[]): [string, ListedFormula[]][] {
  const subjects = [...new Set(formulas.map(({ subject }) => subject))];
  return subjects.map((subject) => [subject, formulas.filter((one) => one.subject === subject)]);
}

function bound(word: (n: string) => string, n: number | undefined): string | null {
  return n === undefined ? null : word(figure(n, 4));
}

/** `cm3` and `m2` as they are written by hand; units that are words in the reader's language. */
function unitText(unit: string): string {
  return catalogue.unit[unit] ?? unit.replace(/(?<=m)2(?![0-9])/g, '²').replace(/(?<=m)3(?![0-9])/g, '³');
}
