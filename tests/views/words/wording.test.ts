import { describe, expect, it } from 'vitest';
import { wallClock } from '../../../server/web/wall-clock.ts';
import {
  chanceBy,
  chanceText,
  counted,
  dateWords,
  errorText,
  figure,
  lengthText,
  money,
  ofHundred,
  roomText,
  soonText,
  weekdayWords,
  whenText,
  workText,
} from '../../../views/words/wording.ts';
import { FAKE_NOW, minutes } from '../../support/fake-forecast.ts';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const amsterdam = wallClock('Europe/Amsterdam');

describe('a date that was typed', () => {
  it('is said as people say it, and left alone where it is none', () => {
    expect(plain(dateWords('2026-12-02'))).toBe('2 Dec 2026');
    expect(dateWords('soon')).toBe('soon');
  });

  it('has its weekday on every day, as the platform has it', () => {
    for (let day = 0; day < 1600; day++) {
      const at = new Date(Date.UTC(2023, 11, 30 + day));
      const name = at.toLocaleDateString('en-GB', { weekday: 'short', timeZone: 'UTC' });
      expect(plain(weekdayWords(at.toISOString().slice(0, 10)))).toMatch(new RegExp(`^${name} ${at.getUTCDate()} `));
    }
    expect(plain(weekdayWords('2000-02-29'))).toBe('Tue 29 Feb 2000');
    expect(weekdayWords('soon')).toBe('soon');
  });
});

describe('wording of lengths', () => {
  it.each([
    [0, '0 min'],
    [59, '59 min'],
    [60, '1 h'],
    [200, '3 h 20 min'],
    [1440, '1 day'],
    [1700, '1 day 4 h'],
    [2880 + 59, '2 days'],
  ])('says %i minutes as %s and drops the rest', (length, text) => {
    expect(plain(lengthText(length))).toBe(text);
  });

  it('never understates what is missing', () => {
    expect(plain(roomText(-1441))).toBe('1 day 1 h short');
    expect(plain(roomText(-0.5))).toBe('1 min short');
  });

  it('never promises room that is not there', () => {
    expect(plain(roomText(1440 + 119))).toBe('1 day 1 h');
    expect(roomText(0)).toBe('none');
    expect(roomText(null)).toBe('not known');
  });

  it('says work in hours and rounds it up', () => {
    expect(plain(workText(45))).toBe('45 min');
    expect(plain(workText(121))).toBe('2 h 15 min');
    expect(plain(workText(2310))).toBe('39 h');
  });
});

describe('wording of numbers', () => {
  it.each([
    [85, '85 EUR'],
    [12.5, '12.50 EUR'],
    [1234.999, '1\u202f235 EUR'],
    [0.15 * 3, '0.45 EUR'],
  ])('says %f as %s', (value, text) => {
    expect(money(value, 'EUR')).toBe(text);
  });

  it('groups thousands and keeps two places at most', () => {
    expect(figure(12345.678)).toBe('12\u202f345.68');
    expect(figure(-3)).toBe('\u22123');
    expect(figure(0.1 + 0.2)).toBe('0.3');
  });

  it('names the unit beside the count', () => {
    expect(plain(counted(96, 'fish'))).toBe('96 × fish');
    expect([1, 3].map((n) => plain(counted(n, 'job')))).toEqual(['1 job', '3 jobs']);
  });
});

it('says 100 of a hundred only of all of them', () => {
  expect([0, 0.004, 0.5, 0.994, 0.998, 1].map(ofHundred)).toEqual([0, 0, 50, 99, 99, 100]);
});

describe('wording of instants', () => {
  it('reads on the wall of the zone of the build', () => {
    expect(whenText(amsterdam, minutes('2026-12-05T18:00Z'))).toBe('Sat 5 Dec 19:00');
    expect(whenText(amsterdam, minutes('2026-07-05T18:00Z'))).toBe('Sun 5 Jul 20:00');
  });

  it('names the year only when it is another one', () => {
    expect(whenText(amsterdam, minutes('2027-01-02T11:00Z'), FAKE_NOW)).toBe('Sat 2 Jan 2027 12:00');
  });

  it('says today and tomorrow by the wall, not by 24 hours', () => {
    expect(soonText(amsterdam, minutes('2026-11-25T22:30Z'), FAKE_NOW)).toBe('today 23:30');
    expect(soonText(amsterdam, minutes('2026-11-25T23:10Z'), FAKE_NOW)).toBe('tomorrow 00:10');
    expect(soonText(amsterdam, minutes('2026-11-27T23:10Z'), FAKE_NOW)).toBe('Sat 28 Nov 00:10');
  });
});

it('says a chance in whole per cent, never more than it is, and never that it is sure', () => {
  expect([0.29, 0.5, 0.947, 0.95, 0.9511].map(chanceText)).toEqual([
    '29\u202f%',
    '50\u202f%',
    '94\u202f%',
    '95\u202f%',
    '95\u202f%',
  ]);
  expect([0, 0.0096, 0.01].map(chanceText)).toEqual(['under 1\u202f%', 'under 1\u202f%', '1\u202f%']);
  expect([0.995, 0.9951, 1].map(chanceText)).toEqual(['99\u202f%', 'over 99\u202f%', 'over 99\u202f%']);
});

it('says outright of an instant that has passed whether it was kept', () => {
  const said = (target: number, chance: number) => chanceBy({ target, chance, error: 0 }, 100);
  expect([said(100, 0), said(100, 1), said(101, 0)]).toEqual(['0\u202f%', '100\u202f%', 'under 1\u202f%']);
});

describe('the uncertainty of a chance', () => {
  // The rule of three: none in n happens in at most 3 of n with 95 % (Hanley and Lippman-Hand, JAMA 1983; from memory).
  it('of nothing seen in n futures is three in n, not next to none', () => {
    const { chance, error } = { chance: 0, error: Math.sqrt((1 / 502) * (501 / 502) * (1 / 500)) };
    expect(errorText({ target: 0, chance, error }, 500)).toBe('0.6');
    expect(errorText({ target: 0, chance: 1, error }, 500)).toBe('0.6');
  });

  it('of a share is two standard errors', () => {
    expect(errorText({ target: 0, chance: 0.5, error: 0.005 }, 10_000)).toBe('1.0');
  });
});
