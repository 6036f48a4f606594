/** The parameters that are not known yet, and the values at which they are looked at. */
import type { Parameter, Range } from '../../model/index.ts';
import type { Planned } from '../stages/index.ts';

/** A parameter that is known only as low, likely and high. */
export interface Uncertain {
  readonly name: string;
  readonly range: Range;
  readonly parameter: Parameter;
}

/** The uncertain parameters of a planned case, without those that it has been given a value for. */
export function uncertainIn({ build, asked }: Pick<Planned, 'build' | 'asked'>): Uncertain[] {
  return (build.parameters ?? []).flatMap((parameter) => {
    const { name, range } = parameter;
    const isOpen = range !== undefined && range.high > range.low && !asked.overrides?.has(name);
    return isOpen ? [{ name, range, parameter }] : [];
  });
}

/** This many parameters are looked at in all combinations of low and high: 16 of them. */
const MOST_COMBINED = 4;

/**
 * Values to look at, besides the likely ones: every combination of low and high of up to four parameters; of more, each
 * alone at low and at high, and all of them together. What rises or falls with each parameter is most and least at one
 * of the combinations.
 */
export function cornersOf(uncertain: readonly Uncertain[]): ReadonlyMap<string, number>[] {
  if (uncertain.length === 0) return [];
  if (uncertain.length <= MOST_COMBINED) {
    return Array.from({ length: 2 ** uncertain.length }, (_, corner) => {
      const ends = uncertain.map(({ name, range }, i) => [name, (corner >> i) & 1 ? range.high : range.low] as const);
      return new Map(ends);
    });
  }
  const all = (end: 'low' | 'high') => new Map(uncertain.map(({ name, range }) => [name, range[end]]));
  const alone = uncertain.flatMap(({ name, range }) => [new Map([[name, range.low]]), new Map([[name, range.high]])]);
  return [all('low'), all('high'), ...alone];
}
