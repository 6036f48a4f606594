import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  clockChanges,
  dateAt,
  dateText,
  dayAt,
  daysBetween,
  instantOfWall,
  isZone,
  minuteOfDayAt,
  readDate,
  readWall,
  startOfDay,
  timeAt,
  wallText,
  weekdayOf,
} from '../../../server/engine/calendar/clock.ts';

const BERLIN = 'Europe/Berlin';
const TORONTO = 'America/Toronto';
const SYDNEY = 'Australia/Sydney';

const utc = (text: string) => Date.parse(`${text}Z`) / 60_000;
const day = (text: string) => must(readDate(text));
const wall = (text: string, zone: string) => must(readWall(text, zone));

describe('what is no instant', () => {
  it('is refused, and changes nothing for those that are', () => {
    for (const never of [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e15]) {
      expect(() => dateAt(never, BERLIN)).toThrow(RangeError);
      expect(dateAt(utc('2026-12-20T19:00'), BERLIN)).toBe('2026-12-20');
    }
  });
});

describe('clock changes', () => {
  // IANA time zone database, release 2025b.
  const published: [string, string, number, number][] = [
    [BERLIN, '2026-03-29T01:00', 60, 120],
    [BERLIN, '2026-10-25T01:00', 120, 60],
    [BERLIN, '2027-03-28T01:00', 60, 120],
    [BERLIN, '2027-10-31T01:00', 120, 60],
    ['Europe/London', '2026-03-29T01:00', 0, 60],
    ['Europe/London', '2026-10-25T01:00', 60, 0],
    ['Europe/London', '2027-03-28T01:00', 0, 60],
    ['Europe/London', '2027-10-31T01:00', 60, 0],
    [TORONTO, '2026-03-08T07:00', -300, -240],
    [TORONTO, '2026-11-01T06:00', -240, -300],
    [TORONTO, '2027-03-14T07:00', -300, -240],
    [TORONTO, '2027-11-07T06:00', -240, -300],
    ['America/Los_Angeles', '2026-03-08T10:00', -480, -420],
    ['America/Los_Angeles', '2026-11-01T09:00', -420, -480],
    ['America/Los_Angeles', '2027-03-14T10:00', -480, -420],
    ['America/Los_Angeles', '2027-11-07T09:00', -420, -480],
    [SYDNEY, '2026-04-04T16:00', 660, 600],
    [SYDNEY, '2026-10-03T16:00', 600, 660],
    [SYDNEY, '2027-04-03T16:00', 660, 600],
    [SYDNEY, '2027-10-02T16:00', 600, 660],
    ['Pacific/Auckland', '2026-04-04T14:00', 780, 720],
    ['Pacific/Auckland', '2026-09-26T14:00', 720, 780],
    ['Pacific/Auckland', '2027-04-03T14:00', 780, 720],
    ['Pacific/Auckland', '2027-09-25T14:00', 720, 780],
    ['Australia/Lord_Howe', '2026-04-04T15:00', 660, 630],
    ['Australia/Lord_Howe', '2026-10-03T15:30', 630, 660],
    ['Australia/Lord_Howe', '2027-04-03T15:00', 660, 630],
    ['Australia/Lord_Howe', '2027-10-02T15:30', 630, 660],
  ];

  it('are those of the IANA data in 2026 and 2027', () => {
    for (const zone of new Set(published.map(([name]) => name))) {
      const expected = published
        .filter(([name]) => name === zone)
        .map(([, at, before, after]) => ({ at: utc(at), before, after }));
      expect([zone, clockChanges(zone, utc('2026-01-01T00:00'), utc('2028-01-01T00:00'))]).toEqual([zone, expected]);
    }
  });

  it('do not happen in Kolkata and Phoenix', () => {
    for (const zone of ['Asia/Kolkata', 'America/Phoenix']) {
      expect(clockChanges(zone, utc('2026-01-01T00:00'), utc('2028-01-01T00:00'))).toEqual([]);
    }
  });

  it('are found four times a year where a month of fasting pauses them', () => {
    // Morocco keeps +01:00 except during Ramadan, in 2024 from 10 March to 14 April (IANA 2025b).
    const changes = clockChanges('Africa/Casablanca', utc('2024-01-01T00:00'), utc('2025-01-01T00:00'));
    expect(changes.map((change) => [dateText(Math.floor(change.at / 1440)), change.after])).toEqual([
      ['2024-03-10', 0],
      ['2024-04-14', 60],
    ]);
  });
});

describe('elapsed time between wall clocks', () => {
  // Computed with Python's zoneinfo on IANA 2025b.
  it.each([
    [BERLIN, '2026-10-24T22:00', '2026-10-25T06:00', 9],
    [BERLIN, '2026-03-28T22:00', '2026-03-29T06:00', 7],
    [TORONTO, '2026-10-31T22:00', '2026-11-01T06:00', 9],
    [TORONTO, '2026-03-07T22:00', '2026-03-08T06:00', 7],
    [SYDNEY, '2026-10-03T22:00', '2026-10-04T06:00', 7],
    [BERLIN, '2026-10-25T00:00', '2026-10-26T00:00', 25],
    [BERLIN, '2026-03-29T00:00', '2026-03-30T00:00', 23],
    [BERLIN, '2026-10-24T18:00', '2026-10-26T09:00', 40],
  ])('%s from %s to %s is %i h', (zone, from, to, hours) => {
    expect(wall(to, zone) - wall(from, zone)).toBe(hours * 60);
  });
});

describe('adding elapsed hours', () => {
  it.each([
    [BERLIN, '2026-10-24T20:00', 24, '2026-10-25T19:00+01:00', '2026-10-25T18:00'],
    [BERLIN, '2026-03-28T20:00', 24, '2026-03-29T21:00+02:00', '2026-03-29T19:00'],
    [TORONTO, '2026-10-31T20:00', 24, '2026-11-01T19:00-05:00', '2026-11-02T00:00'],
    [TORONTO, '2026-03-07T20:00', 12, '2026-03-08T09:00-04:00', '2026-03-08T13:00'],
    [TORONTO, '2026-10-31T23:00', 16, '2026-11-01T14:00-05:00', '2026-11-01T19:00'],
  ])('%s %s + %i h is %s', (zone, start, hours, local, inUtc) => {
    const end = wall(start, zone) + hours * 60;
    expect(end).toBe(wall(local, zone));
    expect(wallText(end, zone)).toBe(local.slice(0, 16));
    expect(end).toBe(utc(inUtc));
  });
});

describe('the two odd nights', () => {
  it('means the first of two readings that are alike', () => {
    expect(wall('2026-10-25T02:30', BERLIN)).toBe(utc('2026-10-25T00:30'));
    expect(wall('2026-11-01T01:30', TORONTO)).toBe(utc('2026-11-01T05:30'));
    expect(wallText(utc('2026-10-25T01:30'), BERLIN)).toBe('2026-10-25T02:30');
  });

  it('names the gap and the next minute for a reading left out', () => {
    const berlin = readWall('2026-03-29T02:30', BERLIN);
    expect(berlin).toMatchObject({ ok: false, problem: { code: 'missing-hour', value: '2026-03-29T02:30' } });
    expect(!berlin.ok && berlin.problem.message).toContain('from 02:00 to 03:00');
    expect(!berlin.ok && berlin.problem.message).toContain('2026-03-29T03:00');
    expect(readWall('2026-03-08T02:30', TORONTO)).toMatchObject({ ok: false, problem: { code: 'missing-hour' } });
    expect(readWall('2026-03-29T01:59', BERLIN).ok && readWall('2026-03-29T03:00', BERLIN).ok).toBe(true);
  });

  it('takes the next minute there is where hours run across the gap', () => {
    expect(instantOfWall(day('2026-03-29'), 150, BERLIN)).toBe(utc('2026-03-29T01:00'));
  });

  it('begins a day at its first minute where midnight is left out', () => {
    // Cairo sprang forward at midnight on 2024-04-26 (IANA 2025b).
    expect(timeAt(startOfDay(day('2024-04-26'), 'Africa/Cairo'), 'Africa/Cairo')).toBe('01:00');
  });

  it('lists the days of a weekend of changing clocks with their true lengths', () => {
    const days = daysBetween(wall('2026-10-24T18:00', BERLIN), wall('2026-10-26T00:00', BERLIN), BERLIN);
    expect(days.map(({ day, start, end }) => [dateText(day), (end - start) / 60])).toEqual([
      ['2026-10-24', 24],
      ['2026-10-25', 25],
    ]);
    expect(daysBetween(5, 5, BERLIN)).toEqual([]);
  });
});

describe('reading what people write', () => {
  it('reads an offset or Z as an instant of its own', () => {
    expect(wall('2026-10-25T02:30Z', BERLIN)).toBe(utc('2026-10-25T02:30'));
    expect(wall('2026-10-25T02:30+01:00', BERLIN)).toBe(utc('2026-10-25T01:30'));
    expect(wall('2026-10-24T20:00-04:30', BERLIN)).toBe(utc('2026-10-25T00:30'));
    expect(wall('2026-10-25T02:30:59.999Z', BERLIN)).toBe(utc('2026-10-25T02:30'));
  });

  it.each([
    ['tomorrow', 'not-a-date'],
    ['2026-12-03', 'not-a-date'],
    ['2026-12-03 14:00', 'not-a-date'],
    ['2026-13-03T14:00', 'not-a-date'],
    ['2026-02-29T14:00', 'not-a-date'],
    ['2026-12-03T24:00', 'not-a-date'],
    ['2026-12-03T12:60', 'not-a-date'],
    ['0026-12-03T12:00', 'not-a-date'],
    ['2026-12-03T14:00+19:00', 'not-a-date'],
    ['2026-12-03T14:00\n', 'not-a-date'],
  ])('refuses %j as %s and names it', (text, code) => {
    const read = readWall(text, BERLIN);
    expect(read).toMatchObject({ ok: false, problem: { code } });
    expect(!read.ok && text.includes(read.problem.value)).toBe(true);
  });

  it('says how many days the month has', () => {
    const read = readDate('2026-02-29');
    expect(!read.ok && read.problem.message).toContain('28 days');
  });

  it('refuses a zone that nobody keeps', () => {
    expect(readWall('2026-12-03T14:00', 'Europe/Atlantis')).toMatchObject({
      ok: false,
      problem: { code: 'unknown-zone' },
    });
    expect([isZone(''), isZone('+02:00'), isZone('UTC'), isZone(BERLIN)]).toEqual([false, false, true, true]);
    expect(() => wallText(0, 'Europe/Atlantis')).toThrow(RangeError);
  });

  it('reads back every instant it writes, or the first of two that look alike', () => {
    const zone = fc.constantFrom(BERLIN, TORONTO, SYDNEY, 'Australia/Lord_Howe', 'Asia/Kathmandu', 'Pacific/Apia');
    const instant = fc.integer({ min: utc('2000-01-01T00:00'), max: utc('2040-01-01T00:00') });
    fc.assert(
      fc.property(zone, instant, (name, t) => {
        const first = wall(wallText(t, name), name);
        expect(wallText(first, name)).toBe(wallText(t, name));
        expect(first).toBeLessThanOrEqual(t);
        expect(t - first).toBeLessThanOrEqual(60);
        expect(`${dateAt(t, name)}T${timeAt(t, name)}`).toBe(wallText(t, name));
        expect(instantOfWall(dayAt(t, name), minuteOfDayAt(t, name), name)).toBe(first);
      }),
      { seed: 7, numRuns: 600 },
    );
  });

  it('agrees with the runtime on random instants', () => {
    // The runtime's own Intl formatting, asked directly, is the other way of computing it.
    const instant = fc.integer({ min: utc('1995-01-01T00:00'), max: utc('2040-01-01T00:00') });
    for (const name of [BERLIN, TORONTO, SYDNEY, 'Australia/Lord_Howe', 'Africa/Casablanca']) {
      const format = new Intl.DateTimeFormat('sv-SE', { timeZone: name, dateStyle: 'short', timeStyle: 'short' });
      fc.assert(
        fc.property(instant, (t) => {
          expect(wallText(t, name)).toBe(format.format(new Date(t * 60_000)).replace(' ', 'T'));
        }),
        { seed: 8, numRuns: 200 },
      );
    }
  });
});

describe('weekdays', () => {
  it('counts Monday as 1 and Sunday as 7', () => {
    expect([weekdayOf(day('2026-10-26')), weekdayOf(day('2026-10-25')), weekdayOf(-1)]).toEqual([1, 7, 3]);
  });
});

function must<T>(read: { ok: true; value: T } | { ok: false; problem: { message: string } }): T {
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}
