import { describe, expect, test } from 'vitest';
import { readWall, wallText } from '../../../server/engine/calendar/clock.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, LogEntry, Part, Step } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { wordedDoubts } from '../../support/words.ts';

const at = (text: string): number => {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const NOW = at('2026-12-01T18:00'); // a Tuesday

function entry(id: string, kind: LogEntry['kind'], when: string, more: Partial<LogEntry> = {}): LogEntry {
  return { id: `entry-${id}`, kind, at: `${when}:00Z`, ...more };
}

/** Evenings of one pair of hands, a printer and a supplier; forty hooks printed ten a plate and then filed. */
function hooks(more: Partial<Build> = {}): Build {
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    event: '2026-12-12T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' }],
    machines: [{ id: 'printer', name: 'Printer' }],
    suppliers: [{ id: 'wire', name: 'Wire works', cutOff: '14:00', lead: 3 }],
    parts: [{ id: 'hook', name: 'hook', source: 'make', count: 40 }],
    steps: [
      {
        id: 'print',
        name: 'print',
        part: 'hook',
        lotSize: 10,
        phases: [
          { kind: 'hands', minutes: 10 },
          { kind: 'run', machine: 'printer', minutes: '5 h' },
          { kind: 'hands', minutes: 5 },
        ],
      },
      { id: 'file', name: 'file', part: 'hook', lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
    ],
    ...more,
  };
}

function step(forecast: Forecast, id: string) {
  const found = forecast.steps.find((candidate) => candidate.id === id);
  if (!found) throw new Error(`no step ${id}`);
  return found;
}

describe('a plan of one build', () => {
  test('starts on what is in stock and waits for the order only beyond it', () => {
    const forecast = planBuild(
      hooks({
        parts: [{ id: 'hook', name: 'hook', source: 'buy', count: 40, onHand: 25, spares: 3, supplier: 'wire' }],
        steps: [
          { id: 'hang', name: 'hang', count: 40, uses: ['hook'], lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
        ],
      }),
      [],
      NOW,
    );
    const order = step(forecast, 'order-hook');
    expect(order.total).toBe(18);
    expect(step(forecast, 'hang').readyNow).toBe(25);
    const arrives = order.levelled!.finish;
    const starts = forecast.lots.filter((lot) => lot.step === 'hang').map((lot) => lot.levelled!.start);
    expect(starts.map((start) => start >= arrives)).toEqual([false, false, true, true]);
  });

  test('asks for no spare before the piece is whole: four motors ordered for three panels hold up nobody', () => {
    const forecast = planBuild(
      hooks({
        parts: [{ id: 'motor', name: 'motor', source: 'buy', count: 3, spares: 1, supplier: 'wire' }],
        steps: [{ id: 'wire-up', name: 'wire', count: 3, uses: ['motor'], phases: [{ kind: 'hands', perUnit: 30 }] }],
      }),
      [],
      NOW,
    );
    expect(step(forecast, 'order-motor').feeds).toMatchObject([{ step: 'wire-up', ratio: 1 }]);
  });

  test('prints through the night and unloads when somebody is there', () => {
    const forecast = planBuild(hooks(), [], NOW);
    expect(forecast.problems).toEqual([]);
    const [first] = forecast.lots.filter((lot) => lot.step === 'print');
    const [load, run, unload] = first!.placements;
    expect(wallText(load!.start, 'UTC')).toBe('2026-12-01T18:00');
    expect(run!.finish - run!.start).toBe(300);
    // 18:10 + 5 h = 23:10, after hours: the plate waits until 18:00 of the next evening.
    expect(wallText(unload!.start, 'UTC')).toBe('2026-12-02T18:00');
  });

  test('has hands work pause while nobody is there', () => {
    const filing: Step = {
      id: 'file',
      name: 'file',
      count: 100,
      lotSize: 100,
      phases: [{ kind: 'hands', perUnit: 3 }],
    };
    const forecast = planBuild(hooks({ parts: [], steps: [filing] }), [], NOW);
    // 300 minutes at 240 an evening: one evening and an hour of the next.
    expect(wallText(step(forecast, 'file').levelled!.finish, 'UTC')).toBe('2026-12-02T19:00');
  });

  test('says how far load-in, ready-by and event lie from the finish', () => {
    const forecast = planBuild(hooks({ loadIn: '2026-12-12T09:00', readyBy: '2026-12-11T22:00' }), [], NOW);
    const { readyBy, loadIn, event } = forecast.room;
    expect(loadIn!.clock! - readyBy.clock!).toBe(11 * 60);
    expect(event.clock! - loadIn!.clock!).toBe(10 * 60);
    expect(readyBy.finish).toBe(loadIn!.finish);
  });

  test('proves that too few hours cannot do it and says how many are short', () => {
    const filing: Step = {
      id: 'file',
      name: 'file',
      count: 1000,
      lotSize: 50,
      phases: [{ kind: 'hands', perUnit: 3 }],
    };
    const forecast = planBuild(hooks({ parts: [], steps: [filing], readyBy: '2026-12-11T22:00' }), [], NOW);
    const [all] = forecast.capacity;
    // Eleven evenings of four hours against fifty hours of filing.
    expect(all).toMatchObject({ neededMinutes: 3000, offeredMinutes: 11 * 240, shortMinutes: 3000 - 11 * 240 });
    expect(forecast.lowerBound).toMatchObject({ verdict: 'impossible', by: 'hands' });
    expect(forecast.room.readyBy.clock).toBeLessThan(0);
  });
});

describe('hands and machines against the hours there are', () => {
  test('count work for one person against that person alone', () => {
    const build = hooks({
      people: [
        { id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' },
        { id: 'tom', name: 'Tom', hours: 'daily 18:00-20:00' },
      ],
      parts: [],
      readyBy: '2026-12-03T22:00',
      steps: [
        { id: 'wire', name: 'wire', phases: [{ kind: 'hands', minutes: 500, who: ['tom'] }] },
        { id: 'sand', name: 'sand', phases: [{ kind: 'hands', minutes: 100 }] },
      ],
    });
    const groups = planBuild(build, [], NOW).capacity.filter((group) => group.kind === 'people');
    // Three evenings: Ria 720 and Tom 360 minutes; only Tom may wire, so he is 140 minutes short though all hands are
    // not.
    expect(groups.find((group) => group.id === 'ria+tom')).toMatchObject({ neededMinutes: 600, offeredMinutes: 1080 });
    expect(groups.find((group) => group.id === 'tom')).toMatchObject({
      neededMinutes: 500,
      offeredMinutes: 360,
      shortMinutes: 140,
    });
  });

  test('add up day by day to what is offered before the ready-by', () => {
    const [all] = planBuild(hooks({ readyBy: '2026-12-03T20:00' }), [], NOW).capacity;
    expect(all!.days.map((day) => [day.date, day.offeredMinutes, day.cumulativeMinutes])).toEqual([
      ['2026-12-01', 240, 240],
      ['2026-12-02', 240, 480],
      ['2026-12-03', 120, 600],
    ]);
  });

  test('count of a plate under way only what is still to run', () => {
    const loaded = entry('0001', 'loaded', '2026-12-01T15:00', { step: 'print', n: 10, machine: 'printer' });
    const machine = planBuild(hooks(), [loaded], NOW).capacity.find((group) => group.kind === 'machine');
    expect(machine!.neededMinutes).toBe(4 * 300 - 180);
  });
});

describe('what the log does to a plan', () => {
  test('keeps what was counted beyond the plan', () => {
    const forecast = planBuild(hooks(), [entry('0001', 'done', '2026-12-01T17:00', { step: 'print', n: 150 })], NOW);
    const [set] = step(forecast, 'print').sets;
    expect(set).toMatchObject({ done: set!.total, counted: 150, left: 0 });
  });

  test('shrinks the lots that remain by the units done', () => {
    const forecast = planBuild(hooks(), [entry('0001', 'done', '2026-12-01T17:00', { step: 'print', n: 15 })], NOW);
    expect(step(forecast, 'print')).toMatchObject({ done: 15, left: 25, lots: 3 });
    expect(step(forecast, 'file')).toMatchObject({ left: 40, readyNow: 15 });
  });

  test('takes an undone entry back and brings it again when the undo is undone', () => {
    const done = entry('0001', 'done', '2026-12-01T17:00', { step: 'print', n: 15 });
    const undo = entry('0002', 'undo', '2026-12-01T17:01', { undoes: done.id });
    const redo = entry('0003', 'undo', '2026-12-01T17:02', { undoes: undo.id });
    expect(step(planBuild(hooks(), [done, undo], NOW), 'print').done).toBe(0);
    expect(step(planBuild(hooks(), [done, undo, redo], NOW), 'print').done).toBe(15);
  });

  test('counts an entry that came twice once', () => {
    const done = entry('0001', 'done', '2026-12-01T17:00', { step: 'print', n: 15 });
    expect(step(planBuild(hooks(), [done, done], NOW), 'print').done).toBe(15);
  });

  test('makes a unit scrapped later again from the start of its route', () => {
    const log = [
      entry('0001', 'done', '2026-12-01T16:00', { step: 'print', n: 40 }),
      entry('0002', 'scrapped', '2026-12-01T17:00', { step: 'file', n: 3 }),
    ];
    const forecast = planBuild(hooks(), log, NOW);
    expect(step(forecast, 'print').left).toBe(3);
    expect(step(forecast, 'file').left).toBe(40);
  });

  describe('where a step is counted by sets', () => {
    const hang = { id: 'hang', name: 'hang', part: 'hook', phases: [{ kind: 'hands' as const, perUnit: 1 }] };
    const build = hooks({ sets: { count: 2, name: 'panel' }, steps: [...hooks().steps.slice(1), hang] });
    const bySets = { ...build, steps: build.steps.map((one) => (one.id === 'file' ? { ...one, perSet: true } : one)) };
    const filed = [
      entry('0001', 'done', '2026-12-01T15:00', { step: 'file', set: 1, n: 20 }),
      entry('0002', 'done', '2026-12-01T16:00', { step: 'file', set: 2, n: 20 }),
    ];
    const filing = (more: LogEntry[]) => step(planBuild(bySets, [...filed, ...more], NOW), 'file');

    test('makes again what a check of the whole sends back without naming a set, the last set first', () => {
      const sent = filing([entry('0003', 'sent-back', '2026-12-01T17:00', { step: 'file', n: 4 })]);
      expect(sent.left).toBe(4);
      expect(sent.sets.map(({ done, left }) => [done, left])).toEqual([
        [20, 0],
        [16, 4],
      ]);
    });

    test('takes a gate that was passed without a set for passed in the first that had not been', () => {
      const gate = { id: 'look', name: 'look', perSet: true, after: ['file'], minutes: 5 };
      const passing = (...kinds: ('passed' | 'failed')[]) =>
        step(
          planBuild(
            { ...bySets, gates: [gate] },
            [...filed, ...kinds.map((kind, i) => entry(`001${i}`, kind, `2026-12-01T17:0${i}`, { step: 'look' }))],
            NOW,
          ),
          'look',
        ).sets.map(({ left }) => left);
      expect([passing(), passing('passed'), passing('failed', 'passed'), passing('passed', 'passed')]).toEqual([
        [1, 1],
        [0, 1],
        [0, 1],
        [0, 0],
      ]);
      expect(passing('passed', 'failed')).toEqual([1, 1]);
    });

    test('makes again what a later step scraps that knows no sets', () => {
      expect(filing([entry('0003', 'scrapped', '2026-12-01T17:00', { step: 'hang', n: 3 })]).left).toBe(3);
    });
  });

  test('lets a loaded plate run on from when it was loaded', () => {
    const log = [entry('0001', 'loaded', '2026-12-01T15:00', { step: 'print', n: 10, machine: 'printer' })];
    const forecast = planBuild(hooks(), log, NOW);
    const printing = step(forecast, 'print');
    expect(printing.underWay).toHaveLength(1);
    expect(wallText(printing.underWay[0]!.backAt, 'UTC')).toBe('2026-12-01T20:00');
    const begun = forecast.lots.find((lot) => lot.begun)!;
    expect(wallText(begun.placements.at(-1)!.start, 'UTC')).toBe('2026-12-01T20:00');
  });

  test('follows an order from its day to its promise and its delivery', () => {
    const bought = hooks({
      parts: [{ id: 'wire', name: 'wire', source: 'buy', count: 10, supplier: 'wire' }],
      steps: [{ id: 'bend', name: 'bend', count: 10, uses: ['wire'], phases: [{ kind: 'hands', perUnit: 6 }] }],
    });
    const finish = (log: LogEntry[]): string =>
      wallText(step(planBuild(bought, log, NOW), 'bend').levelled!.start, 'UTC');
    // Ordered on Tuesday evening, after the cut-off: counts from Wednesday, three working days, Monday noon.
    expect(finish([])).toBe('2026-12-07T18:00');
    const ordered = entry('0001', 'ordered', '2026-12-01T10:00', { step: 'order-wire', n: 10 });
    expect(finish([ordered])).toBe('2026-12-04T18:00');
    const promised = entry('0002', 'promised', '2026-12-01T12:00', {
      step: 'order-wire',
      until: '2026-12-09T12:00:00Z',
    });
    expect(finish([ordered, promised])).toBe('2026-12-09T18:00');
    const received = entry('0003', 'received', '2026-12-01T17:30', { step: 'order-wire', n: 10 });
    expect(finish([ordered, promised, received])).toBe('2026-12-01T18:00');
  });

  test('loses an evening that is logged as lost', () => {
    const filing: Step = { id: 'file', name: 'file', count: 10, phases: [{ kind: 'hands', perUnit: 3 }] };
    const lost = entry('0001', 'lost', '2026-12-01T18:00', { until: '2026-12-01T22:00:00Z' });
    const forecast = planBuild(hooks({ parts: [], steps: [filing] }), [lost], NOW);
    expect(wallText(step(forecast, 'file').levelled!.start, 'UTC')).toBe('2026-12-02T18:00');
  });

  test('holds the other sets until the first has passed its gate', () => {
    const build = hooks({
      parts: [],
      sets: { count: 2, name: 'panel' },
      steps: [
        { id: 'mount', name: 'mount', perSet: true, count: 4, phases: [{ kind: 'hands', perUnit: 10 }] },
        { id: 'wire', name: 'wire', perSet: true, phases: [{ kind: 'hands', minutes: 30 }] },
      ],
      gates: [
        {
          id: 'swims',
          name: 'it swims',
          perSet: true,
          after: ['mount'],
          before: ['wire'],
          minutes: 20,
          proveFirst: true,
          holds: ['mount'],
        },
      ],
    });
    const second = (log: LogEntry[]) => planBuild(build, log, NOW).lots.find((lot) => lot.id === 'mount/2/1')!;
    const first = planBuild(build, [], NOW).lots.find((lot) => lot.id === 'swims/1/1')!;
    expect(second([]).dates.earlyStart).toBe(first.dates.earlyFinish);
    const log = [
      entry('0001', 'done', '2026-12-01T15:00', { step: 'mount', set: 1, n: 4 }),
      entry('0002', 'passed', '2026-12-01T16:00', { step: 'swims', set: 1 }),
    ];
    expect(second(log).dates.earlyStart).toBe(NOW);
    const failed = [
      ...log,
      entry('0003', 'failed', '2026-12-01T16:30', { step: 'swims', set: 1 }),
      entry('0004', 'sent-back', '2026-12-01T16:31', { step: 'mount', set: 1, n: 2 }),
    ];
    expect(step(planBuild(build, failed, NOW), 'mount').sets[0]).toMatchObject({ done: 2, left: 2 });
    expect(second(failed).dates.earlyStart).toBeGreaterThan(NOW);
  });

  test('waits for paint that was counted a moment ago to dry', () => {
    const build = hooks({
      steps: [
        {
          id: 'paint',
          name: 'paint',
          part: 'hook',
          lotSize: 40,
          phases: [
            { kind: 'hands', perUnit: 1 },
            { kind: 'wait', minutes: '4 h' },
          ],
        },
        { id: 'hang', name: 'hang', part: 'hook', lotSize: 40, phases: [{ kind: 'hands', perUnit: 1 }] },
      ],
    });
    const forecast = planBuild(build, [entry('0001', 'done', '2026-12-01T17:00', { step: 'paint', n: 40 })], NOW);
    expect(wallText(step(forecast, 'hang').levelled!.start, 'UTC')).toBe('2026-12-01T21:00');
  });
});

describe('a build with something wrong in it', () => {
  test('says of a part that is gone who misses it, and nothing of what only follows from that', () => {
    const build = hooks();
    const [part] = build.parts!;
    const pin: Part = { id: 'pin', name: 'pin', source: 'make', usedIn: [{ part: part!.id, count: 2 }] };
    const turn: Step = { id: 'turn', name: 'turn pins', part: 'pin', phases: [{ kind: 'hands', perUnit: 1 }] };
    const gone = { ...build, parts: [...build.parts!.slice(1), pin], steps: [...build.steps, turn] };
    const errors = planBuild(gone, [], NOW).problems.filter(({ severity }) => severity === 'error');
    expect(errors[0]!.message).toBe(
      `pin is used in "${part!.id}", which is not a part of this build; name one of its parts.`,
    );
    for (const { message } of errors) expect(message).toContain(`"${part!.id}", which is not a part of this build`);
    expect(errors.some(({ field }) => field.startsWith('steps.turn'))).toBe(false);
  });

  test('is warned of two machines of one name, and both are named', () => {
    const machines = [
      { id: 'printer', name: 'Printer' },
      { id: 'printer-2', name: 'printer ' },
      { id: 'saw', name: 'Saw' },
    ];
    const found = wordedDoubts(planBuild({ ...hooks(), machines }, [], NOW));
    expect(found).toMatchObject([{ code: 'same-name', field: 'machines.printer-2.name' }]);
    expect(found[0]!.message).toContain('The machines “printer” and “printer-2” are both called “printer ”');
  });

  const cases: [string, Partial<Build>, string, RegExp][] = [
    [
      'a formula that does not parse',
      { parts: [{ id: 'hook', name: 'hook', source: 'make', count: '4 *' }] },
      'formula',
      /too early/,
    ],
    [
      'a formula that divides by zero',
      { parameters: [{ name: 'n', formula: '1 / 0' }] },
      'formula-value',
      /divisor is 0/,
    ],
    [
      'a formula with an unknown name',
      { parameters: [{ name: 'n', formula: '2 * panles' }] },
      'unknown-name',
      /panles/,
    ],
    [
      'a formula that needs itself',
      {
        parameters: [
          { name: 'a', formula: 'b' },
          { name: 'b', formula: 'a' },
        ],
      },
      'formula-circle',
      /a -> b -> a/,
    ],
    [
      'a circle of parts',
      {
        parts: [
          { id: 'a', name: 'a', source: 'make', usedIn: [{ part: 'b', count: 1 }] },
          { id: 'b', name: 'b', source: 'make', usedIn: [{ part: 'a', count: 1 }] },
        ],
      },
      'part-circle',
      /->/,
    ],
    ['a circle of feeds', { feeds: [{ from: 'file', to: 'print' }] }, 'feed-circle', /->/],
    [
      'a feed with no units',
      {
        steps: [
          { id: 'a', name: 'a', takes: 5 },
          { id: 'b', name: 'b', takes: 5, after: [{ step: 'a', type: 'units' }] },
        ],
      },
      'no-units',
      /units/,
    ],
    [
      'a negative count',
      { parts: [{ id: 'hook', name: 'hook', source: 'make', count: '3 - 5' }] },
      'negative-count',
      /-2/,
    ],
    ['an event in the past', { event: '2026-11-12T19:00' }, 'event-past', /has passed/],
    ['a ready-by after the event', { readyBy: '2026-12-13T19:00' }, 'order-of-dates', /not be after/],
    [
      'an hour that the clocks leave out',
      { zone: 'Europe/Berlin', event: '2027-03-28T02:30' },
      'missing-hour',
      /does not exist/,
    ],
    ['a person with no hours', { people: [{ id: 'ria', name: 'Ria', hours: 'never' }] }, 'no-hours', /no hours/],
    [
      'a step nobody may do',
      { people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00', can: ['print'] }] },
      'nobody',
      /nobody here may/,
    ],
    ['hours that do not parse', { people: [{ id: 'ria', name: 'Ria', hours: 'mon 9-5' }] }, 'hours', /9-5/],
    [
      'low above high',
      {
        steps: [{ id: 'a', name: 'a', count: 3, phases: [{ kind: 'hands', perUnit: { low: 5, likely: 4, high: 3 } }] }],
      },
      'range',
      /rise/,
    ],
    ['a machine that is not there', { machines: [] }, 'unknown-name', /printer/],
  ];
  test.each(cases)('names %s and still shows the rest', (_, change, code, words) => {
    const forecast = planBuild(hooks(change), [], NOW);
    const found = forecast.problems.find((candidate) => candidate.code === code);
    expect(found?.message).toMatch(words);
    expect(found?.severity).toBe('error');
    expect(found?.field).not.toBe('');
    expect(forecast.steps.length).toBeGreaterThan(0);
    expect(JSON.stringify(forecast)).not.toMatch(/NaN|Infinity/);
  });

  test('warns of a step that nothing feeds and that feeds nothing', () => {
    const alone: Step = { id: 'oil', name: 'oil the hinges', phases: [{ kind: 'hands', minutes: 20 }] };
    const forecast = planBuild(hooks({ steps: [...hooks().steps, alone] }), [], NOW);
    expect(forecast.problems).toMatchObject([{ code: 'orphan', severity: 'warning', field: 'steps.oil' }]);
    expect(forecast.complete).toBe(true);
  });

  test('says that a piece longer than any sitting was not placed', () => {
    const long: Step = { id: 'cast', name: 'cast', phases: [{ kind: 'hands', minutes: 300, oneGo: true }] };
    const forecast = planBuild(hooks({ parts: [], steps: [long] }), [], NOW);
    expect(forecast.problems).toMatchObject([{ code: 'beyond-horizon', severity: 'error', value: 'cast' }]);
    expect(forecast.complete).toBe(false);
    expect(forecast.room.readyBy).toMatchObject({
      finish: null,
      clock: null,
      unlimitedFinish: null,
      unlimitedClock: null,
    });
    expect(step(forecast, 'cast').dates).toBeNull();
  });

  test('keeps entries of a step that is gone and says so', () => {
    const forecast = planBuild(hooks(), [entry('0001', 'done', '2026-12-01T17:00', { step: 'weld', n: 3 })], NOW);
    expect(forecast.problems).toMatchObject([{ code: 'log', severity: 'warning', value: 'weld' }]);
  });

  test('plans what is left when the clock is past the event', () => {
    const forecast = planBuild(hooks(), [], at('2026-12-20T12:00'));
    expect(forecast.room.event.clock).toBeLessThan(0);
    expect(forecast.steps.every((candidate) => candidate.levelled !== null)).toBe(true);
  });

  test('answers a build with nothing in it, and gives it no date', () => {
    const forecast = planBuild(hooks({ parts: [], people: [], machines: [], steps: [] }), [], NOW);
    expect([forecast.room.readyBy.finish, forecast.room.event.clock]).toEqual([null, null]);
    expect(forecast.lots).toEqual([]);
    expect(forecast.problems).toMatchObject([{ code: 'orphan', severity: 'warning' }]);
  });

  test('leaves nothing out where everything is counted', () => {
    const log = ['print', 'file'].map((id, i) => entry(`000${i}`, 'done', '2026-12-01T17:00', { step: id, n: 40 }));
    const forecast = planBuild(hooks(), log, NOW);
    expect([forecast.steps.every(({ left }) => left === 0), forecast.complete]).toEqual([true, true]);
  });

  test('counts of a run under way only what is still to come, for the step and for the machine alike', () => {
    const log = [entry('0000', 'loaded', '2026-12-01T10:00', { step: 'print', n: 10 })];
    for (const [now, left] of [
      [NOW, 3 * 300],
      [at('2026-12-01T12:00'), 3 * 300 + 180],
    ] as const) {
      const forecast = planBuild(hooks(), log, now);
      const printer = forecast.capacity.find(({ id }) => id === 'printer')!;
      expect([step(forecast, 'print').machineMinutesLeft, printer.neededMinutes]).toEqual([left, left]);
    }
  });

  test('gives the rest of an order the days that are left for it, not those of what is on its way', () => {
    const build = hooks({
      parts: [{ id: 'hook', name: 'hook', source: 'send-out', count: 40, supplier: 'wire' }],
      steps: [{ id: 'hang', name: 'hang', part: 'hook', phases: [{ kind: 'hands', perUnit: 1 }] }],
    });
    const part = entry('0001', 'ordered', '2026-11-30T12:00', { step: 'order-hook', n: 30 });
    const [order] = planBuild(build, [part], NOW).orders;
    // Hanging must begin on Saturday at 18:44, the last delivery before is Friday's; three working days before that is
    // Tuesday until 14:00, when nobody is there: Ria leaves on Monday at 22:00.
    expect(order).toMatchObject({ units: 10, state: 'to-order' });
    expect(wallText(order!.neededBy, 'UTC')).toBe('2026-12-12T18:44');
    expect(wallText(order!.orderBy, 'UTC')).toBe('2026-12-07T22:00');
  });

  test('asks whether what went into scrap is lost, where the spares do not make up for it', () => {
    const doubts = (scrapped: number, spares: number, steps = hooks().steps) => {
      const eye = { id: 'eye', name: 'eye', source: 'make' as const, usedIn: [{ part: 'hook', count: 2 }], spares };
      const turn: Step = { id: 'turn', name: 'turn', part: 'eye', phases: [{ kind: 'hands', perUnit: 1 }] };
      const log = [
        entry('0000', 'done', '2026-12-01T15:00', { step: 'turn', n: 90 }),
        entry('0001', 'done', '2026-12-01T16:00', { step: 'print', n: 40 }),
        entry('0002', 'scrapped', '2026-12-01T17:00', { step: 'file', n: scrapped }),
      ];
      const forecast = planBuild(hooks({ parts: [...hooks().parts!, eye], steps: [turn, ...steps] }), log, NOW);
      return wordedDoubts(forecast)
        .filter(({ field }) => field === 'parts.eye.spares')
        .map(({ message }) => message);
    };
    expect(doubts(3, 2)).toEqual([
      '“print” has to make 3 more units, because that many were scrapped there or later. That takes 6 more × eye, and 2 are spare. If the scrap took them with it, set the spares to 6; if you saved them, leave it.',
    ]);
    expect(doubts(3, 6)).toEqual([]);
    // Taken at the filing, by the three that were scrapped there too.
    const [print, file] = hooks().steps as [Step, Step];
    expect(doubts(3, 2, [print, { ...file, uses: ['eye'] }])[0]).toContain('“file” has to make 3 more units');
    expect(doubts(1, 2)).toEqual([]);
  });

  test('takes no decided number for a guess, and counts no packs where there are none', () => {
    const { parameters, parts } = planBuild(
      hooks({
        parameters: [
          { name: 'boughs', value: 5 },
          { name: 'drums', value: 18, origin: 'decided' },
          { name: 'motors', range: { low: 5, likely: 8, high: 12 } },
        ],
        parts: [
          { id: 'hook', name: 'hook', source: 'buy', count: 40 },
          { id: 'axle', name: 'axle', source: 'buy', count: 40, packSize: 25 },
        ],
      }),
      [],
      NOW,
    );
    expect(parameters.map(({ origin }) => origin)).toEqual([null, 'decided', 'guessed']);
    expect(parts.map(({ packs, toBuy }) => [packs, toBuy])).toEqual([
      [null, 40],
      [2, 50],
    ]);
  });

  test('orders again only what the scrap asks for, in whole packs', () => {
    const lines = (packSize: number) => {
      const forecast = planBuild(
        hooks({
          parts: [{ id: 'hook', name: 'hook', source: 'buy', count: 40, packSize, supplier: 'wire' }],
          steps: [{ id: 'file', name: 'file', part: 'hook', phases: [{ kind: 'hands', perUnit: 3 }] }],
        }),
        [
          entry('0000', 'received', '2026-12-01T12:00', { step: 'order-hook', n: 40 }),
          entry('0001', 'scrapped', '2026-12-01T17:00', { step: 'file', n: 6 }),
        ],
        NOW,
      );
      return forecast.orders.map(({ units, state }) => [units, state]);
    };
    expect(lines(1)).toEqual([[6, 'to-order']]);
    expect(lines(4)).toEqual([[8, 'to-order']]);
  });

  test('warns of no night that is over', () => {
    const log = [entry('0000', 'loaded', '2026-11-30T22:00', { step: 'print', n: 10 })];
    const nightsAt = (now: number) =>
      planBuild(hooks(), log, now).workHours.flatMap(({ code, at }) => (code === 'unattended-night' ? [at] : []));
    expect(nightsAt(at('2026-11-30T22:05'))).toEqual([at('2026-12-01T00:00')]);
    expect(Math.min(...nightsAt(NOW))).toBeGreaterThan(NOW);
  });

  test('warns of what dries behind a step, be it a phase of its own or a lag of its link', () => {
    const spray = (more: Partial<Build['steps'][number]>, lag?: string) => {
      const coat = { id: 'coat', name: 'coat', hazards: ['spray'], phases: [{ kind: 'hands', minutes: 30 }], ...more };
      const after = [lag === undefined ? 'coat' : { step: 'coat', type: 'finish-start', lag }];
      const steps = [coat, { id: 'wrap', name: 'wrap', after, phases: [{ kind: 'hands', minutes: 10 }] }];
      const forecast = planBuild({ ...hooks(), parts: [], steps: steps as Build['steps'] }, [], NOW);
      return forecast.workHours.filter(({ code }) => code === 'unattended');
    };
    const wait = [
      { kind: 'hands' as const, minutes: 30 },
      { kind: 'wait' as const, minutes: '3 h' },
    ];
    const warned = { steps: ['coat'], hazards: ['spray'], phase: 'wait', minutes: 180, strong: true };
    expect(spray({ phases: wait })).toMatchObject([warned]);
    expect(spray({}, '3 h')).toMatchObject([warned]);
    expect(spray({})).toEqual([]);
  });

  test('warns of a gate that is dangerous as of a step', () => {
    const gates = [{ id: 'proof', name: 'proof', after: ['print'], minutes: 20, hazards: ['height' as const] }];
    const { workHours } = planBuild(hooks({ gates }), [], NOW);
    expect(workHours.filter(({ steps }) => steps.includes('proof'))).toMatchObject([
      { code: 'alone', hazards: ['height'], strong: true },
    ]);
  });

  test('gives steps without hands, machines or calendars the room that the build has', () => {
    const forecast = planBuild(
      { ...hooks(), people: [], machines: [], parts: [], steps: [{ id: 'dry', name: 'dry', takes: '3 d' }] },
      [],
      NOW,
    );
    const dry = step(forecast, 'dry').levelled!;
    expect(dry.room).toBe(forecast.room.readyBy.clock);
    expect(dry.lastFinish).toBe(forecast.readyBy);
    expect(forecast.balance!.steps[0]).toMatchObject({ due: 0 });
  });

  test('counts the jobs of a set by the name of the set', () => {
    const wire: Step = { id: 'wire', name: 'wire', perSet: true, phases: [{ kind: 'hands', minutes: 30 }] };
    const forecast = planBuild(hooks({ sets: { count: 3, name: 'panel' }, steps: [wire] }), [], NOW);
    expect(step(forecast, 'wire')).toMatchObject({ total: 3, unit: 'panel' });
  });

  test('tells of every unit scrapped in some set, named or not', () => {
    const wire: Step = { id: 'wire', name: 'wire', perSet: true, count: 4, phases: [{ kind: 'hands', perUnit: 5 }] };
    const log = [
      entry('0001', 'scrapped', '2026-12-01T16:00', { step: 'wire', set: 2, n: 1 }),
      entry('0002', 'scrapped', '2026-12-01T17:00', { step: 'wire', n: 2 }),
    ];
    const { scrapped, sets } = step(
      planBuild(hooks({ sets: { count: 2, name: 'panel' }, steps: [wire] }), log, NOW),
      'wire',
    );
    expect([scrapped, sets.map((set) => set.scrapped)]).toEqual([3, [2, 1]]);
  });

  test('asks the whole time of a job for each set, before and after one is done', () => {
    const wire: Step = { id: 'wire', name: 'wire', perSet: true, phases: [{ kind: 'hands', minutes: 30 }] };
    const build = hooks({ sets: { count: 3, name: 'panel' }, steps: [wire], parts: [] });
    const done = [entry('0001', 'done', '2026-12-01T17:00', { step: 'wire', set: 1, n: 1 })];
    for (const [log, left] of [[[], 90] as const, [done, 60] as const]) {
      const forecast = planBuild(build, log, NOW);
      expect(step(forecast, 'wire')).toMatchObject({ handsMinutesPerUnit: 30, lotSize: 1, handsMinutesLeft: left });
      expect(forecast.burn[0]).toMatchObject({ step: null, total: 90, left });
    }
  });
});

describe('the demo', () => {
  test.each(['2026-12-01T17:00', '2027-02-27T09:30', '2027-03-27T23:10', '2028-02-28T00:00'])(
    'is valid and half built at %s',
    (when) => {
      const now = at(when);
      const file = tideWall(now);
      const forecast = planBuild(file.build, file.log ?? [], now);
      expect(forecast.problems).toEqual([]);
      expect(forecast.complete).toBe(true);
      expect(forecast.event - now).toBeGreaterThan(10 * 1440);
      expect(step(forecast, 'cut-herring').left).toBe(0);
      expect(step(forecast, 'print-cranks').done).toBeGreaterThan(0);
      expect(step(forecast, 'mount-fish')).toMatchObject({ total: 72, left: 72 });
    },
  );

  test('gives the same answer twice', () => {
    const file = tideWall(NOW);
    expect(planBuild(file.build, file.log ?? [], NOW)).toEqual(planBuild(file.build, file.log ?? [], NOW));
  });
});
