import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Part } from '../../../server/model/index.ts';
import { spareRows } from '../../../views/words/spare-words.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

function rowsOf(parts: readonly Part[], scrapped = 0) {
  const log = [
    { id: 'entry-0001', kind: 'received' as const, step: 'order-hook', n: 12, at: '2026-12-01T08:00:00Z' },
    {
      id: 'entry-0002',
      kind: 'scrapped' as const,
      step: 'order-hook',
      n: scrapped,
      counted: true,
      at: '2026-12-01T08:30:00Z',
    },
  ].slice(0, scrapped === 0 ? 0 : 2);
  const forecast = planBuild(
    {
      id: 'wave',
      name: 'Wave',
      zone: 'UTC',
      event: '2026-12-20T19:00',
      suppliers: [{ id: 'yard', name: 'the yard', lead: 2 }],
      parts: [...parts],
      steps: [],
    },
    log,
    NOW,
  );
  return spareRows(forecast).map(({ part, has, wanted }) => [part.id, has, wanted]);
}

const hook: Part = { id: 'hook', name: 'Hook', source: 'buy', supplier: 'yard', count: 10 };

describe('what stops the show if it breaks', () => {
  test('is what has no spare, however many are bought because some will be bad', () => {
    expect(rowsOf([{ ...hook, yield: 0.8 }])).toEqual([['hook', 0, 1]]);
  });

  test('is no fewer for those that were found bad', () => {
    expect(rowsOf([{ ...hook, failures: 3 }], 2)).toEqual([['hook', 0, 5]]);
  });

  test('is not what comes in whole packs with some left over', () => {
    expect(rowsOf([{ ...hook, packSize: 12 }])).toEqual([]);
  });
});
