import { describe, expect, it } from 'vitest';
import type { Snapshot } from '../../../server/planner/index.ts';
import { announcedWithin } from '../../../server/web/routes/live.ts';
import { fakeForecast } from '../../support/fake-forecast.ts';

const { risk: _risk, ...planned } = fakeForecast();
const riskFrom = { revision: 1, logSeq: 1, computedAt: 0 };

function shown(forecast: Snapshot['forecast'], stale = false): Snapshot {
  return { forecast, version: { revision: 1, logSeq: 2 }, computedAt: 0, stale, failedAt: null, settled: false };
}

describe('when a change is announced', () => {
  const whole = announcedWithin('forecast', shown(fakeForecast()));

  it('is sooner with the chance that was drawn for it than while that is still to come', () => {
    const half = [shown(planned), shown({ ...fakeForecast(), riskFrom }), shown(fakeForecast(), true), null].map(
      (one) => announcedWithin('forecast', one),
    );
    for (const one of half) expect(one).toBeGreaterThan(whole);
    expect(new Set(half).size).toBe(1);
  });

  it('is last for what only makes old what is shown', () => {
    const ground = announcedWithin('ground', shown(fakeForecast()));
    expect(ground).toBeGreaterThan(announcedWithin('forecast', null));
  });
});
