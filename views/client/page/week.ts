/**
 * Draws a week of hours: a finger or a pen over the days draws spans by the quarter hour, or takes them out where it
 * began on one. What is drawn goes into the field in which hours are typed; what is typed there is shown as drawn.
 */
import { parseWeek, type Span, type Week, weekText, withSpan } from './week-text.ts';

const DAY = 1440;
const QUARTER = 15;
/** Pixels that a finger may shake without drawing. */
const SLOP = 6;

interface Stroke {
  readonly picker: HTMLElement;
  readonly before: Week;
  readonly day: number;
  readonly minute: number;
  readonly x: number;
  readonly y: number;
  readonly erases: boolean;
  drawn: Week | null;
}

let stroke: Stroke | null = null;
let drewJustNow = false;
const weeks = new WeakMap<HTMLElement, Week>();

const strips = (picker: Element): HTMLElement[] => [...picker.querySelectorAll<HTMLElement>('.week-strip')];
const boxes = (picker: Element): HTMLInputElement[] => [
  ...picker.querySelectorAll<HTMLInputElement>('.week-strip input'),
];
const hoursField = (picker: Element): HTMLInputElement | null =>
  picker.closest('form')?.querySelector<HTMLInputElement>('input[name=hours]') ?? null;
const fromField = (picker: Element): HTMLInputElement | null =>
  picker.querySelector<HTMLInputElement>('input[name=week-from]');

/** The week as its ticks say, by whole hours. */
function ticked(picker: Element): Week {
  return boxes(picker).reduce<Week>(
    (week, { checked, value }) => {
      const [day, hour] = value.split('-').map(Number) as [number, number];
      return checked ? withSpan(week, day, { from: hour * 60, to: hour * 60 + 60 }, false) : week;
    },
    Array.from({ length: 7 }, () => []),
  );
}

/** Takes the field's text for the week where it can be read, else the ticks. */
function readPicker(picker: HTMLElement): void {
  const field = hoursField(picker);
  const typed = field === null ? null : parseWeek(field.value);
  weeks.set(picker, typed ?? ticked(picker));
  if (typed !== null) agree(picker, field!.value.trim());
  show(picker, weeks.get(picker)!);
}

/** The drawing is the one of this text: the server takes the text then. */
function agree(picker: HTMLElement, text: string): void {
  const from = fromField(picker);
  if (from !== null) from.value = text;
  tick(picker);
}

function tick(picker: HTMLElement): void {
  const week = weeks.get(picker)!;
  for (const box of boxes(picker)) {
    const [day, hour] = box.value.split('-').map(Number) as [number, number];
    box.checked = week[day]!.some(({ from, to }) => from < hour * 60 + 60 && to > hour * 60);
  }
}

function show(picker: HTMLElement, week: Week): void {
  picker.classList.add('drawn');
  for (const [day, strip] of strips(picker).entries()) {
    const spans = week[day] ?? [];
    const said = strip.parentElement?.querySelector('.week-said');
    if (said) said.textContent = spans.map(spanText).join(', ');
    strip.querySelector('.week-spans')?.replaceChildren(...spans.map(barOf));
  }
}

function spanText({ from, to }: Span): string {
  return `${clock(from)}–${clock(to)}`;
}

const clock = (at: number): string =>
  `${String(Math.floor(at / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')}`;

function barOf({ from, to }: Span): HTMLElement {
  const bar = document.createElement('i');
  bar.style.left = `${(100 * from) / DAY}%`;
  bar.style.width = `${(100 * (to - from)) / DAY}%`;
  return bar;
}

/** Writes what was drawn where hours are typed, unless something is typed there that only the server can read. */
function keep(picker: HTMLElement, week: Week): void {
  const field = hoursField(picker);
  const isOurs = field !== null && (parseWeek(field.value) !== null || field.value.trim() === fromField(picker)?.value);
  weeks.set(picker, week);
  show(picker, week);
  tick(picker);
  if (isOurs) {
    field.value = weekText(week);
    agree(picker, field.value);
  }
  field?.dispatchEvent(new Event('input', { bubbles: true }));
}

/** The day and the minute under a pointer, held within the week. */
function placeOf(picker: HTMLElement, { clientX, clientY }: PointerEvent): { day: number; minute: number } {
  const rects = strips(picker).map((strip) => strip.getBoundingClientRect());
  const day = Math.max(0, rects.filter(({ top }) => clientY >= top).length - 1);
  const { left, width } = rects[day]!;
  return { day, minute: Math.min(DAY, Math.max(0, ((clientX - left) / width) * DAY)) };
}

document.addEventListener('pointerdown', (event) => {
  const strip = event.target instanceof Element ? event.target.closest<HTMLElement>('.week-strip') : null;
  const picker = strip?.closest<HTMLElement>('.week') ?? null;
  if (picker === null || !event.isPrimary || event.button !== 0) return;
  readPicker(picker);
  const { day, minute } = placeOf(picker, event);
  const before = weeks.get(picker)!;
  const erases = before[day]!.some(({ from, to }) => from <= minute && minute < to);
  stroke = { picker, before, day, minute, x: event.clientX, y: event.clientY, erases, drawn: null };
});

document.addEventListener('pointermove', (event) => {
  if (stroke === null || !event.isPrimary) return;
  const { x, y, before, picker, erases } = stroke;
  if (stroke.drawn === null && Math.hypot(event.clientX - x, event.clientY - y) < SLOP) return;
  const to = placeOf(picker, event);
  const span = {
    from: Math.floor(Math.min(stroke.minute, to.minute) / QUARTER) * QUARTER,
    to: Math.ceil(Math.max(stroke.minute, to.minute, 1) / QUARTER) * QUARTER,
  };
  const [first, last] = [Math.min(stroke.day, to.day), Math.max(stroke.day, to.day)];
  stroke.drawn = before.reduce<Week>(
    (week, _, day) => (day < first || day > last ? week : withSpan(week, day, span, erases)),
    before,
  );
  show(picker, stroke.drawn);
});

addEventListener('pointerup', () => {
  if (stroke?.drawn) {
    keep(stroke.picker, stroke.drawn);
    drewJustNow = true;
    setTimeout(() => {
      drewJustNow = false;
    });
  }
  stroke = null;
});

addEventListener('pointercancel', () => {
  if (stroke !== null) show(stroke.picker, stroke.before);
  stroke = null;
});

// The end of a stroke is no tap on the hour under it.
addEventListener(
  'click',
  (event) => {
    if (drewJustNow && event.target instanceof Element && event.target.closest('.week-strip')) event.preventDefault();
  },
  true,
);

document.addEventListener('input', ({ target }) => {
  if (!(target instanceof HTMLInputElement)) return;
  const picker = target.closest('form')?.querySelector<HTMLElement>('.week');
  if (!picker) return;
  if (target.name === 'hours') readPicker(picker);
  if (target.name !== 'week') return;
  const [day, hour] = target.value.split('-').map(Number) as [number, number];
  const before = weeks.get(picker) ?? ticked(picker);
  keep(picker, withSpan(before, day, { from: hour * 60, to: hour * 60 + 60 }, !target.checked));
});

function look(): void {
  for (const picker of document.querySelectorAll<HTMLElement>('.week')) readPicker(picker);
}
document.addEventListener('htmx:after:swap', look);
document.addEventListener('htmx:after:settle', look);
addEventListener('pageshow', look);
