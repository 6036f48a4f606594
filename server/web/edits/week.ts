/** A week of hours between its text and its drawing, and the picks that fill the text. */
import { hasWeek, PICKED_HOURS, WEEK_FIELD, WEEK_FROM } from '../../../views/forms/week.tsx';
import type { EditList, FormValues } from '../../../views/types.ts';
import { hoursInWords } from '../../../views/words/weekly-hours.ts';
import { hoursText, readHours } from '../../engine/index.ts';
import { problem, problemTexts, type Result } from '../../model/index.ts';
import { inLanguage } from '../language.ts';

/** The values of a form of people or machines with the drawing of its hours; others stay as they are. */
export function withDrawing(list: EditList | 'build', values: FormValues): FormValues {
  if (!hasWeek(list)) return values;
  const text = usualHours(textOf(values.hours));
  return { ...values, ...(text === '' ? {} : { hours: text }), [WEEK_FIELD]: ticksOf(text), [WEEK_FROM]: text };
}

/** The values after a tap on a pick such as `week:evenings`: its hours behind those that are typed or drawn. */
export function withPick(list: EditList | 'build', values: FormValues, action: string): FormValues {
  const pick = PICKED_HOURS[action.slice('week:'.length) as keyof typeof PICKED_HOURS];
  if (pick === undefined || !hasWeek(list)) return values;
  const drawn = drawnHours(list, values);
  const before = textOf((drawn.ok ? drawn.value : values).hours);
  return withDrawing(list, { ...values, hours: joined(before, pick) });
}

/**
 * The values with the hours that were drawn, where the drawing was changed and the text was not. Refused, with the
 * field and both, where each says something else.
 */
export function drawnHours(list: EditList | 'build', typedValues: FormValues): Result<FormValues> {
  const values = hasWeek(list) ? { ...typedValues, hours: usualHours(textOf(typedValues.hours)) } : typedValues;
  const from = values[WEEK_FROM];
  if (!hasWeek(list) || from === undefined) return { ok: true, value: values };
  const drawn = [values[WEEK_FIELD] ?? []].flat().toSorted();
  if (drawn.join() === ticksOf(textOf(from)).toSorted().join()) return { ok: true, value: values };
  const [typed, hours] = [textOf(values.hours), hoursOfTicks(drawn, textOf(from))];
  if (typed === textOf(from) || typed === hours) {
    return { ok: true, value: { ...values, hours, [WEEK_FROM]: hours } };
  }
  const field = `${list}.hours`;
  return { ok: false, problems: [problem('hours', field, typed, problemTexts.hours.drawnToo(typed, hours))] };
}

/**
 * Hours said by their kind alone, in the hours that a pick of that name stands for, so that what was taken is in sight;
 * other hours as they are.
 *
 *     usualHours('evenings and weekend days') // 'Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00'
 */
export function usualHours(text: string): string {
  const said = text
    .toLowerCase()
    .split(/[;,&+\n]|\band\b/)
    .map((kind) => kind.trim())
    .filter(Boolean);
  const picks = said.map((kind) => USUAL.find(([words]) => words.test(kind))?.[1]);
  return said.length === 0 || picks.includes(undefined) ? text : picks.map((pick) => PICKED_HOURS[pick!]).join('; ');
}

const USUAL: readonly (readonly [RegExp, keyof typeof PICKED_HOURS])[] = [
  [/^(?:in the |every |each )?evenings?$/, 'evenings'],
  [/^(?:at |on |the |every |each )*weekends?(?: days?)?$/, 'weekend'],
  [/^(?:on )?(?:working|work|week) ?days?$/, 'working'],
  [/^(?:in the )?(?:daytime|by day)$/, 'daytime'],
];

function joined(before: string, pick: string): string {
  if (before === '' || pick === 'always' || /^(?:always|never)$/i.test(before)) return pick;
  return before.includes(pick) ? before : `${before.replace(/;\s*$/, '')}; ${pick}`;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

/** The hours of a text by the ticks that they are drawn as, in minutes of the day; none where it cannot be read. */
function drawingOf(text: string): ReadonlyMap<string, readonly Span[]> {
  const week = readHours(text);
  const drawing = new Map<string, readonly Span[]>();
  for (const [day, spans] of (week.ok ? week.value : []).entries()) {
    for (const { from, to } of spans) {
      for (let hour = Math.floor(from / 60); hour * 60 < to; hour++) {
        const tick = `${(day + Math.floor(hour / 24)) % 7}-${hour % 24}`;
        const midnight = Math.floor(hour / 24) * 1440;
        const span = { from: Math.max(from, hour * 60) - midnight, to: Math.min(to, (hour + 1) * 60) - midnight };
        drawing.set(tick, [...(drawing.get(tick) ?? []), span]);
      }
    }
  }
  return drawing;
}

/** Each hour of the week in which somebody is there, all of it or a part. */
function ticksOf(text: string): string[] {
  return [...drawingOf(text).keys()];
}

/**
 * The hours that ticks stand for, in the English words that the field reads; an hour that was ticked before stays what
 * it was, to the minute.
 */
function hoursOfTicks(ticks: readonly string[], from: string): string {
  const before = drawingOf(from);
  const drawn = new Set(ticks);
  const week = Array.from({ length: 7 }, (_, day) =>
    Array.from({ length: 24 }, (_, hour) => hour)
      .filter((hour) => drawn.has(`${day}-${hour}`))
      .flatMap((hour) => before.get(`${day}-${hour}`) ?? [{ from: hour * 60, to: (hour + 1) * 60 }]),
  );
  return inLanguage('en', () => hoursInWords(hoursText(week)));
}

function textOf(value: FormValues[string] | undefined): string {
  return (typeof value === 'string' ? value : (value?.at(-1) ?? '')).trim();
}
