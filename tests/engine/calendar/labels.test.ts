import { expect, it } from 'vitest';
import { dayOf } from '../../../server/engine/calendar/clock.ts';
import { hoursLabel, momentText } from '../../../server/engine/calendar/labels.ts';
import { englishOf } from '../../../server/model/index.ts';

it('names a moment as people say them', () => {
  const said = (day: number) => englishOf(momentText(day * 1440 + 13 * 60, 'Europe/Berlin'));
  expect(said(dayOf(2026, 12, 3))).toBe('Thu 3 Dec 14:00');
  expect(said(dayOf(2027, 1, 31))).toBe('Sun 31 Jan 14:00');
});

it('keeps working time in hours', () => {
  expect([1710, 59.2, 0, -90].map(hoursLabel)).toEqual(['28 h 30 min', '1 h', '0 min', '−1 h 30 min']);
});
