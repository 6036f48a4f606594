import { expect, it } from 'vitest';
import { dayOf } from '../../../server/engine/calendar/clock.ts';
import { dayLabel, hoursLabel, momentLabel } from '../../../server/engine/calendar/labels.ts';

it('names a day and a moment as people say them', () => {
  expect(dayLabel(dayOf(2026, 12, 3))).toBe('Thu 3 Dec');
  expect(dayLabel(dayOf(2027, 1, 31))).toBe('Sun 31 Jan');
  expect(momentLabel(dayOf(2026, 12, 3) * 1440 + 13 * 60, 'Europe/Berlin')).toBe('Thu 3 Dec 14:00');
});

it('keeps working time in hours', () => {
  expect([1710, 59.2, 0, -90].map(hoursLabel)).toEqual(['28 h 30 min', '1 h', '0 min', '−1 h 30 min']);
});
