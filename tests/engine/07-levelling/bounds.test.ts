import { describe, expect, it } from 'vitest';
import {
  boundOf,
  compile,
  drivingChain,
  level,
  levelBackwards,
  MINUTES_PER_UPSET,
} from '../../../server/engine/07-levelling/index.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { HandsPhase, Lot, Phase, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { previousScheduleOf } from '../../support/previous-plan.ts';
import { benchmarkFolder, readInstance, readSet } from '../../support/psplib.ts';
import { randomWork } from '../../support/random-work.ts';
import { solveWork } from '../../support/solve-work.ts';
import { textbookWork } from '../../support/textbook-work.ts';
import { tinyWork } from '../../support/tiny-work.ts';

const DAY = 1440;
/** Five days, 9:00 to 17:00. */
const open = calendarFrom(Array.from({ length: 5 }, (_, d): [number, number] => [d * DAY + 540, d * DAY + 1020]));

function lot(id: string, phases: readonly Phase[], more: Partial<Lot> = {}): Lot {
  return {
    id,
    step: 0,
    set: null,
    number: 1,
    firstUnit: 1,
    lastUnit: 1,
    phases,
    release: 0,
    deadline: 2 * DAY + 1020,
    begunAt: null,
    pinnedStart: null,
    pinnedPeople: null,
    station: null,
    onSite: false,
    ...more,
  };
}

function hands(minutes: number, eligible: readonly number[] = [0]): HandsPhase {
  return { kind: 'hands', minutes, people: 1, eligible, oneGo: false, open };
}

function work(lots: readonly Lot[], links: Work['links'] = [], people = 1): Work {
  const resources = Array.from({ length: people }, (_, i) => ({
    id: `p${i}`,
    name: `p${i}`,
    kind: 'person' as const,
    capacity: 1,
    open,
  }));
  return { now: 0, readyBy: 2 * DAY + 1020, loadIn: null, event: 4 * DAY, resources, lots, links };
}

describe('what cannot be done', () => {
  it('is proved with the window, the resource and the minutes short', () => {
    // Three days of 480 minutes against 30 hours of work: 6 hours short.
    const given = work(Array.from({ length: 6 }, (_, i) => lot(`l${i}`, [hands(300)])));
    const { bound, verdict } = level(given, { seed: 1 });
    expect(verdict).toBe('impossible');
    expect(bound).toMatchObject({ by: 'hands', resources: [0], shortMinutes: 360 });
    expect(bound.window).toMatchObject({ end: 2 * DAY + 1020, neededMinutes: 1800, offeredMinutes: 1440 });
    // 1,800 minutes at 480 a day: 360 minutes into the fourth.
    expect(bound.readyAt).toBe(3 * DAY + 540 + 360);
  });

  it('is not claimed where a schedule exists', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const given = randomWork({ seed, lots: 20 });
      const levelled = level(given, { seed, schedules: 60 });
      expect(levelled.bound.readyAt, `seed ${seed}`).toBeLessThanOrEqual(levelled.schedule.readyAt);
      if (levelled.schedule.readyAt <= given.readyBy) expect(levelled.verdict).not.toBe('impossible');
    }
  });

  it('is not claimed of the workshop where only the work on site finds no hour', () => {
    const once = calendarFrom([[540, 600]]);
    const site: HandsPhase = { ...hands(60, [1]), open: once };
    const given = work(
      [
        ...Array.from({ length: 4 }, (_, i) => lot(`l${i}`, [hands(300)])),
        lot('connect', [site], { onSite: true, deadline: 4 * DAY }),
      ],
      Array.from({ length: 4 }, (_, from) => ({
        from,
        to: 4,
        type: 'finish-start' as const,
        lagMinutes: 0,
        lagOpen: null,
        reason: 'feed' as const,
      })),
      2,
    );
    const { resources, ...rest } = given;
    const [ria, electrician] = resources;
    const { bound, schedule, beyond, verdict } = level(
      { ...rest, resources: [ria!, { ...electrician!, open: once }] },
      { seed: 1 },
    );
    expect(beyond).toEqual([4]);
    expect([bound.readyAt, schedule.readyAt, verdict]).toEqual([2 * DAY + 780, 2 * DAY + 780, 'proved-best']);
  });

  it('is not claimed by a bound beyond any schedule of many crowded builds', () => {
    let met = 0;
    for (let seed = 1; seed <= 80; seed++) {
      const given = tinyWork(seed, 6 + (seed % 9));
      const { bound, schedule, beyond } = level(given, { seed, schedules: 60 });
      expect(beyond).toEqual([]);
      expect(faultsOf(given, schedule), `seed ${seed}`).toEqual([]);
      expect(bound.readyAt, `seed ${seed}`).toBeLessThanOrEqual(schedule.readyAt);
      if (bound.readyAt === schedule.readyAt) met++;
    }
    expect(met).toBeGreaterThan(20);
  });

  it('stays possible with a second person', () => {
    const given = work(
      Array.from({ length: 6 }, (_, i) => lot(`l${i}`, [hands(300, [0, 1])])),
      [],
      2,
    );
    expect(level(given, { seed: 1 }).verdict).not.toBe('impossible');
  });
});

describe('proved best', () => {
  it('is said when the schedule meets the bound', () => {
    const given = work([lot('a', [hands(300)]), lot('b', [hands(300)])]);
    const levelled = level(given, { seed: 1 });
    expect(levelled.verdict).toBe('proved-best');
    expect(levelled.schedule.readyAt).toBe(DAY + 540 + 120);
  });

  it('agrees with a general solver on small textbook works', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const given = smallTextbook(seed);
      const levelled = level(given, { seed, nodes: 1_000_000 });
      expect(levelled.bound.readyAt, `seed ${seed}`).toBe(levelled.schedule.finishAt);
      expect(levelled.schedule.finishAt, `seed ${seed}`).toBe(solveWork(given, levelled.schedule.finishAt)?.readyAt);
      expect(faultsOf(given, levelled.schedule)).toEqual([]);
    }
  });

  it('agrees with the published optima of the classical instances', () => {
    const folder = benchmarkFolder();
    if (folder === null) return;
    for (const instance of readSet(folder, 'patterson').filter((_, i) => i % 6 === 0)) {
      const given = readInstance(folder, instance.file);
      const levelled = level(given, { seed: 1, schedules: 300, nodes: 1_000_000 });
      expect([levelled.bound.readyAt, levelled.schedule.finishAt], instance.name).toEqual([
        instance.bestKnown,
        instance.bestKnown,
      ]);
    }
  });
});

describe('a re-plan', () => {
  it('keeps the order of work when another gains too little for what it upsets', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const given = randomWork({ seed, lots: 25 });
      const before = level(given, { seed, schedules: 30 }).schedule;
      const again = level(given, { seed: seed + 100, schedules: 300, previous: previousScheduleOf(given, before) });
      const gained = before.readyAt - again.schedule.readyAt;
      if (again.keptPrevious) expect(gained).toBeGreaterThanOrEqual(0);
      expect(faultsOf(given, again.schedule)).toEqual([]);
      expect(MINUTES_PER_UPSET).toBeGreaterThan(0);
    }
  });

  it('leaves equally good sheets alone, to the minute', () => {
    const given = work(['a', 'b', 'c', 'd'].map((id) => lot(id, [hands(100)])));
    const order = ['c', 'a', 'd', 'b'];
    const previous = new Map(
      order.map((id, i) => [id, { start: 540 + 100 * i, people: [[0]], starts: [540 + 100 * i] }]),
    );
    const { schedule } = level(given, { seed: 1, previous });
    expect(order.map((id) => schedule.starts[given.lots.findIndex((one) => one.id === id)])).toEqual([
      540, 640, 740, 840,
    ]);
  });

  it('gives the same schedule for the same seed and budget', () => {
    const given = randomWork({ seed: 3, lots: 30 });
    const once = level(given, { seed: 9, schedules: 200 });
    const twice = level(given, { seed: 9, schedules: 200 });
    expect([...twice.schedule.activityList]).toEqual([...once.schedule.activityList]);
    expect(twice.schedules).toBeLessThanOrEqual(200);
  });
});

describe('why the end is where it is', () => {
  it('names hands, morning, the lot before and the drying, link by link', () => {
    const given = work(
      [lot('file', [hands(300)]), lot('paint', [hands(60), { kind: 'wait', minutes: 240 }]), lot('fit', [hands(100)])],
      [{ from: 1, to: 2, type: 'finish-start', lagMinutes: 0, lagOpen: null, reason: 'units' }],
    );
    const { schedule } = level(given, { seed: 1 });
    const chain = drivingChain(given, schedule);
    expect(chain[0]!.lot).toBe(2);
    for (const link of chain) expect(link.causeOver).toBeLessThanOrEqual(link.start);
    const kinds = chain.map(({ cause }) => cause.kind);
    expect(kinds[kinds.length - 1]).toBe('now');
    // Painted first, dry at 14:00 while filing goes on until 15:00, fitted after that.
    expect(schedule.readyAt).toBe(1020 - 20);
    expect(chain[0]!.cause).toEqual({ kind: 'hands', resource: 0, lot: 0 });
    expect(chain[1]!.cause).toEqual({ kind: 'hands', resource: 0, lot: 1 });
    expect(chain[2]!.morning).toBe(true);
  });

  it('reaches back to now or to a release in every random build', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const given = randomWork({ seed, lots: 25 });
      const chain = drivingChain(given, level(given, { seed, schedules: 20 }).schedule);
      const last = chain[chain.length - 1]!;
      expect(['now', 'release', 'pinned'], `seed ${seed}`).toContain(last.cause.kind);
      for (let i = 1; i < chain.length; i++) expect(chain[i]!.start).toBeLessThanOrEqual(chain[i - 1]!.start);
    }
  });
});

describe('backwards', () => {
  it('gives every lot a last moment not before its start in a schedule with room', () => {
    const given = work([lot('a', [hands(100)]), lot('b', [hands(100)])]);
    const compiled = compile(given);
    const { starts } = level(given, { seed: 1 }, compiled).schedule;
    const lastMoments = levelBackwards(given, { seed: 1 }, compiled).schedule.starts;
    const room = starts.map((start, l) => lastMoments[l]! - start);
    // Both lie in the last hours of the third day: one ends at 17:00, the other begins when the first has to end.
    expect([...room].every((minutes) => minutes > DAY)).toBe(true);
  });
});

describe('bounds', () => {
  const machine = { id: 'm', name: 'm', kind: 'machine' as const, capacity: 1, open: calendarFrom([[0, 5 * DAY]]) };
  const run = (minutes: number): Phase => ({
    kind: 'run',
    minutes,
    machine: 1,
    attended: false,
    people: 0,
    eligible: [],
    open,
  });

  it('count the loading and the unloading for which a machine is held', () => {
    const given = work(Array.from({ length: 3 }, (_, i) => lot(`l${i}`, [hands(10), run(100), hands(20)])));
    const bounded = boundOf(compile({ ...given, resources: [...given.resources, machine] }));
    expect(bounded).toMatchObject({ by: 'machine', resources: [1], readyAt: 540 + 3 * 130 });
  });

  it('count the clock for which a station is taken', () => {
    const dry: Phase = { kind: 'wait', minutes: 200 };
    const given = work(Array.from({ length: 3 }, (_, i) => lot(`l${i}`, [hands(10), dry], { station: 1 })));
    const bounded = boundOf(compile({ ...given, resources: [...given.resources, { ...machine, kind: 'station' }] }));
    expect(bounded).toMatchObject({ by: 'machine', resources: [1], readyAt: 540 + 3 * 210 });
  });

  it('go backwards through the calendars from the end that is supposed', () => {
    // All hands first, then a run that must lie within the machine's hours: 60 minutes too late for the third day's.
    const late = { ...machine, open: calendarFrom([0, 1, 2, 3].map((d) => [d * DAY + 600, d * DAY + 720])) };
    const lots = [...Array.from({ length: 3 }, (_, i) => lot(`l${i}`, [hands(300)])), lot('run', [run(120)])];
    const links = [0, 1, 2].map((from) => ({ ...feed, from, to: 3 }));
    const given = work(lots, links);
    const levelled = level({ ...given, resources: [...given.resources, late] }, { seed: 1 });
    expect(levelled.bound.readyAt).toBe(2 * DAY + 720);
    expect(levelled.schedule.readyAt).toBe(levelled.bound.readyAt);
  });

  it('let work before a pause end where the pause begins, not where it is over', () => {
    const mornings = calendarFrom([0, 1, 2].map((d) => [d * DAY + 540, d * DAY + 840]));
    const oneGo: HandsPhase = { ...hands(240), oneGo: true };
    const given = { ...work([lot('a', [hands(120), oneGo])]), readyBy: 3 * DAY };
    const resources = given.resources.map((person) => ({ ...person, open: mornings }));
    const { bound, schedule } = level({ ...given, resources }, { seed: 1 });
    expect([schedule.starts[0], schedule.readyAt, bound.readyAt]).toEqual([720, DAY + 780, DAY + 780]);
  });

  it('take the earliest start of any who may begin, whoever ends first', () => {
    // The first could begin at 9:00 and end on the second day; the second begins and ends on the afternoon of the
    // first.
    const morning = calendarFrom([0, 1].map((d) => [d * DAY + 540, d * DAY + 600]));
    const afternoon = calendarFrom([[780, 1020]]);
    const given = work(
      [lot('a', [hands(100, [0, 1])]), lot('b', [hands(5, [2])])],
      [{ ...feed, from: 0, to: 1, type: 'start-start' }],
      3,
    );
    const resources = given.resources.map((person, i) => ({ ...person, open: [morning, afternoon, open][i]! }));
    const bounded = boundOf(
      compile({ ...given, resources, lots: [{ ...given.lots[0]!, onSite: true }, given.lots[1]!] }),
    );
    expect(bounded.readyAt).toBe(545);
  });
});

describe('bounds by the order of two jobs', () => {
  it('rule out an end by which neither of two could come second', () => {
    // The second to come must dry: first, it makes the first wait; second, it dries late. No window is overbooked
    // before.
    const given = work([
      lot('a', [hands(100)]),
      lot('b', [hands(100), { kind: 'wait', minutes: 60 }], { release: 600 }),
    ]);
    const { bound, schedule, verdict } = level(given, { seed: 1 });
    expect([bound.readyAt, schedule.readyAt, verdict]).toEqual([800, 800, 'proved-best']);
  });

  it('do not take the crew that can follow at once for the one that ends first', () => {
    // The second half must not end before 27 less three minutes: who begins it later, and stays, ends it first.
    const given = tinyWork(273, 6);
    const { bound, schedule } = level(given, { seed: 1, schedules: 400 });
    expect(solveWork(given, schedule.readyAt)?.readyAt).toBe(27);
    expect(bound.readyAt).toBeLessThanOrEqual(27);
  });
});

const feed = { type: 'finish-start' as const, lagMinutes: 0, lagOpen: null, reason: 'feed' as const };

it('takes the critical path as bound where hands are plenty', () => {
  const given = work([lot('a', [hands(100)]), lot('b', [hands(100, [1])])], [], 2);
  expect(boundOf(compile(given))).toMatchObject({ by: 'critical-path', readyAt: 640, window: null });
});

function smallTextbook(seed: number): Work {
  const random = new Random(seed);
  const capacities = [4, 5];
  return textbookWork(
    capacities,
    Array.from({ length: 6 }, (_, i) => ({
      minutes: 1 + random.below(5),
      demands: capacities.map((capacity) => random.below(capacity + 1)),
      successors: [i + 1 + random.below(4)].filter((to) => to < 6 && random.below(2) === 0),
    })),
  );
}
