import { describe, expect, it } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, Forecast, Step } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { renderFragment } from '../../../views/render.ts';
import { CountdownSheet } from '../../../views/sheets/countdown.tsx';
import type { BuildPage } from '../../../views/types.ts';
import { missingTexts } from '../../../views/words/missing-words.ts';

/** Monday 7 December 2026 00:00 UTC. */
const NOW = Date.parse('2026-12-07T00:00Z') / 60_000;
const BUILD: Build = { id: 'big', name: 'Big', zone: 'UTC', event: '2027-12-20T18:00', steps: [] };

function pageOf(forecast: Forecast): BuildPage {
  return {
    build: BUILD,
    revision: 1,
    forecast,
    entries: 0,
    computedAt: NOW,
    stale: false,
    seen: '1',
    clock: wallClock('UTC'),
    light: null,
  };
}

describe('a build of more lots than are planned', () => {
  it('is answered with what is cheap: counts, the earliest dates and a bound, and says why', () => {
    const cut: Step = { id: 'cut', name: 'Cut', part: 'rib', lotSize: 1, phases: [{ kind: 'hands', perUnit: 1 }] };
    const people = [{ id: 'ann', name: 'Ann', hours: 'always' }];
    const large = (count: number) => {
      const parts = [{ id: 'rib', name: 'Rib', source: 'make' as const, count }];
      return planBuild({ ...BUILD, parts, steps: [cut], people }, [], NOW, {
        levelling: { seed: 1, schedules: 1 },
        risk: { seed: 1, futures: 1 },
      });
    };
    const forecast = large(20_001);
    expect(forecast.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect([forecast.complete, forecast.risk, forecast.room.readyBy.finish]).toEqual([false, null, null]);
    expect(forecast.steps[0]).toMatchObject({ total: 20_001, left: 20_001 });
    expect(forecast.room.readyBy.unlimitedFinish).toBe(NOW + 1);
    expect(forecast.lots[0]!.dates.earlyFinish).toBe(NOW + 1);
    // One pair of hands, a minute a lot, at all hours.
    expect(forecast.lowerBound).toMatchObject({ readyAt: NOW + 20_001, by: 'hands', verdict: 'gap' });
    const [sentence] = missingTexts(forecast);
    expect(sentence).toMatch(
      /20001 lots; Daywright plans who does what when for at most 20000\. “Cut” alone has 20001, of 1 unit each/,
    );
    expect(summaryOf(forecast)).toContain(sentence!);
    expect(summaryOf(forecast)).toMatch(/There is no date:/);
    const page = renderFragment(CountdownSheet({ page: pageOf(forecast) }));
    expect(page).toContain('at most 20000.');
    expect(page).toContain('With unlimited hands and machines it would be ready');
  });
});
