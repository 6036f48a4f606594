/** A week of hours as spans, and as the text that the drawing writes; what people type otherwise the server reads. */

/** Minutes after midnight, at most 1440. */
export interface Span {
  readonly from: number;
  readonly to: number;
}
/** Monday to Sunday, each day's spans in order. */
export type Week = readonly (readonly Span[])[];

const DAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];

/**
 * The week with a span put into one of its days, or taken out. Spans that touch become one.
 *
 *     weekText(withSpan(parseWeek('Mon 18:00 to 20:00')!, 0, { from: 1200, to: 1320 }, false)) // 'Mon 18:00 to 22:00'
 */
export function withSpan(week: Week, day: number, { from, to }: Span, takesOut: boolean): Week {
  const rest = week[day]!.flatMap((span) => [
    { from: span.from, to: Math.min(span.to, from) },
    { from: Math.max(span.from, to), to: span.to },
  ]);
  const all = [...rest, ...(takesOut ? [] : [{ from, to }])]
    .filter((span) => span.from < span.to)
    .sort((a, b) => a.from - b.from);
  return week.map((spans, at) => (at === day ? joined(all) : spans));
}

/**
 * The text of a week as the field takes it: days that are alike and follow each other are named together.
 *
 *     weekText(parseWeek('mon-fri 18-22:15')!) // 'Mon to Fri 18:00 to 22:15'
 */
export function weekText(week: Week): string {
  const said = week.map((spans) => spans.map(({ from, to }) => `${clock(from)} to ${clock(to)}`).join(', '));
  const parts: string[] = [];
  for (let day = 0, last = 0; day < 7; day = last + 1) {
    last = day;
    while (last < 6 && said[last + 1] === said[day]) last++;
    const days = last === day ? DAYS[day] : `${DAYS[day]}${last === day + 1 ? ',' : ' to'} ${DAYS[last]}`;
    if (said[day] !== '') parts.push(`${days} ${said[day]}`);
  }
  return parts.join('; ');
}

/** The week of a text of named days and times, within one day each; null for any other words. */
export function parseWeek(text: string): Week | null {
  let week: Week = DAYS.map(() => []);
  for (const part of text.toLowerCase().split(';')) {
    if (part.trim() === '') continue;
    const plain = part
      .replace(/\s*(?:\bto\b|\buntil\b|[-–—])\s*/g, '-')
      .replace(/\band\b|,/g, ' ')
      .trim();
    const tokens = plain.split(/\s+/);
    const first = tokens.findIndex((token) => /^\d/.test(token));
    const days = tokens.slice(0, first).map(daysOf);
    const spans = tokens.slice(first).map(spanOf);
    if (first < 1 || days.includes(null) || spans.includes(null)) return null;
    for (const day of days.flatMap((some) => some!)) {
      week = spans.reduce<Week>((all, span) => withSpan(all, day, span!, false), week);
    }
  }
  return week;
}

/** `mon-fri`, `sat`, `daily`. */
function daysOf(token: string): number[] | null {
  if (token === 'daily') return DAYS.map((_, day) => day);
  const [first, last = first, more] = token.split('-').map(dayOf);
  if (first === undefined || first < 0 || last! < first || more !== undefined) return null;
  return DAYS.flatMap((_, day) => (day >= first && day <= last! ? [day] : []));
}

function dayOf(word: string): number {
  return word.length < 3 ? -1 : LONG_DAYS.findIndex((long) => long.startsWith(word));
}

const LONG_DAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'];

/** `18-22:15`. */
function spanOf(token: string): Span | null {
  const [, h1, m1 = '0', h2, m2 = '0'] = /^(\d{1,2})(?::(\d\d))?-(\d{1,2})(?::(\d\d))?$/.exec(token) ?? [];
  if (h1 === undefined || h2 === undefined) return null;
  const [from, to] = [Number(h1) * 60 + Number(m1), Number(h2) * 60 + Number(m2)];
  return Number(m1) < 60 && Number(m2) < 60 && from < to && to <= 1440 ? { from, to } : null;
}

function joined(spans: readonly Span[]): Span[] {
  const all: Span[] = [];
  for (const { from, to } of spans) {
    const last = all.at(-1);
    if (last === undefined || last.to < from) all.push({ from, to });
    else all[all.length - 1] = { from: last.from, to: Math.max(last.to, to) };
  }
  return all;
}

function clock(at: number): string {
  return `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}`;
}
