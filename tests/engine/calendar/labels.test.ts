import { expect, it } from 'vitest';
import { dayOf } from '../../../server/engine/calendar/clock.ts';
import { dayLabel, durationLabel, hoursLabel, momentLabel } from '../../../server/engine/calendar/labels.ts';

it('names a day and a moment as people say them', () => {
  expect(dayLabel(dayOf(2026, 12, 3))).toBe('Thu 3 Dec');
  expect(dayLabel(dayOf(2027, 1, 31))).toBe('Sun 31 Jan');
  expect(momentLabel(dayOf(2026, 12, 3) * 1440 + 13 * 60, 'Europe/Berlin')).toBe('Thu 3 Dec 14:00');
});

it('says clock time in days and hours from a day on', () => {
  expect([0, 45, 60, 200, 1439].map(durationLabel)).toEqual(['0 min', '45 min', '1 h', '3 h 20 min', '23 h 59 min']);
  expect([1440, 1680, 2 * 1440 + 59].map(durationLabel)).toEqual(['1 day', '1 day 4 h', '2 days']);
});

it('never overstates room nor understates lateness', () => {
  expect(durationLabel(1440 + 119)).toBe('1 day 1 h');
  expect(durationLabel(-1441)).toBe('−1 day 1 h');
  expect(durationLabel(-2 * 1440 + 1)).toBe('−2 days');
  expect(durationLabel(-45)).toBe('−45 min');
});

it('keeps working time in hours', () => {
  expect([1710, 59.2, 0, -90].map(hoursLabel)).toEqual(['28 h 30 min', '1 h', '0 min', '−1 h 30 min']);
});
