/** The Count page: a tap is kept, then shown, then sent. */

import { countTexts as words } from '../../texts/count.ts';
import { keepCopy, mayKeepCopy } from '../copy/count-copy.ts';
import { type Draft, openOutbox } from '../outbox/outbox.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';
import { answer } from './count-answer.ts';
import { beforeTap, duePause, pauseOf, startOf } from './count-clock.ts';
import { newest, remember, shapeOf } from './count-memory.ts';
import { fetchPage, renewFrameSoon, replaceTickets } from './count-page.ts';
import { startSync } from './count-sync.ts';
import { listenToTools } from './count-tools.ts';
import {
  draw,
  entryWords,
  isOn,
  isTyping,
  placeOf,
  type Shown,
  say,
  setOf,
  shownOf,
  ticketOf,
  wayBack,
} from './count-view.ts';
import type { CountState, CountStep, EntryKind } from './count-wire.ts';

const MOST_UNITS = 1_000_000;
const TICK_MS = 15_000;
const PAGE_OF_MINE = 60;
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

const sync = startSync({
  build,
  outbox,
  most: () => most,
  onNews: (news) => {
    if (news !== null) learn(news);
    refresh();
  },
});
outbox.onChange(refresh);
openWhereLeft();
listen();
setInterval(tick, TICK_MS);
refresh();
void keepCopy().then((kept) => {
  copied = kept;
  refresh();
});
document.documentElement.dataset.counting = 'ready';

function refresh(): void {
  shown = shownOf(state, outbox, most);
  draw(shown, { outbox, contact: sync.contact(), offsetMs: sync.offsetMs(), copied });
  drawLast();
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

/** Takes a newer state of the count; new tickets come when the plan itself has changed. */
function learn(news: CountState): void {
  const before = shapeOf(state);
  const moved = news.logSeq !== state.logSeq || news.revision !== state.revision;
  state = news;
  remember(news);
  if (shapeOf(news) !== before) void renewTickets();
  if (moved) renewFrameSoon();
}

/** Keeps drafts, then draws, answers and sends. Nothing is drawn unless it is kept. */
async function count(drafts: readonly Draft[], sound = true): Promise<boolean> {
  let kept: readonly Kept[];
  try {
    kept = await outbox.keep(drafts);
  } catch {
    say('last', words.place.full);
    answer('refused', isOn('sound'));
    return false;
  }
  if (sound) answer('counted', isOn('sound'));
  const told = kept.filter(({ entry }) => !SILENT_KINDS.includes(entry.kind)).map(({ id }) => id);
  if (told.length > 0) lastTap = told;
  refresh();
  sync.tapped();
  return true;
}

function countUnits(step: CountStep, kind: EntryKind, n: number, more: Partial<Draft> = {}): Promise<boolean> {
  const ticket = ticketOf(step.id);
  const set = ticket === null ? null : setOf(ticket, step);
  const timed = kind === 'done' || kind === 'scrapped';
  const before = timed && step.kind === 'step' ? beforeTap(shown.running, step, set, Date.now()) : [];
  return count([...before, { kind, step: step.id, ...(set === null ? {} : { set }), n, ...more }]);
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
    if (step !== null) void typed(step, form);
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

async function typed(step: CountStep, form: HTMLFormElement): Promise<void> {
  const kind = form.dataset.typed as EntryKind;
  const reason = (form.elements.namedItem('reason') as HTMLInputElement | HTMLSelectElement | null)?.value.trim();
  const why = reason ? { reason } : {};
  if (kind === 'failed') {
    if (await failed(step, form, why)) close(form);
    return;
  }
  const field = form.elements.namedItem('n') as HTMLInputElement;
  const n = Number(field.value);
  if (field.value === '' || !Number.isInteger(n) || n < 1 || n > MOST_UNITS) {
    say('last', words.tooFew(field.value));
    answer('refused', isOn('sound'));
    field.focus();
    return;
  }
  const machine = form.dataset.machine;
  if (await countUnits(step, kind, n, { ...why, ...(machine ? { machine } : {}) })) {
    if (kind === 'done') field.value = '';
    close(form);
  }
}

/** A gate that failed: the failure and what goes back are kept together. */
async function failed(step: CountStep, form: HTMLFormElement, why: { reason?: string }): Promise<boolean> {
  const set = setOf(ticketOf(step.id)!, step);
  const at = set === null ? {} : { set };
  const drafts: Draft[] = [{ kind: 'failed', step: step.id, ...at, ...why }];
  for (const back of step.sendsBack) {
    const field = form.elements.namedItem(back.step) as HTMLInputElement;
    const n = Number(field.value || 0);
    if (!Number.isInteger(n) || n < 0 || n > MOST_UNITS) {
      say('last', words.tooFew(field.value));
      field.focus();
      return false;
    }
    const target = state.steps.find((one) => one.id === back.step);
    const whole = target?.sets.every((one) => one.set === null) ?? true;
    if (n > 0) drafts.push({ kind: 'sent-back', step: back.step, ...(whole ? {} : at), n, ...why });
  }
  return count(drafts);
}

/** Takes entries back; where they are undos themselves, what they took back counts again. `of` are the counts that it is about. */
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
  const nowMs = Date.now() + (sync.offsetMs() ?? 0);
  for (const load of shown.steps.flatMap((step) => step.underWay)) {
    if (load.kind !== 'loaded' || Date.parse(load.backAt) > nowMs || due.has(load.entry)) continue;
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
  if (ones.length > 0) say('last', ones.map((one) => `${entryWords(one, state)}: ${placeOf(one)}`).join('; '));
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
