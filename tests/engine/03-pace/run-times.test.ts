import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, LogEntry, Step } from '../../../server/model/index.ts';
import { runsHeld } from '../../support/makers/run-makers.ts';
import { runTimeWords } from '../../support/words.ts';
import { FIRST_SCHEDULE } from '../_filing.ts';

/** A Thursday, at the end of a working day. */
const NOW = Date.parse('2026-12-10T20:00Z') / 60_000;

/** Cams, twelve on a plate of a printer that is said to take 3 h 20 min for one; then they soak. */
function cams(more: Partial<Step> = {}, hours = 'daily 08:00-22:00'): Build {
  const print: Step = {
    id: 'print',
    name: 'print cams',
    count: 240,
    lotSize: 12,
    origin: 'handbook',
    phases: [
      { kind: 'hands', minutes: 5 },
      { kind: 'run', machine: 'printer', minutes: 200 },
    ],
    ...more,
  };
  return {
    id: 'cams',
    name: 'Cams',
    zone: 'UTC',
    start: '2026-12-01T08:00',
    event: '2026-12-24T19:00',
    people: [{ id: 'ria', name: 'Ria', hours }],
    machines: [{ id: 'printer', name: 'Printer', unattended: true }],
    steps: [print, { id: 'soak', name: 'soak', after: ['print'], takes: '6 h' }],
  };
}

let entries = 0;
function entry(kind: LogEntry['kind'], at: number, n = 12, step = 'print'): LogEntry {
  entries += 1;
  const when = `${new Date(at * 60_000).toISOString().slice(0, 16)}:00Z`;
  return { id: `entry-${String(entries).padStart(5, '0')}`, kind, step, n, at: when, seq: entries };
}

const day = (n: number, hour: number) =>
  Date.parse(`2026-12-${String(n).padStart(2, '0')}T00:00Z`) / 60_000 + 60 * hour;

/** One load a day from 09:00 on, each that many minutes until its cams are counted. */
function loads(...minutes: number[]): LogEntry[] {
  return minutes.flatMap((length, i) => [entry('loaded', day(3 + i, 9)), entry('done', day(3 + i, 9) + length)]);
}

function step(forecast: Forecast, id = 'print') {
  return forecast.steps.find((one) => one.id === id)!;
}

const runOf = (build: Build, log: readonly LogEntry[]) =>
  step(planBuild(build, log, NOW, FIRST_SCHEDULE)).runMinutesPerLot;

describe('a machine run is learnt from its loads', () => {
  test('that took 4 h 10 min five times in place of 3 h 20 min: plan, chance and ticket move', () => {
    const asThought = planBuild(cams(), loads(200, 200, 200, 200, 200), NOW);
    const longer = planBuild(cams(), loads(250, 250, 250, 250, 250), NOW);
    // Five that were counted after 200 minutes ended then, or a little before.
    expect(step(asThought).runMinutesPerLot).toBeGreaterThanOrEqual(198);
    expect(step(asThought).runMinutesPerLot).toBeLessThanOrEqual(200);
    expect(step(longer).runMinutesPerLot).toBeGreaterThan(240);
    expect(step(longer).runMinutesPerLot).toBeLessThanOrEqual(250);
    // Fifteen more plates, 45 minutes more each: a machine's hours.
    expect(longer.room.readyBy.finish! - asThought.room.readyBy.finish!).toBeGreaterThan(10 * 45);
    expect(readyIn(250).p50 - readyIn(200).p50).toBeGreaterThan(10 * 45);
    expect(runTimeWords(longer, 'print')).toMatch(
      /^5 loads took 4 h 10 min from loading to counting; you expected 3 h 20 min\. The plan uses 4 h \d+ min \(likely (3 h 5\d min|4 h.*) to 4 h .*\)\.$/,
    );
  });

  test('the estimate weighs the less the more loads there are, and the less the less it is sure', () => {
    const lengths = [1, 2, 4, 7].map((n) => runOf(cams(), loads(...Array<number>(n).fill(250)))!);
    expect(lengths).toEqual([...lengths].sort((a, b) => a - b));
    expect(lengths[0]).toBeGreaterThan(200);
    expect(lengths[0]).toBeLessThan(235);
    const one = loads(250);
    expect(runOf(cams({ origin: 'guessed' }), one)!).toBeGreaterThan(lengths[0]!);
  });

  // A printer that is 8 % slow is as steady as any: nothing says that its next run may be a fifth longer.
  test('a little longer than thought makes it hardly less sure', () => {
    const { low, high, minutes } = step(planBuild(cams(), loads(216, 216, 216, 216), NOW)).runTime!;
    expect(minutes).toBeGreaterThan(205);
    expect(high / low).toBeLessThan(1.2);
    const far = step(planBuild(cams({ origin: 'guessed' }), loads(300, 300), NOW)).runTime!;
    expect(far.high / far.low).toBeGreaterThan(1.2);
  });

  test('shorter loads make it shorter', () => {
    expect(runOf(cams(), loads(150, 150, 150, 150))!).toBeLessThan(165);
  });

  test('one that was emptied late says nothing beside four that were not', () => {
    const four = runOf(cams(), loads(200, 200, 200, 200))!;
    expect(Math.abs(runOf(cams(), loads(200, 200, 380, 200, 200))! - four)).toBeLessThanOrEqual(1);
    expect(four).toBeGreaterThanOrEqual(198);
  });

  test('a load logged when it was emptied is told, and weighs less', () => {
    const log = loads(200, 200, 200, 4, 200);
    expect(runOf(cams(), log)!).toBeGreaterThan(185);
    expect(runTimeWords(planBuild(cams(), log, NOW), 'print')).toContain('is unusual: 12 in 4 min');
  });

  test('what ends while nobody is there tells nothing of its end, but that it was done by then', () => {
    const hours = 'daily 08:00-12:00';
    expect(step(planBuild(cams({}, hours), loads(24 * 60, 24 * 60, 24 * 60), NOW)).runTime).toBeUndefined();
    expect(step(planBuild(cams({}, hours), loads(24 * 60, 150, 150), NOW)).runTime).toMatchObject({ loads: 2 });
  });

  test('hands that empty it are not in it', () => {
    const phases: Step['phases'] = [
      { kind: 'hands', minutes: 5 },
      { kind: 'run', machine: 'printer', minutes: 200 },
      { kind: 'hands', perUnit: 2 },
    ];
    const minutesOf = (build: Build, length: number) =>
      step(planBuild(build, loads(length, length, length), NOW)).runTime!.minutes;
    expect(minutesOf(cams({ phases }), 224)).toBeCloseTo(minutesOf(cams(), 200), 9);
  });

  test('a load taken back is none', () => {
    const log = loads(250, 250);
    const undone = log.map(({ id }) => ({ ...entry('undo', NOW - 60), step: undefined, n: undefined, undoes: id }));
    expect(runOf(cams(), [...log, ...undone] as LogEntry[])).toBe(200);
  });

  // Whatever the lengths, the plan is no longer than what was thought and the longest load; and hardly shorter than
  // what was thought and the shortest, though each of them may have ended before it was counted.
  test('lies between the estimate and the loads, for any loads', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 30, max: 700 }), { minLength: 1, maxLength: 7 }), (lengths) => {
        const { runTime } = step(planBuild(cams(), loads(...lengths), NOW, FIRST_SCHEDULE));
        const near = [200, ...lengths];
        expect(runTime!.minutes).toBeGreaterThan(0.85 * Math.min(...near));
        expect(runTime!.minutes).toBeLessThanOrEqual(Math.max(...near) + 1e-6);
        expect(runTime!.low).toBeLessThan(runTime!.minutes);
        expect(runTime!.high).toBeGreaterThan(runTime!.minutes);
      }),
      { numRuns: 40, seed: 7 },
    );
  });

  test('that came ten times as soon as thought is believed after three loads', () => {
    expect(runOf(cams(), loads(20, 20, 20))!).toBeLessThan(24);
  });

  test('whose end somebody waited for or not: the truth is in what is said about 80 times in 100', () => {
    const machines = [
      { origin: 'guessed', spread: 0.2, late: 40 },
      { origin: 'guessed', spread: 0.5, late: 40 },
      { origin: 'handbook', spread: 0.3, late: 40 },
      { origin: 'handbook', spread: 0.3, late: 40, awaited: 0.5 },
      { origin: 'handbook', spread: 0.3, late: 0 },
      { origin: 'handbook', spread: 0.3, late: 0, hands: 4 },
    ] as const;
    for (const machine of machines) {
      const { inside, below } = runsHeld(100, 11, { ...machine, loads: 12 });
      expect(inside, JSON.stringify(machine)).toBeGreaterThan(0.74);
      expect(below, JSON.stringify(machine)).toBeLessThan(0.25);
    }
  });

  test('that was counted later than the plan takes it to have ended: the ticket says that it may have', () => {
    const late = planBuild(cams(), loads(200, 260, 230, 202, 290), NOW);
    expect(runTimeWords(late, 'print')).toMatch(
      /^5 loads took 3 h 50 min .* Some may have ended before they were counted\.$/,
    );
    expect(runTimeWords(planBuild(cams(), loads(250, 250, 250, 250, 250), NOW), 'print')).not.toContain(
      'may have ended',
    );
  });

  test('is no longer than the time by which it was over once, though nobody saw it end', () => {
    // Somebody is there from 8 to 12:30 and from 13 on; the run that was thought to end at 12:40 was over at 13.
    const build = cams({ origin: 'guessed' }, 'daily 08:00-12:30 13:00-22:00');
    const at = (n: number, hour: number, length: number) => [
      entry('loaded', day(n, hour)),
      entry('done', day(n, hour) + length),
    ];
    const two = [...at(3, 14, 290), ...at(4, 14, 300)];
    const bounds = [5, 6, 7].flatMap((n) => at(n, 9 + 20 / 60, 220));
    const { loads: seen, minutes } = step(planBuild(build, [...two, ...bounds], NOW)).runTime!;
    expect(seen).toBe(2);
    expect(minutes).toBeLessThan(225);
    expect(step(planBuild(build, two, NOW)).runTime!.minutes).toBeGreaterThan(230);
  });

  function readyIn(length: number): { readonly p50: number } {
    const log = loads(length, length, length, length, length);
    return planBuild(cams(), log, NOW, { risk: { futures: 300, seed: 3 } }).risk!.readyAt;
  }
});

describe('a wait is learnt from what was begun', () => {
  const glue: Step['phases'] = [
    { kind: 'hands', minutes: 10 },
    { kind: 'wait', minutes: 120 },
    { kind: 'hands', minutes: 10 },
  ];

  test('glue that held after 4 h in place of 2 h, four times', () => {
    const build = cams({ phases: glue });
    const log = loads(250, 250, 250, 250);
    const { waitMinutesPerLot, runTime } = step(planBuild(build, log, NOW));
    expect(runTime).toMatchObject({ kind: 'wait', loads: 4, counted: 240, estimate: 120 });
    expect(waitMinutesPerLot).toBeGreaterThan(200);
    expect(runTimeWords(planBuild(build, log, NOW), 'print')).toMatch(/^4 waits took 4 h; you expected 2 h\./);
  });

  test('of a step that does nothing but wait, begun by its clock or by a load', () => {
    const print: Partial<Step> = { phases: [{ kind: 'wait', minutes: 120 }] };
    for (const kind of ['began', 'loaded'] as const) {
      const log = [3, 4, 5, 6].flatMap((n) => [entry(kind, day(n, 9)), entry('done', day(n, 13))]);
      expect(step(planBuild(cams(print), log, NOW)).waitMinutesPerLot).toBeGreaterThan(200);
    }
  });
});
