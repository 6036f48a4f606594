/** Why there is no date yet, in words. */
import type { Forecast, Missing } from '../../server/model/index.ts';
import { grammarTexts } from '../texts/grammar.ts';
import { texts } from '../texts/index.ts';

const say = texts.countdown.missing;

/** Names of one sentence; what is beyond them is a number. */
const MOST_NAMES = 4;

/** A sentence for each thing that is missing; none where the plan is whole. */
export function missingTexts({ missing = [], steps }: Pick<Forecast, 'missing' | 'steps'>): string[] {
  const nameOf = (id: string) => `“${steps.find((step) => step.id === id)?.name ?? id}”`;
  return missing.map((one) => missingText(one, nameOf));
}

function missingText(missing: Missing, nameOf: (id: string) => string): string {
  if (missing.code === 'no-step') {
    const names = missing.parts.map(({ name, units }) => say.part(name, units));
    return say.noStep(listed(names), names.length > 1);
  }
  if (missing.code === 'too-many-lots') return say.tooManyLots(nameOf(missing.step), missing);
  const names = missing.steps.map(nameOf);
  return missing.code === 'no-time'
    ? say.noTime(listed(names), names.length > 1)
    : say.nobody(listed(names), names.length > 1);
}

/** `a`, `a and b`, `a, b and 3 more`. */
function listed(names: readonly string[]): string {
  const shown =
    names.length > MOST_NAMES ? [...names.slice(0, MOST_NAMES - 1), say.more(names.length - MOST_NAMES + 1)] : names;
  const last = shown.at(-1) ?? '';
  return shown.length < 2 ? last : grammarTexts.and(shown.slice(0, -1).join(', '), last);
}

/** Whether nothing is missing but fewer lots: then there is a bound, and dates with unlimited hands. */
export function isOnlyTooLarge({ missing = [] }: Pick<Forecast, 'missing'>): boolean {
  return missing.length > 0 && missing.every(({ code }) => code === 'too-many-lots');
}
