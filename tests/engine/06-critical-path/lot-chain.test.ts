import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  earliestSpan,
  earliestSpanFinishing,
  finishOfBegun,
  latestFinishFor,
  latestStartAtOrBefore,
  latestStartFor,
} from '../../../server/engine/06-critical-path/lot-chain.ts';
import { alwaysOpen, calendarFrom, isOpen, LONG_AGO, NEVER } from '../../../server/engine/calendar/working-time.ts';
import type { Calendar, Phase } from '../../../server/engine/types.ts';

const at = (hour: number, minute = 0, day = 0) => day * 1440 + hour * 60 + minute;
const evenings = calendarFrom([0, 1, 2, 3].map((day): [number, number] => [at(18, 0, day), at(22, 0, day)]));
const always = alwaysOpen(-100_000, 100_000);

const hands = (minutes: number, open: Calendar, oneGo = false): Phase => ({
  kind: 'hands',
  minutes,
  people: 1,
  eligible: [0],
  oneGo,
  open,
});
const run = (minutes: number, open: Calendar, attended = false): Phase => ({
  kind: 'run',
  minutes,
  machine: 1,
  attended,
  people: attended ? 1 : 0,
  eligible: attended ? [0] : [],
  open,
});
const wait = (minutes: number): Phase => ({ kind: 'wait', minutes });
const lead = (cutoffs: number[], arrivals: number[]): Phase => ({
  kind: 'lead',
  workingDays: 1,
  arrivals: { cutoffs: Int32Array.from(cutoffs), arrivals: Int32Array.from(arrivals) },
});
const span = (phases: Phase[], t: number) => earliestSpan(phases, t, { start: 0, finish: 0 });

describe('a print: load, run, unload', () => {
  const print = [hands(8, evenings), run(250, always), hands(4, evenings)];

  it('runs through the night and waits for somebody to unload it', () => {
    expect(span(print, at(12))).toEqual({ start: at(18), finish: at(18, 4, 1) });
    expect(span([print[0]!, run(200, always), print[2]!], at(12))).toEqual({ start: at(18), finish: at(21, 32) });
  });

  it('is loaded at the last moment that still has it unloaded in time', () => {
    expect(latestStartFor(print, at(18, 4, 1))).toBe(at(21, 52));
    expect(latestStartFor(print, at(18, 3, 1))).toBe(LONG_AGO);
  });

  it('is loaded when the machine may run, not the evening before', () => {
    const days = calendarFrom([0, 1, 2].map((day): [number, number] => [at(6, 0, day), at(23, 0, day)]));
    const quiet = [hands(8, evenings, true), run(250, days), hands(4, evenings)];
    expect(span(quiet, at(19))).toEqual({ start: at(18, 0, 1), finish: at(18, 4, 2) });
    expect(span([hands(8, evenings), run(300, days)], at(18))).toEqual({ start: NEVER, finish: NEVER });
    expect(span([hands(8, evenings), run(50, days)], at(22, 0, 0))).toEqual({
      start: at(18, 0, 1),
      finish: at(18, 58, 1),
    });
    const late = calendarFrom([[at(20), at(23)]]);
    expect(span([hands(8, evenings), run(50, late)], at(12))).toEqual({ start: at(19, 52), finish: at(20, 50) });
    expect(latestStartFor([hands(8, evenings), run(50, late)], at(20, 49))).toBe(LONG_AGO);
  });
});

describe('other chains', () => {
  it('pauses hands overnight and one sitting not at all', () => {
    expect(span([hands(300, evenings)], at(12))).toEqual({ start: at(18), finish: at(19, 0, 1) });
    expect(span([hands(60, evenings, true)], at(21, 30))).toEqual({ start: at(18, 0, 1), finish: at(19, 0, 1) });
    expect(span([hands(241, evenings, true)], at(12)).finish).toBe(NEVER);
  });

  it('lets a coat cure at night and starts a coat in time', () => {
    expect(span([hands(25, evenings), wait(240)], at(21, 50))).toEqual({ start: at(21, 50), finish: at(22, 15, 1) });
    expect(latestStartFor([hands(25, evenings), wait(240)], at(8, 0, 1))).toBe(at(21, 35));
  });

  it('orders before the cut-off and lets what has arrived lie', () => {
    const order = [
      hands(15, evenings),
      lead([at(12, 0, 1), at(12, 0, 2)], [at(10, 0, 2), at(10, 0, 3)]),
      hands(5, evenings),
    ];
    expect(span(order, at(20))).toEqual({ start: at(20), finish: at(18, 5, 2) });
    expect(latestStartFor(order, at(18, 5, 3))).toBe(at(21, 45, 1));
  });

  it('starts and finishes a milestone at the same instant', () => {
    expect(span([], 77)).toEqual({ start: 77, finish: 77 });
    expect([latestStartFor([], 77), latestStartAtOrBefore([], 77), finishOfBegun([], 5, 9)]).toEqual([77, 77, 5]);
  });

  it('takes what is under way as begun, whatever the hours say', () => {
    const print = [run(250, evenings), hands(4, evenings)];
    expect(finishOfBegun(print, at(9), at(10))).toBe(at(18, 4));
    expect(finishOfBegun(print, at(9), at(19))).toBe(at(19, 4));
    expect(finishOfBegun([wait(60)], at(9), at(19))).toBe(at(10));
    expect(finishOfBegun([hands(60, evenings)], at(17), at(19))).toBe(at(19));
  });
});

describe('against trying every minute', () => {
  const end = 48;
  const calendar = fc
    .array(fc.tuple(fc.integer({ min: 0, max: end }), fc.integer({ min: 1, max: 9 })), { minLength: 1, maxLength: 6 })
    .map((pairs) => calendarFrom(pairs.map(([from, length]): [number, number] => [from, from + length])));
  const phase = fc.tuple(fc.nat(5), fc.integer({ min: 0, max: 5 }), calendar).map(([kind, minutes, open]): Phase => {
    if (kind === 0) return wait(minutes);
    if (kind === 1) return hands(minutes, open, true);
    if (kind === 2) return run(minutes, open, true);
    if (kind === 3) return run(minutes, open);
    return hands(minutes, open);
  });
  const chain = fc.array(phase, { minLength: 1, maxLength: 4 });
  const instant = fc.integer({ min: 0, max: end });

  it('finds the earliest finish there is, and a start that has it', () => {
    fc.assert(
      fc.property(chain, instant, (phases, t) => {
        const found = span(phases, t);
        expect(found.finish).toBe(tryFrom(phases, t));
        if (found.finish !== NEVER) expect(finishFrom(phases, found.start)).toBe(found.finish);
      }),
      { seed: 21, numRuns: 500 },
    );
  });

  it('finds the latest start for a finish, which mirrors the earliest finish', () => {
    fc.assert(
      fc.property(chain, instant, instant, (phases, s, t) => {
        expect(span(phases, s).finish <= t).toBe(s <= latestStartFor(phases, t));
      }),
      { seed: 22, numRuns: 500 },
    );
  });

  it('finds the latest start up to a moment', () => {
    fc.assert(
      fc.property(chain, instant, (phases, t) => {
        const latest = latestStartAtOrBefore(phases, t);
        const starts = Array.from({ length: t + 31 }, (_, s) => s - 30).filter((s) => span(phases, s).start === s);
        expect(latest).toBe(starts.at(-1) ?? LONG_AGO);
      }),
      { seed: 23, numRuns: 500 },
    );
  });

  it('finishes as early as it may after a moment, waiting within the lot where that is allowed', () => {
    fc.assert(
      fc.property(chain, instant, instant, (phases, t, atLeast) => {
        const found = earliestSpanFinishing(phases, t, atLeast, { start: 0, finish: 0 });
        const finishes = new Set<number>();
        for (let s = t; s < 80; s++) finishesFrom(phases, s, finishes);
        expect(found.finish).toBe(Math.min(NEVER, ...[...finishes].filter((finish) => finish >= atLeast)));
        if (found.finish === NEVER) return;
        const own = new Set<number>();
        finishesFrom(phases, found.start, own);
        expect(own.has(found.finish)).toBe(true);
      }),
      { seed: 24, numRuns: 500 },
    );
  });

  it('knows the latest finish that is still in time, which mirrors the earliest after a moment', () => {
    fc.assert(
      fc.property(chain, instant, instant, instant, (phases, s, t, atLeast) => {
        const latest = latestStartFor(phases, t);
        fc.pre(s <= latest);
        const finish = latestFinishFor(phases, latest, t, { start: 0, finish: 0 });
        expect(finish).toBeLessThanOrEqual(t);
        const earliest = earliestSpanFinishing(phases, latest, atLeast, { start: 0, finish: 0 });
        expect(earliest.start === latest && earliest.finish <= t).toBe(atLeast <= finish);
      }),
      { seed: 25, numRuns: 1500 },
    );
  });
});

/** The earliest finish over all starts from t on, by trial. */
function tryFrom(phases: readonly Phase[], t: number): number {
  let finish = NEVER;
  for (let s = t; s < 80; s++) finish = Math.min(finish, finishFrom(phases, s));
  return finish;
}

/** The earliest finish of the chain when its first phase begins at s exactly. */
function finishFrom(phases: readonly Phase[], s: number): number {
  const finishes = new Set<number>();
  finishesFrom(phases, s, finishes);
  return Math.min(NEVER, ...finishes);
}

/**
 * Every finish of the chain when its first phase begins at s exactly; what needs people may begin at any later minute.
 */
function finishesFrom(phases: readonly Phase[], s: number, into: Set<number>, k = 0): void {
  const phase = phases[k];
  if (phase === undefined) return void into.add(s);
  const ends = endOf(phase, s);
  if (ends === NEVER) return;
  const next = phases[k + 1];
  const rigid = next !== undefined && (next.kind === 'wait' || (next.kind === 'run' && next.people === 0));
  const last = next === undefined || rigid ? ends : 79;
  for (let u = ends; u <= last; u++) finishesFrom(phases, u, into, k + 1);
}

function endOf(phase: Phase, s: number): number {
  if (phase.kind === 'wait') return s + phase.minutes;
  if (phase.kind === 'lead' || phase.kind === 'demand') throw new Error('not tried here');
  if (phase.minutes === 0) return s;
  if (!isOpen(phase.open, s)) return NEVER;
  let left = phase.minutes;
  let u = s;
  for (; left > 0 && u < 200; u++) {
    if (isOpen(phase.open, u)) left--;
    else if (phase.kind === 'run' || phase.oneGo) return NEVER;
  }
  return left > 0 ? NEVER : u;
}
