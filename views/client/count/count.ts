/** The Count page: a tap is kept, then shown, then sent. */

import type { RunningClock } from '../../../server/model/log/index.ts';
import '../../german/count.ts';
import { askLanguage, LANGUAGES } from '../../language.ts';
import { countTexts as words } from '../../texts/count.ts';
import { keepCopy, mayKeepCopy } from '../copy/count-copy.ts';
import { type Draft, openOutbox } from '../outbox/outbox.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';
import { answer } from './count-answer.ts';
import { beforeTap, duePause, pauseOf, runningClock, startOf } from './count-clock.ts';
import { newest, recallMe, remember, rememberMe, shapeOf } from './count-memory.ts';
import { afterTap } from './count-overlay.ts';
import { fetchPage, renewFrameSoon, replaceTickets } from './count-page.ts';
import { startSync } from './count-sync.ts';
import { listenToTools } from './count-tools.ts';
import {
  draw,
  drawKept,
  drawTap,
  entryWords,
  isOn,
  isTyping,
  type PageFacts,
  placeOf,
  type Shown,
  say,
  setOf,
  shownOf,
  ticketOf,
  wayBack,
} from './count-view.ts';
import type { CountState, CountStep, EntryKind } from './count-wire.ts';
import { instantOf, wallOf } from './wall-time.ts';

// The phone speaks as its page does.
askLanguage(() => LANGUAGES.find((one) => one === document.documentElement.lang) ?? 'en');

const MOST_UNITS = 1_000_000;
const TICK_MS = 15_000;
const MINUTE_MS = 60_000;
const PAGE_OF_MINE = 60;
const PAINT_FIRST_MS = 30;
const SILENT_KINDS: readonly EntryKind[] = ['began', 'paused', 'confirmed', 'undo'];

const sheet = document.getElementById('tickets')!;
let state = JSON.parse(sheet.dataset.state!) as CountState;
const build = state.build;
state = newest(state);

const outbox = await openOutbox(build);
let most = PAGE_OF_MINE;
let shown: Shown = shownOf(state, outbox, most);
/** Null while it is being kept: a place over plain HTTP is known at once. */
let copied: boolean | null = mayKeepCopy() ? null : false;
/** The entries that the line under the tickets speaks of: those of the last tap. */
let lastTap: readonly string[] = [];
const due = new Set<string>();
let coming: ReturnType<typeof setTimeout> | undefined;
/** The tap before: the next reads the run clock when that one is kept. */
let tapBefore: Promise<unknown> = Promise.resolve();

const sync = startSync({
  build,
  outbox,
  most: () => most,
  onNews: (news) => {
    if (news !== null) learn(news);
    refresh();
  },
});
outbox.onChange(refreshSoon);
openWhereLeft();
listen();
setInterval(tick, TICK_MS);
refresh();
openMe();
void keepCopy().then((kept) => {
  copied = kept;
  refresh();
});
document.documentElement.dataset.counting = 'ready';

function refresh(): void {
  clearTimeout(coming);
  coming = undefined;
  shown = shownOf(state, outbox, most);
  draw(shown, facts());
  drawLast();
}

function facts(): PageFacts {
  return { outbox, contact: sync.contact(), offsetMs: sync.offsetMs(), copied };
}

/** The clock that runs, the taps that are not worked out yet among what it is read from. */
function clockNow(): RunningClock | null {
  return coming === undefined ? shown.running : runningClock(outbox.list());
}

/** After what a tap has painted: taps in a row are worked out together, behind the paint. */
function refreshSoon(): void {
  coming ??= setTimeout(refresh, PAINT_FIRST_MS);
}

/** Whoever comes back to the page goes on with the step that they counted last, while it has units left. */
function openWhereLeft(): void {
  const last = outbox
    .list()
    .filter(({ entry }) => entry.kind === 'done')
    .at(-1);
  const step = shown.steps.find(({ id }) => id === last?.entry.step);
  const ticket = step?.sets.some(({ left }) => left > 0) ? (ticketOf(step.id) as HTMLDetailsElement | null) : null;
  if (ticket !== null) ticket.open = true;
}

/** Who counts on this phone: kept for the build, and said with every entry. */
function openMe(): void {
  const me = document.getElementById('me') as HTMLSelectElement | null;
  if (me === null) return;
  const named = state.people.find(({ id, name }) => id === state.who || name === state.who);
  const known = recallMe(build) ?? named?.id ?? '';
  me.value = state.people.some(({ id }) => id === known) ? known : '';
  me.addEventListener('change', () => rememberMe(build, me.value));
}

/** Takes a newer state of the count; new tickets come when the plan itself has changed. */
function learn(news: CountState): void {
  const before = shapeOf(state);
  const moved = news.logSeq !== state.logSeq || news.revision !== state.revision;
  state = news;
  remember(news);
  if (shapeOf(news) !== before) void renewTickets();
  if (moved) renewFrameSoon();
}

/**
 * Keeps drafts, then draws what they change, answers and sends; the rest is worked out behind that. Nothing is drawn
 * unless it is kept.
 */
async function count(drafts: readonly Draft[], sound = true): Promise<boolean> {
  let kept: readonly Kept[];
  try {
    kept = await outbox.keep(drafts.map(signed));
  } catch {
    say('last', words.place.full);
    answer('refused', isOn('sound'));
    return false;
  }
  if (sound) answer('counted', isOn('sound'));
  const told = kept.filter(({ entry }) => !SILENT_KINDS.includes(entry.kind)).map(({ id }) => id);
  if (told.length > 0) lastTap = told;
  if (outbox.durable) paint(kept);
  drawKept(shown, facts());
  refreshSoon();
  sync.tapped();
  return true;
}

/** What a tap changes on the tickets, without going through all that was ever kept here. */
function paint(kept: readonly Kept[]): void {
  if (kept.some(({ entry }) => entry.kind === 'undo')) return;
  shown = drawTap(afterTap(shown.steps, kept), shown, sync.offsetMs() ?? 0);
}

/** An entry of whoever says on this phone who they are; lost time is of whom it names. */
function signed(draft: Draft): Draft {
  const me = document.getElementById('me') as HTMLSelectElement | null;
  const isTheirs = draft.kind !== 'undo' && draft.kind !== 'confirmed' && draft.kind !== 'lost';
  return me === null || me.value === '' || !isTheirs ? draft : { ...draft, person: me.value };
}

/** Units of a step, after the taps before it, with what the run clock notes of them. */
function countUnits(...tap: Parameters<typeof countNext>): Promise<boolean> {
  const counted = tapBefore.then(() => countNext(...tap));
  tapBefore = counted.catch(() => {});
  return counted;
}

function countNext(
  step: CountStep,
  kind: EntryKind,
  n: number,
  more: Partial<Draft> = {},
  also: readonly Draft[] = [],
): Promise<boolean> {
  const ticket = ticketOf(step.id);
  const set = ticket === null ? null : setOf(ticket, step);
  const timed = kind === 'done' || (kind === 'scrapped' && more.counted !== true);
  const before = timed && step.kind === 'step' ? beforeTap(clockNow(), step, set, Date.now()) : [];
  return count([...before, { kind, step: step.id, ...(set === null ? {} : { set }), n, ...more }, ...also]);
}

function listen(): void {
  document.addEventListener('click', (event) => {
    const target = (event.target as Element).closest<HTMLElement>('button');
    if (target === null) return;
    const { tap, n, act, id, of } = target.dataset;
    const step = stepOf(target);
    if (tap !== undefined && step !== null) void tapped(step, tap as EntryKind, Number(n ?? 1));
    else if (target.dataset.clock !== undefined && step !== null) void switchClock(step);
    else if (act === 'undo') void takeBack(id!.split(' '), (of ?? id!).split(' '));
    else if (act === 'confirm') void count([{ kind: 'confirmed', confirms: id! }]);
    else if (act === 'again') void outbox.tryAgain(id!.split(' ')).then(sync.tapped);
    else if (act === 'settle') void outbox.settle(id!);
    else if (target.id === 'older') showOlder();
  });
  document.addEventListener('submit', (event) => {
    const form = event.target as HTMLFormElement;
    if (form.dataset.typed === undefined) return;
    event.preventDefault();
    const step = stepOf(form);
    if (form.dataset.typed === 'lost') void lost(form);
    else if (step !== null) void typed(step, form, (event as SubmitEvent).submitter);
  });
  document.addEventListener('toggle', ({ target }) => unfolded(target as Element), { capture: true });
  document.addEventListener('input', ({ target }) => {
    const field = target as HTMLInputElement;
    const parts = field.name === 'n' ? field.form?.querySelector('.lost-parts') : null;
    if (parts?.hasAttribute('open')) fillParts(parts);
  });
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) tick();
  });
  listenToTools(pressed);
  window.addEventListener('beforeunload', (event) => {
    if (outbox.list().some((entry) => entry.state === 'waiting')) event.preventDefault();
  });
}

async function tapped(step: CountStep, kind: EntryKind, n: number): Promise<void> {
  if (kind === 'passed') {
    const set = setOf(ticketOf(step.id)!, step);
    await count([{ kind, step: step.id, ...(set === null ? {} : { set }) }]);
  } else await countUnits(step, kind, n);
}

async function typed(step: CountStep, form: HTMLFormElement, pressed: HTMLElement | null): Promise<void> {
  const kind = form.dataset.typed as EntryKind;
  const reason = (form.elements.namedItem('reason') as HTMLInputElement | HTMLSelectElement | null)?.value.trim();
  const why = reason ? { reason } : {};
  if (kind === 'failed') {
    if (await failed(step, form, why)) close(form);
    return;
  }
  if (kind === 'promised') return void (await promised(step, form));
  const n = numberIn(form.elements.namedItem('n') as HTMLInputElement, 1);
  if (n === null) return;
  const machine = form.dataset.machine;
  const isKept =
    kind === 'scrapped'
      ? await scrapped(step, form, n, why, (pressed as HTMLButtonElement | null)?.value ?? 'uncounted')
      : await countUnits(step, kind, n, { ...why, ...(machine ? { machine } : {}) });
  if (!isKept) return;
  if (kind === 'done') (form.elements.namedItem('n') as HTMLInputElement).value = '';
  close(form);
}

/** A number that was typed; null, with what is wrong said, where it is none. */
function numberIn(field: HTMLInputElement, least: number): number | null {
  const n = Number(field.value === '' && least === 0 ? 0 : field.value);
  if ((field.value !== '' || least === 0) && Number.isInteger(n) && n >= least && n <= MOST_UNITS) return n;
  refuse(words.tooFew(field.value), field);
  return null;
}

function refuse(what: string, field: HTMLElement | null): void {
  say('last', what);
  answer('refused', isOn('sound'));
  field?.focus();
}

/**
 * What was lost, with the parts that are lost with it, or what is to be done again: kept together, so that one undo
 * takes all of it back.
 */
async function scrapped(
  step: CountStep,
  form: HTMLFormElement,
  n: number,
  why: { reason?: string },
  how: string,
): Promise<boolean> {
  const set = setOf(ticketOf(step.id)!, step);
  const have = step.sets.filter((one) => set === null || one.set === set).reduce((sum, one) => sum + one.counted, 0);
  if (how !== 'uncounted' && n > have) {
    refuse(words.notSoMany(n, have), form.elements.namedItem('n') as HTMLElement);
    return false;
  }
  if (how === 'sent-back') return countUnits(step, 'sent-back', n, why);
  const drafts = lostParts(step, form, set, why);
  if (drafts === null) return false;
  return countUnits(step, 'scrapped', n, { ...why, counted: how === 'counted' }, drafts);
}

/** The parts that are lost too, where that is unfolded: each is scrapped at the step that it had passed last. */
function lostParts(
  step: CountStep,
  form: HTMLFormElement,
  set: number | null,
  why: { reason?: string },
): Draft[] | null {
  if (!form.querySelector('.lost-parts[open]')) return [];
  const drafts: Draft[] = [];
  for (const part of step.parts) {
    const n = numberIn(form.elements.namedItem(`part-${part.step}`) as HTMLInputElement, 0);
    if (n === null) return null;
    if (n > 0) drafts.push({ kind: 'scrapped', step: part.step, ...setIn(part.step, set), n, counted: true, ...why });
  }
  return drafts;
}

/** The same set of another step, where that is counted by sets. */
function setIn(step: string, set: number | null): { set?: number } {
  const target = state.steps.find((one) => one.id === step);
  const whole = target?.sets.every((one) => one.set === null) ?? true;
  return whole || set === null ? {} : { set };
}

/** Unfolded fields get what they most likely say. */
function unfolded(target: Element): void {
  if (!(target instanceof HTMLDetailsElement) || !target.open) return;
  if (target.classList.contains('lost-parts')) fillParts(target);
  const from = target.querySelector<HTMLInputElement>('input[name="from"]');
  const until = target.querySelector<HTMLInputElement>('input[name="until"]');
  if (from === null || until === null) return;
  // The fold tells that it opened a moment later: by then somebody may be typing.
  if (document.activeElement === from || document.activeElement === until) return;
  from.value = wallOf(nowMs(), state.zone);
  until.value = `${from.value.slice(0, 10)}T23:59`;
}

function fillParts(parts: Element): void {
  const n = Number((parts.closest('form')!.elements.namedItem('n') as HTMLInputElement).value) || 0;
  for (const field of parts.querySelectorAll<HTMLInputElement>('[data-each]'))
    field.value = String(n * Number(field.dataset.each));
}

/** The supplier's own word for what is on its way. */
async function promised(step: CountStep, form: HTMLFormElement): Promise<void> {
  const field = form.elements.namedItem('until') as HTMLInputElement;
  const until = instantOf(field.value, state.zone);
  if (until === null || until <= nowMs()) return refuse(words.promisedWhen, field);
  const set = step.underWay.find(({ kind }) => kind === 'ordered')?.set ?? null;
  const at = set === null ? {} : { set };
  await count([{ kind: 'promised', step: step.id, ...at, until: new Date(until).toISOString() }]);
}

/** Time that somebody lost, or a machine: from an hour that is not ahead, until any later one. */
async function lost(form: HTMLFormElement): Promise<void> {
  const [from, until] = (['from', 'until'] as const).map((name) => {
    const field = form.elements.namedItem(name) as HTMLInputElement;
    return instantOf(field.value, state.zone);
  });
  if (from == null || until == null || until <= from || from > nowMs() + MINUTE_MS)
    return refuse(words.lostWhen, form.elements.namedItem('from') as HTMLElement);
  const [what, id, n] = (form.elements.namedItem('of') as HTMLSelectElement).value.split(' ');
  const of = what === 'person' ? { person: id! } : what === 'machine' ? { machine: id! } : {};
  const some = n === undefined ? {} : { n: Number(n) };
  const phoneMs = Math.min(from, nowMs()) - (sync.offsetMs() ?? 0);
  if (await count([{ kind: 'lost', ...of, ...some, phoneMs, until: new Date(until).toISOString() }])) close(form);
}

/** The server's clock, as far as it is known. */
function nowMs(): number {
  return Date.now() + (sync.offsetMs() ?? 0);
}

/** A gate that failed: the failure and what goes back are kept together. */
async function failed(step: CountStep, form: HTMLFormElement, why: { reason?: string }): Promise<boolean> {
  const set = setOf(ticketOf(step.id)!, step);
  const at = set === null ? {} : { set };
  const drafts: Draft[] = [{ kind: 'failed', step: step.id, ...at, ...why }];
  for (const back of step.sendsBack) {
    const field = form.elements.namedItem(back.step) as HTMLInputElement;
    const n = numberIn(field, 0);
    if (n === null) return false;
    if (n > 0) drafts.push({ kind: 'sent-back', step: back.step, ...setIn(back.step, set), n, ...why });
  }
  return count(drafts);
}

/**
 * Takes entries back; where they are undos themselves, what they took back counts again. `of` are the counts that it is
 * about.
 */
async function takeBack(ids: readonly string[], of: readonly string[]): Promise<void> {
  if (!(await count(ids.map((id) => ({ kind: 'undo', undoes: id }))))) return;
  lastTap = of;
  refresh();
}

/** A further page of my entries: those on this phone at once, those elsewhere with the next state. */
function showOlder(): void {
  most += PAGE_OF_MINE;
  refresh();
  sync.tapped();
}

async function switchClock(step: CountStep): Promise<void> {
  const { running } = shown;
  const set = setOf(ticketOf(step.id)!, step);
  if (running !== null && running.step === step.id) await count([pauseOf(running, Date.now())], false);
  else await count([...(running === null ? [] : [pauseOf(running)]), startOf(step.id, set)], false);
}

/** Once in a while: the countdowns, and the clock that has been left running. */
function tick(): void {
  const { running } = shown;
  const pause = duePause(
    running,
    Date.now(),
    shown.steps.find((step) => step.id === running?.step),
  );
  if (pause !== null) void count([pause], false);
  refresh();
  for (const load of shown.steps.flatMap((step) => step.underWay)) {
    if (load.kind !== 'loaded' || Date.parse(load.backAt ?? '') > nowMs() || due.has(load.entry)) continue;
    due.add(load.entry);
    answer('time', isOn('sound'));
  }
}

/** One more on the open ticket; false where none is open that counts units. */
async function pressed(): Promise<boolean> {
  const open = document.querySelector<HTMLElement>('.ticket[open]');
  const step = shown.steps.find((one) => one.id === open?.dataset.step);
  if (step === undefined || step.kind !== 'step') return false;
  await countUnits(step, 'done', 1);
  return true;
}

function drawLast(): void {
  const undo = document.getElementById('undo-last')!;
  const ones = shown.mine.filter(({ id }) => lastTap.includes(id)).reverse();
  const ways = ones.map(wayBack).filter((way) => way !== null);
  const first = ways.find(({ label }) => label === words.undo) ?? ways[0];
  undo.hidden = first === undefined;
  if (ones.length > 0) say('last', ones.map((one) => words.told(entryWords(one, state), placeOf(one))).join(' '));
  if (first === undefined) return;
  const same = ways.filter(({ label }) => label === first.label);
  say('undo-last', first.label);
  Object.assign(undo.dataset, { act: first.act, id: same.map(({ id }) => id).join(' '), of: lastTap.join(' ') });
}

/** The tickets anew, once nobody has a finger or a cursor on them. */
async function renewTickets(): Promise<void> {
  const page = await fetchPage();
  const fresh = page?.getElementById('tickets');
  if (!fresh) return;
  await quiet();
  replaceTickets(sheet, fresh);
  say('last', words.planChanged);
  refresh();
}

/** Resolves when nothing on the tickets is pressed or being typed into. */
async function quiet(): Promise<void> {
  while (sheet.matches(':active, :has(:active)') || isTyping(document.activeElement)) {
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}

function stepOf(element: Element): CountStep | null {
  const id = element.closest<HTMLElement>('[data-step]')?.dataset.step;
  return shown.steps.find((step) => step.id === id) ?? null;
}

function close(form: HTMLFormElement): void {
  const more = form.closest<HTMLDetailsElement>('details.more');
  if (more === null) return;
  more.open = false;
  more.querySelector('summary')?.focus();
}
