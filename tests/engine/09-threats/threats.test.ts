import { describe, expect, test } from 'vitest';
import { type KeptSchedule, keptScheduleOf } from '../../../server/engine/07-levelling/index.ts';
import { threatsOf, withSince } from '../../../server/engine/09-threats/threats.ts';
import { readWall } from '../../../server/engine/calendar/clock.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, ForecastRisk, Hazard, LogEntry, Step } from '../../../server/model/index.ts';
import { wordedThreats } from '../../support/words.ts';

const NOW = at('2026-12-01T18:00'); // a Tuesday

function at(text: string): number {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

/** Forty hooks printed ten a plate and then filed, three minutes each, by Ria in the evening. */
function hooks(more: Partial<Build> = {}): Build {
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    start: '2026-12-01T18:00',
    event: '2026-12-12T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' }],
    machines: [{ id: 'printer', name: 'Printer' }],
    parts: [{ id: 'hook', name: 'hook', source: 'make', count: 40 }],
    steps: [
      {
        id: 'print',
        name: 'print hooks',
        part: 'hook',
        lotSize: 10,
        phases: [
          { kind: 'hands', minutes: 10 },
          { kind: 'run', machine: 'printer', minutes: '5 h' },
          { kind: 'hands', minutes: 5 },
        ],
      },
      { id: 'file', name: 'file hooks', part: 'hook', lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
    ],
    ...more,
  };
}

const entry = (id: string, kind: LogEntry['kind'], when: string, more: Partial<LogEntry> = {}): LogEntry => ({
  id: `entry-${id}`,
  kind,
  at: `${when}:00Z`,
  ...more,
});

const threats = (build: Build, entries: readonly LogEntry[] = [], now = NOW) =>
  wordedThreats(planBuild(build, entries, now));
const codes = (build: Build, entries: readonly LogEntry[] = [], now = NOW) =>
  threats(build, entries, now).map(({ code }) => code);

describe('work on site', () => {
  const hang: Step = {
    id: 'hang',
    name: 'hang it',
    onSite: true,
    after: ['file'],
    phases: [{ kind: 'hands', minutes: '3 h', oneGo: true }],
  };
  const onSite = (event: string) =>
    threats({
      ...hooks({ loadIn: '2026-12-12T09:00', event }),
      steps: [...hooks().steps, hang],
    });

  test('for which nobody is there between the load-in and the event asks for hours, not for an earlier end', () => {
    const [worst] = onSite('2026-12-12T19:00');
    expect(worst).toMatchObject({ code: 'slow-step', step: 'hang' });
    expect(worst!.message).toContain(
      'There are not enough hours for it between the load-in, Sat 12 Dec 09:00, and the event, where the work on site lacks 2 h of hands: give somebody more then.',
    );
    expect(worst!.message).not.toContain('last moment');
  });

  test('that has some hours there, too few, asks for more, and says what it takes by how many at once', () => {
    const two: Step = { ...hang, phases: [{ kind: 'hands', minutes: '3 h', people: 2 }] };
    const people = [...hooks().people!, { id: 'bo', name: 'Bo', hours: 'daily 18:00-22:00' }];
    const [worst] = threats({
      ...hooks({ loadIn: '2026-12-12T09:00', event: '2026-12-12T20:00', people }),
      steps: [...hooks().steps, two],
    });
    expect(worst!.message).toContain('hang it: still to do, 6 h of work, 2 people at once.');
    expect(worst!.message).toContain('There are not enough hours for it between the load-in, Sat 12 Dec 09:00,');
    expect(worst!.message).not.toContain('last moment');
  });

  test('that fits before the event threatens nothing', () => {
    expect(onSite('2026-12-12T23:00')).toEqual([]);
  });
});

describe('a plan with room', () => {
  test('has no threats', () => {
    expect(threats(hooks())).toEqual([]);
  });

  test('has none either when futures say that it is nearly sure', () => {
    expect(planBuild(hooks(), [], NOW, { risk: { seed: 1, futures: 500 } }).threats).toEqual([]);
  });
});

describe('a plan that is late', () => {
  const late = hooks({
    event: '2026-12-02T22:00',
    steps: [{ id: 'file', name: 'file hooks', count: 400, lotSize: 20, phases: [{ kind: 'hands', perUnit: 3 }] }],
    parts: [],
  });

  test('names the step, its units, its hours and the pace that is needed', () => {
    const [worst] = threats(late);
    expect(worst).toMatchObject({ code: 'slow-step', step: 'file' });
    // 1,200 minutes of work in evenings of 240: the fifth ends on Sat 5 Dec 22:00, three days late.
    expect(worst!.costMinutes).toBe(3 * 1440);
    expect(worst!.values).toMatchObject({ left: 400, total: 400, handsMinutesLeft: 1200, minutesPerUnit: 3 });
    // Two evenings of four hours are open for 400 units.
    expect(worst!.values).toMatchObject({ pace: { neededPerHour: expect.closeTo(50, 9) } });
    expect(worst!.message).toContain(
      '400 of 400 units left, 20 h of work at 3 min each. It needs 50 an hour; none counted so far.',
    );
  });

  test('goes by the expected cost where futures were drawn', () => {
    const forecast = planBuild(late, [], NOW);
    const chance = { target: NOW, chance: 0.2, error: 0.01 };
    const quantiles = { p10: NOW, p50: NOW, p80: NOW, p90: NOW, p95: NOW };
    const risk: ForecastRisk = {
      futures: 1000,
      seed: 1,
      readyBy: chance,
      loadIn: null,
      event: chance,
      readyAt: quantiles,
      finishAt: quantiles,
      steps: [{ step: 'file', criticality: 1, cruciality: 0.9, sensitivity: 0.9, costMinutes: 700, costError: 50 }],
      lostDaysPerHundred: 3,
      beyond: 0,
    };
    const [worst] = wordedThreats({ ...forecast, threats: threatsOf(forecast, risk, NOW) });
    expect(worst).toMatchObject({ code: 'slow-step', costMinutes: 700 });
    expect(worst!.message).toContain('It is likely to cost 11 h 40 min.');
  });

  test('is ranked by what each costs', () => {
    const costs = threats(
      hooks({ ...late, decisions: [{ id: 'colour', question: 'Which colour?', waits: ['file'] }] }),
    ).map(({ costMinutes }) => costMinutes);
    expect(costs.length).toBeGreaterThan(1);
    expect(costs).toEqual([...costs].sort((a, b) => b - a));
  });
});

describe('a plan in time whose futures often are not', () => {
  const tight = hooks({ event: '2026-12-05T22:00' });
  const drawn = (build: Build) => planBuild(build, [], NOW, { risk: { seed: 1, futures: 300 } });

  test('names the step that most often holds up the end, where none costs much by itself', () => {
    const forecast = drawn(tight);
    const { room, risk } = forecast;
    const found = wordedThreats(forecast);
    expect(room.readyBy.clock).toBeGreaterThan(0);
    expect(risk!.readyBy.chance).toBeLessThan(0.9);
    expect(found).toMatchObject([{ code: 'slow-step', step: 'print' }]);
    expect(found[0]!.message).toMatch(/It sets the ready date in \d+ of 100 runs\./);
  });
});

describe('an order', () => {
  const wired = (event: string): Build =>
    hooks({
      event,
      suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'daily', cutOff: '20:00', lead: 3 }],
      parts: [{ id: 'wire', name: 'wire', source: 'buy', count: 5, supplier: 'mill' }],
      steps: [{ id: 'bend', name: 'bend', uses: ['wire'], phases: [{ kind: 'hands', minutes: 60 }] }],
    });

  test('is a threat when it is too late, with the day it would come', () => {
    const found = threats(wired('2026-12-03T22:00')).find(({ code }) => code === 'order-late')!;
    expect(found.step).toBe('order-wire');
    expect(found.costMinutes).toBeGreaterThan(0);
    expect(found.message).toContain('5 × wire should have been ordered before the build started (22 h late).');
    expect(found.message).not.toContain('express');
  });

  test('that is too late says when the express would bring it', () => {
    const mill = { ...wired('').suppliers![0]!, express: { lead: 1, extraCost: 40 } };
    const found = threats({ ...wired('2026-12-03T22:00'), suppliers: [mill] });
    expect(found.find(({ code }) => code === 'order-late')!.message).toContain(
      'Ordered now, it arrives Fri 4 Dec 12:00, by express Wed 2 Dec 12:00; you need it Thu 3 Dec 21:00.',
    );
  });

  test('is a threat on its last day and none while there is time', () => {
    const days = ['2026-12-05T22:00', '2026-12-04T22:00', '2026-12-20T22:00'].map((event) => codes(wired(event)));
    expect(days.some((found) => found.includes('order-today'))).toBe(true);
    expect(days[2]).toEqual([]);
  });
});

describe('a decision', () => {
  const open = (event: string, decided?: string): Build =>
    hooks({
      event,
      decisions: [{ id: 'colour', question: 'Which colour?', waits: ['file'], ...(decided ? { decided } : {}) }],
    });

  test('is a threat when it is due and undecided', () => {
    const found = threats(open('2026-12-02T22:00')).find(({ code }) => code === 'decision')!;
    expect(found.message).toContain('Which colour?');
    expect(found.message).toContain('file hooks waits for the answer');
  });

  test('is none when it is made, or far off', () => {
    expect(codes(open('2026-12-02T22:00', 'red'))).not.toContain('decision');
    expect(codes(open('2026-12-20T22:00'))).not.toContain('decision');
  });
});

describe('a machine tonight', () => {
  // Ria is here tonight until ten, but at something that cannot wait: nothing is loaded, and four plates wait.
  const talk: Step = {
    id: 'talk',
    name: 'talk to the venue',
    pins: [{ start: '2026-12-01T18:00' }],
    phases: [{ kind: 'hands', minutes: '4 h', oneGo: true }],
  };
  const busy = (event: string, more: Partial<Step> = {}): Build => {
    const [print, file] = hooks().steps as [Step, Step];
    return hooks({ event, steps: [talk, { ...print, ...more }, file] });
  };

  test('is a threat when it stands idle with critical plates waiting, and somebody is there to load it', () => {
    const found = threats(busy('2026-12-06T22:00')).find(({ code }) => code === 'idle-machine')!;
    expect(found.step).toBe('print');
    expect(found.values).toMatchObject({ units: 40, runMinutes: 1200, loadBy: at('2026-12-01T22:00') });
    expect(found.message).toContain(
      'Printer is idle tonight, and 40 units of print hooks are waiting for it (20 h of runs). Load it by today 22:00; after that nobody is there.',
    );
    expect(found.message).toContain('only if it may run unwatched and a smoke alarm would wake somebody');
  });

  test('is none when nobody is there to load it', () => {
    const exceptions = [{ date: '2026-12-01', hours: 'off' }];
    const away = hooks({
      event: '2026-12-06T22:00',
      people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00', exceptions }],
    });
    expect(codes(away)).not.toContain('idle-machine');
  });

  test('is none while it runs until after everybody has left', () => {
    const loaded = [entry('0001', 'loaded', '2026-12-01T17:50', { step: 'print', n: 10, machine: 'printer' })];
    expect(codes(busy('2026-12-06T22:00'), loaded)).not.toContain('idle-machine');
  });

  test('is never urged for what must be watched, and not without the warning for what should be', () => {
    const urged = (hazards: Hazard[]) =>
      threats(busy('2026-12-06T22:00', { hazards })).filter(({ code }) => code === 'idle-machine');
    expect(urged(['lasers'])).toEqual([]);
    expect(urged(['hot-work', 'dust'])).toEqual([]);
    expect(urged(['spray'])[0]!.message).toContain('only if somebody watches it (spray and solvent)');
  });

  test('is none where there is room for a night without it', () => {
    const risk = { risk: { seed: 1, futures: 300 } };
    const idle = (event: string) =>
      planBuild(busy(event), [], NOW, risk).threats!.filter(({ code }) => code === 'idle-machine').length;
    expect(idle('2026-12-10T22:00')).toBe(0);
    expect(idle('2026-12-06T22:00')).toBe(1);
  });

  test('is none when it is planned to run through the night', () => {
    expect(codes(hooks({ event: '2026-12-06T22:00' }))).not.toContain('idle-machine');
  });
});

describe('a step nobody logs', () => {
  const log = [
    entry('0001', 'done', '2026-12-01T18:30', { step: 'print', n: 40 }),
    entry('0002', 'done', '2026-12-01T19:30', { step: 'file', n: 10 }),
  ];

  test('is a threat after two days, with how many could be worked on', () => {
    expect(codes(hooks(), log, at('2026-12-03T18:00'))).not.toContain('silent-step');
    const found = threats(hooks(), log, at('2026-12-05T20:00')).find(({ code }) => code === 'silent-step')!;
    expect(found).toMatchObject({ step: 'file', values: { left: 30, readyNow: 30 } });
    expect(found.message).toContain('no entries since Tue 1 Dec 19:30 (4 days).');
  });

  test('is none where no sheet has asked for it since its last entry, and is carried on from sheet to sheet', () => {
    const now = at('2026-12-05T20:00');
    const silent = (sheet: KeptSchedule) => {
      const forecast = planBuild(hooks(), log, now, { former: sheet });
      const step = forecast.steps.find(({ id }) => id === 'file')!;
      return [forecast.threats!.some(({ code }) => code === 'silent-step'), step.askedSince, keptScheduleOf(forecast)];
    };
    const sheet = (start: string, asked: string | null = null): KeptSchedule => [
      {
        step: 'file',
        set: null,
        firstUnit: 11,
        lastUnit: 20,
        start: at(start),
        people: [['ria']],
        starts: [at(start)],
        asked: asked === null ? null : at(asked),
      },
    ];
    expect(silent(sheet('2026-12-07T18:00')).slice(0, 2)).toEqual([false, null]);
    expect(silent(sheet('2026-12-01T19:00')).slice(0, 2)).toEqual([false, null]);
    expect(silent(sheet('2026-12-04T18:00')).slice(0, 2)).toEqual([true, at('2026-12-04T18:00')]);
    const [isSilent, since, next] = silent(sheet('2026-12-06T18:00', '2026-12-03T18:00'));
    expect([isSilent, since]).toEqual([true, at('2026-12-03T18:00')]);
    expect((next as KeptSchedule)[0]).toMatchObject({ step: 'file', asked: at('2026-12-03T18:00') });
  });

  test('is none while its machine is loaded with something else, for it could not be worked on', () => {
    const eyes = { ...hooks().steps![0]!, id: 'print-eyes', name: 'print eyes', part: 'eye' };
    const both = hooks({
      parts: [...hooks().parts!, { id: 'eye', name: 'eye', source: 'make', count: 20 }],
      steps: [...hooks().steps!, eyes],
    });
    const begun = [entry('0001', 'done', '2026-12-01T18:30', { step: 'print', n: 10 })];
    const loaded = entry('0002', 'loaded', '2026-12-05T18:00', { step: 'print-eyes', n: 10, machine: 'printer' });
    const now = at('2026-12-05T20:00');
    const silent = (log: LogEntry[]) => threats(both, log, now).filter(({ code }) => code === 'silent-step');
    expect(silent(begun).map(({ step }) => step)).toEqual(['print']);
    expect(silent([...begun, loaded])).toEqual([]);
    both.machines = [{ id: 'printer', name: 'Printer', count: 2 }];
    expect(silent([...begun, loaded]).map(({ step }) => step)).toEqual(['print']);
  });
});

test('a plan that leans on nights says how many', () => {
  const owl = hooks({
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 22:00-05:00' }],
    parts: [],
    steps: [{ id: 'carve', name: 'carve', phases: [{ kind: 'hands', minutes: '30 h' }] }],
  });
  const found = threats(owl).find(({ code }) => code === 'nights')!;
  expect(found.values).toMatchObject({ nights: expect.any(Number) });
  expect(found.message).toMatch(/^The plan needs \d+ nights/);
  const [carve] = owl.steps;
  const two = { ...owl, steps: [{ ...carve!, phases: [{ kind: 'hands' as const, minutes: '13 h' }] }] };
  expect(codes(two)).not.toContain('nights');
});

describe('what cannot be replaced in time', () => {
  // The mill takes three days; the ready-by of the second build is two days off.
  const milled = (event: string, spares: number, left = true): Build =>
    hooks({
      event,
      suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'daily', cutOff: '20:00', lead: 3 }],
      parts: [{ id: 'board', name: 'board', source: 'send-out', count: 2, spares, supplier: 'mill' }],
      steps: [
        { id: 'oil', name: 'oil boards', part: 'board', phases: [{ kind: 'hands', perUnit: 10 }] },
        ...(left ? [] : [{ id: 'sweep', name: 'sweep', phases: [{ kind: 'hands' as const, minutes: 5 }] }]),
      ],
    });
  const here = [entry('0001', 'received', '2026-12-01T12:00', { step: 'order-board', n: 2 })];

  test('is a threat while hands still work on it, with the day on which another would be here', () => {
    const found = threats(milled('2026-12-03T22:00', 0), here).find(({ code }) => code === 'no-spare')!;
    expect(found.message).toContain(
      'No spares if one breaks before Thu 3 Dec 22:00: board (2 needed; one more, ordered now, comes',
    );
    expect(found.values).toMatchObject({ parts: [{ againAt: at('2026-12-04T12:00') }] });
  });

  test('is said while one more can still be had, with the last moment to order it', () => {
    // The mill takes orders until 20:00 and three days: what is ordered on Tuesday is here on Friday at noon.
    const [spare] = threats(milled('2026-12-04T22:00', 0), here);
    expect(spare).toMatchObject({ code: 'no-spare', values: { parts: [{ spareBy: at('2026-12-01T20:00') }] } });
    expect(spare!.message).toContain('board (2 needed; order a spare before Tue 1 Dec 20:00)');
    expect(codes(milled('2026-12-08T22:00', 0), here)).not.toContain('no-spare');
  });

  test('is said too of what no step is known to take, while anything is left to do', () => {
    const motor: Build = {
      ...milled('2026-12-03T22:00', 0),
      parts: [{ id: 'board', name: 'board', source: 'buy', count: 1, supplier: 'mill' }],
      steps: [{ id: 'sweep', name: 'sweep', phases: [{ kind: 'hands', minutes: 5 }] }],
    };
    const got = [entry('0001', 'received', '2026-12-01T12:00', { step: 'order-board', n: 1 })];
    expect(codes(motor, got)).toContain('no-spare');
    expect(codes(motor, [...got, entry('0002', 'done', '2026-12-01T17:00', { step: 'sweep', n: 1 })])).toEqual([]);
  });

  test('is none with a spare, with time to order again, or once the work on it is done', () => {
    const spared = [entry('0001', 'received', '2026-12-01T12:00', { step: 'order-board', n: 3 })];
    expect(codes(milled('2026-12-03T22:00', 1), spared)).not.toContain('no-spare');
    expect(codes(milled('2026-12-20T22:00', 0), here)).not.toContain('no-spare');
    const done = [...here, entry('0002', 'done', '2026-12-01T17:00', { step: 'oil', n: 2 })];
    expect(codes(milled('2026-12-03T22:00', 0, false), done)).not.toContain('no-spare');
  });
});

// A plan is worked out from the whole log at its own `now`: only an entry of a later hour makes it the older of the
// two.
test('a plan older than its last entry says by how much', () => {
  const ahead = [entry('0001', 'done', '2026-12-01T19:30', { step: 'print', n: 10 })];
  const found = threats(hooks(), ahead).find(({ code }) => code === 'old-plan')!;
  expect(found.message).toContain('The last log entry is from Tue 1 Dec 19:30, 1 h 30 min after this plan');
  expect(codes(hooks(), ahead, at('2026-12-01T19:30'))).not.toContain('old-plan');
  expect(codes(hooks(), ahead, at('2026-12-01T19:22'))).not.toContain('old-plan');
});

describe('since when', () => {
  test('is known of a late order, an overdue decision and a silent step', () => {
    const late = hooks({
      event: '2026-12-02T22:00',
      decisions: [{ id: 'colour', question: 'Which colour?', waits: ['print'] }],
    });
    const now = at('2026-12-02T21:00');
    const decision = threats(late, [], now).find(({ code }) => code === 'decision')!;
    expect(decision).toMatchObject({ values: { decideBy: decision.since } });
    const log = [
      entry('0001', 'done', '2026-12-01T18:30', { step: 'print', n: 40 }),
      entry('0002', 'done', '2026-12-01T19:30', { step: 'file', n: 10 }),
    ];
    const silent = threats(hooks(), log, at('2026-12-05T20:00')).find(({ code }) => code === 'silent-step')!;
    expect(silent.since).toBe(at('2026-12-01T19:30'));
  });

  test('is carried over from forecast to forecast as long as the threat stands', () => {
    const late = hooks({ event: '2026-12-02T22:00' });
    const first = threats(late);
    const second = withSince(threats(late, [], NOW + 60), first);
    const slow = second.find(({ code }) => code === 'slow-step')!;
    expect(slow.since).toBe(NOW);
    expect(withSince(second, []).every((threat) => threat.since >= NOW)).toBe(true);
    expect(threats(late, [], NOW + 60).find(({ code }) => code === 'slow-step')!.since).toBe(NOW + 60);
  });
});
