import { describe, expect, it } from 'vitest';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { missingText, unitsText } from '../../../views/words/supply-words.ts';
import { FAKE_NOW, fakeForecast } from '../../support/fake-forecast.ts';

const plain = (text: string | null) => text?.replaceAll(/[\u00a0\u202f]/g, ' ') ?? null;

describe('units of an order', () => {
  it.each([
    [1, { unit: 'L', pack: 2.5 }, '1 pack of 2.5 L oil'],
    [2, { unit: 'L', pack: 2.5 }, '2 packs of 2.5 L oil'],
    [12, { unit: 'm', pack: 1 }, '12 m oil'],
    [40, { unit: null, pack: 20 }, '40 × oil'],
  ])('%s of %j are said as %s', (units, measure, text) => {
    expect(plain(unitsText(units, 'oil', measure))).toBe(text);
  });
});

describe('what is missing this week', () => {
  const forecast = fakeForecast();
  const clock = wallClock(forecast.build.zone);

  it('names what must be ordered with its last moment and what is needed and out with its day, nothing else', () => {
    expect(plain(missingText(forecast, clock))).toBe(
      'Missing this week: 52 × fish (order before tomorrow 14:00), 200 × screw M3 x 8 (due Wed 2 Dec 10:00).',
    );
  });

  it('says that nothing is where all is here or far away, and is silent where nothing comes from outside', () => {
    const later = FAKE_NOW - 30 * 1440;
    expect(plain(missingText({ ...forecast, now: later }, clock))).toBe('Nothing that is needed this week is missing.');
    expect(missingText({ ...forecast, supplies: [] }, clock)).toBeNull();
  });
});
