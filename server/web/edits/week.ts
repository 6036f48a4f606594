/** A week of hours between its text and its drawing, and the picks that fill the text. */
import { hasWeek, WEEK_FIELD, WEEK_FROM } from '../../../views/forms/week.tsx';
import { weekTexts } from '../../../views/texts/begin/week.ts';
import type { EditList, FormValues } from '../../../views/types.ts';
import { hoursInWords } from '../../../views/words/weekly-hours.ts';
import { hoursText, readHours } from '../../engine/index.ts';
import { problem, problemTexts, type Result } from '../../model/index.ts';

/** The values of a form of people or machines with the drawing of its hours; others stay as they are. */
export function withDrawing(list: EditList | 'build', values: FormValues): FormValues {
  if (!hasWeek(list)) return values;
  const text = textOf(values.hours);
  return { ...values, [WEEK_FIELD]: ticksOf(text), [WEEK_FROM]: text };
}

/** The values after a tap on a pick such as `week:evenings`: its hours behind those that are typed or drawn. */
export function withPick(list: EditList | 'build', values: FormValues, action: string): FormValues {
  const pick = weekTexts.hours[action.slice('week:'.length) as keyof typeof weekTexts.hours];
  if (pick === undefined || !hasWeek(list)) return values;
  const drawn = drawnHours(list, values);
  const before = textOf((drawn.ok ? drawn.value : values).hours);
  return withDrawing(list, { ...values, hours: joined(before, pick) });
}

/**
 * The values with the hours that were drawn, where the drawing was changed and the text was not. Refused, with the
 * field and both, where each says something else.
 */
export function drawnHours(list: EditList | 'build', values: FormValues): Result<FormValues> {
  const from = values[WEEK_FROM];
  if (!hasWeek(list) || from === undefined) return { ok: true, value: values };
  const drawn = [values[WEEK_FIELD] ?? []].flat().toSorted();
  if (drawn.join() === ticksOf(textOf(from)).toSorted().join()) return { ok: true, value: values };
  const [typed, hours] = [textOf(values.hours), hoursOfTicks(drawn)];
  if (typed === textOf(from) || typed === hours) {
    return { ok: true, value: { ...values, hours, [WEEK_FROM]: hours } };
  }
  const field = `${list}.hours`;
  return { ok: false, problems: [problem('hours', field, typed, problemTexts.hours.drawnToo(typed, hours))] };
}

function joined(before: string, pick: string): string {
  if (before === '' || pick === 'always' || /^(?:always|never)$/i.test(before)) return pick;
  return before.includes(pick) ? before : `${before.replace(/;\s*$/, '')}; ${pick}`;
}

/** Each hour of the week in which somebody is there, all of it or a part; none of a text that cannot be read. */
function ticksOf(text: string): string[] {
  const week = readHours(text);
  if (!week.ok) return [];
  const ticks = week.value.flatMap((spans, day) =>
    spans.flatMap(({ from, to }) =>
      Array.from({ length: Math.ceil(to / 60) - Math.floor(from / 60) }, (_, i) => {
        const hour = Math.floor(from / 60) + i;
        return `${(day + Math.floor(hour / 24)) % 7}-${hour % 24}`;
      }),
    ),
  );
  return [...new Set(ticks)];
}

/** The hours that ticks stand for, in words. */
function hoursOfTicks(ticks: readonly string[]): string {
  const week = Array.from({ length: 7 }, (_, day) =>
    Array.from({ length: 24 }, (_, hour) => hour)
      .filter((hour) => ticks.includes(`${day}-${hour}`))
      .map((hour) => ({ from: hour * 60, to: (hour + 1) * 60 })),
  );
  return hoursInWords(hoursText(week));
}

function textOf(value: FormValues[string] | undefined): string {
  return (typeof value === 'string' ? value : (value?.at(-1) ?? '')).trim();
}
