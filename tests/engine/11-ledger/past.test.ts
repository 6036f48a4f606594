import { describe, expect, it } from 'vitest';
import { pastInstants } from '../../../server/engine/11-ledger/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

/** Evenings on workdays, 18:00 to 22:00 UTC; the event lies on a Sunday. */
const BUILD = {
  id: 'arch',
  name: 'Arch',
  zone: 'UTC',
  start: '2026-11-02T17:00',
  event: '2026-12-20T18:00',
  people: [{ id: 'ana', name: 'Ana', hours: 'mon-fri 18:00-22:00' }],
  steps: [{ id: 'cut', name: 'cut', count: 40, phases: [{ kind: 'hands', perUnit: 4 }] }],
} as const satisfies Build;

const minute = (text: string): number => Date.parse(`${text}Z`) / 60_000;
const words = (instants: readonly number[]): string[] =>
  instants.map((at) => new Date(at * 60_000).toISOString().slice(5, 16));

function log(...times: string[]): LogEntry[] {
  return times.map((at, i) => ({ id: `entry-${i}`, kind: 'done', step: 'cut', n: 1, at: `${at}Z`, seq: i + 1 }));
}

describe('the instants of the past that are looked at again', () => {
  it('are the start, then the end of each working day or its last entry where that is later', () => {
    const entries = log('2026-11-02T19:00', '2026-11-03T23:10', '2026-11-07T09:00');
    expect(words(pastInstants(BUILD, entries, minute('2026-11-09T12:00')))).toEqual([
      '11-02T17:00',
      '11-02T22:00',
      '11-03T23:10',
      '11-04T22:00',
      '11-05T22:00',
      '11-06T22:00',
      '11-07T09:00',
    ]);
  });

  it('begin before the first entry where that is older than the start', () => {
    const instants = pastInstants(BUILD, log('2026-11-01T10:00'), minute('2026-11-02T12:00'));
    expect(words(instants)).toEqual(['11-01T09:59', '11-01T10:00']);
  });

  it('are none of an empty log, nor of entries that are yet to come', () => {
    expect(pastInstants(BUILD, [], minute('2026-11-09T12:00'))).toEqual([]);
    expect(pastInstants(BUILD, log('2026-11-09T12:00'), minute('2026-11-09T12:00'))).toEqual([]);
  });

  it('do not go back to the year of a clock that was wrong', () => {
    const instants = pastInstants(BUILD, log('1970-01-01T00:10', '2026-11-03T19:00'), minute('2026-11-04T12:00'));
    expect(words(instants)).toEqual(['11-02T17:00', '11-02T22:00', '11-03T22:00']);
  });

  it('are forty at most over a long past, with every day of the last eight', () => {
    const daily = Array.from({ length: 200 }, (_, i) =>
      new Date((minute('2026-05-01T19:00') + i * 1440) * 60_000).toISOString().slice(0, 16),
    );
    const instants = pastInstants(BUILD, log(...daily), minute('2026-11-16T23:30'));
    expect(instants).toHaveLength(40);
    expect(words(instants.slice(-4))).toEqual(['11-13T22:00', '11-14T19:00', '11-15T19:00', '11-16T22:00']);
    expect([...instants].sort((a, b) => a - b)).toEqual(instants);
  });

  it('keep the days with entries of a gap of weeks, and some of those between', () => {
    const instants = pastInstants(BUILD, log('2026-06-01T19:00', '2026-11-02T19:00'), minute('2026-11-10T12:00'));
    const days = words(instants);
    expect(days.length).toBeLessThanOrEqual(40);
    expect(days).toEqual(expect.arrayContaining(['06-01T22:00', '11-02T22:00', '11-09T22:00']));
    expect(days.some((day) => day.startsWith('07-'))).toBe(true);
  });
});
