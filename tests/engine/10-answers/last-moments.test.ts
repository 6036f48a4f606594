import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';
import { LIVELY_NOW, livelyBuild } from '../../support/makers/lively-builds.ts';

/** Tue 1 Dec 2026, 17:00 UTC. */
const NOW = Date.parse('2026-12-01T17:00Z') / 60_000;

/** Twelve slats of four a load on one rack that is in use, with spares that nothing waits for. */
const BUILD: Build = {
  id: 'slats',
  name: 'slats',
  zone: 'UTC',
  event: '2026-12-12T18:00',
  readyBy: '2026-12-10T22:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 17:00-22:00' }],
  machines: [{ id: 'rack', name: 'rack', hours: 'always', unattended: true, overnight: true }],
  parts: [{ id: 'slat', name: 'slat', source: 'make', count: 12, spares: 3 }],
  steps: [
    {
      id: 'oil',
      name: 'oil',
      part: 'slat',
      lotSize: 4,
      phases: [
        { kind: 'hands', perUnit: 3 },
        { kind: 'run', machine: 'rack', minutes: '8 h' },
      ],
    },
    {
      id: 'hang',
      name: 'hang',
      count: 12,
      lotSize: 4,
      after: [{ step: 'oil', type: 'units', ratio: 1 }],
      phases: [{ kind: 'hands', perUnit: 10 }],
    },
  ],
};
const LOADED: LogEntry[] = [
  { id: 'loaded-0001', kind: 'loaded', step: 'oil', n: 4, machine: 'rack', at: '2026-12-01T16:00:00Z', who: 'Ria' },
];

/** The last moment to finish a step, and those of its lots that are needed, the one that is planned last first. */
function lastMoments(forecast: Forecast, id: string, isSpare: (lot: string) => boolean) {
  const step = forecast.steps.find((one) => one.id === id)!.levelled;
  const lots = forecast.lots.flatMap((lot) =>
    lot.step !== id || lot.levelled?.lastFinish == null || isSpare(lot.id)
      ? []
      : [{ finish: lot.levelled.finish, last: lot.levelled.lastFinish }],
  );
  return { step, lots: lots.sort((a, b) => b.finish - a.finish || a.last - b.last) };
}

describe('the last moment to finish a step that is under way', () => {
  it('is that of the needed units planned last, not that of spares, which have until the event', () => {
    const forecast = planBuild(BUILD, LOADED, NOW);
    const oil = forecast.steps.find(({ id }) => id === 'oil')!;
    expect(oil.state).toBe('under-way');
    expect(oil.levelled!.lastFinish).toBeLessThan(forecast.readyBy);
    const spares = forecast.lots.filter(({ step, firstUnit }) => step === 'oil' && firstUnit > 12);
    expect(Math.min(...spares.map(({ levelled }) => levelled!.lastFinish!))).toBeGreaterThan(forecast.readyBy);
  });

  it('is in any build no later than that of whatever needed lot ends last', () => {
    let compared = 0;
    for (let seed = 1; seed <= 15; seed++) {
      const { build, log } = livelyBuild(seed);
      const { work } = workThrough({ build, log, now: LIVELY_NOW }, 'work');
      const spares = new Set(work.lots.filter(({ spare }) => spare === true).map(({ id }) => id));
      const forecast = planBuild(build, log, LIVELY_NOW);
      for (const { id, name } of forecast.steps) {
        const { step, lots } = lastMoments(forecast, id, (lot) => spares.has(lot));
        if (lots.length === 0) continue;
        compared++;
        expect([seed, name, step!.lastFinish]).toEqual([seed, name, lots[0]!.last]);
      }
    }
    expect(compared).toBeGreaterThan(60);
  });
});

describe('the last moment to begin a lot', () => {
  const rooms = (forecast: Forecast) => forecast.lots.map(({ levelled }) => levelled!.room!);

  it('of spares that come too late for the event is before they are planned', () => {
    const [event, units] = ['2026-12-02T22:00', { count: 4, spares: 4 }];
    const slat = { ...BUILD.parts![0]!, ...units };
    const cut = { id: 'cut', name: 'cut', part: 'slat', lotSize: 1, phases: [{ kind: 'hands' as const, perUnit: 60 }] };
    const { readyBy: _, ...rest } = BUILD;
    const forecast = planBuild(
      { ...rest, event, parts: [slat], steps: [cut, { ...cut, id: 'sand', name: 'sand' }] },
      [],
      NOW,
    );
    // Two evenings hold the four that are needed and two hours beside them.
    const ends = Date.parse(`${event}Z`) / 60_000;
    const late = forecast.lots.filter(({ levelled }) => levelled!.finish > ends);
    expect(late.length).toBeGreaterThan(3);
    for (const { levelled } of late) expect(levelled!.lastFinish).toBeLessThanOrEqual(ends);
    expect(Math.max(...late.map(({ levelled }) => levelled!.room!))).toBeLessThan(0);
    expect(rooms(forecast).filter((room) => room < 0).length).toBeGreaterThanOrEqual(late.length);
  });

  it('is in any build no later than with unlimited hands', () => {
    const levelling = { seed: 1, schedules: 30 };
    let late = 0;
    for (let seed = 1; seed <= 24; seed++) {
      const { build, log } = livelyBuild(seed);
      const { loadIn: _, ...open } = { ...build, steps: build.steps.filter(({ onSite }) => onSite !== true) };
      const finish = planBuild(open, log, LIVELY_NOW, { levelling }).room.event.finish!;
      // What is needed is just in time, so that spares come too late.
      const event = new Date(finish * 60_000).toISOString().slice(0, 16);
      const forecast = planBuild({ ...open, event }, log, LIVELY_NOW, { levelling });
      for (const { id, begun, levelled, dates } of forecast.lots) {
        if (begun || levelled?.lastStart == null || dates.lateStart === null) continue;
        if (levelled.finish > forecast.event) late++;
        expect(levelled.lastStart, `build ${seed}, ${id}`).toBeLessThanOrEqual(dates.lateStart);
      }
    }
    expect(late).toBeGreaterThan(2);
  });
});

describe('the last moment of work on site', () => {
  const LOAD_IN = '2026-12-13T08:00';
  const hang = (minutes: number, people = 1): Build => ({
    ...BUILD,
    loadIn: LOAD_IN,
    readyBy: '2026-12-12T22:00',
    event: '2026-12-13T19:00',
    people: ['ria', 'sam'].map((id) => ({ id, name: id, hours: 'daily 17:00-22:00' })),
    steps: [
      BUILD.steps[0]!,
      {
        ...{ id: 'hang', name: 'hang', count: 4, lotSize: 1, onSite: true, after: ['oil'] },
        phases: [{ kind: 'hands', minutes, people }],
      },
    ],
  });
  const wall = (text: string) => Date.parse(`${text}Z`) / 60_000;

  it('is never before the load-in, also where the hours from there to the event are too few', () => {
    for (const build of [hang(20), hang(60), hang(90, 2)]) {
      const { lots, steps, show } = planBuild(build, [], NOW);
      const own = [
        ...lots.flatMap(({ step, levelled }) => (step === 'hang' ? [levelled!] : [])),
        steps.find(({ id }) => id === 'hang')!.levelled!,
      ];
      expect(own).toHaveLength(5);
      for (const { lastStart, lastFinish } of own) {
        expect(lastStart!).toBeGreaterThanOrEqual(wall(LOAD_IN));
        expect(lastFinish!).toBeGreaterThan(wall(LOAD_IN));
      }
      expect(show!.run.length).toBeGreaterThan(3);
      for (const { last } of show!.run) expect(last!).toBeGreaterThanOrEqual(wall(LOAD_IN));
    }
  });

  it('leaves no room where it ends after the event, and says by how much', () => {
    const { steps, room } = planBuild(hang(90, 2), [], NOW);
    expect(room.event.finish).toBe(wall('2026-12-14T18:00'));
    expect(steps.find(({ id }) => id === 'hang')!.levelled).toMatchObject({
      start: wall('2026-12-13T17:00'),
      lastStart: wall('2026-12-13T17:00'),
      lastFinish: wall('2026-12-13T19:00'),
      room: wall('2026-12-13T19:00') - wall('2026-12-14T18:00'),
    });
  });

  it('asks nothing earlier of the workshop than the ready-by does, however much is to be done on site', () => {
    const before = (build: Build) => {
      const { steps } = planBuild({ ...build, readyBy: '2026-12-12T22:00' }, [], NOW);
      return steps.find(({ id }) => id === 'oil')!;
    };
    const [enough, tooFew, crew] = [hang(20), hang(240), hang(90, 2)].map(before);
    for (const { levelled, dates } of [tooFew!, crew!]) {
      expect(levelled!.lastStart).toBe(enough!.levelled!.lastStart);
      expect(levelled!.lastFinish).toBe(enough!.levelled!.lastFinish);
      expect(dates!.lateFinish).toBe(enough!.dates!.lateFinish);
    }
  });

  it('has nothing of it that should have passed, nor be begun on, before the load-in', () => {
    const made: LogEntry[] = [1, 2, 3].map((n) => ({
      ...{ id: `made-0000${n}`, seq: n, kind: 'done', step: 'oil', n: 4 + n - 2 },
      at: `2026-12-0${n + 1}T21:00:00Z`,
    }));
    for (const [log, build] of [
      [[], hang(240)],
      [made, hang(240)],
      [made, hang(90, 2)],
    ] as const) {
      const { balance } = planBuild(build, log, wall('2026-12-12T21:59'), { levelling: { seed: 1, schedules: 4 } });
      const own = balance!.steps.find(({ step }) => step === 'hang')!;
      expect(own.due).toBe(0);
      expect(own.enoughUntil!).toBeGreaterThanOrEqual(wall(LOAD_IN));
    }
  });

  it('has hands missing: what it needs beyond the hours of those who may do it, and none where they are enough', () => {
    const missing = (build: Build) => planBuild(build, [], NOW).room.event.missingHands;
    // Ria and Sam are there from 17 to 19: four hours of hands for four at 1 h, at 4 h, and by two people at 90 min.
    expect([hang(60), hang(240), hang(90, 2)].map(missing)).toEqual([undefined, 12 * 60, 8 * 60]);
    const alone = hang(60);
    alone.steps[1]!.phases = [{ kind: 'hands', minutes: 60, who: ['ria'] }];
    expect(missing(alone)).toBe(2 * 60);
  });

  it('asks nothing earlier of what comes before it in any build than it would with days on site', () => {
    const levelling = { seed: 1, schedules: 4 };
    let short = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const { build, log } = livelyBuild(seed);
      const hours = { ...build.people![0]!, hours: 'daily 10:00-14:00' };
      const people = build.people!.map(({ id, name }) => ({ ...hours, id, name }));
      const steps = build.steps.map((step) =>
        step.id === 'hang' ? { ...step, phases: [{ kind: 'hands' as const, minutes: 700, people: 2 }] } : step,
      );
      const tight = { ...build, people, steps, readyBy: '2027-01-08T20:00', event: '2027-01-10T12:00' };
      const { lots, steps: planned, room, loadIn } = planBuild(tight, log, LIVELY_NOW, { levelling });
      // By unlimited hands what feeds it may end when they would with an event that is days later.
      const later = planBuild({ ...tight, event: '2027-01-30T12:00' }, log, LIVELY_NOW, { levelling });
      const { work } = workThrough({ build: tight, log, now: LIVELY_NOW }, 'work');
      const spares = new Set(work.lots.flatMap(({ id, spare }) => (spare === true ? [id] : [])));
      const onSite = new Set(planned.filter((step) => step.onSite).map(({ id }) => id));
      short += room.event.missingHands === undefined ? 0 : 1;
      for (const [i, lot] of lots.entries()) {
        const free = later.lots[i]!;
        if (onSite.has(lot.step)) expect(lot.levelled?.lastStart ?? loadIn!).toBeGreaterThanOrEqual(loadIn!);
        else if (!spares.has(lot.id))
          expect([seed, lot.id, lot.dates.lateFinish]).toEqual([seed, lot.id, free.dates.lateFinish]);
      }
    }
    expect(short).toBeGreaterThan(10);
  });
});
