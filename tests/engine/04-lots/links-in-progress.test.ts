/**
 * Links whose first end the log already holds. A start or finish that has happened is the instant it happened (the
 * precedence diagramming method with actual dates); a link into a step that is under way still binds what of it has not
 * begun ("retained logic", in the words of scheduling textbooks; from memory).
 */
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { After, Build, LogEntry, Step } from '../../../server/model/index.ts';

const HOUR = 60;
/** Tue 1 Dec 2026 18:00; Ria is there from 10 to 20 each day. */
const NOW = Date.UTC(2026, 11, 1, 18) / 60_000;
const wall = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);

function entry(number: number, kind: LogEntry['kind'], hours: number, more: Partial<LogEntry>): LogEntry {
  return { id: `entry-000${number}`, kind, at: `${wall(NOW + hours * HOUR)}:00Z`, seq: number, ...more };
}

function build(after: After, more: Partial<Step> = {}, cut: Partial<Step> = {}): Build {
  return {
    id: 'links',
    name: 'Links',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 10:00-20:00' }],
    machines: [{ id: 'press', name: 'press' }],
    steps: [
      { id: 'cut', name: 'cut', count: 20, lotSize: 10, phases: [{ kind: 'hands', perUnit: 6 }], ...cut },
      { id: 'sew', name: 'sew', count: 1, phases: [{ kind: 'hands', minutes: 60 }], after: [after], ...more },
    ],
  };
}

/** Hours from now to the early start and finish of every lot of `sew` that has not begun. */
function sewing(made: Build, log: LogEntry[]): [number, number][] {
  const lots = planBuild(made, log, NOW, { levelling: { seed: 1, schedules: 1 } }).lots;
  return lots
    .filter((lot) => lot.step === 'sew' && !lot.begun)
    .map(({ dates }) => [(dates.earlyStart! - NOW) / HOUR, (dates.earlyFinish! - NOW) / HOUR]);
}

const someCut = entry(1, 'done', -7, { step: 'cut', n: 10 });
const allCut = entry(2, 'done', -1, { step: 'cut', n: 20 });

describe('a link from a step that has begun', () => {
  test('counts from when it was begun, not from when its next lot begins', () => {
    const link = { step: 'cut', type: 'start-start' as const, lag: 300 };
    // Not begun: five hours from now it is 23:00, and tomorrow at 10:00 somebody is there again.
    expect(sewing(build(link), [])).toEqual([[16, 17]]);
    expect(sewing(build(link), [someCut])).toEqual([[0, 1]]);
    expect(sewing(build({ ...link, lag: 8 * HOUR }), [someCut])).toEqual([[1, 2]]);
  });

  test('to a finish holds what is left of its lag', () => {
    const link = { step: 'cut', type: 'start-finish' as const, lag: 8 * HOUR + 30 };
    expect(sewing(build(link), [someCut])).toEqual([[0.5, 1.5]]);
    expect(sewing(build({ ...link, lag: 2 * HOUR }), [someCut])).toEqual([[0, 1]]);
  });

  test('that is done holds a lag of working time in working time, and a finish too', () => {
    const link = { step: 'cut', lag: 4 * HOUR, lagIn: 'working' as const };
    // An hour of the four has gone by, two are left today, the fourth is over tomorrow at 11:00.
    expect(sewing(build({ ...link, type: 'finish-start' }), [allCut])).toEqual([[17, 18]]);
    expect(sewing(build({ ...link, type: 'finish-finish' }), [allCut])).toEqual([[16, 17]]);
  });
});

describe('a link to a step that is under way', () => {
  const pressing: Partial<Step> = {
    count: 20,
    lotSize: 10,
    phases: [
      { kind: 'run', machine: 'press', minutes: 30 },
      { kind: 'hands', minutes: 5 },
    ],
  };
  const loaded = entry(3, 'loaded', -0.25, { step: 'sew', n: 10, machine: 'press' });

  test('still binds the lots that have not begun', () => {
    const [rest] = sewing(build('cut', pressing), [loaded]);
    // 20 units of 6 minutes, all at once where hands are unlimited.
    expect(rest![0]).toBe(1);
  });

  test('by units asks for those that the lot under way was thought to take', () => {
    const link = { step: 'cut', ratio: 1.1 };
    const [rest] = sewing(build(link, pressing), [someCut, loaded]);
    expect(rest![0]).toBe(1);
  });
});
