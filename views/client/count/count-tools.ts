/** What helps with full hands: the pedal, and a screen that stays awake. Each says what it does, or that it cannot. */

import { phoneTexts as words } from '../../texts/count/phone.ts';
import { keepAwake, letSleep } from './count-answer.ts';
import { createPedal } from './count-pedal.ts';
import { isOn, isTyping, say } from './count-view.ts';

/**
 * Listens to the switches and to the pedal; `press` counts one and is false where no ticket is open that it could count
 * on.
 */
export function listenToTools(press: () => Promise<boolean>): void {
  document.getElementById('awake')!.addEventListener('change', () => void switchAwake());
  document.getElementById('pedal')!.addEventListener('change', () => sayPedal());
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden && isOn('awake')) void keepAwake();
  });
  const pressed = async (): Promise<void> => {
    if (!(await press())) say('tool-said', words.pedalSaid.nowhere);
  };
  listenToPedal(() => void pressed());
}

function listenToPedal(pressed: () => void): void {
  const pedal = createPedal();
  const isPedal = (event: KeyboardEvent): boolean => isOn('pedal') && !isTyping(event.target);
  const down = (event: KeyboardEvent): void => {
    if (!isPedal(event)) return;
    if (event.key === 'Escape') {
      (document.getElementById('pedal') as HTMLInputElement).checked = false;
      sayPedal();
      return;
    }
    const what = pedal.down(event);
    if (what === 'other') return;
    event.preventDefault();
    if (what === 'press') pressed();
  };
  const up = (event: KeyboardEvent): void => {
    if (!isPedal(event)) return;
    pedal.up(event);
    event.preventDefault();
  };
  document.addEventListener('keydown', down, { capture: true });
  document.addEventListener('keyup', up, { capture: true });
}

function sayPedal(): void {
  const on = isOn('pedal');
  if (on) (document.activeElement as HTMLElement | null)?.blur();
  say('tool-said', on ? words.pedalSaid.on : words.pedalSaid.off);
}

async function switchAwake(): Promise<void> {
  const box = document.getElementById('awake') as HTMLInputElement;
  if (!box.checked) {
    await letSleep();
    say('tool-said', words.awakeSaid.off);
    return;
  }
  box.checked = await keepAwake();
  say('tool-said', box.checked ? words.awakeSaid.on : words.awakeSaid.refused);
}
