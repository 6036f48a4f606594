/**
 * The run clock of a step: it starts with the first tap and pauses itself, as of the last tap, when nothing has
 * happened for a while or another step is counted. What it says is kept as entries `began` and `paused`; nothing else
 * is stored.
 */
import { hear, type RunningClock } from '../../../server/model/log/index.ts';
import type { CountStep } from '../outbox/count-wire.ts';
import type { Draft } from '../outbox/outbox.ts';
import type { Kept } from '../outbox/outbox-shelf.ts';

const SHORTEST_IDLE_MIN = 5;
const LONGEST_IDLE_MIN = 45;
/** This many times what a unit takes may pass before the clock takes it for a pause. */
const IDLE_UNITS = 3;
/** This many times what a unit or a lot takes, however long that is: slow work is what the clock is there to find. */
const SLOWER = 1.5;

/**
 * The clock that runs on this phone, or null; read off the entries, so it is right after a reload and in a second tab.
 * Asked again, it hears only the entries that are new, where these were only added.
 */
export function createRunningClock(): (kept: readonly Kept[]) => RunningClock | null {
  let heard: readonly Kept[] = [];
  let clocks = new Map<string, RunningClock>();
  return (kept) => {
    const isLonger = heard.length <= kept.length && heard.every((entry, i) => entry === kept[i]);
    if (!isLonger) clocks = new Map();
    for (const { entry, phoneMs, state } of isLonger ? kept.slice(heard.length) : kept) {
      if (state !== 'refused') hear(clocks, { ...entry, person: undefined, at: phoneMs });
    }
    heard = kept;
    return clocks.values().next().value ?? null;
  };
}

/** The entries that have to stand before a tap on a step: the pause of a clock elsewhere, the start of this one. */
export function beforeTap(running: RunningClock | null, step: CountStep, set: number | null, nowMs: number): Draft[] {
  const here = running !== null && running.step === step.id && running.set === set;
  if (here && !isIdle(running, nowMs, step)) return [];
  return [...(running === null ? [] : [pauseOf(running)]), startOf(step.id, set)];
}

/** The pause that is due because nothing has happened, or null. */
export function duePause(running: RunningClock | null, nowMs: number, step: CountStep | undefined): Draft | null {
  return running !== null && isIdle(running, nowMs, step) ? pauseOf(running) : null;
}

export function startOf(step: string, set: number | null): Draft {
  return { kind: 'began', step, ...(set === null ? {} : { set }) };
}

/** The pause begins where the work ended: at the last tap. */
export function pauseOf(running: RunningClock, atMs = running.heardAt): Draft {
  return {
    kind: 'paused',
    step: running.step,
    ...(running.set === null ? {} : { set: running.set }),
    phoneMs: atMs,
  };
}

function isIdle(running: RunningClock, nowMs: number, step: CountStep | undefined): boolean {
  const unitMinutes = step?.handsMinutesPerUnit ?? 0;
  const someUnits = Math.min(LONGEST_IDLE_MIN, IDLE_UNITS * unitMinutes);
  // A lot, or a job that takes hours, is not tapped before it is done.
  const wholeLot = SLOWER * unitMinutes * Math.max(1, step?.lotSize ?? 1);
  const limitMinutes = Math.max(SHORTEST_IDLE_MIN, someUnits, wholeLot);
  return nowMs - running.heardAt > limitMinutes * 60_000;
}
