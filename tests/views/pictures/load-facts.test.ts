import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { type Build, checkBuild } from '../../../server/model/index.ts';
import { loadRows } from '../../../views/pictures/load-facts.ts';
import { anyBuild, NOW } from '../../support/random-builds.ts';

describe('the load by day of any build', () => {
  it('asks of nobody and of no machine more minutes than there are, after the ready-by too', () => {
    fc.assert(
      fc.property(anyBuild, (any) => {
        const checked = checkBuild(any as unknown as Build);
        fc.pre(checked.ok);
        if (!checked.ok) return;
        const forecast = planBuild(checked.value, [], NOW, { levelling: { seed: 1, schedules: 1 } });
        const rows = loadRows(forecast);
        for (const { days } of rows) {
          for (const day of days) expect(day.plannedMinutes).toBeLessThanOrEqual(day.thereMinutes);
        }
        const alike = checked.value.machines?.[0]?.count ?? 1;
        for (const { days } of rows.filter(({ kind }) => kind === 'machine')) {
          for (const [i, { thereMinutes, plannedMinutes }] of days.entries()) {
            const { start, end } = forecast.days[i]!;
            const hours = checked.value.machines?.[0]?.hours === undefined ? end - Math.max(start, NOW) : 120;
            expect(thereMinutes).toBeLessThanOrEqual(alike * hours);
            expect(plannedMinutes).toBeLessThanOrEqual(alike * hours);
          }
        }
        const runs = forecast.days
          .slice(0, 45)
          .flatMap(({ machines }) => machines.flatMap(({ spells }) => spells))
          .reduce((sum, { start, finish }) => sum + finish - Math.max(start, NOW), 0);
        const drawn = rows
          .filter(({ kind }) => kind === 'machine')
          .flatMap(({ days }) => days)
          .reduce((sum, { plannedMinutes }) => sum + plannedMinutes, 0);
        expect(drawn).toBe(runs);
      }),
      { seed: 3, numRuns: 40 },
    );
  });
});
