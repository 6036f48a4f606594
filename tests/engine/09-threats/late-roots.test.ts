import { describe, expect, it } from 'vitest';
import { threatsOf } from '../../../server/engine/09-threats/index.ts';
import { readWall } from '../../../server/engine/calendar/index.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { boundWords } from '../../../views/words/schedule-words.ts';
import { wordedThreats } from '../../support/words.ts';

const NOW = at('2026-12-01T18:00'); // a Tuesday

function at(text: string): number {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

const entry = (id: string, kind: LogEntry['kind'], when: string, more: Partial<LogEntry> = {}): LogEntry => ({
  id: `entry-${id}`,
  kind,
  at: `${when}:00Z`,
  ...more,
});

/** Rods from a mill go into hangers that two people mount and then hang in the evenings. */
function hangers(event: string, more: Partial<Build> = {}): Build {
  return {
    id: 'hangers',
    name: 'Hangers',
    zone: 'UTC',
    start: '2026-12-01T18:00',
    event,
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' }],
    suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'daily', cutOff: '20:00', lead: 3 }],
    parts: [{ id: 'rod', name: 'rod', source: 'buy', count: 6, supplier: 'mill' }],
    steps: [
      {
        id: 'mount',
        name: 'mount rods',
        count: 6,
        lotSize: 6,
        uses: ['rod'],
        phases: [{ kind: 'hands', perUnit: 20 }],
      },
      { id: 'hang', name: 'hang them', after: ['mount'], phases: [{ kind: 'hands', minutes: 60 }] },
    ],
    ...more,
  };
}

const codesAndSteps = (build: Build, log: readonly LogEntry[] = [], now = NOW) =>
  planBuild(build, log, now, { risk: { seed: 1, futures: 300 } }).threats!.map(({ code, step }) => `${code} ${step}`);

describe('a delivery under way', () => {
  const ordered = entry('0001', 'ordered', '2026-12-01T18:05', { step: 'order-rod', n: 6 });
  const promised = (until: string) => [
    ordered,
    entry('0002', 'promised', '2026-12-01T18:10', { step: 'order-rod', until: `${until}:00Z` }),
  ];

  it('that is promised too late is the threat, with its cost, in place of the steps that wait for it', () => {
    const forecast = planBuild(hangers('2026-12-06T22:00'), promised('2026-12-08T12:00'), NOW + 15);
    const found = wordedThreats(forecast);
    expect(found.map(({ code }) => code)).toEqual(['late-delivery', 'no-spare']);
    // 180 minutes of work must begin on the last evening at 19:00.
    expect(found[0]).toMatchObject({ values: { neededBy: at('2026-12-06T19:00'), overdue: false, promised: true } });
    expect(found[0]!.costMinutes).toBe(at('2026-12-08T12:00') - at('2026-12-06T19:00'));
    expect(found[0]!.message).toBe(
      '6 × rod is promised for Tue 8 Dec 12:00. You need it by Sun 6 Dec 19:00. mount rods and hang them wait for it.',
    );
  });

  it('that leaves a little room is one where the date is not sure because of it', () => {
    const close = codesAndSteps(hangers('2026-12-06T22:00'), promised('2026-12-06T18:30'), NOW + 15);
    expect(close[0]).toBe('late-delivery order-rod');
    expect(close.some((threat) => threat.startsWith('slow-step'))).toBe(false);
  });

  it('that sets the ready date is none where only the hours on site are too few', () => {
    const steps: Build['steps'] = [
      hangers('').steps[0]!,
      { id: 'hang', name: 'hang them', onSite: true, after: ['mount'], phases: [{ kind: 'hands', minutes: 200 }] },
    ];
    const window = { readyBy: '2026-12-05T22:00', loadIn: '2026-12-11T17:00', steps };
    const build = hangers('2026-12-12T12:00', window);
    const { risk } = planBuild(build, [ordered], NOW + 15, { risk: { seed: 1, futures: 300 } });
    expect(risk!.readyBy.chance).toBeGreaterThan(0.95);
    expect(risk!.event.chance).toBeLessThan(0.9);
    expect(codesAndSteps(build, [ordered], NOW + 15)[0]).toBe('slow-step hang');
    expect(codesAndSteps(build, [ordered], NOW + 15)).not.toContain('late-delivery order-rod');
  });

  it('nor is any step in the workshop, where none costs much by itself', () => {
    const steps: Build['steps'] = [
      hangers('').steps[0]!,
      { id: 'hang', name: 'hang them', onSite: true, after: ['mount'], phases: [{ kind: 'hands', minutes: 200 }] },
    ];
    const window = { readyBy: '2026-12-05T22:00', loadIn: '2026-12-11T17:00', steps };
    const forecast = planBuild(hangers('2026-12-12T12:00', window), [ordered], NOW + 15, {
      risk: { seed: 1, futures: 300 },
    });
    const risk = { ...forecast.risk!, steps: forecast.risk!.steps.map((one) => ({ ...one, costMinutes: 0 })) };
    const threats = threatsOf(forecast, risk, NOW + 15);
    expect(threats.map(({ code, step }) => `${code} ${step}`).slice(0, 1)).toEqual(['slow-step hang']);
    const missed = Math.round(100 * (1 - risk.event.chance));
    expect(wordedThreats({ ...forecast, threats })[0]!.message).toContain(
      `In ${missed} of 100 runs the work on site ends after the event.`,
    );
  });

  it('that comes with room is none', () => {
    expect(codesAndSteps(hangers('2026-12-12T22:00'), promised('2026-12-05T12:00'), NOW + 15)).toEqual([]);
  });

  it('that is overdue is one even with room, and asks for a new date', () => {
    const now = at('2026-12-05T18:00');
    const found = wordedThreats(planBuild(hangers('2026-12-12T22:00'), [ordered], now));
    expect(found[0]).toMatchObject({ code: 'late-delivery', since: at('2026-12-04T12:00'), values: { overdue: true } });
    expect(found[0]!.message).toContain('6 × rod should have come by Fri 4 Dec 12:00 and is not here.');
    expect(found[0]!.message).toContain('Ask the supplier, and log the new date.');
  });
});

describe('an order to be placed', () => {
  it('that comes in time by the hours that hands have is none, though the plan is late for want of hands', () => {
    // 40 h of sawing before the rods are mounted: the rods come long before anybody mounts them.
    const saw = { id: 'saw', name: 'saw', phases: [{ kind: 'hands' as const, minutes: '40 h' as const }] };
    const build = hangers('2026-12-06T22:00');
    const [mount, hang] = build.steps;
    const forecast = planBuild({ ...build, steps: [saw, { ...mount!, after: ['saw'] }, hang!] }, [], NOW);
    const [order] = forecast.orders;
    expect(forecast.room.readyBy.clock).toBeLessThan(0);
    const mounting = forecast.steps.find(({ id }) => id === 'mount')!;
    // Not when they are mounted, days after the event, but while more help could still make up for the hours.
    expect(mounting.levelled!.start).toBeGreaterThan(at('2026-12-06T22:00'));
    expect(order!.neededBy).toBeLessThanOrEqual(mounting.dates!.lateStart!);
    expect(order!.neededBy).toBeGreaterThan(order!.arrives);
    expect(order!.state).toBe('to-order');
    expect(forecast.threats!.map(({ code }) => code)).not.toContain('order-late');
  });

  it('has its last moment and its need from one schedule: what is ordered by the one is here by the other', () => {
    const { orders, threats } = planBuild(hangers('2026-12-06T22:00'), [], NOW);
    expect(orders).toMatchObject([{ neededBy: at('2026-12-06T19:00'), orderBy: at('2026-12-03T20:00') }]);
    expect(threats).toEqual([]);
  });

  it('that is too late comes before the steps that wait for it', () => {
    const found = codesAndSteps(hangers('2026-12-03T22:00'));
    expect(found[0]).toBe('order-late order-rod');
    expect(found.filter((threat) => threat.startsWith('slow-step'))).toEqual([]);
  });
});

describe('a machine without hours enough', () => {
  const printed = (hours: string): Build =>
    hangers('2026-12-06T22:00', {
      machines: [{ id: 'printer', name: 'Printer', hours, overnight: false }],
      parts: [],
      steps: [
        {
          id: 'print',
          name: 'print cams',
          count: 40,
          lotSize: 10,
          phases: [
            { kind: 'hands', minutes: 5 },
            { kind: 'run', machine: 'printer', minutes: '3 h' },
          ],
        },
        { id: 'slide', name: 'slide cams', after: ['print'], phases: [{ kind: 'hands', minutes: 60 }] },
      ],
    });

  it('is named before the steps that wait for it', () => {
    const found = wordedThreats(planBuild(printed('thu 12:00-22:00'), [], NOW));
    expect(found[0]).toMatchObject({ code: 'short-machine', values: { machine: 'printer' } });
    expect(found[0]!.message).toContain(
      'Printer does not have enough hours: its runs before the ready-by take 12 h, and it has 10 h.',
    );
    expect(found[0]!.message).toContain('slide cams');
    expect(found.map(({ code }) => code)).not.toContain('slow-step');
  });
});

describe('units that go wrong', () => {
  it('are the threat where clearly more do than was thought, and the date is late for it', () => {
    const build = hangers('2026-12-02T19:00', {
      parts: [{ id: 'cam', name: 'cam', source: 'make', count: 100, yield: 0.98 }],
      steps: [{ id: 'file', name: 'file cams', part: 'cam', lotSize: 10, phases: [{ kind: 'hands', perUnit: 4 }] }],
    });
    const log = [
      entry('0001', 'done', '2026-12-01T18:00', { step: 'file', n: 34 }),
      entry('0002', 'scrapped', '2026-12-01T18:00', { step: 'file', n: 6 }),
    ];
    const found = wordedThreats(planBuild(build, log, at('2026-12-01T18:30')));
    expect(found[0]).toMatchObject({ code: 'scrap', step: 'file', values: { scrapped: 6, tried: 40 } });
    expect(found[0]!.message).toMatch(
      /^file cams: 6 of 40 went wrong \(15 %; you expected 2 %\), so \d+ are left to make\./,
    );
    expect(found.map(({ code }) => code)).not.toContain('slow-step');
    const few = planBuild(build, log.slice(0, 1), at('2026-12-01T18:30')).threats!;
    expect(few.map(({ code }) => code)).not.toContain('scrap');
  });
});

describe('what cannot be done in time', () => {
  it('is no lack of hands where unlimited hands are as late, and names the delivery', () => {
    const forecast = planBuild(hangers('2026-12-03T22:00'), [], NOW);
    expect(forecast.lowerBound).toMatchObject({ by: 'critical-path', resource: null, windowEnd: null });
    const text = boundWords(forecast, wallClock('UTC'))!.text.replace(/[\u00a0\u202f]/g, ' ');
    expect(text).toContain('6 × rod cannot arrive before Fri 4 Dec 12:00, and the work after that takes that long');
    expect(text).not.toContain('hands:');
  });

  it('is a lack of hands where they are the limit, in a window that has a length', () => {
    const forecast = planBuild(
      hangers('2026-12-03T22:00', {
        parts: [],
        steps: [{ id: 'saw', name: 'saw', count: 40, lotSize: 1, phases: [{ kind: 'hands', perUnit: 60 }] }],
      }),
      [],
      NOW,
    );
    const { by, windowStart, windowEnd } = forecast.lowerBound!;
    expect(by).toBe('hands');
    expect(windowEnd! - windowStart!).toBeGreaterThan(0);
    expect(boundWords(forecast, wallClock('UTC'))!.text).toMatch(/^Not enough hands: Ria would need 28\sh more before/);
  });
});
