import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';

const at = (text: string): number => Date.parse(`2026-12-${text}Z`) / 60_000;
const wall = (minutes: number): string => new Date(minutes * 60_000).toISOString().slice(8, 16);

let seq = 0;
function entry(kind: LogEntry['kind'], when: string, more: Partial<LogEntry> = {}): LogEntry {
  seq += 1;
  return { id: `entry-${String(seq).padStart(4, '0')}`, kind, at: `2026-12-${when}:00Z`, who: 'ada', ...more };
}

function build(steps: Build['steps'], more: Partial<Build> = {}): Build {
  return {
    id: 'ceiling',
    name: 'Ceiling',
    zone: 'UTC',
    start: '2026-12-01T08:00',
    event: '2026-12-20T18:00',
    people: [
      { id: 'ada', name: 'Ada', hours: 'daily 17:30-22:00' },
      { id: 'ben', name: 'Ben', hours: 'daily 17:30-22:00' },
    ],
    steps,
    ...more,
  };
}

function placements({ lots }: Forecast, step: string): string[] {
  return lots
    .filter((lot) => lot.step === step)
    .flatMap((lot) =>
      lot.placements.map(({ kind, start, finish, people }) =>
        [kind, `${wall(start)}-${wall(finish).slice(3)}`, ...people].join(' '),
      ),
    );
}

describe('work that waits in the middle', () => {
  const soak = build([
    {
      id: 'soak',
      name: 'soak',
      phases: [
        { kind: 'hands', minutes: 30 },
        { kind: 'wait', minutes: 720 },
        { kind: 'hands', minutes: 20 },
      ],
    },
  ]);
  const begun = entry('loaded', '01T21:00', { step: 'soak', n: 1 });

  it('goes on overnight once it was begun: only what comes after it is left', () => {
    const next = planBuild(soak, [begun], at('02T17:30'));
    expect(placements(next, 'soak')).toEqual(['wait 01T21:00-17:30', 'hands 02T17:30-17:50 ada']);
    expect(next.steps[0]).toMatchObject({ handsMinutesLeft: 20, underWay: [{ backAt: at('02T09:00') }] });
    expect(placements(planBuild(soak, [], at('02T17:30')), 'soak')[0]).toBe('hands 02T17:30-18:00 ada');
  });

  it('is done by the count, and comes back when its beginning is taken back', () => {
    const done = entry('done', '02T18:00', { step: 'soak', n: 1 });
    expect(planBuild(soak, [begun, done], at('02T18:10')).steps[0]).toMatchObject({ left: 0, underWay: [] });
    const undo = entry('undo', '01T21:05', { undoes: begun.id });
    expect(planBuild(soak, [begun, undo], at('02T17:30')).steps[0]).toMatchObject({ handsMinutesLeft: 50 });
  });
});

describe('minutes on a run clock that nothing was counted of', () => {
  const wiring = build([{ id: 'wire', name: 'wire', count: 2, lotSize: 1, phases: [{ kind: 'hands', minutes: 120 }] }]);
  const on = entry('began', '01T17:30', { step: 'wire' });
  const off = entry('paused', '01T19:20', { step: 'wire' });
  const left = (log: LogEntry[], now: string, given = wiring) =>
    planBuild(given, log, at(now), { levelling: { seed: 1, schedules: 1 } }).steps[0]!.handsMinutesLeft;

  it('are taken off the lot in hand: of 120 minutes with 110 done 10 are planned the next day', () => {
    const next = planBuild(wiring, [on, off], at('02T17:30'));
    expect(next.steps[0]).toMatchObject({ handsMinutesLeft: 130, state: 'under-way' });
    expect(placements(next, 'wire')).toContain('hands 02T17:30-17:40 ada');
  });

  it('are taken off while the clock runs, and stay with whoever is at it', () => {
    const now = planBuild(wiring, [on], at('01T18:30'));
    expect(placements(now, 'wire')[0]).toBe('hands 01T18:30-19:30 ada');
  });

  it('are taken by the count, and given back when the clock is taken back', () => {
    const done = entry('done', '01T19:30', { step: 'wire', n: 1 });
    const after = entry('paused', '01T19:30', { step: 'wire' });
    expect(left([on, done, after], '02T17:30')).toBe(120);
    expect(left([on, off, entry('undo', '01T19:30', { undoes: on.id })], '02T17:30')).toBe(240);
  });

  it('leave a twentieth at least where more was worked than was planned, and a clock that was forgotten leaves all', () => {
    const over = entry('paused', '01T20:30', { step: 'wire' });
    expect(left([on, over], '02T17:30')).toBe(126);
    expect(left([on], '02T17:30')).toBe(240);
  });

  it('are those of each person at their own lot, and together where two do a lot together', () => {
    const both = [on, entry('began', '01T18:00', { step: 'wire', who: 'ben' })];
    const stop = [off, entry('paused', '01T19:00', { step: 'wire', who: 'ben' })];
    expect(left([...both, ...stop], '02T17:30')).toBe(10 + 60);
    const pairs = build([
      { id: 'wire', name: 'wire', count: 2, lotSize: 1, phases: [{ kind: 'hands', minutes: 120, people: 2 }] },
    ]);
    expect(left([...both, ...stop], '02T17:30', pairs)).toBe(2 * (120 - (110 + 60) / 2) + 2 * 120);
  });

  it('never add to what is left, and never take more than the lots in hand', () => {
    const event = fc.record({
      minute: fc.integer({ min: 0, max: 3 * 1440 }),
      kind: fc.constantFrom('began' as const, 'paused' as const),
      who: fc.constantFrom('ada', 'ben'),
    });
    fc.assert(
      fc.property(fc.array(event, { maxLength: 12 }), (told) => {
        const log = told
          .sort((a, b) => a.minute - b.minute)
          .map(({ minute, kind, who }) => ({
            ...entry(kind, '01T00:00', { step: 'wire', who }),
            at: new Date((at('01T00:00') + minute) * 60_000).toISOString(),
          }));
        const nine = build([
          { id: 'wire', name: 'wire', count: 9, lotSize: 1, phases: [{ kind: 'hands', minutes: 120 }] },
        ]);
        const [timed, untimed] = [left(log, '04T12:00', nine), 9 * 120];
        expect(timed).toBeLessThanOrEqual(untimed);
        expect(timed).toBeGreaterThanOrEqual(untimed - 2 * 114);
      }),
      { numRuns: 60 },
    );
  });
});

describe('an attended run that was loaded', () => {
  const ovenFor = (count: number) =>
    build(
      [
        { id: 'bake', name: 'bake', count, lotSize: 4, phases: [{ kind: 'run', machine: 'oven', minutes: '4 h' }] },
        { id: 'draw', name: 'draw', phases: [{ kind: 'hands', minutes: 60, who: ['ada'] }] },
      ],
      { machines: [{ id: 'oven', name: 'oven', count: 2, unattended: false }] },
    );
  const [oven, one] = [ovenFor(8), ovenFor(4)];
  const loaded = (by: string) => entry('loaded', '01T17:30', { step: 'bake', n: 4, who: by });

  it('is stayed with by whoever loaded it, and the others go on with theirs', () => {
    const forecast = planBuild(one, [loaded('Ben')], at('01T17:40'));
    expect(placements(forecast, 'bake')[0]).toBe('run 01T17:30-21:30 ben');
    expect(placements(forecast, 'draw')).toEqual(['hands 01T17:40-18:40 ada']);
  });

  it('has somebody of its own where two are loaded, whoever tapped', () => {
    for (const who of ['ada', 'ben', 'maker']) {
      const log = [loaded(who), loaded(who)];
      const crews = planBuild(oven, log, at('01T17:40'))
        .lots.filter(({ step, begun }) => step === 'bake' && begun)
        .map(({ placements: [run] }) => run!.people.join());
      expect(crews.sort()).toEqual(['ada', 'ben']);
    }
  });

  it('goes on alone rather than hold one person at two machines', () => {
    const alone = { ...oven, people: oven.people!.slice(0, 1) };
    const crews = planBuild(alone, [loaded('ada'), loaded('ada')], at('01T17:40'))
      .lots.filter(({ step, begun }) => step === 'bake' && begun)
      .map(({ placements: [run] }) => run!.people.join());
    expect(crews.sort()).toEqual(['', 'ada']);
  });
});

describe('lost time', () => {
  const mill = build(
    [
      { id: 'mill', name: 'mill', count: 4, lotSize: 1, phases: [{ kind: 'run', machine: 'mill', minutes: 60 }] },
      { id: 'draw', name: 'draw', phases: [{ kind: 'hands', minutes: 60 }] },
    ],
    { machines: [{ id: 'mill', name: 'mill', count: 2 }] },
  );
  const now = '01T17:30';
  const lost = (more: Partial<LogEntry>) => entry('lost', now, { until: '2026-12-02T17:30:00Z', ...more });
  const starts = (log: LogEntry[], step: string) =>
    planBuild(mill, log, at(now))
      .lots.filter((lot) => lot.step === step)
      .map(({ placements: [first] }) => wall(first!.start))
      .sort();

  it('of a machine empties the hours of that machine alone', () => {
    const log = [lost({ machine: 'mill' })];
    expect(starts(log, 'draw')).toEqual(['01T17:30']);
    expect(starts(log, 'mill')).toEqual(['02T17:30', '02T17:30', '02T18:30', '02T18:30']);
  });

  it('of a person or of everybody leaves the machines alone', () => {
    expect(starts([lost({})], 'draw')).toEqual(['02T17:30']);
    expect(starts([lost({})], 'mill')[0]).toBe('01T17:30');
    expect(starts([lost({ person: 'ada' })], 'draw')).toEqual(['01T17:30']);
  });

  it('of one of several alike leaves the others', () => {
    const one = [lost({ machine: 'mill', n: 1 })];
    expect(starts(one, 'mill')).toEqual(['01T17:30', '01T18:30', '01T19:30', '01T20:30']);
    const offered = (log: LogEntry[]) =>
      planBuild(mill, log, at(now)).capacity.find(({ id }) => id === 'mill')!.offeredMinutes;
    expect(offered([]) - offered(one)).toBe(1440);
    expect(starts([...one, lost({ machine: 'mill', n: 1 })], 'mill')[0]).toBe('02T17:30');
    expect(starts([lost({ machine: 'mill', n: 2 })], 'mill')[0]).toBe('02T17:30');
  });

  it('comes back when it is taken back', () => {
    const gone = lost({ machine: 'mill' });
    expect(starts([gone, entry('undo', now, { undoes: gone.id })], 'mill')[0]).toBe('01T17:30');
  });
});
