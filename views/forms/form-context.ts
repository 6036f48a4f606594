/** What the parts of a form know of it, and the values in it by their paths: `name`, `phases.1.machine`. */
import type { Build, Problem } from '../../server/model/index.ts';
import type { EditList, FormValues } from '../types.ts';
import type { Field } from './fields.ts';

export interface Context {
  readonly build: Build;
  readonly list: EditList | 'build';
  readonly key: string | null;
  readonly values: FormValues;
  /** Problems by the path of the input they stand beside. */
  readonly problems: readonly (readonly [string, Problem])[];
  /** The list whose last row is new. */
  readonly added: string | undefined;
}

/** What is wrong at an input, by its path. */
export function problemsAt({ problems }: Context, path: string): Problem[] {
  return problems.filter(([at]) => at === path).map(([, it]) => it);
}

/** Rows of a list that have been begun. */
export function rowCount(field: Pick<Field, 'key'>, values: FormValues): number {
  const prefix = `${field.key}.`;
  const numbers = Object.keys(values)
    .filter((key) => key.startsWith(prefix))
    .map((key) => Number(key.slice(prefix.length).split('.')[0]));
  return numbers.length === 0 ? 0 : Math.max(...numbers) + 1;
}

/** A value as one text; of several the last, for none the empty text. */
export function one(value: string | readonly string[] | undefined): string {
  return typeof value === 'string' ? value : (value?.at(-1) ?? '');
}

/** A value as all its texts. */
export function many(value: string | readonly string[] | undefined): readonly string[] {
  if (value === undefined) return [];
  return typeof value === 'string' ? [value] : value;
}

/** Whether anything has been typed or chosen. */
export function filled(value: string | readonly string[] | undefined): boolean {
  return many(value).some((it) => it !== '');
}
