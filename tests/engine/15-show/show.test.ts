import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import {
  type Box,
  type Build,
  checkBuild,
  type ForecastShow,
  type LogEntry,
  type Part,
} from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;
const EVENT = Date.parse('2026-12-10T19:00Z') / 60_000;

/** Two frames hung on site with 6 slats each, a drive with none to spare; hung by two, then switched on. */
function wave(more: Partial<Build> = {}): Build {
  return {
    id: 'wave',
    name: 'Wave',
    zone: 'UTC',
    loadIn: '2026-12-10T09:00',
    event: '2026-12-10T19:00',
    people: [
      { id: 'ria', name: 'Ria', hours: 'daily 09:00-18:00' },
      { id: 'tom', name: 'Tom', hours: 'daily 09:00-18:00' },
    ],
    suppliers: [{ id: 'yard', name: 'the yard', lead: 1 }],
    parts: [
      { id: 'frame', name: 'Frame', source: 'make', count: 2 },
      { id: 'slat', name: 'Slat', source: 'make', usedIn: [{ part: 'frame', count: 6 }], spares: 2 },
      { id: 'drive', name: 'Drive', source: 'make', usedIn: [{ part: 'frame', count: 1 }] },
      {
        id: 'oil',
        name: 'Oil',
        source: 'buy',
        unit: 'L',
        usedIn: [{ part: 'slat', count: 0.02 }],
        onHand: 5,
        supplier: 'yard',
      },
    ],
    steps: [
      { id: 'weld', name: 'Weld', part: 'frame', uses: ['drive'], phases: [{ kind: 'hands', perUnit: 30 }] },
      { id: 'cut', name: 'Cut', part: 'slat', phases: [{ kind: 'hands', perUnit: 5 }] },
      {
        ...{
          id: 'lift',
          name: 'Lift the frames',
          onSite: true,
          after: ['weld'],
          hazards: ['overhead', 'public-decor'],
        },
        phases: [{ kind: 'hands', minutes: 60, people: 2 }],
      },
      {
        ...{ id: 'hang', name: 'Hang the slats', onSite: true, uses: ['slat'], after: ['lift'] },
        phases: [{ kind: 'hands', minutes: 90 }],
      },
    ],
    gates: [
      { id: 'hum', name: 'It hums at home', after: ['weld'], minutes: 20, powerOn: true, note: 'fuse\nspare driver' },
      { id: 'glow', name: 'It glows', after: ['hang'], minutes: 20, powerOn: true, onSite: true },
    ],
    ...more,
  };
}

function showOf(build: Build, log: readonly LogEntry[] = []): ForecastShow {
  const checked = checkBuild(build);
  expect(checked.ok ? [] : checked.problems).toEqual([]);
  return planBuild(build, log, NOW).show!;
}

const box = (id: string, more: Partial<Box> = {}): Box => ({ id, name: id.toUpperCase(), ...more });

describe('the pack list', () => {
  const boxes = [
    box('slats', { parts: [{ part: 'slat', count: '2 * 6' }] }),
    box('frames', { parts: [{ part: 'frame', count: 2 }] }),
    box('bag', { tools: ['spanner 13'], kit: ['tape'], parts: [{ part: 'slat', count: 3, spare: true }] }),
  ];

  test('opens tools first, then boxes in the order of setting up', () => {
    const { boxes: listed } = showOf(wave({ boxes }));
    expect(listed.map(({ id, opensAt }) => [id, opensAt])).toEqual([
      ['bag', null],
      ['frames', 'lift'],
      ['slats', 'hang'],
    ]);
    expect(listed[1]!.opens).toBeLessThan(listed[2]!.opens!);
  });

  test('carries what goes in on site and all spares, not what is mounted at home or measured', () => {
    const { unpacked } = showOf(wave());
    expect(unpacked).toEqual([
      { part: 'frame', units: 2, spares: 0 },
      { part: 'slat', units: 12, spares: 2 },
    ]);
  });

  test('names what is in no box, and what is more than goes there', () => {
    const { boxes: listed, unpacked } = showOf(wave({ boxes }));
    expect(unpacked).toEqual([]);
    expect(listed[0]!.parts).toEqual([{ part: 'slat', units: 0, spares: 2, tooMany: 1 }]);
  });

  describe('of a part that is split between its ways', () => {
    const ways: Part['ways'] = [
      { id: 'here', name: 'here', source: 'make' },
      { id: 'yard', name: 'from the yard', source: 'send-out', supplier: 'yard', units: 5 },
    ];
    const split = (painted: boolean): Build => {
      const { parts, steps } = wave();
      return wave({
        boxes,
        parts: parts!.map((it) => (it.id === 'slat' ? { ...it, ways } : it)),
        steps: [
          ...steps.map((it) => (it.id === 'cut' ? { ...it, way: 'here' } : it)),
          ...(painted ? [{ id: 'paint', name: 'Paint', part: 'slat', phases: [] }] : []),
        ],
      });
    };

    test.each([false, true])('is one part, made on by shared steps or not (%s)', (painted) => {
      const { boxes: listed, unpacked, stops } = showOf(split(painted));
      expect(unpacked).toEqual([]);
      expect(listed.find(({ id }) => id === 'slats')).toMatchObject({
        opensAt: 'hang',
        parts: [{ part: 'slat', units: 12, spares: 0, tooMany: 0 }],
      });
      expect(stops.filter((stop) => stop.code === 'no-spare').map(({ part }) => part)).toEqual(['drive']);
    });

    test('has none to spare of all its units', () => {
      const build = split(false);
      const parts = build.parts!.map(({ spares: _, ...it }) => it);
      const { stops } = showOf({ ...build, parts, boxes: [] });
      expect(stops).toContainEqual({ code: 'no-spare', part: 'slat', need: 12 });
    });
  });

  test('opens a box at the step that takes its parts where its own step belongs to a way that is not taken', () => {
    const ways: Part['ways'] = [
      { id: 'here', name: 'here', source: 'make' },
      { id: 'yard', name: 'from the yard', source: 'send-out', supplier: 'yard' },
    ];
    const { parts, steps } = wave();
    const trim = { id: 'trim', name: 'Trim', part: 'slat', way: 'here', onSite: true, phases: [] };
    const build = wave({
      boxes: [box('slats', { opensAt: 'trim', parts: [{ part: 'slat', count: 12 }] })],
      parts: parts!.map((it) => (it.id === 'slat' ? { ...it, ways, way: 'yard' } : it)),
      steps: [...steps.filter(({ id }) => id !== 'cut'), trim],
    });
    const { problems, show } = planBuild(build, [], NOW);
    expect([problems, show!.boxes[0]!.opensAt]).toEqual([[], 'hang']);
  });

  test('opens last what has no place in the plan', () => {
    const changed: Record<string, object> = { lift: { notBefore: '2029-01-01T09:00' }, hang: { after: [] } };
    const steps = wave().steps.map((it) => ({ ...it, ...changed[it.id] }));
    const { boxes: listed } = showOf(wave({ steps, boxes: boxes.slice(0, 2) }));
    expect(listed.map(({ id, opensAt, opens }) => [id, opensAt, opens === null])).toEqual([
      ['slats', 'hang', false],
      ['frames', 'lift', true],
    ]);
  });

  test('holds what is measured by its amount, which is never more than goes there', () => {
    const tin = (count: number | string) => box('tin', { parts: [{ part: 'oil', count }] });
    expect(showOf(wave({ boxes: [tin(0.5)] })).boxes[0]!.parts).toEqual([
      { part: 'oil', units: 0.5, spares: 0, tooMany: 0 },
    ]);
    const { problems } = planBuild(wave({ boxes: [tin(-0.5)] }), [], NOW);
    expect(problems.map(({ code, field }) => [code, field])).toContainEqual([
      'negative-count',
      'boxes.tin.parts.1.count',
    ]);
  });

  test('is ticked by an entry, and not once that is taken back', () => {
    const at = '2026-12-01T08:00:00Z';
    const tick: LogEntry = { id: 'packed-0001', kind: 'packed', box: 'bag', at, who: 'Ria', seq: 1 };
    const undo: LogEntry = { id: 'packed-0002', kind: 'undo', undoes: tick.id, at, seq: 2 };
    const packed = (log: readonly LogEntry[]) => showOf(wave({ boxes }), log).boxes[0]!.packed;
    expect(packed([tick])).toEqual({ entry: 'packed-0001', at: Date.parse(at) / 60_000, who: 'Ria' });
    expect(packed([tick, undo])).toBeNull();
  });

  test('warns of a box above the published guideline, by how much, for those who lift it', () => {
    const above = (weight: number, carriers?: number) =>
      showOf(wave({ boxes: [box('a', { weight, ...(carriers === undefined ? {} : { carriers }) })] })).boxes[0]!.above;
    // HSE INDG143 and L23: 25 kg for one; two lift two thirds of the sum, three half of it (from memory).
    expect([above(25), above(25.1), above(33.3, 2), above(40, 2), above(40, 3)]).toEqual([0, 0.1, 0, 6.7, 2.5]);
  });

  test('carries nothing by itself that goes out with the order of its parent, nor anything where nothing is left to do on site', () => {
    const parts: Part[] = [
      { id: 'panel', name: 'Panel', source: 'send-out', count: 3, supplier: 'yard' },
      { id: 'bracket', name: 'Bracket', source: 'make', usedIn: [{ part: 'panel', count: 4 }] },
      { id: 'clip', name: 'Clip', source: 'make', count: 0 },
    ];
    const [cut] = wave().steps.filter(({ id }) => id === 'cut');
    const steps = (part: string) => [
      { ...cut!, part: 'bracket' },
      { id: 'fix', name: 'Fix', part, onSite: true, phases: [{ kind: 'hands' as const, perUnit: 5 }] },
    ];
    const unpackedOf = (part: string) =>
      showOf({ ...wave({ parts, steps: steps(part), gates: [], strike: [], points: [] }) }).unpacked;
    expect(unpackedOf('panel')).toEqual([{ part: 'panel', units: 3, spares: 0 }]);
    expect(unpackedOf('clip')).toEqual([]);
  });

  test('puts each unit that goes to the site into one box, or names it', () => {
    const row = fc.record({
      part: fc.constantFrom('frame', 'slat', 'drive'),
      count: fc.integer({ min: 0, max: 9 }),
      spare: fc.boolean(),
    });
    const some = fc.array(fc.array(row, { maxLength: 4 }), { maxLength: 4 });
    fc.assert(
      fc.property(some, (rows) => {
        const filled = rows.map((parts, i) => box(`b${i}`, { parts }));
        const { boxes: listed, unpacked } = planBuild(wave({ boxes: filled }), [], NOW).show!;
        const held = [...listed.flatMap(({ parts }) => parts), ...unpacked];
        const sum = (part: string, of: 'units' | 'spares') =>
          held.reduce((all, one) => all + (one.part === part ? one[of] : 0), 0);
        expect(['frame', 'slat', 'drive'].map((part) => [sum(part, 'units'), sum(part, 'spares')])).toEqual([
          [2, 0],
          [12, 2],
          [0, 0],
        ]);
        const typed = rows.flat().reduce((all, { count }) => all + count, 0);
        const placed = listed.flatMap(({ parts }) => parts);
        expect(placed.reduce((all, one) => all + one.units + one.spares + one.tooMany, 0)).toBe(typed);
      }),
      { numRuns: 25 },
    );
  });
});

describe('what is proposed for the boxes', () => {
  const withTools = (more: Partial<Build> = {}) => {
    const tools: Record<string, string[]> = { weld: ['clamps'], lift: ['spanner 13'], hang: ['Spanner 13', 'hooks'] };
    const steps = wave().steps.map((it) => ({ ...it, tools: tools[it.id] ?? [] }));
    return wave({ steps, ...more });
  };
  const proposed = (build: Build, log: readonly LogEntry[] = []) => showOf(build, log).proposals;

  test('that the maker does not need are none, and settle the open points that are the maker’s alone', () => {
    const powered = wave({
      steps: wave().steps.map((step) => ({ ...step, hazards: ['mains', 'overhead'] })),
      gates: [],
    });
    const boxed: Build = { ...powered, boxes: [{ id: 'crate', name: 'Crate', parts: [{ part: 'frame', count: 2 }] }] };
    const before = showOf(boxed);
    const powerOns = before.stops.flatMap((stop) =>
      stop.code === 'no-power-on' ? [{ code: 'power-on' as const, of: stop.where }] : [],
    );
    const all = [...before.proposals, ...powerOns];
    expect(new Set(all.map(({ code }) => code)).size).toBeGreaterThanOrEqual(5);
    const notNeeded = all.map(({ code, of }) => ({ code, of }));
    const after = showOf({ ...boxed, notNeeded });
    expect([after.proposals, after.notNeeded]).toEqual([[], all]);
    const settled = ['no-power-on', 'unpacked', 'no-spare'];
    expect(after.stops).toEqual(before.stops.filter(({ code }) => !settled.includes(code)));
    expect(after.stops.map(({ code }) => code)).toEqual(expect.arrayContaining(['unsigned']));
    for (const one of all) {
      const { code, of } = one;
      const { proposals, stops } = showOf({ ...boxed, notNeeded: [{ code, of }] });
      expect(proposals).toEqual(before.proposals.filter((it) => it.code !== code || it.of !== of));
      expect(before.stops.length - stops.length).toBeLessThanOrEqual(1);
    }
  });

  test('is what lies in no box, tools of steps on site, one more of what has no spare, and what is measured', () => {
    expect(proposed(withTools())).toEqual([
      { code: 'units', of: 'frame', units: 2, box: null },
      { code: 'units', of: 'slat', units: 12, box: null },
      { code: 'spares', of: 'slat', units: 2, box: null },
      { code: 'tool', of: 'spanner 13', steps: ['lift', 'hang'], box: null },
      { code: 'tool', of: 'hooks', steps: ['hang'], box: null },
      { code: 'one-more', of: 'drive', box: null },
      { code: 'repair', of: 'oil', box: null },
    ]);
  });

  test('leaves out what a box holds, and names the box in which the like lies', () => {
    const boxes = [
      box('bag', { tools: ['two spanners 13, spanner 13 long'], kit: ['a tin of oil'] }),
      box('slats', { parts: [{ part: 'slat', count: 5 }] }),
      box('rest', { parts: [{ part: 'slat', count: 1, spare: true }] }),
    ];
    const found = proposed(withTools({ boxes }));
    expect(found.map(({ code, of, box: into }) => [code, of, into])).toEqual([
      ['units', 'frame', null],
      ['units', 'slat', 'slats'],
      ['spares', 'slat', 'rest'],
      ['tool', 'hooks', 'bag'],
      ['one-more', 'drive', 'rest'],
    ]);
    expect(found.slice(1, 3)).toMatchObject([{ units: 7 }, { units: 1 }]);
  });

  test('is nothing once nothing is left on site, nor where nothing happens there', () => {
    const at = '2026-12-01T08:00:00Z';
    const done = (['lift', 'hang'] as const).map(
      (step, i) => ({ id: `done-${i}000`, kind: 'done', step, n: 1, at, seq: i + 1 }) as LogEntry,
    );
    const passed: LogEntry = { id: 'passed-0001', kind: 'passed', step: 'glow', at, seq: 3 };
    expect(proposed(withTools(), [...done, passed])).toEqual([]);
    expect(proposed(wave({ steps: wave().steps.slice(0, 2), gates: [] }))).toEqual([]);
  });
});

describe('van, door and lift', () => {
  const sized = (width: number, height: number, depth: number, more: Partial<Box> = {}) =>
    box('rail', { width, height, depth, ...more });
  const door = { id: 'door', name: 'Stage door', kind: 'door', width: 900, height: 2000 } as const;
  const lift = {
    id: 'lift',
    name: 'Goods lift',
    kind: 'lift',
    width: 1100,
    height: 2100,
    depth: 1400,
    payload: 300,
  } as const;
  const van = { id: 'van', name: 'Van', kind: 'van', width: 1500, height: 1300, depth: 2400, payload: 500 } as const;
  const passage = (boxes: Box[], of: NonNullable<Build['passages']>[number]) =>
    showOf(wave({ boxes, passages: [of] })).passages[0]!;

  test('try a box in every way it may be turned', () => {
    expect(passage([sized(3000, 300, 400)], door)).toMatchObject({ fits: 1, noFit: [] });
    expect(passage([sized(2000, 300, 400)], lift)).toMatchObject({ fits: 1 });
    expect(passage([sized(2000, 300, 400, { upright: true })], lift)).toMatchObject({
      fits: 0,
      noFit: [{ box: 'rail', over: [{ side: 'depth', by: 600 }] }],
    });
  });

  test('say by how much a box is too long as it lies best', () => {
    expect(passage([sized(2500, 950, 2100)], door).noFit).toEqual([
      { box: 'rail', turned: { width: 950, height: 2100, depth: 2500 }, over: expect.any(Array) },
    ]);
    expect(passage([sized(2500, 950, 2100)], door).noFit[0]!.over).toEqual([
      { side: 'width', by: 50 },
      { side: 'height', by: 100 },
    ]);
  });

  test('find the turn that sorting the sides finds, for any box and van', () => {
    const side = fc.integer({ min: 1, max: 40 });
    fc.assert(
      fc.property(fc.tuple(side, side, side), fc.tuple(side, side, side), (b, v) => {
        const [width, height, depth] = v;
        const { fits } = planBuild(
          wave({ boxes: [sized(...b)], passages: [{ ...van, width, height, depth }] }),
          [],
          NOW,
        ).show!.passages[0]!;
        const inOrder = (sides: readonly number[]) => sides.toSorted((x, y) => x - y);
        expect(fits === 1).toBe(inOrder(b).every((one, i) => one <= inOrder(v)[i]!));
      }),
      { numRuns: 25 },
    );
  });

  test('hold the weight of all boxes against a van, and the heaviest against a lift', () => {
    const boxes = [box('a', { weight: 260 }), box('b', { weight: 310.4 }), box('c')];
    expect(passage(boxes, van)).toMatchObject({ weight: { load: 570.4, payload: 500, by: 70.4 }, unweighed: ['c'] });
    expect(passage(boxes, lift)).toMatchObject({
      weight: { load: 310.4, payload: 300, by: 10.4 },
      unknown: ['a', 'b', 'c'],
    });
  });

  test('never call a little too much nothing, nor what just fits too much', () => {
    const exact = passage([sized(1000, 1000, 1000.5)], { ...van, width: 1000, height: 1000, depth: 1000.5 });
    expect(exact).toMatchObject({ fits: 1, volume: { load: 1000, room: 1000, by: 0 } });
    expect(passage([sized(900.04, 2000, 2500)], door).noFit[0]!.over).toEqual([{ side: 'width', by: 0.1 }]);
    expect(passage([box('a', { weight: 300.04 })], lift).weight).toEqual({ load: 300.1, payload: 300, by: 0.1 });
    const points = [{ id: 'p1', name: 'P1', load: 50.04, limit: 50 }];
    expect(showOf(wave({ points })).stops).toContainEqual({ code: 'point-over', point: 'p1', by: 0.1 });
  });

  test('hold the litres of all boxes against a van', () => {
    const boxes = [sized(1000, 1000, 1000), { ...sized(1000, 1000, 4000), id: 'two' }];
    expect(passage(boxes, van).volume).toEqual({ load: 5000, room: 4680, by: 320 });
  });
});

describe('the run sheet', () => {
  test('takes the plan from the load-in to the event, with people and last moments', () => {
    const { run } = showOf(wave());
    expect(run.map(({ step, people }) => [step, people.length])).toEqual([
      ['lift', 2],
      ['hang', 1],
      ['glow', 1],
    ]);
    expect(run.every(({ start, finish, last }) => start < finish && last! >= start && finish <= EVENT)).toBe(true);
    expect(run[0]!.start).toBe(Date.parse('2026-12-10T09:00Z') / 60_000);
  });

  test('gives what goes on after a break a last moment at which somebody is there', () => {
    const people = [
      {
        ...wave().people![0]!,
        hours: 'never',
        exceptions: [
          { date: '2026-12-05', hours: '09:00-18:00' },
          { date: '2026-12-08', hours: '09:00-13:00 14:00-19:00' },
          { date: '2026-12-09', hours: '10:00-14:00 15:00-19:00' },
          { date: '2026-12-10', hours: '10:00-12:00' },
        ],
      },
    ];
    const lay: Build['steps'][number] = {
      id: 'lay',
      name: 'Lay the floor',
      onSite: true,
      phases: [{ kind: 'hands', minutes: 300 }],
    };
    const { parts: _, gates: __, ...rest } = wave();
    const { run } = showOf({ ...rest, loadIn: '2026-12-08T09:00', people, steps: [lay] });
    const at = (time: string) => Date.parse(`2026-12-${time}Z`) / 60_000;
    // Five hours backwards from Thursday noon: two on Thursday, three on Wednesday; the last of them begins at eleven.
    expect(run.map(({ start, last }) => [start, last])).toEqual([
      [at('08T09:00'), at('09T16:00')],
      [at('08T14:00'), at('10T11:00')],
    ]);
  });

  test('has no line for what has no place before the horizon, waits among it', () => {
    const steps: Build['steps'] = [
      { id: 'hoist', name: 'Hoist', onSite: true, phases: [{ kind: 'hands', minutes: 600, oneGo: true }] },
      {
        id: 'glue',
        name: 'Glue',
        onSite: true,
        phases: [
          { kind: 'hands', minutes: 10 },
          { kind: 'wait', minutes: 60 },
        ],
        after: ['hoist'],
      },
    ];
    const { gates: _, parts: __, ...rest } = wave();
    const forecast = planBuild({ ...rest, steps, people: rest.people!.map((one) => ({ ...one, rate: 20 })) }, [], NOW);
    expect(forecast.lots.map(({ levelled, placements }) => [levelled, placements])).toEqual([
      [null, []],
      [null, []],
    ]);
    expect(forecast.show!.run).toEqual([]);
    expect(forecast.show!.notYet).toEqual(['hoist', 'glue']);
    expect(forecast.money!.toCome).toBe(0);
  });

  test('names what nobody may do instead of giving it a line', () => {
    const people = wave().people!.map((person) => ({ ...person, can: ['weld', 'cut', 'lift', 'hum', 'glow'] }));
    const { run, notYet } = showOf(wave({ people }));
    expect(run.map(({ step }) => step)).toEqual(['lift', 'glow']);
    expect(notYet).toEqual(['hang']);
  });

  test('never asks a person twice at once', () => {
    const minutes = fc.integer({ min: 5, max: 120 });
    fc.assert(
      fc.property(
        fc.array(fc.record({ minutes, people: fc.integer({ min: 1, max: 2 }) }), { maxLength: 6 }),
        (jobs) => {
          const steps = jobs.map(({ minutes, people }, i) => ({
            ...{ id: `job-${i}`, name: `Job ${i}`, onSite: true },
            phases: [{ kind: 'hands' as const, minutes, people }],
          }));
          const { run } = planBuild(wave({ steps: [...wave().steps, ...steps] }), [], NOW).show!;
          for (const who of ['ria', 'tom']) {
            const own = run.filter(({ people }) => people.includes(who));
            for (const [i, line] of own.entries()) expect(line.start).toBeGreaterThanOrEqual(own[i - 1]?.finish ?? 0);
          }
          expect(new Set(run.map(({ step }) => step)).size).toBe(steps.length + 3);
        },
      ),
      { numRuns: 15 },
    );
  });

  test('has the power-on at home before the day of the load-in, and at the venue', () => {
    expect(showOf(wave()).power).toMatchObject([
      { gate: 'hum', onSite: false, passed: false, dayBefore: true },
      { gate: 'glow', onSite: true, dayBefore: null },
    ]);
    expect(showOf(wave()).stops.filter(({ code }) => code === 'no-power-on')).toEqual([]);
    const midnight = wave({
      people: [{ id: 'ria', name: 'Ria', hours: 'daily 23:00-24:00' }],
      gates: [{ id: 'hum', name: 'It hums', after: ['prepare'], minutes: 20, powerOn: true }],
      steps: [{ id: 'prepare', name: 'Prepare', phases: [{ kind: 'hands', minutes: 40 }] }],
    });
    const [home] = showOf({ ...midnight, loadIn: '2026-12-02T09:00' }).power;
    expect(home).toMatchObject({ start: Date.parse('2026-12-01T23:40Z') / 60_000, dayBefore: true });
  });

  test('goes on after the event, one job after the other', () => {
    const strike = [
      { id: 'down', name: 'Take down', minutes: '1 h 30 min', people: 2 },
      { id: 'back', name: 'Drive back', minutes: 45, who: ['ria'] },
    ];
    const from = EVENT + 120;
    expect(showOf(wave({ strike, strikeFrom: '2026-12-10T21:00' })).strike).toEqual([
      { id: 'down', name: 'Take down', start: from, finish: from + 90, people: 2, who: [] },
      { id: 'back', name: 'Drive back', start: from + 90, finish: from + 135, people: 1, who: ['ria'] },
    ]);
    expect(showOf(wave({ strike })).strike[0]!.start).toBe(EVENT);
  });
});

describe('what could stop the show', () => {
  const codes = (build: Build) => showOf(build).stops.map(({ code }) => code);

  test('is a single thing with none to spare, gates, signatures, a certificate', () => {
    expect(showOf(wave()).stops).toEqual([
      { code: 'unsigned', step: 'lift', hazard: 'overhead', gate: null },
      { code: 'no-certificate', step: 'lift' },
      { code: 'gate-open', gate: 'hum', left: 1 },
      { code: 'gate-open', gate: 'glow', left: 1 },
      { code: 'no-spare', part: 'drive', need: 2 },
    ]);
  });

  test('is a thing with none to spare however many are begun to make up for bad ones, and those scrapped', () => {
    const drive = (more: object) => ({
      parts: wave().parts!.map((it) => (it.id === 'drive' ? { ...it, ...more } : it)),
    });
    const steps = [...wave().steps, { id: 'wind', name: 'Wind', part: 'drive', phases: [] }];
    const bad: LogEntry[] = [
      { id: 'entry-0001', kind: 'done', step: 'wind', n: 20, at: '2026-12-01T07:00:00Z', seq: 1 },
      { id: 'entry-0002', kind: 'scrapped', step: 'wind', n: 19, counted: true, at: '2026-12-01T08:00:00Z', seq: 2 },
    ];
    const none = (more: Partial<Build>, log: readonly LogEntry[] = []) =>
      planBuild(wave({ steps, ...more }), log, NOW).show!.stops.some(({ code }) => code === 'no-spare');
    expect([none({}), none(drive({ yield: 0.5 })), none({}, bad)]).toEqual([true, true, true]);
    expect([none(drive({ spares: 1 })), none(drive({ onHand: 3 }))]).toEqual([false, false]);
  });

  test('is a missing certificate of a piece for the public until it is said to be here', () => {
    const plain = wave().steps.map(({ hazards: _, ...it }) => it);
    const found = (more: Partial<Build>) => showOf(wave(more)).stops.filter(({ code }) => code === 'no-certificate');
    const none = { code: 'no-certificate', step: null };
    expect([found({ steps: plain }), found({ steps: plain, forPublic: true })]).toEqual([[], [none]]);
    expect(found({ forPublic: true })).toEqual([{ ...none, step: 'lift' }]);
    const certificate = 'EN 13501-1 for the slats, seen by the venue';
    expect(found({ steps: plain, forPublic: true, certificate })).toEqual([]);
    expect(found({ forPublic: true, certificate })).toEqual([]);
    const looks = wave().gates!.map((it) => (it.id === 'glow' ? { ...it, hazards: ['public-decor' as const] } : it));
    expect(found({ steps: plain, forPublic: true, gates: looks })).toEqual([]);
  });

  test('is a point that carries too much or that nobody has signed for', () => {
    const points = [{ id: 'p1', name: 'P1', load: '2 * 30', limit: 50, gate: 'glow', signedBy: 'the rigger' }];
    const passed: LogEntry = { id: 'entry-0001', kind: 'passed', step: 'glow', at: '2026-12-01T08:00:00Z', seq: 1 };
    expect(showOf(wave({ points })).points).toEqual([
      { id: 'p1', name: 'P1', load: 60, limit: 50, by: 10, gate: 'glow', signedBy: 'the rigger', signed: false },
    ]);
    expect(codes(wave({ points }))).toEqual(expect.arrayContaining(['point-over', 'point-unsigned']));
    expect(showOf(wave({ points }), [passed]).points[0]!.signed).toBe(true);
  });

  test('is what is undecided, and what does not go through a door', () => {
    const decisions = [{ id: 'q', question: 'White or brass?', waits: ['cut'] }];
    const boxes = [box('big', { width: 2500, height: 2500, depth: 950 })];
    const passages = [{ id: 'door', name: 'Door', kind: 'door' as const, width: 900, height: 2000 }];
    const { stops } = showOf(wave({ decisions, boxes, passages }));
    expect(stops).toContainEqual({ code: 'no-fit', box: 'big', passage: 'door', side: 'height', by: 500 });
    expect(stops.map(({ code }) => code)).toEqual(expect.arrayContaining(['undecided', 'unpacked']));
  });
});

describe('bad input', () => {
  const problemsOf = (build: Build) => planBuild(build, [], NOW).problems.map(({ field }) => field);

  test('is named by its field, and the plan of the work stays', () => {
    const build = wave({
      boxes: [box('a', { parts: [{ part: 'gone', count: 1 }], opensAt: 'never' }), box('a')],
      points: [{ id: 'p', name: 'P', load: 'nothing', limit: 10, gate: 'hang' }],
      strike: [{ id: 's', name: 'S', minutes: -5, who: ['nobody'] }],
    });
    expect(problemsOf(build)).toEqual([
      'boxes.a',
      'boxes.a.parts',
      'boxes.a.opensAt',
      'points.p.gate',
      'strike.s.who',
      'points.p.load',
      'strike.s.minutes',
    ]);
    expect(planBuild(build, [], NOW).complete).toBe(planBuild(wave(), [], NOW).complete);
  });

  test('of sizes says which side is missing', () => {
    const van = { id: 'van', name: 'Van', kind: 'van' as const, width: 1500, height: 1300 };
    const found = checkBuild(wave({ passages: [van], boxes: [box('a', { width: 500 })] }));
    expect(found.ok ? [] : found.problems.map(({ field, message }) => [field, message])).toEqual([
      ['boxes.a.height', expect.stringContaining('"height" of A is missing')],
      ['boxes.a.depth', expect.stringContaining('"depth" of A is missing')],
      ['passages.van.depth', expect.stringContaining('"depth" of Van is missing')],
    ]);
    const narrow = checkBuild(wave({ passages: [{ ...van, depth: -3 }] }));
    expect(narrow.ok ? '' : narrow.problems[0]!.message).toContain('passages.van.depth');
  });

  test('takes down no earlier than the event', () => {
    expect(problemsOf(wave({ strikeFrom: '2026-12-10T18:00' }))).toEqual(['strikeFrom']);
  });
});
