/**
 * Puts counts, loads, doubts and my entries on the page. Only what differs is touched, so that no button moves under a
 * thumb.
 */
import type { RunningClock } from '../../../server/model/log/index.ts';
import { hoursAndMinutes } from '../../../server/model/texts/length.ts';
import { isolatedText } from '../../isolate.ts';
import { unitsCounted, phoneTexts as words } from '../../texts/count/phone.ts';
import type { CountLoad, CountState, CountStep } from '../outbox/count-wire.ts';
import type { Outbox } from '../outbox/outbox.ts';
import { isCount, type Kept } from '../outbox/outbox-shelf.ts';
import { fillTicket } from '../tickets/count-fill.ts';
import { type Laid, type Mine, openDoubts } from './count-overlay.ts';
import type { Contact } from './count-talk.ts';

export interface Shown extends Laid {
  readonly state: CountState;
  /** How many of my entries are listed. */
  readonly most: number;
}

export interface PageFacts {
  readonly outbox: Outbox;
  readonly contact: Contact;
  readonly offsetMs: number | null;
  /** A copy is kept, so the page opens without a server; null while that is not known yet. */
  readonly copied: boolean | null;
}

const CLOCK_OFF_MIN = 1;
/** A pace read off less than three minutes says nothing. */
const SHORTEST_PACE_HOURS = 0.05;

/** Draws what a tap has changed on the tickets, at once; the rest follows. What is shown then. */
export function drawTap(shown: Shown, before: Shown, offsetMs: number): Shown {
  for (const [at, step] of shown.steps.entries()) if (before.steps[at] !== step) drawTicket(step, shown, offsetMs);
  return shown;
}

/** Draws everything that may have changed. */
export function draw(shown: Shown, facts: PageFacts): void {
  for (const step of shown.steps) drawTicket(step, shown, facts.offsetMs ?? 0);
  drawKept(shown, facts);
  drawDoubts(shown, facts.outbox);
  drawMine(shown);
}

/** `8 done, mount fish, panel 1`. */
export function entryWords(one: Pick<Mine, 'kind' | 'n' | 'step' | 'set'>, state: CountState): string {
  const step = state.steps.find((each) => each.id === one.step);
  const what = kindWords(one, step);
  const place = [step?.name ?? one.step, one.set === null ? null : words.set(state.setName, one.set)];
  const where = place.filter((each) => each !== null).join(', ');
  return where === '' ? what : words.counted(what, where);
}

/** What comes from outside has its own name said too. */
function kindWords({ kind, n }: Pick<Mine, 'kind' | 'n'>, step: CountStep | undefined): string {
  if (kind === 'ordered' && step !== undefined) return words.ordered(unitsCounted(n ?? 1, step));
  if (kind === 'received' && step !== undefined) return words.receivedUnits(unitsCounted(n ?? 1, step));
  return words.kinds[kind]?.(n ?? 1) ?? kind;
}

function timeOf(ms: number, zone: string): string {
  return formatOf(zone, 'hour').format(ms);
}

/** `Fri 4 Dec`. */
function dayOf(ms: number, zone: string): string {
  return formatOf(zone, 'day').format(ms);
}

const FORMATS = {
  hour: { hour: '2-digit', minute: '2-digit' },
  day: { weekday: 'short', day: 'numeric', month: 'short' },
} as const;

/** A format costs as much to make as hundreds of instants to write. */
const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string, what: keyof typeof FORMATS): Intl.DateTimeFormat {
  const name = `${what} ${words.locale} ${timeZone}`;
  const format = formats.get(name) ?? new Intl.DateTimeFormat(words.locale, { ...FORMATS[what], timeZone });
  formats.set(name, format);
  return format;
}

/** The tickets that were looked for; others come when the server draws them again. */
const tickets = new Map<string, HTMLElement>();

/** The ticket of a step; null where it has none. */
export function ticketOf(step: string): HTMLElement | null {
  const known = tickets.get(step);
  if (known?.isConnected) return known;
  const found = document.querySelector<HTMLElement>(`[data-step="${CSS.escape(step)}"]`);
  if (found === null) tickets.delete(step);
  else tickets.set(step, found);
  return found;
}

/** The set that is chosen on a ticket; null where the step is for the whole. */
export function setOf(ticket: HTMLElement, step: CountStep): number | null {
  const chosen = ticket.querySelector<HTMLInputElement>('.sets input:checked');
  return chosen === null ? (step.sets[0]?.set ?? null) : Number(chosen.value);
}

/** What a ticket was drawn from last. */
interface Drawn {
  readonly step: CountStep;
  /** The run clock, where it is on here. */
  readonly clock: RunningClock | null;
}

const drawn = new WeakMap<HTMLElement, Drawn>();

/**
 * Draws the counts of a ticket, and what is in it once it is open. One that is drawn already is left alone, but for
 * what counts down on it.
 */
export function drawTicket(step: CountStep, shown: Shown, offsetMs: number): void {
  const ticket = ticketOf(step.id);
  if (ticket === null) return;
  const clock = shown.running?.step === step.id ? shown.running : null;
  const isNew = ticket.hasAttribute('open') && fillTicket(ticket, step, shown.state.setName);
  const before = isNew ? undefined : drawn.get(ticket);
  if (before?.step === step && before.clock === clock) {
    if (step.underWay.length > 0) drawLoads(ticket, step, shown.state.zone, offsetMs);
    return;
  }
  drawn.set(ticket, { step, clock });
  const sum = (of: (set: CountStep['sets'][number]) => number): number => step.sets.reduce((all, s) => all + of(s), 0);
  const left = sum((set) => set.left);
  const scrapped = sum((set) => set.scrapped);
  put(ticket, 'left', words.left(left));
  put(ticket, 'done', String(sum((set) => set.counted)));
  drawTotal(
    ticket,
    sum((set) => set.total),
  );
  const ready = step.kind === 'step' ? step.readyNow : null;
  put(ticket, 'ready', ready === null ? '' : words.ready(ready));
  put(ticket, 'waits', step.waitsFor === null || (step.readyNow ?? 0) > 0 ? '' : words.waitsFor(step.waitsFor));
  put(ticket, 'scrapped', scrapped > 0 ? words.kinds.scrapped!(scrapped) : '');
  put(ticket, 'failing', step.failing ?? '');
  for (const set of step.sets) {
    const label = ticket.querySelector(`[data-set="${set.set ?? ''}"]`);
    if (label !== null) write(label, words.left(set.left));
  }
  const order = ticket.querySelector<HTMLElement>('[data-typed="ordered"]');
  if (order !== null) order.hidden = step.toOrder === 0;
  const promise = ticket.querySelector<HTMLElement>('[data-typed="promised"]');
  if (promise !== null) promise.hidden = !step.underWay.some(({ kind }) => kind === 'ordered');
  drawLoads(ticket, step, shown.state.zone, offsetMs);
  drawClock(ticket, clock, shown.state.zone);
}

/**
 * What was scrapped or learnt changes how many are made: in `of 96 × fish`, drawn by the server, only the number does.
 */
function drawTotal(ticket: HTMLElement, total: number): void {
  const body = ticket.querySelector<HTMLElement>('.ticket-body[data-of]');
  if (body !== null) body.dataset.of = withTotal(body.dataset.of!, total);
  const of = ticket.querySelector('[data-show="of"]');
  const said = withTotal(of?.textContent ?? '', total);
  if (of !== null && of.textContent !== said) of.textContent = said;
}

/**
 * A text with its first number as `total`.
 *
 *     withTotal('of 96 × fish', 1200) // 'of 1\u202f200 × fish'
 */
export function withTotal(text: string, total: number): string {
  const number = String(total).replaceAll(/\B(?=(?:\d{3})+$)/g, '\u202f');
  return text.replace(/\d+(?:\u202f\d{3})*/, number);
}

/** Countdown of what runs in a machine, to when somebody must be there. The server's clock counts. */
function drawLoads(ticket: HTMLElement, step: CountStep, zone: string, offsetMs: number): void {
  const list = ticket.querySelector('[data-show="loads"]');
  if (list === null) return;
  const nowMs = Date.now() + offsetMs;
  const lines = step.underWay.map((load) =>
    load.kind === 'ordered' ? { text: orderWords(load, zone), due: false } : loadWords(load, step, zone, nowMs),
  );
  fill(list, lines, ({ text, due }, item) => {
    write(item, text);
    item.className = due ? 'threat' : '';
  });
}

function loadWords({ units, backAt }: CountLoad, step: CountStep, zone: string, nowMs: number): Line {
  const backMs = Date.parse(backAt ?? '');
  const [time, minutes] = [timeOf(backMs, zone), (backMs - nowMs) / 60_000];
  const isMachine = step.machine !== null;
  if (minutes > 0) {
    const say = isMachine ? words.loads.back : words.loads.waits;
    return { text: say(units, time, hoursAndMinutes(minutes)), due: false };
  }
  return { text: (isMachine ? words.loads.ready : words.loads.waited)(units, time), due: true };
}

function orderWords({ units, since, backAt, promised }: CountLoad, zone: string): string {
  const due = backAt === null ? null : dayOf(Date.parse(backAt), zone);
  return words.loads.coming(units, dayOf(Date.parse(since), zone), due, promised);
}

interface Line {
  readonly text: string;
  readonly due: boolean;
}

function drawClock(ticket: HTMLElement, here: RunningClock | null, zone: string): void {
  if (here === null) {
    put(ticket, 'clock', words.clock.off);
    put(ticket, 'clock-button', words.clock.start);
    return;
  }
  const hours = (here.heardAt - here.beganAt) / 3_600_000;
  const pace = here.units > 2 && hours >= SHORTEST_PACE_HOURS ? String(Math.round((here.units - 1) / hours)) : null;
  put(ticket, 'clock', words.clock.on(timeOf(here.beganAt, zone), pace));
  put(ticket, 'clock-button', words.clock.pause);
}

/** Draws how many counts wait on the phone, and where they are. */
export function drawKept(shown: Shown, { outbox, contact, offsetMs, copied }: PageFacts): void {
  const waiting = outbox.list().filter((entry) => entry.state === 'waiting');
  const kept = document.getElementById('kept')!;
  const refused = outbox.list().filter((entry) => entry.state === 'refused' && !entry.settled && isCount(entry)).length;
  const said = keptWords(waiting.filter(isCount).length, outbox.list().length, contact, shown.state.zone);
  write(kept, refused > 0 && contact.kind === 'fine' && waiting.length === 0 ? words.kept.refused(refused) : said);
  kept.dataset.contact = contact.kind;
  kept.dataset.waiting = String(waiting.length);
  kept.classList.toggle('threat', contact.kind === 'shut-out' || contact.kind === 'trouble');
  const offMinutes = Math.round((offsetMs ?? 0) / 60_000);
  const place = outbox.durable ? placeWords(copied) : words.place.nothingKept;
  const setMinutes = Math.round(outbox.clockSetMs() / 60_000);
  const clock = [
    ...(Math.abs(offMinutes) >= CLOCK_OFF_MIN ? [words.kept.clockOff(offMinutes)] : []),
    ...(Math.abs(setMinutes) >= CLOCK_OFF_MIN ? [words.kept.clockSet(setMinutes)] : []),
  ];
  const cleared = outbox.putBack() === 0 ? [] : [words.cleared(outbox.putBack())];
  const line = document.getElementById('place')!;
  write(line, [place, ...cleared, ...clock].join(' '));
  line.classList.toggle('threat', !outbox.durable);
}

function placeWords(copied: boolean | null): string {
  if (copied === null) return words.place.beingKept;
  return copied ? words.place.durable : words.place.mustStayOpen;
}

function keptWords(waiting: number, all: number, contact: Contact, zone: string): string {
  switch (contact.kind) {
    case 'silent':
      return words.kept.silent(waiting, contact.sinceMs > 0 ? timeOf(contact.sinceMs, zone) : null);
    case 'shut-out':
      return words.kept.shutOut(waiting);
    case 'trouble':
      return words.kept.trouble(waiting, contact.words);
    default:
      if (waiting > 0) return words.kept.waiting(waiting);
      return all === 0 ? words.kept.none : words.kept.allHere;
  }
}

/** What the server refused, with its reason, and what it asks about; each stays until it is answered. */
function drawDoubts({ state }: Shown, outbox: Outbox): void {
  const refused = outbox
    .list()
    .filter((entry) => entry.state === 'refused' && !entry.settled)
    .map(({ id, entry, reasons }) => ({
      id,
      text: words.refused(entryWords(placed(entry), state), reasons.join(' ')),
      buttons: [again(id), { act: 'settle', id, label: words.putAway }],
    }));
  const asked = openDoubts(state, outbox.list()).map((doubt) => ({
    id: doubt.entry,
    text: words.asked(entryWords(doubt, state), doubt.question),
    buttons: [
      ...(doubt.takeBack === null
        ? []
        : [{ act: 'undo', id: doubt.takeBack.id, label: words.takeBack(doubt.takeBack.whose, doubt.other !== null) }]),
      { act: 'confirm', id: doubt.entry, label: doubt.other === null ? words.keep : words.two },
    ],
  }));
  const lines = [...refused, ...asked];
  const link = document.getElementById('to-doubts')!;
  link.hidden = lines.length === 0;
  write(link, words.doubts(lines.length));
  fill(document.getElementById('doubts')!, lines, ({ id, text, buttons }, item) => {
    if (item.dataset.for === id && item.dataset.text === text) return;
    item.dataset.for = id;
    item.dataset.text = text;
    const says = document.createElement('p');
    says.textContent = isolatedText(text);
    item.replaceChildren(says, ...buttons.map((one) => button(one, `${one.label}: ${text}`)));
  });
}

function drawMine({ mine, state, most }: Shown): void {
  document.getElementById('older')!.hidden = Math.max(mine.length, state.mine.length) < most;
  const list = document.getElementById('mine')!;
  const items = new Map([...list.children].map((item) => [(item as HTMLElement).dataset.for, item as HTMLElement]));
  const lines = mine.slice(0, most);
  let next = list.firstElementChild;
  for (const one of lines) {
    const item = items.get(one.id) ?? document.createElement('li');
    drawMyEntry(one, item, state);
    // A new line comes before those that were there, which stay where they are.
    if (item === next) next = next.nextElementSibling;
    else list.insertBefore(item, next);
  }
  while (list.children.length > lines.length) list.lastElementChild!.remove();
}

function drawMyEntry(one: Mine, item: HTMLElement, state: CountState): void {
  const where = placeOf(one);
  if (item.dataset.for === one.id && item.dataset.where === where) return;
  const text = `${timeOf(one.atMs, state.zone)} ${entryWords(one, state)} `;
  item.dataset.for = one.id;
  item.dataset.where = where;
  item.className = one.undone ? 'undone' : '';
  const place = document.createElement('span');
  place.className = 'quiet small';
  place.textContent = isolatedText(where);
  const says = document.createElement('span');
  says.append(isolatedText(text), place);
  const way = wayBack(one);
  item.replaceChildren(says, ...(way === null ? [] : [button(way, `${way.label}: ${text.trim()}`)]));
}

/** Where one of my entries is, or that it does not count any more. */
export function placeOf(one: Mine): string {
  if (!one.undone) return words.where[one.where];
  return one.undoneBy === null ? words.undone : words.undoneBy(one.undoneBy);
}

/** What can be done about one of my entries; null where somebody else has taken it back. */
export function wayBack(one: Mine): Way | null {
  if (one.where === 'refused') return again(one.id);
  if (!one.undone) return { act: 'undo', id: one.id, of: one.id, label: words.undo };
  if (one.undoneBy !== null) return null;
  return { act: 'undo', id: one.undos.join(' '), of: one.id, label: words.bringBack };
}

interface Way {
  readonly act: string;
  /** Ids with a blank between them. */
  readonly id: string;
  /** The entry that it is about, where that is another. */
  readonly of?: string;
  readonly label: string;
}

function again(id: string): Way {
  return { act: 'again', id, label: words.sendAgain };
}

function placed({ kind, n, step, set }: Kept['entry']): Pick<Mine, 'kind' | 'n' | 'step' | 'set'> {
  return { kind, n: n ?? null, step: step ?? null, set: set ?? null };
}

function button({ act, id, of, label }: Way, said: string): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'slight';
  made.textContent = isolatedText(label);
  made.setAttribute('aria-label', said);
  Object.assign(made.dataset, { act, id, ...(of === undefined ? {} : { of }) });
  return made;
}

/** As many items as there are lines; each is drawn by `each`, which may leave it as it is. */
function fill<T>(list: Element, lines: readonly T[], each: (line: T, item: HTMLElement) => void): void {
  while (list.children.length > lines.length) list.lastElementChild!.remove();
  for (const [index, line] of lines.entries()) {
    const there = list.children[index] as HTMLElement | undefined;
    const item = there ?? document.createElement('li');
    each(line, item);
    if (there === undefined) list.append(item);
  }
}

function put(ticket: HTMLElement, name: string, text: string): void {
  const place = ticket.querySelector(`[data-show="${name}"]`);
  if (place !== null) write(place, text);
}

/** Names from right to left are kept apart, as on the pages that the server draws. */
function write(place: Element, text: string): void {
  const drawn = isolatedText(text);
  if (place.textContent !== drawn) place.textContent = drawn;
}

/** Whether a switch is on. */
export function isOn(id: string): boolean {
  return (document.getElementById(id) as HTMLInputElement).checked;
}

/** Whether keys that arrive there are text. */
export function isTyping(target: EventTarget | null): boolean {
  const element = target as HTMLInputElement | null;
  if (element?.tagName === 'SELECT' || element?.tagName === 'TEXTAREA') return true;
  return element?.tagName === 'INPUT' && element.type !== 'checkbox' && element.type !== 'radio';
}

/** Puts a text into a line of the page; one that is there already is not said again. */
export function say(id: string, text: string): void {
  write(document.getElementById(id)!, text);
}
