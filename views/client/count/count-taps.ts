/** What a tap becomes: entries that are kept first, then shown, then sent. */

import { phoneTexts as words } from '../../texts/count/phone.ts';
import type { CountStep, EntryKind } from '../outbox/count-wire.ts';
import type { Draft } from '../outbox/outbox.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';
import { answer } from './count-answer.ts';
import type { Board } from './count-board.ts';
import { beforeTap, pauseOf, startOf } from './count-clock.ts';
import { chosenMe } from './count-me.ts';
import { isOn, say, setOf, ticketOf } from './count-view.ts';

export interface Taps {
  /** Keeps drafts, then draws what they change, answers and sends. False where they could not be kept. */
  count(drafts: readonly Draft[], sound?: boolean): Promise<boolean>;
  /** Units of a step, after the taps before it, with what the run clock notes of them; `also` is kept with them. */
  countUnits(
    step: CountStep,
    kind: EntryKind,
    n: number,
    more?: Partial<Draft>,
    also?: readonly Draft[],
  ): Promise<boolean>;
  /** A button of a ticket: units, or a gate that has passed. */
  tapped(step: CountStep, kind: EntryKind, n: number): Promise<boolean>;
  /** One more on the open ticket; false where none is open that counts units. */
  pressed(): Promise<boolean>;
  /** Starts the run clock of a step, or pauses it. */
  switchClock(step: CountStep): Promise<boolean>;
  /**
   * Takes entries back; where they are undos themselves, what they took back counts again. `of` are the counts that it
   * is about.
   */
  takeBack(ids: readonly string[], of: readonly string[]): Promise<void>;
}

const SILENT_KINDS: readonly EntryKind[] = ['began', 'paused', 'confirmed', 'undo'];
const OF_NOBODY: readonly EntryKind[] = ['undo', 'confirmed', 'lost'];

/** The taps of a board. */
export function createTaps(board: Board): Taps {
  const { outbox, sync } = board;
  /** The tap before: the next reads the run clock when that one is kept. */
  let tapBefore: Promise<unknown> = Promise.resolve();

  const count: Taps['count'] = async (drafts, sound = true) => {
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
    if (told.length > 0) board.speakOf(told);
    board.paint();
    sync.tapped();
    return true;
  };

  const countUnits: Taps['countUnits'] = (...tap) => {
    const counted = tapBefore.then(() => countNext(...tap));
    tapBefore = counted.catch(() => {});
    return counted;
  };

  const countNext: Taps['countUnits'] = (step, kind, n, more = {}, also = []) => {
    const set = chosenSet(step);
    const timed = kind === 'done' || (kind === 'scrapped' && more.counted !== true);
    const before = timed && step.kind === 'step' ? beforeTap(board.clock(), step, set, Date.now()) : [];
    return count([...before, { kind, step: step.id, ...inSet(set), n, ...more }, ...also]);
  };

  return {
    count,
    countUnits,
    tapped: (step, kind, n) =>
      kind === 'passed' ? count([{ kind, step: step.id, ...inSet(chosenSet(step)) }]) : countUnits(step, kind, n),
    pressed: async () => {
      const step = board.stepOf(document.querySelector('.ticket[open]'));
      if (step === null || step.kind !== 'step') return false;
      await countUnits(step, 'done', 1);
      return true;
    },
    switchClock: (step) => {
      const { running } = board.shown();
      if (running !== null && running.step === step.id) return count([pauseOf(running, Date.now())], false);
      return count([...(running === null ? [] : [pauseOf(running)]), startOf(step.id, chosenSet(step))], false);
    },
    takeBack: async (ids, of) => {
      if (!(await count(ids.map((id) => ({ kind: 'undo', undoes: id }))))) return;
      board.speakOf(of);
      board.refresh();
    },
  };
}

/** The set that is chosen on the ticket of a step; null where the step is for the whole, or has no ticket. */
export function chosenSet(step: CountStep): number | null {
  const ticket = ticketOf(step.id);
  return ticket === null ? null : setOf(ticket, step);
}

/** A set as an entry holds it: left out where there is none. */
export function inSet(set: number | null): { set?: number } {
  return set === null ? {} : { set };
}

/** An entry of whoever says on this phone who they are; lost time is of whom it names. */
function signed(draft: Draft): Draft {
  const me = chosenMe();
  return me === '' || OF_NOBODY.includes(draft.kind) ? draft : { ...draft, person: me };
}
