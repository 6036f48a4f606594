/** What is typed into the forms of a ticket, and into that of lost time: read, refused in a sentence, or kept. */

import { phoneTexts as words } from '../../texts/count/phone.ts';
import type { CountState, CountStep, EntryKind } from '../outbox/count-wire.ts';
import type { Draft } from '../outbox/outbox.ts';
import { answer } from './count-answer.ts';
import type { Board } from './count-board.ts';
import { chosenSet, inSet, type Taps } from './count-taps.ts';
import { isOn, say } from './count-view.ts';
import { instantOf } from './wall-time.ts';

const MOST_UNITS = 1_000_000;
const MINUTE_MS = 60_000;

/** A form of a step as it was sent. */
interface Filled {
  readonly step: CountStep;
  readonly form: HTMLFormElement;
  /** The set that is chosen on the ticket. */
  readonly set: number | null;
  readonly why: { readonly reason?: string };
}

/** Takes a form of a step that was sent by the button `pressed`; it is closed once what it says is kept. */
export async function typed(
  board: Board,
  taps: Taps,
  step: CountStep,
  form: HTMLFormElement,
  pressed: HTMLElement | null,
): Promise<void> {
  const kind = form.dataset.typed as EntryKind;
  const reason = (form.elements.namedItem('reason') as HTMLInputElement | HTMLSelectElement | null)?.value.trim();
  const why = reason ? { reason } : {};
  const filled = { step, form, set: chosenSet(step), why };
  if (kind === 'promised') return void (await promised(board, taps, step, form));
  if (kind === 'failed') {
    const drafts = failure(board.state(), filled);
    if (drafts !== null && (await taps.count(drafts))) close(form);
    return;
  }
  const n = numberIn(field(form, 'n'), 1);
  if (n === null) return;
  const machine = form.dataset.machine;
  const how = (pressed as HTMLButtonElement | null)?.value ?? 'uncounted';
  const isKept =
    kind === 'scrapped'
      ? await scrapped(board.state(), taps, filled, n, how)
      : await taps.countUnits(step, kind, n, { ...why, ...(machine ? { machine } : {}) });
  if (!isKept) return;
  if (kind === 'done') field(form, 'n').value = '';
  close(form);
}

/** Time that somebody lost, or a machine: from an hour that is not ahead, until any later one. */
export async function lost({ state, nowMs, sync }: Board, taps: Taps, form: HTMLFormElement): Promise<void> {
  const [from, until] = (['from', 'until'] as const).map((name) => instantOf(field(form, name).value, state().zone));
  if (from == null || until == null || until <= from || from > nowMs() + MINUTE_MS)
    return refuse(words.lostWhen, field(form, 'from'));
  const [what, id, n] = field(form, 'of').value.split(' ');
  const of = what === 'person' ? { person: id! } : what === 'machine' ? { machine: id! } : {};
  const some = n === undefined ? {} : { n: Number(n) };
  const phoneMs = Math.min(from, nowMs()) - (sync.offsetMs() ?? 0);
  if (await taps.count([{ kind: 'lost', ...of, ...some, phoneMs, until: new Date(until).toISOString() }])) close(form);
}

/** The supplier's own word for what is on its way. */
async function promised({ state, nowMs }: Board, taps: Taps, step: CountStep, form: HTMLFormElement): Promise<void> {
  const until = instantOf(field(form, 'until').value, state().zone);
  if (until === null || until <= nowMs()) return refuse(words.promisedWhen, field(form, 'until'));
  const set = step.underWay.find(({ kind }) => kind === 'ordered')?.set ?? null;
  await taps.count([{ kind: 'promised', step: step.id, ...inSet(set), until: new Date(until).toISOString() }]);
}

/** A gate that failed: the failure and what goes back, kept together; null where a number is none. */
function failure(state: CountState, { step, form, set, why }: Filled): Draft[] | null {
  const drafts: Draft[] = [{ kind: 'failed', step: step.id, ...inSet(set), ...why }];
  for (const back of step.sendsBack) {
    const n = numberIn(field(form, back.step), 0);
    if (n === null) return null;
    if (n > 0) drafts.push({ kind: 'sent-back', step: back.step, ...setIn(state, back.step, set), n, ...why });
  }
  return drafts;
}

/**
 * What was lost, with the parts that are lost with it, or what is to be done again: kept together, so that one undo
 * takes all of it back.
 */
async function scrapped(state: CountState, taps: Taps, filled: Filled, n: number, how: string): Promise<boolean> {
  const { step, form, set, why } = filled;
  const have = step.sets.filter((one) => set === null || one.set === set).reduce((sum, one) => sum + one.counted, 0);
  if (how !== 'uncounted' && n > have) {
    refuse(words.notSoMany(n, have), field(form, 'n'));
    return false;
  }
  if (how === 'sent-back') return taps.countUnits(step, 'sent-back', n, why);
  const drafts = lostParts(state, filled);
  if (drafts === null) return false;
  return taps.countUnits(step, 'scrapped', n, { ...why, counted: how === 'counted' }, drafts);
}

/** The parts that are lost too, where that is unfolded: each is scrapped at the step that it had passed last. */
function lostParts(state: CountState, { step, form, set, why }: Filled): Draft[] | null {
  if (!form.querySelector('.lost-parts[open]')) return [];
  const drafts: Draft[] = [];
  for (const part of step.parts) {
    const n = numberIn(field(form, `part-${part.step}`), 0);
    if (n === null) return null;
    if (n > 0)
      drafts.push({ kind: 'scrapped', step: part.step, ...setIn(state, part.step, set), n, counted: true, ...why });
  }
  return drafts;
}

/** The same set of another step, where that is counted by sets. */
function setIn({ steps }: CountState, step: string, set: number | null): { set?: number } {
  const target = steps.find((one) => one.id === step);
  const isWhole = target?.sets.every((one) => one.set === null) ?? true;
  return isWhole ? {} : inSet(set);
}

/** A number that was typed; null, with what is wrong said, where it is none. */
function numberIn(typed: HTMLInputElement, least: number): number | null {
  const n = Number(typed.value === '' && least === 0 ? 0 : typed.value);
  if ((typed.value !== '' || least === 0) && Number.isInteger(n) && n >= least && n <= MOST_UNITS) return n;
  refuse(words.tooFew(typed.value), typed);
  return null;
}

function refuse(what: string, typed: HTMLElement): void {
  say('last', what);
  answer('refused', isOn('sound'));
  typed.focus();
}

function field(form: HTMLFormElement, name: string): HTMLInputElement {
  return form.elements.namedItem(name) as HTMLInputElement;
}

function close(form: HTMLFormElement): void {
  const more = form.closest<HTMLDetailsElement>('details.more');
  if (more === null) return;
  more.open = false;
  more.querySelector('summary')?.focus();
}
