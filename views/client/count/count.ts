/** The Count page: a tap is kept, then shown, then sent. Opens its parts, and says who hears what. */

import { askLanguage, LANGUAGES } from '../../../server/model/texts/language.ts';
import { keepCopy, mayKeepCopy } from '../copy/count-copy.ts';
import type { CountState, EntryKind } from '../outbox/count-wire.ts';
import { openOutbox } from '../outbox/outbox.ts';
import { fetchBodies } from '../tickets/count-fill.ts';
import { unpacked } from '../tickets/packed.ts';
import { createBoard } from './count-board.ts';
import { numberTyped, unfolded } from './count-folds.ts';
import { lost, typed } from './count-forms.ts';
import { openMe } from './count-me.ts';
import { createTaps } from './count-taps.ts';
import { listenToTools } from './count-tools.ts';
import { ticketOf } from './count-view.ts';
import { watchClock } from './count-watch.ts';

// The phone speaks as its page does.
askLanguage(() => LANGUAGES.find((one) => one === document.documentElement.lang) ?? 'en');

const sheet = document.getElementById('tickets')!;
const page = unpacked(sheet.dataset.state!) as CountState;
const [outbox] = await Promise.all([openOutbox(page.build), fetchBodies(sheet)]);
// A place over plain HTTP keeps no copy, and is known at once.
const board = createBoard(sheet, page, outbox, mayKeepCopy() ? null : false);
const taps = createTaps(board);

openWhereLeft();
listen();
watchClock(board, taps);
board.refresh();
openMe(board.state());
void keepCopy().then(board.hearOfCopy);
document.documentElement.dataset.counting = 'ready';

/** Whoever comes back to the page goes on with the step that they counted last, while it has units left. */
function openWhereLeft(): void {
  const counted = outbox.list().filter(({ entry }) => entry.kind === 'done');
  const last = counted.at(-1)?.entry.step;
  const step = board.shown().steps.find(({ id }) => id === last);
  const ticket = step?.sets.some(({ left }) => left > 0) ? (ticketOf(step.id) as HTMLDetailsElement | null) : null;
  if (ticket !== null) ticket.open = true;
}

function listen(): void {
  document.addEventListener('click', ({ target }) => {
    const button = (target as Element).closest<HTMLElement>('button');
    if (button !== null) clicked(button);
  });
  document.addEventListener('submit', (event) => {
    const form = event.target as HTMLFormElement;
    if (form.dataset.typed === undefined) return;
    event.preventDefault();
    const step = board.stepOf(form);
    if (form.dataset.typed === 'lost') void lost(board, taps, form);
    else if (step !== null) void typed(board, taps, step, form, event.submitter);
  });
  document.addEventListener('toggle', ({ target }) => toggled(target as Element), { capture: true });
  document.addEventListener('input', ({ target }) => numberTyped(target as HTMLInputElement));
  listenToTools(taps.pressed);
  window.addEventListener('beforeunload', (event) => {
    if (outbox.list().some(({ state }) => state === 'waiting')) event.preventDefault();
  });
}

function toggled(fold: Element): void {
  board.fill(fold);
  unfolded(fold, board.nowMs(), board.state().zone);
}

function clicked(button: HTMLElement): void {
  const { tap, n, act, id, of, clock } = button.dataset;
  const step = board.stepOf(button);
  if (tap !== undefined && step !== null) void taps.tapped(step, tap as EntryKind, Number(n ?? 1));
  else if (clock !== undefined && step !== null) void taps.switchClock(step);
  else if (act === 'undo') void taps.takeBack(id!.split(' '), (of ?? id!).split(' '));
  else if (act === 'confirm') void taps.count([{ kind: 'confirmed', confirms: id! }]);
  else if (act === 'again') void outbox.tryAgain(id!.split(' ')).then(board.sync.tapped);
  else if (act === 'settle') void outbox.settle(id!);
  else if (button.id === 'older') board.showOlder();
}
