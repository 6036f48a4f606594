/** The answers of decisions, and the changes that they carry. */
import type { Build } from '../build.ts';
import type { AnswerChange, Decision } from '../gate.ts';
import type { Problem } from '../problem.ts';
import { applyChanges } from './apply.ts';
import type { Change } from './change.ts';

/** An answer with what it changes; nothing where it is a mere name. */
interface ReadAnswer {
  readonly name: string;
  readonly changes: readonly Change[];
}

/** The answers of a decision in their order. */
export function answersOf({ answers = [] }: Pick<Decision, 'answers'>): ReadAnswer[] {
  return answers.map((answer) =>
    typeof answer === 'string'
      ? { name: answer, changes: [] }
      : { name: answer.name, changes: answer.changes.map(changeOf) },
  );
}

/**
 * The text of what an answer changes, as it is typed: `bough: welder` for the way of a part, `panels = 40` for the
 * value of a parameter, `steps.cut.lotSize = 6` for any other field; several are parted by semicolons.
 *
 *     answerText([{ list: 'parts', key: 'bough', field: 'way', value: 'welder' }]) // 'bough: welder'
 */
export function answerText(changes: readonly AnswerChange[]): string {
  return changes
    .map(({ list, key, field, value }) => {
      if (list === 'parts' && field === 'way') return `${key}: ${value}`;
      const what = list === 'parameters' && field === 'value' ? key : `${list}.${key}.${field}`;
      return `${what} = ${typeof value === 'string' ? value : JSON.stringify(value ?? null)}`;
    })
    .join('; ');
}

/**
 * The changes that such a text says; null where it says none. A value is read as JSON where it is some, else as text;
 * `null` takes the field away.
 *
 *     readAnswerText('panels = 40')?.[0]?.value // 40
 */
export function readAnswerText(text: string): AnswerChange[] | null {
  const parts = text.split(/[;\n]/).map((it) => it.trim());
  const read = parts.filter((it) => it !== '').map(readOne);
  return read.length === 0 || read.includes(null) ? null : (read as AnswerChange[]);
}

/**
 * The changes that deciding makes besides the decision itself: those of the answer that `after` has decided for, where
 * `before` had not. None for a decision that is not decided, or an answer that carries none.
 */
export function decidingChanges(before: Pick<Decision, 'decided'> | null, after: Decision): readonly Change[] {
  if (after.decided === undefined || after.decided === before?.decided) return [];
  return answersOf(after).find(({ name }) => name === after.decided)?.changes ?? [];
}

/** What keeps the answers of a decision from being made on a build; `field` names the answer. */
export function answerProblems(build: Build, decision: Decision): Problem[] {
  return answersOf(decision).flatMap(({ changes }, at) => {
    const made = applyChanges(build, changes);
    const field = `decisions.${decision.id}.answers.${at}.changes`;
    return made.ok ? [] : made.problems.map((it) => ({ ...it, field }));
  });
}

function changeOf({ value, ...change }: AnswerChange): Change {
  return { kind: 'set', ...change, ...(value === undefined || value === null ? {} : { value }) };
}

const LISTS = 'parameters|parts|steps|gates|suppliers|people|machines';
const FULL = new RegExp(`^(${LISTS})\\.([^.=:]+)\\.([A-Za-z]+)\\s*=\\s*(.+)$`);

function readOne(text: string): AnswerChange | null {
  const full = FULL.exec(text);
  if (full !== null) {
    const [, list, key, field, value] = full;
    return { list: list as AnswerChange['list'], key: key!.trim(), field: field!, value: typedValue(value!) };
  }
  const way = /^([a-z0-9][a-z0-9-]*)\s*:\s*([a-z0-9][a-z0-9-]*)$/.exec(text);
  if (way !== null) return { list: 'parts', key: way[1]!, field: 'way', value: way[2]! };
  const parameter = /^([\p{L}_][\p{L}\p{M}\p{N}_ ]*?)\s*=\s*(.+)$/u.exec(text);
  if (parameter === null) return null;
  const [, name, value] = parameter;
  return { list: 'parameters', key: name!.replace(/ +/g, '_'), field: 'value', value: typedValue(value!) };
}

function typedValue(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text.trim();
  }
}
