import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { missingText, unitsOfStep, unitsText } from '../../../views/words/supply-words.ts';
import { lantern } from '../../store/helpers.ts';
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

describe('units of a step', () => {
  const forecast = planBuild(
    lantern({
      steps: [],
      gates: [],
      parts: [{ id: 'cord', name: 'cord', source: 'buy', supplier: 'works', count: 628, packSize: 100 }],
      suppliers: [{ id: 'works', name: 'Rope works', workingDays: 'mon-fri', lead: 2 }],
    }),
    [],
    FAKE_NOW,
  );

  it('are those that are really ordered, in whole packs, wherever an order is named', () => {
    const order = forecast.steps.find(({ kind }) => kind === 'order')!;
    expect(order.left).toBe(628);
    expect(plain(unitsOfStep(forecast, order.id, order.left))).toBe('700 × cord');
  });

  it('are as many as there are of any other', () => {
    expect(plain(unitsOfStep(fakeForecast(), 'paint-fish', 12))).toBe('12 × fish');
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
