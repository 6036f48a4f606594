import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { wordedThreats } from '../../support/words.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

/** Fish on strings; how many to a string nobody knows yet. Hooks come in packs of ten for 2 each. */
function fish(more: Partial<Build> = {}): Build {
  return {
    id: 'fish',
    name: 'Fish',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    currency: 'EUR',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    suppliers: [{ id: 'shop', name: 'the shop', lead: 3 }],
    parameters: [
      { name: 'strings', value: 5 },
      { name: 'on_string', range: { low: 4, likely: 6, high: 9 } },
    ],
    parts: [
      { id: 'fish', name: 'Fish', source: 'make', count: 'strings * on_string' },
      {
        id: 'hook',
        name: 'Hook',
        source: 'buy',
        usedIn: [{ part: 'fish', count: 1 }],
        packSize: 10,
        unitCost: 2,
        supplier: 'shop',
      },
      { id: 'float', name: 'Float', source: 'make', count: 3 },
    ],
    steps: [
      { id: 'cut', name: 'Cut', part: 'fish', lotSize: 5, phases: [{ kind: 'hands', perUnit: 10 }] },
      { id: 'turn', name: 'Turn', part: 'float', phases: [{ kind: 'hands', perUnit: 10 }] },
    ],
    ...more,
  };
}

const log = (...told: readonly (readonly [LogEntry['kind'], string, number])[]): LogEntry[] =>
  told.map(([kind, step, n], i) => ({ id: `entry-${i}-xx`, kind, step, n, at: '2026-12-01T08:00:00Z', seq: i + 1 }));

describe('a parameter known as low, likely and high', () => {
  const forecast = planBuild(fish(), [], NOW);
  const [known] = forecast.uncertain!;

  test('flows to the counts of all parts that it sets, through the parts list too, and to no other', () => {
    expect(known!.parts).toEqual([
      { part: 'fish', low: 20, likely: 30, high: 45 },
      { part: 'hook', low: 20, likely: 30, high: 50 },
    ]);
    const counts = (value: number) =>
      planBuild(
        {
          ...fish(),
          parameters: [
            { name: 'strings', value: 5 },
            { name: 'on_string', value },
          ],
        },
        [],
        NOW,
      ).parts;
    expect([4, 6, 9].map((value) => counts(value).find(({ id }) => id === 'hook')!.toBuy)).toEqual([20, 30, 50]);
  });

  test('says what an order needs more for the high, and what that costs', () => {
    expect(forecast.orders[0]).toMatchObject({ step: 'order-hook', units: 30, forHigh: { more: 20, cost: 40 } });
    expect(known!.orders).toEqual([{ step: 'order-hook', more: 20, cost: 40 }]);
  });

  test('is a decision for a trial, whose last moment leaves the time to place the order it sets', () => {
    const [trial] = forecast.decisions;
    const [order] = forecast.orders;
    const last = forecast.steps.find(({ id }) => id === 'order-hook')!.levelled!.lastStart!;
    expect(trial).toMatchObject({ settles: 'on_string', decided: null, decideBy: last });
    expect(last).toBeLessThan(order!.orderBy);
    expect(trial!.waits).toEqual(['order-hook', 'cut']);
  });

  test('waits, once the hooks are ordered, for the first unit that only some values need', () => {
    const later = planBuild(fish(), log(['ordered', 'order-hook', 30]), NOW);
    const lots = later.lots.filter(({ step }) => step === 'cut');
    const beyond = lots.filter(({ lastUnit }) => lastUnit > 20);
    expect(beyond.length).toBeLessThan(lots.length);
    const last = Math.min(...beyond.map(({ levelled }) => levelled!.lastStart!));
    expect(later.uncertain![0]).toMatchObject({ settleBy: last, waits: ['cut'] });
    expect(later.decisions[0]!.decideBy).toBe(last);
  });

  test('waits for nothing, and asks nothing, when all that it sets is made and ordered', () => {
    const done = log(['ordered', 'order-hook', 30], ['received', 'order-hook', 30], ['done', 'cut', 30]);
    const later = planBuild(fish(), done, NOW);
    expect(later.uncertain![0]).toMatchObject({ settleBy: null, waits: [] });
    expect(later.decisions).toEqual([]);
  });

  test('that a drawing depends on must be settled before the first unit of it', () => {
    const parts = fish().parts!.map((part) => (part.id === 'float' ? { ...part, dependsOn: ['thick'] } : part));
    const parameters = [
      { name: 'thick', range: { low: 1, likely: 2, high: 3 } },
      { name: 'strings', value: 1 },
      { name: 'on_string', value: 2 },
    ];
    const drawn = planBuild(fish({ parts, parameters }), [], NOW);
    const first = Math.min(
      ...drawn.lots.filter(({ step }) => step === 'turn').map(({ levelled }) => levelled!.lastStart!),
    );
    expect(drawn.uncertain).toMatchObject([{ parameter: 'thick', parts: [], settleBy: first, waits: ['turn'] }]);
  });

  test('is a threat when its last moment is near, with the trial in words', () => {
    const near = planBuild(fish({ event: '2026-12-06T12:00' }), [], NOW);
    const threat = wordedThreats(near).find(({ code }) => code === 'decision');
    expect(threat!.message).toMatch(
      /^How large is on_string: 4 to 9\? Find out by a trial\. (Decide by|This should have been)/,
    );
  });

  test('with others is bought for the worst of their corners together', () => {
    const parameters = [
      { name: 'strings', range: { low: 4, likely: 5, high: 6 } },
      { name: 'on_string', range: { low: 4, likely: 6, high: 9 } },
    ];
    // 6 x 9 = 54 hooks, in packs of ten 60.
    expect(planBuild(fish({ parameters }), [], NOW).orders[0]!.forHigh).toEqual({ more: 30, cost: 60 });
  });

  test('and one that is known ask for nothing: equal ends are no doubt', () => {
    const parameters = [
      { name: 'strings', value: 5 },
      { name: 'on_string', range: { low: 6, likely: 6, high: 6 } },
    ];
    const sure = planBuild(fish({ parameters }), [], NOW);
    expect(sure.uncertain).toEqual([]);
    expect(sure.decisions).toEqual([]);
    expect(sure.orders[0]).not.toHaveProperty('forHigh');
  });
});
