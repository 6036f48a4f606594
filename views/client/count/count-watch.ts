/** What comes by itself once in a while: countdowns, a run clock that was left running, loads that are ready. */

import { answer } from './count-answer.ts';
import type { Board } from './count-board.ts';
import { duePause } from './count-clock.ts';
import type { Taps } from './count-taps.ts';
import { isOn } from './count-view.ts';

const LOOK_EVERY_MS = 15_000;

/** Looks at the clock every so often, and when the page is seen again. */
export function watchClock(board: Board, taps: Taps): void {
  const due = new Set<string>();
  const look = (): void => {
    const { running, steps } = board.shown();
    const pause = duePause(
      running,
      Date.now(),
      steps.find((step) => step.id === running?.step),
    );
    if (pause !== null) void taps.count([pause], false);
    board.refresh();
    for (const load of board.shown().steps.flatMap((step) => step.underWay)) {
      if (load.kind !== 'loaded' || Date.parse(load.backAt ?? '') > board.nowMs() || due.has(load.entry)) continue;
      due.add(load.entry);
      answer('time', isOn('sound'));
    }
  };
  setInterval(look, LOOK_EVERY_MS);
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) look();
  });
}
