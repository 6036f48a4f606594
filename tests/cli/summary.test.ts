import { describe, expect, it } from 'vitest';
import { summaryOf } from '../../server/cli/summary.ts';
import { planBuild } from '../../server/engine/index.ts';
import type { Build, Forecast, LogEntry } from '../../server/model/index.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import { whenText } from '../../views/words/wording.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, tap } from '../store/helpers.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

/** Every number in a value, however deep. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

/** Days with their hours, as the summary writes them. */
const WHEN = /(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]{2}(?: \d{4})? \d\d:\d\d/g;

/** Moments that are printed and stand nowhere in the JSON, as text. */
function strayMoments(forecast: Forecast): string[] {
  const clock = wallClock(forecast.build.zone);
  const json = JSON.parse(JSON.stringify(forecast)) as Forecast;
  const instants = numbersIn(json).filter((n) => Number.isInteger(n) && n > 25_000_000 && n < 50_000_000);
  const known = new Set(instants.map((at) => whenText(clock, at, forecast.now).replace(/[\u00a0\u202f]/g, ' ')));
  const printed = summaryOf(forecast).match(WHEN) ?? [];
  return printed.filter((when) => !known.has(when));
}

const ODD: readonly [string, Build, LogEntry[], number][] = [
  ['the lantern', lantern(), [], NOON],
  ['a lantern that is counted', lantern(), [tap('entry-0001', { n: 7 }), tap('entry-0002', { n: 3 })], NOON],
  ['a lantern that is late', lantern({ event: '2026-12-01T18:00' }), [], NOON],
  [
    'a lantern that waits for a supplier and a decision',
    lantern({
      parts: [{ id: 'ribs', name: 'ribs', source: 'send-out', count: 40, supplier: 'yard' }],
      suppliers: [{ id: 'yard', name: 'the yard', lead: { low: 2, likely: 4, high: 9 } }],
      decisions: [{ id: 'wood', question: 'Ash or oak?', waits: ['cut'] }],
    }),
    [],
    NOON,
  ],
];

describe('what is printed', () => {
  it.each(ODD)('has no moment that the JSON has not: %s', (_, build, log, now) => {
    const forecast = planBuild(build, log, now, {
      levelling: { seed: 1, schedules: 20 },
      risk: { seed: 1, futures: 100 },
    });
    expect(summaryOf(forecast).match(WHEN)?.length ?? 0).toBeGreaterThan(5);
    expect(strayMoments(forecast)).toEqual([]);
  });

  it('has no moment that the JSON has not: the demo', () => {
    const { build, log = [] } = tideWall(NOON);
    const forecast = planBuild(build, log, NOON, {
      levelling: { seed: 1, schedules: 5 },
      risk: { seed: 1, futures: 60 },
    });
    expect(strayMoments(forecast)).toEqual([]);
  });

  it('says how many futures found no time for some work, and says nothing of none', () => {
    const forecast = planBuild(lantern(), [], NOON, { risk: { seed: 1, futures: 100 } });
    expect(summaryOf(forecast)).not.toMatch(/not enough hours for all the work/);
    const beyond = { ...forecast, risk: { ...forecast.risk!, beyond: 7 } };
    expect(summaryOf(beyond)).toContain('In 7 of the 100 runs there were not enough hours for all the work');
  });
});
