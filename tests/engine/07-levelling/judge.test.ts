import { describe, expect, test } from 'vitest';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import type {
  HandsPhase,
  Lot,
  Phase,
  Placement,
  Resource,
  RunPhase,
  Schedule,
  Work,
} from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';

const DAY = 1440;
const at = (day: number, hour: number, minute = 0) => day * DAY + hour * 60 + minute;
const daily = (...hours: [number, number][]) =>
  calendarFrom(
    Array.from({ length: 6 }, (_, d) => hours.map(([from, to]): [number, number] => [at(d, from), at(d, to)])).flat(),
  );

const [ANN, BOB, PRINTER, ROUTER, RACK, AIR] = [0, 1, 2, 3, 4, 5];
const annsHours = daily([8, 12], [13, 17]);
const resource = (name: string, kind: Resource['kind'], capacity: number, open: Resource['open']): Resource => ({
  id: name,
  name,
  kind,
  capacity,
  open,
});
const resources = [
  resource('ann', 'person', 1, annsHours),
  resource('bob', 'person', 1, daily([10, 18])),
  resource('printer', 'machine', 2, daily([0, 24])),
  resource('router', 'machine', 1, daily([8, 16])),
  resource('rack', 'station', 1, daily([0, 24])),
  resource('air', 'pool', 3, daily([6, 23])),
];

const hands = (minutes: number, more: Partial<HandsPhase> = {}): HandsPhase => ({
  kind: 'hands',
  minutes,
  people: 1,
  eligible: [ANN],
  oneGo: false,
  open: annsHours,
  ...more,
});
const run = (minutes: number, machine: number, more: Partial<RunPhase> = {}): RunPhase => ({
  kind: 'run',
  minutes,
  machine,
  attended: false,
  people: 0,
  eligible: [],
  open: annsHours,
  ...more,
});
const lot = (id: string, phases: readonly Phase[], more: Partial<Lot> = {}): Lot => ({
  id,
  step: 0,
  set: null,
  number: 1,
  firstUnit: 1,
  lastUnit: 1,
  phases,
  release: 0,
  deadline: at(5, 0),
  begunAt: null,
  pinnedStart: null,
  pinnedPeople: null,
  station: null,
  onSite: false,
  ...more,
});

/**
 * One lot of each kind, and where a person with pencil and paper put its phases: [start, finish, people, machine unit].
 */
const drawn: readonly [Lot, ...(readonly [number, number, readonly number[], number?])[]][] = [
  [
    lot('print', [hands(10), run(300, PRINTER), hands(5)]),
    [at(0, 8), at(0, 8, 10), [ANN], 0],
    [at(0, 8, 10), at(0, 13, 10), [], 0],
    [at(0, 13, 10), at(0, 13, 15), [ANN], 0],
  ],
  [
    lot('print more', [hands(10), run(300, PRINTER), hands(5)]),
    [at(0, 8, 10), at(0, 8, 20), [ANN], 1],
    [at(0, 8, 20), at(0, 13, 20), [], 1],
    [at(0, 13, 20), at(0, 13, 25), [ANN], 1],
  ],
  [
    lot('paint', [hands(25), { kind: 'wait', minutes: 240 }], { station: RACK }),
    [at(0, 8, 20), at(0, 8, 45), [ANN]],
    [at(0, 8, 45), at(0, 12, 45), []],
  ],
  [
    lot('paint more', [hands(25), { kind: 'wait', minutes: 240 }], { station: RACK }),
    [at(0, 13, 25), at(0, 13, 50), [ANN]],
    [at(0, 13, 50), at(0, 17, 50), []],
  ],
  [
    lot('order', [
      hands(15),
      {
        kind: 'lead',
        workingDays: 1,
        arrivals: { cutoffs: Int32Array.of(at(0, 12), at(1, 12)), arrivals: Int32Array.of(at(1, 9), at(2, 9)) },
      },
    ]),
    [at(0, 8, 45), at(0, 9), [ANN]],
    [at(0, 9), at(1, 9), []],
  ],
  [lot('press', [{ kind: 'demand', minutes: 60, demands: [{ resource: AIR, amount: 2 }] }]), [at(0, 8), at(0, 9), []]],
  [
    lot('press more', [{ kind: 'demand', minutes: 60, demands: [{ resource: AIR, amount: 2 }] }]),
    [at(0, 9), at(0, 10), []],
  ],
  [lot('carry', [hands(30, { people: 2, eligible: [ANN, BOB] })]), [at(0, 14), at(0, 14, 30), [ANN, BOB]]],
  [lot('glue', [hands(120, { oneGo: true })]), [at(0, 14, 30), at(0, 16, 30), [ANN]]],
  [
    lot('mill', [run(90, ROUTER, { attended: true, people: 1, eligible: [BOB] })]),
    [at(0, 10), at(0, 11, 30), [BOB], 0],
  ],
  [lot('file', [hands(120)], { release: at(0, 16) }), [at(0, 16, 30), at(1, 9, 30), [ANN]]],
  [
    lot('pinned', [hands(20, { eligible: [ANN, BOB] })], { pinnedPeople: [BOB], pinnedStart: at(0, 15) }),
    [at(0, 15), at(0, 15, 20), [BOB]],
  ],
  [
    lot('loaded', [run(100, ROUTER), hands(5)], { begunAt: at(0, 8, -50) }),
    [at(0, 8, -50), at(0, 8, 50), [], 0],
    [at(0, 9), at(0, 9, 5), [ANN], 0],
  ],
  [lot('tie', [hands(10), hands(10)]), [at(1, 9, 30), at(1, 9, 40), [ANN]], [at(1, 9, 40), at(1, 9, 50), [ANN]]],
  [
    lot('turned', [hands(5), run(60, PRINTER), hands(5), run(30, PRINTER), hands(5)], { release: at(2, 8) }),
    [at(2, 8), at(2, 8, 5), [ANN], 1],
    [at(2, 8, 5), at(2, 9, 5), [], 1],
    [at(2, 9, 10), at(2, 9, 15), [ANN], 1],
    [at(2, 9, 15), at(2, 9, 45), [], 1],
    [at(2, 13), at(2, 13, 5), [ANN], 1],
  ],
  [
    lot('after it', [hands(5), run(60, PRINTER), hands(5)], { release: at(2, 8) }),
    [at(2, 13, 5), at(2, 13, 10), [ANN], 1],
    [at(2, 13, 10), at(2, 14, 10), [], 1],
    [at(2, 14, 10), at(2, 14, 15), [ANN], 1],
  ],
  [lot('all there', [], { onSite: true })],
];
const milestone = drawn.findIndex(([{ id }]) => id === 'all there');
const number = (id: string) => drawn.findIndex(([{ id: own }]) => own === id);

const work: Work = {
  now: at(0, 8),
  readyBy: at(5, 0),
  loadIn: null,
  event: at(5, 0),
  resources,
  lots: drawn.map(([own]) => own),
  links: [
    { from: number('order'), to: milestone, type: 'finish-start', lagMinutes: 60, lagOpen: null, reason: 'feed' },
    {
      from: number('mill'),
      to: number('carry'),
      type: 'finish-start',
      lagMinutes: 90,
      lagOpen: annsHours,
      reason: 'feed',
    },
    {
      from: number('press'),
      to: number('press more'),
      type: 'start-start',
      lagMinutes: 60,
      lagOpen: null,
      reason: 'feed',
    },
    {
      from: number('glue'),
      to: number('file'),
      type: 'finish-finish',
      lagMinutes: -30,
      lagOpen: annsHours,
      reason: 'feed',
    },
    { from: number('carry'), to: number('glue'), type: 'start-finish', lagMinutes: 150, lagOpen: null, reason: 'feed' },
  ],
};

/** The drawn schedule, with what `change` makes of some placements; starts and ends follow unless they are given. */
function schedule(
  change: (placement: Placement) => Placement | null = (placement) => placement,
  more: Partial<Schedule> = {},
): Schedule {
  const placements = drawn
    .flatMap(([{ phases }, ...rows], l) =>
      rows.map(([start, finish, people, unit], phase): Placement => {
        const run = phases.find(({ kind }) => kind === 'run');
        const machine = run?.kind === 'run' ? run.machine : null;
        return { lot: l, phase, start, finish, people, machine, machineUnit: unit ?? null };
      }),
    )
    .map(change)
    .filter((placement) => placement !== null);
  const of = (l: number) => placements.filter((placement) => placement.lot === l);
  const starts = Int32Array.from(drawn, (_, l) =>
    l === milestone ? at(1, 10) : Math.min(...of(l).map(({ start }) => start)),
  );
  const finishes = Int32Array.from(drawn, (_, l) =>
    l === milestone ? at(1, 10) : Math.max(...of(l).map(({ finish }) => finish)),
  );
  return {
    starts,
    finishes,
    placements,
    activityList: Int32Array.from(drawn.keys()),
    readyAt: Math.max(...finishes.subarray(0, milestone)),
    finishAt: Math.max(...finishes),
    ...more,
  };
}

/** Phase `phase` of lot `id` with other values. */
const moved = (id: string, phase: number, more: Partial<Placement>) => (placement: Placement) =>
  placement.lot === number(id) && placement.phase === phase ? { ...placement, ...more } : placement;
const span = (start: number, finish: number) => ({ start, finish });

describe('the judge of schedules', () => {
  test('finds no fault in a schedule drawn by hand', () => {
    expect(faultsOf(work, schedule())).toEqual([]);
  });

  const wrong: readonly (readonly [string, (placement: Placement) => Placement | null, RegExp])[] = [
    ['a phase left out', (p) => (p.lot === number('print') && p.phase === 1 ? null : p), /2 placements for 3/],
    ['a phase placed twice', moved('print', 1, { phase: 0 }), /twice/],
    ['a lot nobody asked for', moved('press', 0, { lot: 99 }), /0 placements for 1/],
    ['half a minute', moved('press', 0, span(at(0, 8) + 0.5, at(0, 9) + 0.5)), /whole minute/],
    ['a start before now', moved('press', 0, span(at(0, 7), at(0, 8))), /outside its bounds/],
    ['a start before the release', moved('file', 0, span(at(0, 15, 59), at(1, 8, 59))), /outside its bounds/],
    ['a start before the pinned time', moved('pinned', 0, span(at(0, 14, 59), at(0, 15, 19))), /outside its bounds/],
    ['a lot under way moved', moved('loaded', 0, span(at(0, 7), at(0, 8, 40))), /began at/],
    ['too little work', moved('file', 0, span(at(0, 16, 30), at(1, 9, 29))), /works 119 for 120/],
    ['too long a stay', moved('file', 0, span(at(0, 16, 30), at(1, 9, 31))), /works 121 for 120/],
    ['work in the lunch hour', moved('print', 0, span(at(0, 12, 20), at(0, 12, 30))), /works 0 for 10/],
    ['work that begins in a pause', moved('file', 0, span(at(0, 17), at(1, 10))), /nobody is there/],
    ['one go across a pause', moved('glue', 0, span(at(0, 16), at(1, 9))), /one go/],
    ['one person for two', moved('carry', 0, { people: [ANN] }), /1 people for 2/],
    ['the same person twice', moved('carry', 0, { people: [ANN, ANN] }), /1 people for 2/],
    ['a person who may not', moved('glue', 0, { people: [BOB] }), /may not do it/],
    ['another than the pinned person', moved('pinned', 0, { people: [ANN] }), /pinned to/],
    ['a person in two places', moved('glue', 0, span(at(0, 14, 29), at(0, 16, 29))), /ann: 2 of 1/],
    [
      'work while somebody is in the middle of other work across a night',
      moved('carry', 0, span(at(0, 16, 45), at(0, 17))),
      /ann: 2 of 1/,
    ],
    ['a run cut short', moved('print', 1, span(at(0, 8, 10), at(0, 13, 9))), /runs 299 for 300/],
    ['a run while its machine is closed', moved('mill', 0, span(at(0, 15), at(0, 16, 30))), /not there/],
    ['a run while its attendant is away', moved('mill', 0, span(at(0, 9), at(0, 10, 30))), /not there/],
    ['a run without its machine', moved('print', 1, { machine: null, machineUnit: null }), /without its machine/],
    ['two lots on one unit', moved('print more', 1, { machineUnit: 0 }), /one unit does two things/],
    ['a unit that is not there', moved('print more', 1, { machineUnit: 2 }), /one unit does two things/],
    [
      'a machine in use while it waits to be unloaded',
      moved('loaded', 1, span(at(0, 10), at(0, 10, 5))),
      /router: 2 of 1/,
    ],
    [
      'a piece that is taken off its unit to be turned over',
      moved('turned', 3, { machineUnit: 0 }),
      /has left its unit/,
    ],
    ['unloading at another unit', moved('turned', 4, { machineUnit: 0 }), /phase 4: at another unit/],
    [
      'loading between the end of a run and its unloading',
      (p) => (p.lot === number('after it') && p.phase < 2 ? { ...p, start: p.start - 30, finish: p.finish - 30 } : p),
      /printer: one unit does two things/,
    ],
    ['loading long before the run', moved('print', 0, span(at(0, 8, -10), at(0, 8))), /a gap of 10 minutes/],
    ['a gap between hands that are there', moved('tie', 1, span(at(1, 9, 41), at(1, 9, 51))), /its people are there/],
    ['phases that overlap', moved('print', 1, span(at(0, 8, 9), at(0, 13, 9))), /before the one before it ends/],
    ['a wait cut short', moved('paint', 1, span(at(0, 8, 45), at(0, 12, 44))), /waits 239 for 240/],
    [
      'unloading before now',
      moved('loaded', 1, span(at(0, 7, 50), at(0, 7, 55))),
      /phase 1: begins at 470, before now/,
    ],
    ['goods that come too early', moved('order', 1, span(at(0, 9), at(1, 8))), /ordered at/],
    ['an order after the cut-off', moved('order', 1, span(at(0, 12, 1), at(1, 9))), /ordered at/],
    ['a pool asked for too much', moved('press more', 0, span(at(0, 8, 59), at(0, 9, 59))), /air: 4 of 3/],
    ['a demand cut short', moved('press', 0, span(at(0, 8), at(0, 8, 59))), /takes 59 for 60/],
    ['a demand while its pool is closed', moved('press more', 0, span(at(0, 22, 30), at(0, 23, 30))), /pool is closed/],
    [
      'more lots under way than the station takes',
      moved('paint more', 0, span(at(0, 12), at(0, 12, 25))),
      /rack: 2 of 1/,
    ],
    ['a link of finish to start broken', moved('order', 1, span(at(1, 0), at(1, 9, 1))), /finish-start from order/],
    ['a lag in open minutes broken', moved('carry', 0, span(at(0, 13, 59), at(0, 14, 29))), /finish-start from mill/],
    [
      'a link of start to start broken',
      moved('press more', 0, span(at(0, 8, 59), at(0, 9, 59))),
      /start-start from press/,
    ],
    ['a link of finish to finish broken', moved('glue', 0, span(at(1, 8, 1), at(1, 10, 1))), /finish-finish from glue/],
    [
      'a link of start to finish broken',
      moved('carry', 0, span(at(0, 14, 1), at(0, 14, 31))),
      /start-finish from carry/,
    ],
  ];

  test.each(wrong)('refuses %s', (_, change, expected) => {
    expect(faultsOf(work, schedule(change)).join('\n')).toMatch(expected);
  });

  test('refuses a summary that is not that of its lots', () => {
    const { readyAt, finishAt, starts, finishes } = schedule();
    const said = (more: Partial<Schedule>) => faultsOf(work, schedule(undefined, more)).join('\n');
    expect(said({ readyAt: readyAt - 1 })).toMatch(/readyAt/);
    expect(said({ finishAt: finishAt - 1 })).toMatch(/finishAt/);
    expect(said({ starts: starts.with(0, starts[0]! + 1) })).toMatch(/its first phase at/);
    expect(said({ finishes: finishes.with(0, finishes[0]! - 1) })).toMatch(/not that of its last phase/);
    expect(said({ activityList: Int32Array.from(drawn, () => 0) })).toMatch(/every lot once/);
  });

  test('judges a backward schedule by its deadlines', () => {
    const late = { ...work, lots: work.lots.map((own) => ({ ...own, deadline: at(0, 17) })) };
    expect(faultsOf(late, schedule())).toEqual([]);
    expect(faultsOf(late, schedule(), 'backwards').join('\n')).toMatch(/file: lies outside its bounds/);
  });
});
