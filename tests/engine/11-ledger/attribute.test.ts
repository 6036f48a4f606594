import { describe, expect, test } from 'vitest';
import { keptScheduleOf } from '../../../server/engine/07-levelling/replan/kept-schedule.ts';
import { attributeRoom, sumParts } from '../../../server/engine/11-ledger/index.ts';
import { readWall } from '../../../server/engine/calendar/clock.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Case } from '../../../server/engine/stages/index.ts';
import type { Build, LedgerPart, LogEntry } from '../../../server/model/index.ts';

const DAY = 1440;

function at(text: string): number {
  const read = readWall(`2026-12-${text}`, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

const MONDAY = at('07T09:00');
const TUESDAY = at('08T09:00');

/**
 * A hundred rails at half an hour each, by one person who works from nine to five: twenty-four a day in two-hour lots
 * of four.
 */
function rails(changes: Partial<Build> = {}, count = 100): Build {
  return {
    id: 'rails',
    name: 'Rails',
    zone: 'UTC',
    start: '2026-12-07T09:00',
    event: '2026-12-24T17:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'mon-sun', cutOff: '17:00', lead: 2 }],
    steps: [{ id: 'file', name: 'file', count, lotSize: 4, phases: [{ kind: 'hands', perUnit: 30 }] }],
    ...changes,
  };
}

let ids = 0;
function entry(kind: LogEntry['kind'], when: string, changes: Partial<LogEntry> = {}): LogEntry {
  ids += 1;
  return { id: `entry-${String(ids).padStart(4, '0')}`, kind, at: `2026-12-${when}:00Z`, seq: ids, ...changes };
}

interface Change {
  readonly log?: readonly LogEntry[];
  readonly now?: number;
  /** Made at once, unless it says when and after which entries. */
  readonly edits?: readonly { build: Build; edit: number; who: string; log?: readonly LogEntry[]; now?: number }[];
}

function ledger(build: Build, log: readonly LogEntry[], now: number, change: Change) {
  const before = planBuild(build, log, now);
  const after = { log: [...log, ...(change.log ?? [])], now: change.now ?? now };
  const edits = (change.edits ?? []).map((edit) => ({ log, now, ...edit }));
  const later = planBuild(edits.at(-1)?.build ?? build, after.log, after.now).room.readyBy.clock!;
  const room = before.room.readyBy.clock!;
  const span = {
    before: { build, log, now, room },
    edits,
    after: { ...after, room: later },
    former: keptScheduleOf(before),
  };
  const parts = attributeRoom(span);
  return { parts, change: later - room, sum: total(parts) };
}

function total(parts: readonly LedgerPart[]): number {
  return parts.reduce((sum, { minutes }) => sum + minutes, 0);
}

function part(
  kind: LedgerPart['kind'],
  subject: string | null,
  minutes: number,
  who: string | null = null,
): LedgerPart {
  return { kind, subject, who, minutes };
}

describe('the parts of a change', () => {
  test('are none where nothing changed', () => {
    expect(ledger(rails(), [], MONDAY, {}).parts).toEqual([]);
  });

  test('say that a lost day cost a day', () => {
    const lost = entry('lost', '08T09:00', { until: '2026-12-08T17:00:00Z', person: 'ria' });
    expect(ledger(rails(), [], MONDAY, { log: [lost] }).parts).toEqual([part('lost', 'ria', -DAY)]);
  });

  test('say so of a day that went by before anybody logged that it was lost', () => {
    const wednesday = at('09T09:00');
    expect(ledger(rails(), [], TUESDAY, { now: wednesday }).parts).toEqual([part('time', null, -DAY)]);
    const lost = entry('lost', '08T09:00', { until: '2026-12-08T17:00:00Z' });
    const { parts, change } = ledger(rails(), [], wednesday, { log: [lost] });
    expect(change).toBe(0);
    expect(parts).toEqual([part('time', null, DAY), part('lost', null, -DAY)]);
  });

  test('say that time went by with nothing counted', () => {
    expect(ledger(rails(), [], MONDAY, { now: MONDAY + 240 }).parts).toEqual([part('time', null, -240)]);
  });

  test('cancel each other where the work went as planned', () => {
    const log = [
      entry('began', '07T09:00', { step: 'file' }),
      entry('done', '07T17:00', { step: 'file', n: 16 }),
      entry('paused', '07T17:00', { step: 'file' }),
    ];
    const { parts, change } = ledger(rails(), [], MONDAY, { log, now: TUESDAY });
    expect(change).toBe(0);
    expect(parts).toEqual([part('counted', null, DAY), part('time', null, -DAY)]);
    expect(sumParts(parts)).toEqual([]);
  });

  test('name the step that is slow', () => {
    const build = rails({
      steps: [
        { id: 'file', name: 'file', count: 50, lotSize: 4, phases: [{ kind: 'hands', perUnit: 30 }] },
        { id: 'oil', name: 'oil', count: 50, lotSize: 4, phases: [{ kind: 'hands', perUnit: 10 }] },
      ],
    });
    const log = [
      entry('began', '07T09:00', { step: 'file' }),
      entry('done', '07T17:00', { step: 'file', n: 8 }),
      entry('paused', '07T17:00', { step: 'file' }),
    ];
    const { parts, change, sum } = ledger(build, [], MONDAY, { log, now: TUESDAY });
    expect(sum).toBe(change);
    const [worst] = sumParts(parts);
    expect(worst).toMatchObject({ kind: 'pace', subjects: [{ subject: 'file' }] });
    expect(worst!.minutes).toBeLessThan(-DAY);
    expect(parts.some(({ subject }) => subject === 'oil')).toBe(false);
  });

  test('say what scrap cost: its units are made again, from the start', () => {
    const made = [entry('done', '07T09:00', { step: 'file', n: 16 })];
    const build = rails({
      parts: [{ id: 'rail', name: 'rail', source: 'make', count: 100 }],
      steps: [
        { id: 'file', name: 'file', part: 'rail', lotSize: 4, phases: [{ kind: 'hands', perUnit: 30 }] },
        { id: 'oil', name: 'oil', part: 'rail', lotSize: 4, phases: [{ kind: 'hands', perUnit: 1 }] },
      ],
    });
    const scrapped = entry('scrapped', '07T09:00', { step: 'oil', n: 16 });
    const { parts, change } = ledger(build, made, MONDAY, { log: [scrapped] });
    // Sixteen minutes of oiling were worked, and are to be worked again after a day of filing.
    expect(parts).toEqual([part('counted', null, 16), part('scrap', 'oil', -DAY - 16)]);
    expect(change).toBe(-DAY);
  });

  test('charge the supplier who promises a later day', () => {
    const build = rails({
      parts: [{ id: 'rail', name: 'rail', source: 'buy', count: 4, supplier: 'mill' }],
      steps: [{ id: 'fit', name: 'fit', uses: ['rail'], part: 'rail', phases: [{ kind: 'hands', perUnit: 30 }] }],
    });
    const ordered = [entry('ordered', '07T09:00', { step: 'order-rail', n: 4 })];
    const promised = entry('promised', '07T10:00', { step: 'order-rail', until: '2026-12-12T09:00:00Z' });
    const { parts, change, sum } = ledger(build, ordered, at('07T10:00'), { log: [promised] });
    expect(change).toBeLessThanOrEqual(-2 * DAY);
    expect(sum).toBe(change);
    expect(parts).toEqual([part('supplier', 'order-rail', change)]);
  });

  test('charge the supplier for a promise about an order that is as new', () => {
    const build = rails({
      parts: [{ id: 'rail', name: 'rail', source: 'buy', count: 4, supplier: 'mill' }],
      steps: [{ id: 'fit', name: 'fit', uses: ['rail'], part: 'rail', phases: [{ kind: 'hands', perUnit: 30 }] }],
    });
    const log = [
      entry('ordered', '07T09:15', { step: 'order-rail', n: 4 }),
      entry('promised', '07T10:00', { step: 'order-rail', until: '2026-12-12T09:00:00Z' }),
    ];
    const { parts, change, sum } = ledger(build, [], MONDAY, { log, now: at('07T10:00') });
    expect(sum).toBe(change);
    expect(sumParts(parts)).toMatchObject([{ kind: 'supplier', minutes: change }]);
  });

  test('charge the supplier for what came late, and for what is overdue', () => {
    const build = rails({
      parts: [{ id: 'rail', name: 'rail', source: 'buy', count: 4, supplier: 'mill' }],
      steps: [{ id: 'fit', name: 'fit', uses: ['rail'], part: 'rail', phases: [{ kind: 'hands', perUnit: 30 }] }],
    });
    const ordered = [entry('ordered', '07T09:00', { step: 'order-rail', n: 4 })];
    const late = { now: at('13T09:00') };
    const overdue = ledger(build, ordered, at('07T10:00'), late);
    const received = entry('received', '13T09:00', { step: 'order-rail', n: 4 });
    const arrived = ledger(build, ordered, at('07T10:00'), { ...late, log: [received] });
    for (const { parts, change, sum } of [overdue, arrived]) {
      expect(sum).toBe(change);
      expect(change).toBeLessThanOrEqual(-3 * DAY);
      expect(sumParts(parts)).toMatchObject([{ kind: 'supplier', subjects: [{ subject: 'order-rail' }] }]);
    }
  });

  test('name each edit and who made it', () => {
    const more = { build: rails({}, 116), edit: 2, who: 'maker' };
    const fewer = { build: rails({}, 84), edit: 3, who: 'Tom' };
    const { parts } = ledger(rails(), [], MONDAY, { edits: [more, fewer] });
    expect(parts).toEqual([part('edit', '2', -DAY, 'maker'), part('edit', '3', 2 * DAY, 'Tom')]);
  });

  test('charge an edit with what it costs when it is made: more than was ordered is ordered anew', () => {
    const fitting = (count: number) =>
      rails({
        parts: [{ id: 'rail', name: 'rail', source: 'buy', count, supplier: 'mill' }],
        steps: [{ id: 'fit', name: 'fit', uses: ['rail'], part: 'rail', phases: [{ kind: 'hands', perUnit: 30 }] }],
      });
    const log = [
      entry('ordered', '07T09:00', { step: 'order-rail', n: 4 }),
      entry('received', '09T09:00', { step: 'order-rail', n: 4 }),
    ];
    const now = at('09T10:00');
    const edits = [{ build: fitting(8), edit: 2, who: 'maker', log, now }];
    const { parts, change, sum } = ledger(fitting(4), [], MONDAY, { log, now, edits });
    expect(sum).toBe(change);
    expect(parts.find(({ kind }) => kind === 'edit')!.minutes).toBeLessThanOrEqual(-2 * DAY);
    const atOnce = edits.map((edit) => ({ ...edit, log: [], now: MONDAY }));
    const early = ledger(fitting(4), [], MONDAY, { log, now, edits: atOnce }).parts;
    expect(early.find(({ kind }) => kind === 'edit')?.minutes ?? 0).toBeGreaterThan(-DAY);
  });

  test('join the earlier of many edits', () => {
    const edits = Array.from({ length: 12 }, (_, i) => ({
      build: rails({}, 100 + 4 * (i + 1)),
      edit: i + 1,
      who: 'maker',
    }));
    const { parts, sum, change } = ledger(rails(), [], MONDAY, { edits });
    expect(sum).toBe(change);
    expect(parts.map(({ subject }) => subject)).toEqual([null, '9', '10', '11', '12']);
  });

  test('take an undone count for what it was', () => {
    const made = entry('done', '07T09:00', { step: 'file', n: 16 });
    const undo = entry('undo', '07T09:01', { undoes: made.id });
    expect(ledger(rails(), [made], MONDAY, { log: [undo] }).parts).toEqual([part('counted', null, -DAY)]);
  });

  test('add up in a mixture of all of them', () => {
    const build = rails({
      parts: [{ id: 'rail', name: 'rail', source: 'make', count: 60 }],
      steps: [
        { id: 'file', name: 'file', part: 'rail', lotSize: 4, phases: [{ kind: 'hands', perUnit: 30 }] },
        { id: 'oil', name: 'oil', part: 'rail', lotSize: 4, phases: [{ kind: 'hands', perUnit: 6 }] },
      ],
    });
    const log = [
      entry('began', '07T09:00', { step: 'file' }),
      entry('done', '07T13:00', { step: 'file', n: 6 }),
      entry('scrapped', '07T15:00', { step: 'file', n: 3 }),
      entry('paused', '07T15:00', { step: 'file' }),
      entry('lost', '08T09:00', { until: '2026-12-08T17:00:00Z' }),
    ];
    const harder = { ...build, confidence: 0.95, parts: [{ ...build.parts![0]!, count: 66 }] };
    const edits = [{ build: harder, edit: 2, who: 'maker' }];
    const { parts, sum, change } = ledger(build, [], MONDAY, { log, edits, now: at('10T12:00') });
    expect(sum).toBe(change);
    expect(parts.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['edit', 'lost', 'pace', 'scrap', 'time']));
    expect(parts.find(({ kind }) => kind === 'lost')!.minutes).toBe(-DAY);
  });

  test('say state by state how many of them are answered', () => {
    const heard: string[] = [];
    const survey = () => ({ paces: new Map(), runs: new Map(), steps: new Map(), standing: [], overdue: [] });
    const edits = [1, 2].map((n) => ({ build: rails(), log: [], now: MONDAY, edit: n, who: 'maker' }));
    const span = { before: { build: rails(), log: [], now: MONDAY, room: 0 }, edits, former: [] };
    const answers = { room: () => heard.push('room'), survey };
    const onState = (done: number, total: number) => heard.push(`${done} of ${total}`);
    attributeRoom({ ...span, after: { log: [], now: TUESDAY, room: 0 } }, answers, onState);
    expect(heard).toEqual(['room', '0 of 3', 'room', '1 of 3', 'room', '2 of 3', 'room']);
  });

  test('add up whatever is answered, states without an answer told with the next', () => {
    const random = new Random(7);
    const survey = () => ({ paces: new Map(), runs: new Map(), steps: new Map(), standing: [], overdue: [] });
    for (let i = 0; i < 200; i++) {
      const room = (_: Case) => (random.below(4) === 0 ? null : random.below(10_000) - 5_000);
      const log = [
        entry('lost', '08T09:00', { until: '2026-12-08T17:00:00Z' }),
        entry('done', '08T09:00', { step: 'file', n: 2 }),
        entry('failed', '08T09:00', { step: 'file' }),
      ];
      const edits = [{ build: rails(), log: [], now: MONDAY, edit: 2, who: 'maker' }];
      const before = { build: rails(), log: [], now: MONDAY, room: random.below(9_000) };
      const after = { log, now: TUESDAY, room: random.below(9_000) };
      const parts = attributeRoom({ before, edits, after, former: [] }, { room, survey });
      expect(total(parts)).toBe(after.room - before.room);
    }
  });
});

describe('another order of work', () => {
  /** What is told of a change whose states have these rooms, one after the other, and which ends with `after`. */
  function told(log: LogEntry[], rooms: readonly number[], after: number, edit = false): LedgerPart[] {
    const left = [...rooms];
    const survey = () => ({ paces: new Map(), runs: new Map(), steps: new Map(), standing: [], overdue: [] });
    const before = { build: rails(), log: [], now: MONDAY, room: rooms[0]! };
    const edits = edit ? [{ build: rails({}, 90), log: [], now: MONDAY, edit: 2, who: 'maker' }] : [];
    const room = () => left.shift() ?? after;
    const span = { before, edits, after: { log, now: TUESDAY, room: after }, former: [] };
    return attributeRoom(span, { room, survey });
  }
  const scrap = () => entry('scrapped', '07T12:00', { step: 'file', n: 3 });

  test('of the others who take over what a helper leaves is set off: what was lost in the end is the cost', () => {
    const lost = entry('lost', '08T09:00', { until: '2026-12-08T17:00:00Z', person: 'ria' });
    expect(told([lost], [2000, 1040, 1040], 1940)).toEqual([part('lost', 'ria', -60)]);
  });

  test('that an edit brought about is the edit’s, and what it gains beyond is its own', () => {
    expect(told([], [2000, 1040, 1040], 1940, true)).toEqual([part('edit', '2', -60, 'maker')]);
    expect(told([], [2000, 1990, 1990], 2100, true)).toEqual([part('order', null, 100)]);
  });

  test('is never told as room that scrap gained', () => {
    const parts = told([scrap()], [2000, 2000, 3350, 3350], 2400);
    expect(parts).toEqual([part('counted', null, 0), part('order', null, 400)]);
    const worse = told([scrap()], [2000, 2000, 3350, 3350], 1900);
    expect(worse).toEqual([part('counted', null, 0), part('time', null, -100)]);
  });

  test('that only time brought about is told as time', () => {
    expect(told([], [2000, 2000], 1800)).toEqual([part('time', null, -200)]);
  });
});

describe('the sums', () => {
  test('set time that went by against what was counted in it', () => {
    const sums = sumParts([
      part('counted', null, 600),
      part('pace', 'mount', -100),
      part('time', null, -720),
      part('pace', 'file', 40),
      part('pace', 'mount', -180),
    ]);
    expect(sums).toEqual([
      {
        kind: 'pace',
        minutes: -240,
        subjects: [
          { subject: 'mount', who: null, minutes: -280 },
          { subject: 'file', who: null, minutes: 40 },
        ],
      },
      {
        kind: 'time',
        minutes: -120,
        subjects: [
          { subject: 'counted', who: null, minutes: 600 },
          { subject: 'time', who: null, minutes: -720 },
        ],
      },
    ]);
    expect(sums.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(-360);
  });
});

describe('a machine that runs longer than thought', () => {
  test('is told as the pace of its step, not as time with nothing counted', () => {
    const build = rails({
      machines: [{ id: 'press', name: 'Press', unattended: true }],
      steps: [
        {
          id: 'press',
          name: 'press',
          count: 60,
          lotSize: 4,
          origin: 'handbook',
          phases: [
            { kind: 'hands', minutes: 5 },
            { kind: 'run', machine: 'press', minutes: 100 },
          ],
        },
      ],
    });
    const loads = ['09:00', '11:15', '13:30'].flatMap((when, i) => [
      entry('loaded', `07T${when}`, { step: 'press', n: 4 }),
      entry('done', `07T${['11:10', '13:25', '15:40'][i]!}`, { step: 'press', n: 4 }),
    ]);
    const { parts } = ledger(build, [], MONDAY, { log: loads, now: at('07T15:45') });
    expect(parts.find(({ kind, subject }) => kind === 'pace' && subject === 'press')!.minutes).toBeLessThan(-60);
  });
});
