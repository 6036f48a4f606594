/** What a design keeps to and what of it is not known yet, in words. */
import type { Forecast, ForecastDecision, ForecastLimit, ForecastOrder } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { texts } from '../texts/index.ts';
import { figure, money, percent } from './wording.ts';

const say = texts.ofDesign;

/** What a limit asks for: `at least 0 mm and at most 4 mm`. */
export function boundsText({ least, most, unit }: Pick<ForecastLimit, 'least' | 'most' | 'unit'>): string {
  const bounds = [
    least === null ? null : say.least(measure(least, unit)),
    most === null ? null : say.most(measure(most, unit)),
  ];
  return bounds.filter((it) => it !== null).join(', ');
}

/** A number of the design with its unit. */
export function measure(value: number, unit: string | null): string {
  return unit === null ? figure(value, 4) : `${figure(value, 4)} ${unit}`;
}

/** An open question in words: as typed, or what a trial would tell. */
export function questionText(
  { uncertain = [] }: Pick<Forecast, 'uncertain'>,
  { question, settles }: Pick<ForecastDecision, 'question' | 'settles'>,
): string {
  if (settles === undefined) return question;
  const known = uncertain.find(({ parameter }) => parameter === settles);
  if (known === undefined) return say.settleShort(settles);
  return say.settle(settles, figure(known.low, 4), measure(known.high, known.unit));
}

/** What an order would need more for the high, and at what cost; null where it would not. */
export function highText({ currency }: Pick<Forecast, 'currency'>, { forHigh }: ForecastOrder): string | null {
  if (forHigh === undefined) return null;
  return say.orderHigh(figure(forHigh.more), forHigh.cost === null ? null : money(forHigh.cost, currency));
}

/** `35 units unchecked`; null where none are, and for what is of no part. */
export function uncheckedText({ parts }: Pick<Forecast, 'parts'>, part: string | null): string | null {
  const unchecked = (part === null ? undefined : byId(parts, part)?.unchecked) ?? [];
  const units = unchecked.reduce((sum, one) => sum + one.units, 0);
  return units === 0 ? null : texts.ripple.unchecked(figure(units), units);
}

/**
 * Why more or fewer are left than the design asks for: what counting has told of how many fail. Null where as many are
 * to be made as without it, and for what is of no part.
 *
 *     '20 of 32 failed: what is left is planned with 48 % failing instead of 0 %'
 */
export function yieldText({ parts }: Pick<Forecast, 'parts'>, part: string | null): string | null {
  const own = part === null ? undefined : byId(parts, part);
  if (own?.yieldLearnt === undefined) return null;
  const { given, tried, scrapped, toMakeAsGiven } = own.yieldLearnt;
  if (own.toMake === toMakeAsGiven) return null;
  const [planned, typed] = [percent(1 - own.yield), percent(1 - given)];
  return planned === typed ? null : texts.design.yieldMakes(figure(scrapped), figure(tried), planned, typed);
}
