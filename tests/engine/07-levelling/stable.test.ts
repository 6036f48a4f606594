import { describe, expect, it } from 'vitest';
import { level, MINUTES_PER_UPSET, remembered } from '../../../server/engine/07-levelling/index.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import type { Lot, Schedule, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { previousScheduleOf } from '../../support/previous-plan.ts';
import { randomWork } from '../../support/random-work.ts';
import { link, lot, person, work } from '../_network.ts';

const open = calendarFrom([[0, 100_000]]);
const people = [person('ada', open), person('ben', open)];

function hands(id: string, minutes: number, eligible: readonly number[] = [0, 1], more: Partial<Lot> = {}): Lot {
  return lot(id, [{ kind: 'hands', minutes, people: 1, eligible, oneGo: false, open }], more);
}

/**
 * Ada's short lot first, then a long one whose dry time drives the end: the wrong way round it costs the short one's
 * minutes.
 */
function wrongWayRound(short: number): { given: Work; previous: ReturnType<typeof previousScheduleOf> } {
  const drying = lot('paint', [
    { kind: 'hands', minutes: 60, people: 1, eligible: [0], oneGo: false, open },
    { kind: 'wait', minutes: 1000 },
  ]);
  const given = work({ resources: people, lots: [hands('sort', short, [0]), drying] });
  const previous = new Map([
    ['sort', { start: 0, people: [[0]], starts: [0] }],
    ['paint', { start: short, people: [[0], []], starts: [short, short + 60] }],
  ]);
  return { given, previous };
}

const startsOf = ({ starts }: Schedule) => [...starts];

describe('the order of work before', () => {
  it('stands where another gains less than the upset, and says what that forgoes', () => {
    const { given, previous } = wrongWayRound(2 * MINUTES_PER_UPSET - 1);
    const { schedule, keptPrevious, forgone, verdict } = level(given, { seed: 1, previous });
    expect(startsOf(schedule)).toEqual([0, 29]);
    expect([keptPrevious, verdict]).toEqual([true, 'gap']);
    expect(forgone).toEqual({ minutes: 29, upsets: 2 });
  });

  it('gives way to one that gains more', () => {
    const { given, previous } = wrongWayRound(2 * MINUTES_PER_UPSET + 1);
    const { schedule, keptPrevious, forgone } = level(given, { seed: 1, previous });
    expect(startsOf(schedule)).toEqual([60, 0]);
    expect([keptPrevious, forgone]).toEqual([false, null]);
  });

  it('stands where another is a night earlier by the clock, but by minutes of work', () => {
    const evenings = calendarFrom([
      [0, 100],
      [1440, 1540],
    ]);
    const work1 = (minutes: number) => ({ ...hands('', minutes, [0]).phases[0]!, open: evenings });
    const lots = [
      lot('sort', [work1(20)]),
      lot('paint', [work1(30), { kind: 'wait', minutes: 40 }]),
      lot('fit', [work1(15)]),
    ];
    const given = work({ resources: [person('ada', evenings)], lots, links: [link(1, 2)] });
    const previous = new Map([
      ['sort', { start: 0, people: [[0]], starts: [0] }],
      ['paint', { start: 20, people: [[0], []], starts: [20, 50] }],
      ['fit', { start: 90, people: [[0]], starts: [90] }],
    ]);
    const { schedule, forgone } = level(given, { seed: 1, previous });
    // Dry at 90, ten minutes before the end of the evening; the other way round all is done by 85.
    expect(schedule.readyAt).toBe(1445);
    expect(forgone).toEqual({ minutes: 20, upsets: 3 });
  });

  it('gives way to one that keeps a deadline it misses', () => {
    const { given, previous } = wrongWayRound(20);
    const tight = { ...given, lots: given.lots.map((one) => ({ ...one, deadline: 1065 })) };
    expect(startsOf(level(tight, { seed: 1, previous }).schedule)).toEqual([60, 0]);
  });

  it('leaves each lot with the person it was for, though another could begin some minutes sooner', () => {
    const lots = ['a', 'b'].map((id) => hands(id, 100));
    const given = work({ resources: people, lots: [hands('now', 10, [0]), ...lots] });
    const previous = new Map([
      ['now', { start: 0, people: [[0]], starts: [0] }],
      ['b', { start: 0, people: [[1]], starts: [0] }],
      ['a', { start: 5, people: [[0]], starts: [5] }],
    ]);
    const { schedule } = level(given, { seed: 1, previous, schedules: 1 });
    expect(schedule.placements.map(({ people: who }) => who)).toEqual([[0], [0], [1]]);
    expect(startsOf(schedule)).toEqual([0, 10, 0]);
  });

  it('takes what is new in without drawing what was planned for later to the front', () => {
    const planned = ['a', 'b', 'c'].map((id) => hands(id, 60, [0]));
    const given = work({ resources: people, lots: [...planned, hands('new', 30, [0])], links: [link(2, 3)] });
    const previous = new Map(planned.map(({ id }, i) => [id, { start: 60 * i, people: [[0]], starts: [60 * i] }]));
    expect(startsOf(level(given, { seed: 1, previous, schedules: 1 }).schedule)).toEqual([0, 60, 120, 180]);
  });

  it('is found again minute by minute when nothing has changed', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const given = randomWork({ seed, lots: 24 });
      const before = level(given, { seed, schedules: 40 }).schedule;
      const previous = previousScheduleOf(given, before);
      const again = level(given, { seed: seed + 50, schedules: 1, previous });
      expect(faultsOf(remembered(given, previous), again.schedule), `seed ${seed}`).toEqual([]);
      expect(again.schedule.readyAt, `seed ${seed}`).toBeLessThanOrEqual(before.readyAt + MINUTES_PER_UPSET);
    }
  });
});

describe('a plan made again in the night, when nothing has happened', () => {
  it('keeps its end, and deals few lots of later days anew, were they searched by another seed', () => {
    let [later, moved] = [0, 0];
    for (let seed = 1; seed <= 24; seed++) {
      const given = randomWork({ seed, lots: 20 + (seed % 30) });
      const night = given.now - 8 * 60;
      const at = (now: number): Work => ({
        ...given,
        now,
        lots: given.lots.map((lot) => ({ ...lot, begunAt: null, release: Math.max(now, lot.release - 9 * 60) })),
      });
      const before = level(at(night), { seed: 1, schedules: 200 }).schedule;
      const previous = previousScheduleOf(at(night), before);
      const after = level(at(night + 60), { seed: 2, schedules: 200, previous }).schedule;
      expect(after.readyAt, `seed ${seed}`).toBeLessThanOrEqual(before.readyAt);
      given.lots.forEach((_, l) => {
        if (before.starts[l]! < night + 60 + 1440 || after.readyAt < before.readyAt) return;
        later++;
        if (Math.abs(after.starts[l]! - before.starts[l]!) > 15) moved++;
      });
    }
    expect(later).toBeGreaterThan(200);
    expect(moved / later).toBeLessThan(0.15);
  });
});

describe('a longer search', () => {
  it('gives no plan that is worth less than the quick answer before it', () => {
    let quicker = 0;
    for (let seed = 20; seed <= 30; seed++) {
      const work = randomWork({ seed, lots: 20 + (seed % 40), simple: seed % 2 === 1, handsOnly: seed % 2 === 1 });
      const previous = previousScheduleOf(work, level(work, { seed: 1, schedules: 200 }).schedule);
      const edited = { ...work, lots: work.lots.map((lot) => (lot.step % 3 === seed % 3 ? inHalf(lot) : lot)) };
      const quick = level(edited, { seed: 1, previous, schedules: 20 });
      const searched = level(edited, { seed: 1, previous, schedules: 1000, quickly: 20 });
      if (quick.keptPrevious) continue;
      quicker++;
      expect(searched.keptPrevious, `seed ${seed}`).toBe(false);
      expect(searched.schedule.readyAt, `seed ${seed}`).toBeLessThanOrEqual(quick.schedule.readyAt);
    }
    expect(quicker).toBeGreaterThan(0);
  });
});

/** The same with half of its work for hands. */
function inHalf(lot: Lot): Lot {
  const phases = lot.phases.map((phase) =>
    phase.kind === 'hands' ? { ...phase, minutes: Math.ceil(phase.minutes / 2) } : phase,
  );
  return { ...lot, phases };
}
