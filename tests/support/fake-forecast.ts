/** A forecast made by hand for the wall of fake-build.ts: what the views are drawn from where no engine is wanted. */
import type {
  BurnLine,
  CapacityGroup,
  Dates,
  DaySheet,
  Forecast,
  ForecastMoney,
  ForecastOrder,
  ForecastPart,
  ForecastStep,
  ForecastSupply,
  Room,
  StepLink,
  WhyLine,
} from '../../server/model/index.ts';
import { fakeBalance, fakeRisk } from './fake-pictures.ts';

/** Wed 25 Nov 2026 10:12 on the wall. */
export const FAKE_NOW = minutes('2026-11-25T09:12Z');
const EVENT = minutes('2026-12-05T18:00Z');
const LOAD_IN = minutes('2026-12-05T07:00Z');
const READY_BY = minutes('2026-12-04T17:00Z');
const DAY = 1440;

export interface FakeTune {
  /** Minutes by which the ready-by is missed (positive) or kept (negative). */
  readonly lateMinutes?: number;
  readonly fishLeft?: number;
  /** With futures of twenty minutes before, as a first answer is. */
  readonly oldRisk?: boolean;
  /** The screws are not ordered, and it is too late for that. */
  readonly missedOrder?: boolean;
  /** Instant at which the work on site is finished. */
  readonly siteFinish?: number;
  readonly complete?: boolean;
}

/** The forecast; `tune` makes it late or another count. */
export function fakeForecast({
  lateMinutes = -1700,
  fishLeft = 96,
  oldRisk = false,
  missedOrder = false,
  siteFinish = LOAD_IN + 240,
  complete = true,
}: FakeTune = {}): Forecast {
  const ready = READY_BY + lateMinutes;
  const steps = fakeSteps(ready, fishLeft);
  const burn = fakeBurn(fishLeft);
  return {
    build: { id: 'tide-wall', name: 'Tide Wall', zone: 'Europe/Amsterdam' },
    now: FAKE_NOW,
    start: minutes('2026-11-16T08:00Z'),
    event: EVENT,
    loadIn: LOAD_IN,
    readyBy: READY_BY,
    setCount: 3,
    setName: 'panel',
    currency: 'EUR',
    confidence: 0.9,
    parameters: [
      parameter('panels', 3, null, 'panels', 'measured'),
      parameter('fish_per_panel', 24, null, 'fish', null),
      parameter('fish', 72, 'panels * fish_per_panel', 'fish', null),
      { ...parameter('crank_minutes', 14, null, 'min', 'guessed'), low: 12, high: 20 },
    ],
    uses: [{ parameter: 'fish_per_panel', parts: ['fish'], steps: ['mount-fish'] }],
    parts: [
      part('panel', 'send-out', { need: 3, toMake: 3, toBuy: 3, cost: 540, supplier: 'mill', good: 3 }),
      part('fish', 'send-out', { need: 72, spares: 4, toMake: 76, toBuy: 76, cost: 243.2, supplier: 'saw', good: 12 }),
      part('crank', 'make', { need: 72, spares: 3, toMake: 81, yield: 0.95, good: 40, scrapped: 3 }),
      part('bushing', 'make', { need: 144, spares: 6, toMake: 150, good: 80 }),
      part('screw', 'buy', { need: 144, toMake: 144, packs: 2, toBuy: 200, cost: 12, supplier: 'ironmonger' }),
    ],
    steps,
    lots: [],
    criticalPath: [],
    room: {
      readyBy: room(READY_BY, ready, READY_BY - 3 * DAY),
      loadIn: room(LOAD_IN, ready, READY_BY - 3 * DAY),
      event: room(EVENT, siteFinish, siteFinish),
    },
    lowerBound: {
      readyAt: ready - 500,
      by: 'hands',
      resource: 'maker',
      windowStart: FAKE_NOW,
      windowEnd: READY_BY,
      shortMinutes: Math.max(0, lateMinutes),
      verdict: lateMinutes > 0 ? 'impossible' : 'gap',
    },
    capacity: fakeCapacity(lateMinutes),
    orders: missedOrder ? fakeOrders().map(missed) : fakeOrders(),
    supplies: fakeSupplies(),
    loads: [{ step: 'print-cranks', name: 'print cranks', machine: 'printer', size: 8, total: 10, left: 4 }],
    money: fakeMoney(),
    why: fakeWhy(ready),
    keptOrder: { minutes: 20, upsets: 2 },
    decisions: [
      {
        id: 'colour',
        question: 'Which blue?',
        decideBy: minutes('2026-11-26T08:00Z'),
        decided: null,
        waits: ['paint-fish'],
      },
    ],
    days: fakeDays(),
    burn,
    firstPlan: { kind: 'kept', revision: 1 },
    balance: fakeBalance(FAKE_NOW, steps),
    risk: fakeRisk(FAKE_NOW, ready, EVENT, burn),
    ...(oldRisk ? { riskFrom: { revision: 1, logSeq: 0, computedAt: FAKE_NOW - 20 } } : {}),
    workHours: [
      {
        code: 'week',
        person: 'maker',
        at: minutes('2026-11-30T08:00Z'),
        minutes: 2970,
        weeks: null,
        nights: null,
        steps: [],
        hazards: [],
        machine: null,
        phase: null,
        strong: false,
      },
    ],
    problems: [
      {
        code: 'guessed',
        severity: 'warning',
        field: 'parameters.crank_minutes',
        value: '12 to 20',
        message: 'print cranks rests on a guess of 14 min a crank; time one plate to know.',
      },
    ],
    doubts: [],
    complete,
  };
}

/** Prints at night, then one pair of hands from thing to thing, then what waits for units. */
function fakeWhy(ready: number): WhyLine[] {
  const line = (step: string, hour: number, waited: WhyLine['waited'], more: Partial<WhyLine> = {}): WhyLine => ({
    step,
    set: null,
    lots: 2,
    firstUnit: 1,
    lastUnit: 24,
    start: FAKE_NOW + hour * 60,
    finish: FAKE_NOW + (hour + 8) * 60,
    people: ['Maker'],
    machine: null,
    supplier: null,
    waited,
    stood: null,
    ...more,
  });
  const busy = (step: string) => ({ kind: 'hands', step, who: 'Maker' }) as const;
  return [
    line('print-cranks', 0, { kind: 'begun', step: null, who: null }, { machine: 'Printer' }),
    line(
      'press',
      22,
      { kind: 'units', step: 'print-cranks', who: null },
      {
        stood: { from: FAKE_NOW + 12 * 60, to: FAKE_NOW + 22 * 60 },
      },
    ),
    line('paint-fish', 30, busy('press')),
    line('mount-fish', 50, busy('paint-fish')),
    line('press', 60, busy('mount-fish')),
    line('mount-fish', 74, { kind: 'units', step: 'press', who: null }),
    line('paint-fish', 80, { kind: 'machine', step: 'press', who: 'press' }),
    line('mount-fish', 90, { kind: 'units', step: 'paint-fish', who: null }, { finish: ready }),
  ];
}

export function minutes(instant: string): number {
  return Math.floor(Date.parse(instant) / 60_000);
}

function parameter(
  name: string,
  value: number,
  formula: string | null,
  unit: string,
  origin: 'measured' | 'guessed' | null,
) {
  return { name, value, low: null, high: null, formula, unit, origin };
}

function part(id: string, source: ForecastPart['source'], rest: Partial<ForecastPart>): ForecastPart {
  return {
    id,
    name: id,
    source,
    need: 0,
    spares: 0,
    onHand: 0,
    yield: 1,
    toMake: 0,
    packs: null,
    toBuy: null,
    cost: null,
    supplier: null,
    revision: null,
    dependsOn: [],
    usedIn: [],
    good: 0,
    scrapped: 0,
    ...rest,
  };
}

function room(target: number, finish: number, unlimitedFinish: number): Room {
  return {
    target,
    finish,
    clock: target - finish,
    working: Math.round((target - finish) / 3),
    unlimitedFinish,
    unlimitedClock: target - unlimitedFinish,
  };
}

function fakeSteps(ready: number, fishLeft: number): ForecastStep[] {
  const slack = READY_BY - ready;
  return [
    step('print-cranks', 'print cranks', 'crank', [81, 43, 3], ready - 5 * DAY, slack + 900, {
      lotSize: 8,
      handsMinutesPerUnit: 1.5,
      runMinutesPerLot: 142,
      machine: 'printer',
      pattern: [
        { kind: 'hands', fixedMinutes: 8, minutesPerUnit: 0 },
        { kind: 'run', fixedMinutes: 142, minutesPerUnit: 0 },
        { kind: 'hands', fixedMinutes: 4, minutesPerUnit: 0 },
      ],
      origin: 'guessed',
      machineMinutesLeft: 710,
      handsMinutesLeft: 60,
      feeds: [link('press')],
      readyNow: 8,
      underWay: [
        {
          kind: 'loaded',
          entry: 'e-loaded-1',
          set: null,
          units: 8,
          since: FAKE_NOW - 40,
          backAt: FAKE_NOW + 104,
          promised: false,
          machine: 'printer',
        },
      ],
    }),
    step('print-bushings', 'print bushings', 'bushing', [150, 80, 0], ready - 5 * DAY, slack + 2600, {
      lotSize: 40,
      runMinutesPerLot: 220,
      machine: 'printer',
      pattern: [
        { kind: 'hands', fixedMinutes: 6, minutesPerUnit: 0 },
        { kind: 'run', fixedMinutes: 220, minutesPerUnit: 0 },
      ],
      origin: 'trial',
      machineMinutesLeft: 440,
      feeds: [link('press')],
    }),
    step('order-fish', 'fish from the saw yard', 'fish', [76, 26, 0], ready - 4 * DAY, slack + 300, {
      kind: 'order',
      supplier: 'saw',
      pattern: [
        { kind: 'hands', fixedMinutes: 15, minutesPerUnit: 0 },
        { kind: 'lead', supplier: 'saw', workingDays: 3 },
      ],
      feeds: [link('paint-fish', 'parts')],
      waitsFor: 'an order of 50',
    }),
    step('paint-fish', 'paint fish, three coats', 'fish', [76, 76 - fishLeft / 2, 0], ready - 2 * DAY, slack, {
      lotSize: 24,
      handsMinutesPerUnit: 2.7,
      waitMinutesPerLot: 240,
      pattern: [
        { kind: 'hands', fixedMinutes: 65, minutesPerUnit: 0 },
        { kind: 'wait', fixedMinutes: 240, minutesPerUnit: 0 },
      ],
      origin: 'measured',
      hazards: ['spray'],
      handsMinutesLeft: Math.round(fishLeft * 2.7),
      fedBy: [link('order-fish', 'parts')],
      feeds: [link('press', 'route')],
      readyNow: 12,
    }),
    step('press', 'press bushings', 'fish', [76, 12, 0], ready - 1.5 * DAY, slack + 60, {
      lotSize: 12,
      handsMinutesPerUnit: 1.5,
      pattern: [{ kind: 'hands', fixedMinutes: 18, minutesPerUnit: 0 }],
      origin: null,
      handsMinutesLeft: 96,
      fedBy: [link('paint-fish', 'route'), link('print-bushings', 'parts', 2)],
      feeds: [link('mount-fish', 'maker')],
    }),
    step('mount-fish', 'mount fish', null, [72, 8, 1], ready - 900, slack, {
      sets: [
        { set: 1, total: 24, done: 8, counted: 8, scrapped: 1, left: 17 },
        { set: 2, total: 24, done: 0, counted: 0, scrapped: 0, left: 24 },
        { set: 3, total: 24, done: 0, counted: 0, scrapped: 0, left: 24 },
      ],
      unit: 'fish',
      lotSize: 6,
      handsMinutesPerUnit: 8.6,
      pattern: [{ kind: 'hands', fixedMinutes: 54, minutesPerUnit: 0 }],
      origin: 'measured',
      handsMinutesLeft: 560,
      fedBy: [link('press', 'maker')],
      feeds: [link('wire', 'route')],
    }),
    step('wire', 'wire a panel', null, [3, 0, 0], ready - 300, slack, {
      unit: 'panel',
      handsMinutesPerUnit: 150,
      pattern: [{ kind: 'hands', fixedMinutes: 150, minutesPerUnit: 0 }],
      origin: 'guessed',
      hazards: ['mains'],
      handsMinutesLeft: 470,
      fedBy: [link('mount-fish', 'route')],
      feeds: [link('soak', 'gate'), link('load', 'maker')],
    }),
    step('soak', 'soak test', null, [3, 0, 0], ready - 100, slack, {
      kind: 'gate',
      unit: 'panel',
      pattern: [{ kind: 'wait', fixedMinutes: 720, minutesPerUnit: 0 }],
      waitMinutesPerLot: 720,
      fedBy: [link('wire', 'gate')],
      sendsBack: [{ step: 'mount-fish', units: 2 }],
      feeds: [link('load', 'gate')],
    }),
    step('load', 'load the van', null, [1, 0, 0], ready, slack, {
      unit: 'job',
      pattern: [{ kind: 'hands', fixedMinutes: 90, minutesPerUnit: 0 }],
      handsMinutesPerUnit: 180,
      peopleAtOnce: 2,
      hazards: ['lifting'],
      handsMinutesLeft: 180,
      fedBy: [link('wire', 'maker'), link('soak', 'gate')],
    }),
    step('set-up', 'set up and rehearse', null, [1, 0, 0], LOAD_IN + 240, EVENT - LOAD_IN - 240, {
      unit: 'job',
      pattern: [{ kind: 'hands', fixedMinutes: 240, minutesPerUnit: 0 }],
      onSite: true,
      handsMinutesPerUnit: 240,
      handsMinutesLeft: 240,
    }),
  ];
}

function step(
  id: string,
  name: string,
  partId: string | null,
  [total, done, scrapped]: readonly [number, number, number],
  finish: number,
  slack: number,
  rest: Partial<ForecastStep>,
): ForecastStep {
  const left = total - done;
  return {
    id,
    name,
    kind: 'step',
    part: partId,
    unit: partId ?? 'unit',
    state: left === 0 ? 'done' : done > 0 ? 'under-way' : 'not-begun',
    sets: [{ set: null, total, done, counted: done, scrapped, left }],
    total,
    done,
    scrapped,
    left,
    lotSize: 1,
    handsMinutesPerUnit: null,
    runMinutesPerLot: null,
    waitMinutesPerLot: null,
    origin: null,
    handsMinutesLeft: 0,
    machineMinutesLeft: 0,
    pattern: [],
    machine: null,
    supplier: null,
    people: ['maker'],
    peopleAtOnce: 1,
    hazards: [],
    onSite: false,
    fedBy: [],
    feeds: [],
    readyNow: 0,
    waitsFor: null,
    underWay: [],
    middleWaitMinutes: null,
    partsIn: [],
    sendsBack: [],
    lots: 1,
    dates: dates(finish, slack),
    levelled: { start: finish - 400, finish, lastStart: finish - 400 + slack, lastFinish: finish + slack },
    lastLogged: null,
    ...rest,
  };
}

function link(to: string, given: StepLink['given'] = 'parts', ratio: number | null = null): StepLink {
  return { step: to, type: 'units', ratio, lagMinutes: 0, given };
}

function dates(finish: number, slack: number): Dates {
  return {
    earlyStart: finish - 600,
    earlyFinish: finish - 200,
    lateStart: finish - 600 + slack,
    lateFinish: finish - 200 + slack,
    totalSlackClock: slack,
    totalSlackWorking: Math.round(slack / 3),
    freeSlackClock: 0,
    freeSlackWorking: 0,
    slackToOwnEnd: slack - 1700,
    slackToEvent: slack + 1500,
    critical: slack <= 1700,
  };
}

function fakeCapacity(lateMinutes: number): CapacityGroup[] {
  const perDay = [
    ['2026-11-25', 420],
    ['2026-11-26', 480],
    ['2026-11-27', 180],
    ['2026-11-28', 240],
    ['2026-11-30', 660],
    ['2026-12-01', 480],
    ['2026-12-02', 660],
    ['2026-12-03', 480],
    ['2026-12-04', 480],
  ] as const;
  let cumulative = 0;
  const days = perDay.map(([date, offeredMinutes]) => {
    cumulative += offeredMinutes;
    return { date, offeredMinutes, cumulativeMinutes: cumulative };
  });
  const needed = lateMinutes > 0 ? cumulative + 840 : 2890;
  return [
    {
      id: 'hands',
      name: 'Maker and Helper',
      kind: 'people',
      members: ['maker', 'helper'],
      neededMinutes: needed,
      offeredMinutes: cumulative,
      coveredAt: lateMinutes > 0 ? null : minutes('2026-12-02T20:00Z'),
      shortMinutes: Math.max(0, needed - cumulative),
      days,
    },
    {
      id: 'printer',
      name: 'printer',
      kind: 'machine',
      members: ['printer'],
      neededMinutes: 1150,
      offeredMinutes: 26000,
      coveredAt: minutes('2026-11-25T22:00Z'),
      shortMinutes: 0,
      days: days.map((day, i) => ({ ...day, offeredMinutes: 2880, cumulativeMinutes: 2880 * (i + 1) })),
    },
  ];
}

function missed(order: ForecastOrder): ForecastOrder {
  return order.step === 'order-screw' ? { ...order, orderBy: FAKE_NOW - DAY, state: 'late' } : order;
}

function fakeOrders(): ForecastOrder[] {
  return [
    {
      step: 'order-fish',
      part: 'fish',
      name: 'fish',
      supplier: 'the saw yard',
      units: 50,
      orderBy: minutes('2026-11-26T13:00Z'),
      arrives: minutes('2026-12-01T09:00Z'),
      neededBy: minutes('2026-12-01T12:00Z'),
      state: 'to-order',
      kind: 'send-out',
    },
    {
      step: 'order-screw',
      part: 'screw',
      name: 'screw M3 x 8',
      supplier: 'the ironmonger',
      units: 200,
      orderBy: minutes('2026-11-30T15:00Z'),
      arrives: minutes('2026-12-02T09:00Z'),
      neededBy: minutes('2026-12-02T09:00Z'),
      state: 'to-order',
      kind: 'buy',
    },
    {
      step: 'order-panel',
      part: 'panel',
      name: 'panel',
      supplier: 'the mill',
      units: 3,
      orderBy: minutes('2026-11-18T13:00Z'),
      arrives: minutes('2026-11-24T09:00Z'),
      neededBy: minutes('2026-12-01T09:00Z'),
      state: 'received',
      kind: 'send-out',
    },
  ];
}

/** Fish to order, screws promised, panels here, and oil from nobody. */
function fakeSupplies(): ForecastSupply[] {
  const pieces = { unit: null, pack: 1, waste: 0 };
  const none = { spares: 0, onHand: 0, here: 0, onTheWay: 0, toOrder: 0, orders: [], packs: null, cost: null };
  const never = { orderBy: null, arrives: null, neededBy: null };
  const [fish, screw, panel] = fakeOrders().map(({ step, part, name, orderBy, arrives, neededBy }) => ({
    ...{ id: part!, part, step, name, orderBy, arrives, neededBy },
  }));
  const promise = {
    ...{ entry: 'screws-0001', units: 200, at: minutes('2026-11-24T15:00Z') },
    ...{ due: minutes('2026-12-02T09:00Z'), promised: true },
  };
  return [
    {
      ...{ ...none, ...fish!, supplier: 'saw', kind: 'send-out', measure: pieces, need: 72, spares: 4, amount: 76 },
      ...{ units: 76, here: 26, toOrder: 50, state: 'part-here', cost: 243.2 },
    },
    {
      ...{ ...none, ...screw!, orderBy: null, supplier: 'ironmonger', kind: 'buy', need: 144, amount: 200, packs: 2 },
      ...{
        measure: { ...pieces, pack: 100 },
        units: 200,
        onTheWay: 200,
        state: 'promised',
        cost: 12,
        orders: [promise],
      },
    },
    {
      ...{
        ...none,
        ...never,
        id: 'oil',
        part: 'oil',
        step: null,
        name: 'oil',
        supplier: null,
        kind: 'buy',
        need: 0.86,
      },
      ...{
        measure: { unit: 'L', pack: 2.5, waste: 0.1 },
        amount: 2.5,
        packs: 1,
        units: 1,
        toOrder: 1,
        state: 'nobody',
      },
    },
    {
      ...{ ...none, ...panel!, ...never, supplier: 'mill', kind: 'send-out', measure: pieces, need: 3, amount: 3 },
      ...{ units: 3, here: 3, state: 'here', cost: 540 },
    },
  ];
}

function fakeMoney(): ForecastMoney {
  const line = { supplier: null, committed: 0, toCome: 0 };
  return {
    lines: [
      { ...line, kind: 'bought', id: 'screw', name: 'screw M3 x 8', supplier: 'ironmonger', committed: 12 },
      { ...line, kind: 'sent-out', id: 'fish', name: 'fish', supplier: 'saw', committed: 76.8, toCome: 166.4 },
      { ...line, kind: 'sent-out', id: 'panel', name: 'panel', supplier: 'mill', committed: 540 },
      { ...line, kind: 'hours', id: 'helper', name: 'Helper', toCome: 45, minutes: { soFar: 0, toCome: 180 } },
    ],
    ...{ committed: 628.8, toCome: 211.4, contingency: 21.14, share: 0.1, total: 861.34, unpriced: ['oil'] },
  };
}

function fakeDays(): DaySheet[] {
  const first = minutes('2026-11-24T23:00Z');
  return Array.from({ length: 11 }, (_, i) => {
    const start = first + i * DAY;
    const at = (hour: number, minute = 0) => start + hour * 60 + minute;
    const spell = (
      stepId: string,
      from: number,
      to: number,
      units: number,
      set: number | null,
      kind: 'hands' | 'run',
    ) => ({
      start: from,
      finish: to,
      lot: `${stepId}-${from}`,
      step: stepId,
      set,
      units,
      kind,
      hazards: [],
    });
    const working = i !== 4;
    return {
      date: new Date((start + 120) * 60_000).toISOString().slice(0, 10),
      start,
      end: start + DAY,
      people: [
        {
          id: 'maker',
          name: 'Maker',
          open: working ? [[at(9), at(12, 30)] as const, [at(13, 30), at(18)] as const] : [],
          spells: working
            ? [
                { ...spell('print-cranks', at(9), at(9, 12), 8, null, 'hands'), kind: 'load' as const },
                spell('paint-fish', at(9, 15), at(10, 20), 24, null, 'hands'),
                spell('mount-fish', at(10, 30), at(12, 30), 12, 1, 'hands'),
                spell('mount-fish', at(13, 30), at(14, 30), 6, 1, 'hands'),
                spell('mount-fish', at(14, 30), at(15, 30), 6, 1, 'hands'),
              ]
            : [],
        },
        {
          id: 'helper',
          name: 'Helper',
          open: i % 2 === 0 ? [[at(18), at(21)] as const] : [],
          spells: i % 2 === 0 ? [spell('press', at(18), at(18, 45), 24, null, 'hands')] : [],
        },
      ],
      machines: [
        {
          id: 'printer',
          name: 'printer',
          unit: 0,
          open: DAY,
          spells: working ? [spell('print-cranks', at(9, 12), at(11, 34), 8, null, 'run')] : [],
        },
        {
          id: 'printer',
          name: 'printer',
          unit: 1,
          open: DAY,
          spells: working ? [spell('print-bushings', at(17, 55), at(21, 35), 40, null, 'run')] : [],
        },
      ],
      orders: i === 1 ? [{ step: 'order-fish', name: 'fish', by: at(14) }] : [],
      decisions: i === 1 ? [{ id: 'colour', question: 'Which blue?', by: at(9) }] : [],
      arrivals: i === 6 ? [{ step: 'order-fish', name: 'fish', at: at(10) }] : [],
    };
  });
}

function fakeBurn(fishLeft: number): BurnLine[] {
  const begin = minutes('2026-11-16T08:00Z');
  const planned = Array.from({ length: 19 }, (_, i) => [begin + i * DAY, Math.max(0, 3600 - i * 200)] as const);
  const counted = Array.from({ length: 10 }, (_, i) => [begin + i * DAY, 3600 - i * 160 + (i > 5 ? 150 : 0)] as const);
  const fishPlanned = Array.from({ length: 16 }, (_, i) => [begin + (i + 2) * DAY, Math.max(0, 120 - i * 9)] as const);
  const left = 2310;
  return [
    {
      step: null,
      unit: 'min',
      total: 3600,
      left,
      counted: [...counted, [FAKE_NOW, left]],
      planned,
      needed: [
        [FAKE_NOW, left],
        [READY_BY, 0],
      ],
      neededPerHour: 38,
      countedPerHour: 31,
      plannedLeft: 1800,
    },
    {
      step: 'paint-fish',
      unit: 'fish',
      total: 120,
      left: fishLeft,
      counted: [
        [begin + 3 * DAY, 120],
        [begin + 4 * DAY, 108],
        [FAKE_NOW, fishLeft],
      ],
      planned: fishPlanned,
      needed: [
        [FAKE_NOW, fishLeft],
        [READY_BY - DAY, 0],
      ],
      neededPerHour: 14,
      countedPerHour: 11,
      plannedLeft: Math.max(0, fishLeft - 6),
    },
  ];
}
