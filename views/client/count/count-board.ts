/**
 * What the page shows: the server's last state with this phone's entries on top, drawn again when either changes, and
 * the line that speaks of the last tap.
 */
import type { RunningClock } from '../../../server/model/log/index.ts';
import { phoneTexts as words } from '../../texts/count/phone.ts';
import type { CountState, CountStep } from '../outbox/count-wire.ts';
import type { Outbox } from '../outbox/outbox.ts';
import { fetchBodies } from '../tickets/count-fill.ts';
import { newest, remember, shapeOf } from './count-memory.ts';
import { createOverlay } from './count-overlay.ts';
import { fetchPage, renewFrameSoon, replaceTickets } from './count-page.ts';
import { type Sync, startSync } from './count-sync.ts';
import {
  draw,
  drawKept,
  drawTap,
  drawTicket,
  entryWords,
  isTyping,
  type PageFacts,
  placeOf,
  type Shown,
  say,
  wayBack,
} from './count-view.ts';

const PAGE_OF_MINE = 60;
const PAINT_FIRST_MS = 30;

export interface Board {
  readonly outbox: Outbox;
  readonly sync: Sync;
  state(): CountState;
  shown(): Shown;
  /** The step whose ticket an element is on; null where it is on none. */
  stepOf(element: Element | null): CountStep | null;
  /** The clock that runs, the taps that are not worked out yet among what it is read from. */
  clock(): RunningClock | null;
  /** The server's clock, as far as it is known. */
  nowMs(): number;
  refresh(): void;
  /** Draws what a tap changes on the tickets; the rest follows. */
  paint(): void;
  /** Draws what is in a ticket that is open, where that is still to be done; anything else stays as it is. */
  fill(fold: Element): void;
  /** The line under the tickets speaks of these entries from now on: those of the last tap. */
  speakOf(entries: readonly string[]): void;
  /** A further page of my entries: those on this phone at once, those elsewhere with the next state. */
  showOlder(): void;
  /** Whether a copy of the page is kept. */
  hearOfCopy(kept: boolean): void;
}

/** Shows `page`, or what the phone has heard since, on the tickets in `sheet`; `copied` as `PageFacts` has it. */
export function createBoard(sheet: HTMLElement, page: CountState, outbox: Outbox, copied: boolean | null): Board {
  let state = newest(page);
  let most = PAGE_OF_MINE;
  const overlay = createOverlay();
  const shownNow = (): Shown => ({ state, most, ...overlay(state, outbox.list(), outbox.durable) });
  let shown = shownNow();
  let lastTap: readonly string[] = [];
  let coming: ReturnType<typeof setTimeout> | undefined;

  const sync = startSync({
    build: page.build,
    outbox,
    most: () => most,
    onNews: (news) => {
      if (news !== null) learn(news);
      refresh();
    },
  });
  const facts = (): PageFacts => ({ outbox, contact: sync.contact(), offsetMs: sync.offsetMs(), copied });
  const fill = (fold: Element): void => fillOpen(fold, shown, sync.offsetMs() ?? 0);
  outbox.onChange(refreshSoon);

  return {
    outbox,
    sync,
    state: () => state,
    shown: () => shown,
    stepOf: (element) => stepAt(shown, element),
    clock: () => shownNow().running,
    nowMs: () => Date.now() + (sync.offsetMs() ?? 0),
    refresh,
    paint: () => {
      shown = drawTap(shownNow(), shown, sync.offsetMs() ?? 0);
      drawKept(shown, facts());
      refreshSoon();
    },
    fill,
    speakOf: (entries) => {
      lastTap = entries;
    },
    showOlder: () => {
      most += PAGE_OF_MINE;
      refresh();
      sync.tapped();
    },
    hearOfCopy: (kept) => {
      copied = kept;
      refresh();
    },
  };

  function refresh(): void {
    clearTimeout(coming);
    coming = undefined;
    shown = shownNow();
    draw(shown, facts());
    drawLast(shown, lastTap);
  }

  /** After what a tap has painted: taps in a row are worked out together, behind the paint. */
  function refreshSoon(): void {
    coming ??= setTimeout(refresh, PAINT_FIRST_MS);
  }

  function learn(news: CountState): void {
    renew(sheet, state, news, { fill, refresh });
    state = news;
    remember(news);
  }
}

interface Drawing {
  fill(ticket: Element): void;
  refresh(): void;
}

/** New tickets come when the plan itself has changed, a new frame when anything was counted or edited. */
function renew(sheet: HTMLElement, before: CountState, news: CountState, { fill, refresh }: Drawing): void {
  if (shapeOf(news) !== shapeOf(before)) void renewTickets(sheet, fill).then((renewed) => renewed && refresh());
  if (news.logSeq !== before.logSeq || news.revision !== before.revision) renewFrameSoon();
}

function fillOpen(fold: Element, shown: Shown, offsetMs: number): void {
  const step = fold.matches('.ticket[open]') ? stepAt(shown, fold) : null;
  if (step !== null) drawTicket(step, shown, offsetMs);
}

function stepAt({ steps }: Shown, element: Element | null): CountStep | null {
  const id = element?.closest<HTMLElement>('[data-step]')?.dataset.step;
  return steps.find((step) => step.id === id) ?? null;
}

/** The line of the last tap, and the way back from it where the thumb is. */
function drawLast({ mine, state }: Shown, lastTap: readonly string[]): void {
  const undo = document.getElementById('undo-last')!;
  const ones = mine.filter(({ id }) => lastTap.includes(id)).reverse();
  const ways = ones.map(wayBack).filter((way) => way !== null);
  const first = ways.find(({ label }) => label === words.undo) ?? ways[0];
  undo.hidden = first === undefined;
  if (ones.length > 0) say('last', ones.map((one) => words.told(entryWords(one, state), placeOf(one))).join(' '));
  if (first === undefined) return;
  const same = ways.filter(({ label }) => label === first.label);
  say('undo-last', first.label);
  Object.assign(undo.dataset, { act: first.act, id: same.map(({ id }) => id).join(' '), of: lastTap.join(' ') });
}

/** Renews the tickets, once nobody has a finger or a cursor on them; false where the server does not answer. */
async function renewTickets(sheet: Element, fill: Drawing['fill']): Promise<boolean> {
  const page = await fetchPage();
  const fresh = page?.getElementById('tickets');
  if (!fresh) return false;
  await fetchBodies(fresh);
  await quiet(sheet);
  replaceTickets(sheet, fresh, fill);
  say('last', words.planChanged);
  return true;
}

/** Resolves when nothing on the tickets is pressed or being typed into. */
async function quiet(sheet: Element): Promise<void> {
  while (sheet.matches(':active, :has(:active)') || isTyping(document.activeElement)) {
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}
