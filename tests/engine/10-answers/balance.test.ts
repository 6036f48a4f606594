import { describe, expect, test } from 'vitest';
import { unitsThatShouldHavePassed } from '../../../server/engine/numbers/line-of-balance.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';

const WEEK = 7 * 1440;
/** Sun 1 Nov 2026, midnight. */
const BEGIN = Date.UTC(2026, 10, 1) / 60_000;
const wall = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);
const plan = (build: Build, log: readonly LogEntry[], now: number) =>
  planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } });

describe('the status line', () => {
  // US Navy, Office of Naval Material, "Line of Balance Technology", 1962 (reading rule from memory; numbers invented).
  const delivery = { times: [0, 1, 2, 3, 4, 5, 6], units: [0, 5, 12, 22, 36, 50, 60] };
  const leads = [4, 3, 2, 1.5, 1, 0.5, 0];
  const due = [60, 50, 36, 29, 22, 17, 12];

  test('is that of the method, for a route whose points lie so many weeks before delivery', () => {
    expect(leads.map((lead) => unitsThatShouldHavePassed(delivery, 2, lead))).toEqual(due);
    const { balance } = plan(deliveredBuild(), [], BEGIN + 2 * WEEK);
    expect(balance?.steps.map((step) => [step.step, step.due])).toEqual(
      leads.map((lead, i) => [`lead-${lead}`, due[i]]),
    );
  });

  test('stays the same whatever has been counted, and the count stands beside it', () => {
    const at = `${wall(BEGIN + WEEK)}Z`;
    const log: LogEntry[] = [
      { id: 'entry-0001', kind: 'done', step: 'lead-4', n: 44, at, who: 'maker', arrived: at, seq: 1 },
    ];
    const { balance } = plan(deliveredBuild(), log, BEGIN + 2 * WEEK);
    expect(balance?.steps.map((step) => step.due)).toEqual(due);
    expect(balance?.steps[0]).toMatchObject({ passed: 44, due: 60 });
  });

  /** Whoever delivers is there for one minute a unit, just before it is due; all other points are waits. */
  function deliveredBuild(): Build {
    const dueAt = Array.from({ length: 60 }, (_, unit) => {
      const week = delivery.units.findIndex((units) => units >= unit + 1);
      const [before, after] = [delivery.units[week - 1]!, delivery.units[week]!];
      return BEGIN + WEEK * (week - 1 + (unit + 1 - before) / (after - before));
    });
    const windows = dueAt.map((minute) => ({ date: wall(minute - 1).slice(0, 10), hours: lastMinuteBefore(minute) }));
    const exceptions = [...new Set(windows.map(({ date }) => date))].map((date) => ({
      date,
      hours: windows
        .filter((window) => window.date === date)
        .map(({ hours }) => hours)
        .join(' '),
    }));
    const steps = leads.map((lead, i): Step => {
      const minutes = i === 0 ? 1 : (leads[i - 1]! - lead) * WEEK - (lead === 0 ? 1 : 0);
      return {
        id: `lead-${lead}`,
        name: `point ${lead} weeks before delivery`,
        count: 60,
        lotSize: 1,
        after: i === 0 ? [] : [{ step: `lead-${leads[i - 1]}`, type: 'units' }],
        phases: [{ kind: 'wait', minutes }, ...(lead === 0 ? [{ kind: 'hands' as const, minutes: 1 }] : [])],
      };
    });
    return {
      id: 'deliveries',
      name: 'Deliveries',
      zone: 'UTC',
      start: wall(BEGIN - 5 * WEEK),
      event: wall(BEGIN + 6 * WEEK),
      people: [{ id: 'maker', name: 'Maker', hours: 'sun 00:00-00:01', exceptions }],
      steps,
    } as Build;
  }

  function lastMinuteBefore(minute: number): string {
    const [from, to] = [wall(minute - 1).slice(11), wall(minute).slice(11)];
    return `${from}-${to === '00:00' ? '24:00' : to}`;
  }
});

describe('a follower', () => {
  // By hand: three lots of ten are cast in an hour each from 8:00 and cure three hours; they can be filed at 12, 13 and
  // 14.
  const filed = (minutesEach: number) => {
    const { balance } = plan(hooks(minutesEach), [], BEGIN + 8 * 60);
    return balance!.feeds.find((feed) => feed.to === 'file')!;
  };
  const at = (hour: number, minute = 0) => BEGIN + hour * 60 + minute;

  test('that is faster runs out, the first time at 12:30 for half an hour, twice in all', () => {
    expect(filed(3)).toMatchObject({
      ratio: 1,
      waiting: 0,
      starves: { at: at(12, 30), until: at(13), workingMinutes: 30, times: 2, inAllMinutes: 60 },
      pile: null,
    });
  });

  test('that is slower lets a pile grow, twenty at 14:00', () => {
    expect(filed(20)).toMatchObject({ starves: null, pile: { at: at(14), units: 20 } });
  });

  test('that keeps step is not worth a word', () => {
    expect(filed(6)).toMatchObject({ starves: null, pile: null });
  });

  test('takes its feeder in its own units at the end of the chain', () => {
    const { balance } = plan(hooks(6, 2), [], BEGIN + 8 * 60);
    expect(balance?.chains).toEqual([
      {
        end: 'hang',
        steps: [
          { step: 'cast', perEnd: 2 },
          { step: 'file', perEnd: 2 },
          { step: 'hang', perEnd: 1 },
        ],
      },
    ]);
  });

  function hooks(minutesEach: number, perRail?: number): Build {
    const file: Step = { id: 'file', name: 'file', part: 'hook', lotSize: 10, phases: [] };
    return {
      id: 'hooks',
      name: 'Hooks',
      zone: 'UTC',
      event: wall(BEGIN + 2 * WEEK),
      people: [
        { id: 'ann', name: 'Ann', hours: 'daily 08:00-18:00', can: ['cast'] },
        { id: 'ben', name: 'Ben', hours: 'daily 08:00-18:00', can: ['file', 'hang'] },
      ],
      parts: [{ id: 'hook', name: 'hook', source: 'make', count: 30 }],
      steps: [
        {
          id: 'cast',
          name: 'cast',
          part: 'hook',
          lotSize: 10,
          phases: [
            { kind: 'hands', minutes: 60 },
            { kind: 'wait', minutes: '3 h' },
          ],
        },
        { ...file, phases: [{ kind: 'hands', perUnit: minutesEach }] },
        ...(perRail === undefined
          ? []
          : [
              {
                id: 'hang',
                name: 'hang',
                count: 30 / perRail,
                after: [{ step: 'file', type: 'units' as const, ratio: perRail }],
                phases: [{ kind: 'hands' as const, perUnit: 5 }],
              },
            ]),
      ],
    };
  }
});

describe('where each step should be, of a build that could never have been in time', () => {
  /** Sixty heads at an hour each, glued up from shells that are sent for, in two evenings. */
  const late: Build = {
    id: 'late',
    name: 'Late',
    zone: 'UTC',
    event: '2026-11-03T22:00',
    people: [{ id: 'me', name: 'Me', hours: 'daily 18:00-22:00' }],
    suppliers: [{ id: 'yard', name: 'Yard', lead: 4 }],
    parts: [
      { id: 'head', name: 'Head', source: 'make', count: 60 },
      { id: 'shell', name: 'Shell', source: 'buy', usedIn: [{ part: 'head', count: 1 }], supplier: 'yard' },
    ],
    steps: [{ id: 'glue', name: 'Glue up', part: 'head', lotSize: 6, phases: [{ kind: 'hands', perUnit: 60 }] }],
  };
  const evening = BEGIN + 18 * 60;

  test('is nowhere yet in its first minute, and by the first plan from then on', () => {
    const { balance, burn } = plan(late, [], evening);
    expect(balance!.steps.map(({ step, due }) => [step, due])).toEqual([
      ['order-shell', 0],
      ['glue', 0],
    ]);
    expect(balance!.heldTo).toBe('first-plan');
    // Sixty hours in two evenings: no pace of these hands is enough, so none is asked for.
    expect(burn.find(({ step }) => step === 'glue')!.neededPerHour).toBeNull();
  });

  test('does not hold against anybody what was ordered and is on its way', () => {
    const log: LogEntry[] = [
      { id: 'entry-0001', kind: 'ordered', step: 'order-shell', n: 60, at: `${wall(evening)}:00Z`, seq: 1 },
    ];
    const { balance } = plan(late, log, BEGIN + 6 * 1440);
    expect(balance!.steps.find(({ step }) => step === 'order-shell')).toMatchObject({ passed: 0, onItsWay: 60 });
    expect(balance!.steps.find(({ step }) => step === 'glue')!.due).toBe(0);
  });
});
