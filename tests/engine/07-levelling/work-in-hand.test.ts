import { describe, expect, it } from 'vitest';
import { keptScheduleOf } from '../../../server/engine/07-levelling/replan/kept-schedule.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';

const now = Date.parse('2026-12-01T12:30Z') / 60_000;

/**
 * Ada and Ben from 8 to 16 and Cem from 14; a sign that drives the end and lamps that can wait, which Ada and Ben may
 * do.
 */
function build(changes: Partial<Build['steps'][number]> = {}): Build {
  const lamps: Build['steps'][number] = {
    id: 'fold',
    name: 'fold lamps',
    part: 'lamp',
    lotSize: 6,
    phases: [{ kind: 'hands', perUnit: 20, who: ['ada', 'ben'] }],
    ...changes,
  };
  return {
    id: 'lamps',
    name: 'Lamps',
    zone: 'UTC',
    event: '2026-12-12T18:00',
    people: [
      { id: 'ada', name: 'Ada', hours: 'daily 08:00-16:00' },
      { id: 'ben', name: 'Ben', hours: 'daily 08:00-16:00' },
      { id: 'cem', name: 'Cem', hours: 'daily 14:00-20:00' },
    ],
    parts: [{ id: 'lamp', name: 'lamp', source: 'make', count: 24 }],
    steps: [
      lamps,
      {
        id: 'sign',
        name: 'paint the sign',
        phases: [
          { kind: 'hands', minutes: 180, who: ['ada'] },
          { kind: 'wait', minutes: '6 d' },
        ],
      },
    ],
  };
}

let seq = 0;
function entry(kind: LogEntry['kind'], at: string, more: Partial<LogEntry> = {}): LogEntry {
  seq += 1;
  return {
    id: `entry-${String(seq).padStart(4, '0')}`,
    kind,
    step: 'fold',
    at: `2026-12-01T${at}:00Z`,
    who: 'ada',
    ...more,
  };
}

const deep = (log: LogEntry[], given = build(), former?: Forecast) =>
  planBuild(given, log, now, {
    levelling: { seed: 1, schedules: 300 },
    ...(former ? { former: keptScheduleOf(former) } : {}),
  });
/** The first answer after a tap, beside the sheet that the search made before it. */
const quick = (log: LogEntry[], given = build(), former: Forecast = deep([], given)) =>
  planBuild(given, log, now, { levelling: { seed: 1, schedules: 1 }, former: keptScheduleOf(former) });

/** What is to be done at this minute: by whom, of which step from which unit on. */
function handsNow({ lots }: Forecast): string[] {
  return lots
    .flatMap(({ step, firstUnit, placements }) =>
      placements.flatMap(({ start, people }) =>
        start === now ? people.map((id) => `${id}: ${step} ${firstUnit}`) : [],
      ),
    )
    .sort();
}

describe.each([
  ['the quick answer', quick],
  ['the search', deep],
])('%s', (_, plan) => {
  it('leaves the sign to Ada where no clock is on: it drives the end', () => {
    expect(handsNow(plan([]))).toEqual(['ada: sign 1', 'ben: fold 1']);
  });

  it('leaves with Ada the lamps that her clock is on for', () => {
    expect(handsNow(plan([entry('began', '12:10')]))).toContain('ada: fold 1');
  });

  it('leaves them after a count, from the next unit on, and by name as well as by short name', () => {
    const log = [entry('began', '12:00', { who: 'Ada' }), entry('done', '12:25', { who: 'Ada', n: 2 })];
    expect(handsNow(plan(log))).toContain('ada: fold 3');
  });

  it('gives two people at one step the first two lots, each their own of the sheet before', () => {
    const both = [entry('began', '12:10'), entry('began', '12:12', { who: 'ben' })];
    const first = plan(both);
    const isAdaFirst = handsNow(first)[0] === 'ada: fold 1';
    const apart = isAdaFirst ? ['ada: fold 1', 'ben: fold 7'] : ['ada: fold 7', 'ben: fold 1'];
    expect(handsNow(first)).toEqual(apart);
    const turned = [entry('began', '12:10', { who: 'ben' }), entry('began', '12:12')];
    expect(handsNow(plan(turned, build(), first))).toEqual(apart);
  });

  it.each([
    ['after a pause', [entry('began', '12:10'), entry('paused', '12:20')]],
    [
      'after a count elsewhere',
      [
        entry('began', '12:10'),
        entry('done', '12:20', { step: 'sign', n: 1 }),
        entry('sent-back', '12:21', { step: 'sign', n: 1 }),
      ],
    ],
    ['when it is forgotten', [entry('began', '04:10')]],
    [
      'when it is undone',
      [entry('began', '12:10', { id: 'undone-began' }), entry('undo', '12:11', { undoes: 'undone-began' })],
    ],
    ['of somebody who may not do it', [entry('began', '12:10', { who: 'cem' })]],
    ['of nobody of the build', [entry('began', '12:10', { who: 'somebody' })]],
  ])('goes on as planned %s', (_case, log) => {
    expect(handsNow(plan(log))).toEqual(['ada: sign 1', 'ben: fold 1']);
  });

  it('takes no notice of a clock of somebody whose hours are over or not begun', () => {
    const given = build({ phases: [{ kind: 'hands', perUnit: 20 }] });
    const log = [entry('began', '12:10', { who: 'cem' })];
    expect(handsNow(plan(log, given))).toEqual(handsNow(plan([], given)));
  });

  it('says nothing of a pin, for the maker set none', () => {
    const { lots, problems } = plan([entry('began', '12:10')]);
    expect(lots.some(({ pinned }) => pinned === true)).toBe(false);
    expect(problems.filter(({ code }) => code === 'pin')).toEqual([]);
  });
});
