import { expect, it } from 'vitest';
import { dayOf } from '../../../server/engine/calendar/clock.ts';
import { momentText } from '../../../server/engine/calendar/labels.ts';
import { englishOf } from '../../../server/model/index.ts';

it('names a moment as people say them', () => {
  const said = (day: number) => englishOf(momentText(day * 1440 + 13 * 60, 'Europe/Berlin'));
  expect(said(dayOf(2026, 12, 3))).toBe('Thu 3 Dec 14:00');
  expect(said(dayOf(2027, 1, 31))).toBe('Sun 31 Jan 14:00');
});
