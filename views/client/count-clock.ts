/**
 * The run clock of a step: it starts with the first tap and pauses itself, as of the last tap, when nothing has happened
 * for a while or another step is counted. What it says is kept as entries `began` and `paused`; nothing else is stored.
 */
import type { CountStep } from './count-wire.ts';
import type { Draft } from './outbox.ts';
import type { Kept } from './outbox-shelf.ts';

export interface Running {
  readonly step: string;
  readonly set: number | null;
  readonly beganMs: number;
  /** The last thing counted there, by the phone's clock. */
  readonly lastMs: number;
  readonly units: number;
}

const SHORTEST_IDLE_MIN = 5;
const LONGEST_IDLE_MIN = 45;
/** So many times what a unit takes may pass before the clock takes it for a pause. */
const IDLE_UNITS = 3;

/** The clock that runs on this phone, or null; read off the entries, so it is right after a reload and in a second tab. */
export function runningClock(kept: readonly Kept[]): Running | null {
  return kept.reduce<Running | null>((running, entry) => after(running, entry), null);
}

/** The entries that have to stand before a tap on a step: the pause of a clock elsewhere, the start of this one. */
export function beforeTap(running: Running | null, step: CountStep, set: number | null, nowMs: number): Draft[] {
  const here = running !== null && running.step === step.id && running.set === set;
  if (here && !isIdle(running, nowMs, step)) return [];
  return [...(running === null ? [] : [pauseOf(running)]), startOf(step.id, set)];
}

/** The pause that is due because nothing has happened, or null. */
export function duePause(running: Running | null, nowMs: number, step: CountStep | undefined): Draft | null {
  return running !== null && isIdle(running, nowMs, step) ? pauseOf(running) : null;
}

export function startOf(step: string, set: number | null): Draft {
  return { kind: 'began', step, ...(set === null ? {} : { set }) };
}

/** The pause begins where the work ended: at the last tap. */
export function pauseOf(running: Running, atMs = running.lastMs): Draft {
  return {
    kind: 'paused',
    step: running.step,
    ...(running.set === null ? {} : { set: running.set }),
    phoneMs: atMs,
  };
}

function after(running: Running | null, { entry, phoneMs, state }: Kept): Running | null {
  if (state === 'refused' || entry.step === undefined) return running;
  const set = entry.set ?? null;
  if (entry.kind === 'began') return { step: entry.step, set, beganMs: phoneMs, lastMs: phoneMs, units: 0 };
  if (running === null || running.step !== entry.step || running.set !== set) return running;
  if (entry.kind === 'paused') return null;
  if (entry.kind !== 'done' && entry.kind !== 'scrapped') return running;
  return { ...running, lastMs: phoneMs, units: running.units + (entry.n ?? 1) };
}

function isIdle(running: Running, nowMs: number, step: CountStep | undefined): boolean {
  const lotMinutes = (step?.handsMinutesPerUnit ?? 0) * Math.max(IDLE_UNITS, step?.lotSize ?? 1);
  const limitMinutes = Math.min(LONGEST_IDLE_MIN, Math.max(SHORTEST_IDLE_MIN, lotMinutes));
  return nowMs - running.lastMs > limitMinutes * 60_000;
}
