/**
 * Ticks of the pack list where the network is gone: each is kept on the phone in the outbox that Count uses, and sent
 * when the laptop answers. Where the browser keeps nothing, the form goes to the server as it is.
 */
import { keepCopy } from '../copy/count-copy.ts';
import { startSync } from '../count/count-sync.ts';
import { type Outbox, openOutbox } from '../outbox/outbox.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';

const MOST_MINE = 60;
/** Entries that were made on this page: of these it says what became of them. */
const mine = new Set<string>();
/** What was written here, and what the sheet said there. */
const written = new WeakMap<Element, { readonly own: string; readonly words: string }>();

void begin();

async function begin(): Promise<void> {
  const build = location.pathname.split('/')[2] ?? '';
  const outbox = await openOutbox(build);
  if (!outbox.durable) return;
  const sync = startSync({ build, outbox, most: () => MOST_MINE, onNews: () => paint(outbox) });
  document.addEventListener(
    'submit',
    (event) => {
      const form = (event.target as HTMLElement).closest<HTMLFormElement>('form.pack-tap');
      if (form === null) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      void tick(outbox, form).then(() => sync.tapped());
    },
    true,
  );
  outbox.onChange(() => paint(outbox));
  document.addEventListener('htmx:after:swap', () => paint(outbox));
  paint(outbox);
  void keepCopy();
}

/** What the tap says of the box: packed, or the last tick taken back, whether the server has that one or not. */
async function tick(outbox: Outbox, form: HTMLFormElement): Promise<void> {
  const box = form.dataset.box ?? '';
  const told = standing(outbox, form);
  const kept = await outbox.keep([told === null ? { kind: 'packed', box } : { kind: 'undo', undoes: told }]);
  for (const { id } of kept) mine.add(id);
}

/** The tick that stands for a box, by the sheet and by what was kept here after it; null: it is not packed. */
function standing(outbox: Outbox, form: HTMLFormElement): string | null {
  const own = fresh(outbox, form);
  return own.reduce<string | null>(
    (told, { id, entry }) => (entry.kind === 'packed' ? id : entry.undoes === told ? null : told),
    form.querySelector<HTMLInputElement>('[name="undoes"]')?.value ?? null,
  );
}

/** Entries about a box that the sheet may not know yet and that were not refused, in the order of tapping. */
function fresh(outbox: Outbox, form: HTMLFormElement): readonly Kept[] {
  const after = Number(form.querySelector<HTMLInputElement>('[name="after"]')?.value ?? 0);
  return about(outbox, form).filter(({ state, seq }) => state !== 'refused' && (seq === null || seq > after));
}

/** All entries of this phone about a box, and those that take one of them, or the one on the sheet, back. */
function about(outbox: Outbox, form: HTMLFormElement): readonly Kept[] {
  const shown = form.querySelector<HTMLInputElement>('[name="undoes"]')?.value;
  const own = new Set(shown === undefined ? [] : [shown]);
  return outbox.list().filter(({ id, entry }) => {
    const isOwn = entry.box === form.dataset.box || (entry.undoes !== undefined && own.has(entry.undoes));
    if (isOwn) own.add(id);
    return isOwn;
  });
}

/** Each tick as it is on this phone, and where it is; a tap that was refused changes nothing, and says why. */
function paint(outbox: Outbox): void {
  for (const form of document.querySelectorAll<HTMLFormElement>('form.pack-tap')) {
    const isPacked = standing(outbox, form) !== null;
    const button = form.querySelector('button');
    const { tick = '', untick = '' } = form.dataset;
    button?.setAttribute('aria-pressed', String(isPacked));
    const word = button?.firstChild;
    if (word) word.textContent = isPacked ? untick : tick;
    const told = form.querySelector('[data-told]');
    if (told !== null) write(told, saidOf(outbox, form));
  }
}

/** Puts words in the place of those of the sheet, or these back; what a newer sheet says is its own again. */
function write(place: Element, words: string | null): void {
  const before = written.get(place);
  const own = before !== undefined && place.textContent === before.words ? before.own : (place.textContent ?? '');
  place.textContent = words ?? own;
  written.set(place, { own, words: place.textContent });
}

/** What became of the last tap on a box, where the sheet does not say it yet. */
function saidOf(outbox: Outbox, form: HTMLFormElement): string | null {
  const last = about(outbox, form)
    .filter(({ id }) => mine.has(id))
    .at(-1);
  if (last?.state === 'refused') return last.reasons.join(' ');
  const own = fresh(outbox, form);
  const { kept = '', sent = '' } = form.dataset;
  return own.length === 0 ? null : own.some(({ state }) => state === 'waiting') ? kept : sent;
}
