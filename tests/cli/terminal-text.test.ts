import { expect, test } from 'vitest';
import { leversSummary } from '../../server/cli/levers-summary.ts';
import { waysSummary } from '../../server/cli/ways-summary.ts';
import type { LeverSearch, WaysBeside } from '../../server/model/index.ts';
import { lantern } from '../store/helpers.ts';

const NAMED = lantern({ name: 'lantern\u001b[31m\nof \u0007glass' });

test('no name steers the terminal, whichever summary it is in', () => {
  const search = { rows: [], present: null, takes: null, neck: null, pair: null, triple: null, tried: 0, futures: 0 };
  const levers = leversSummary(NAMED, { ...search, now: 0 } as unknown as LeverSearch);
  const ways = waysSummary(NAMED, { parts: [], present: null, futures: 0, now: 0 } as unknown as WaysBeside);
  for (const text of [levers, ways]) {
    expect(text.split('\n')[0]).toBe('lantern [31m of  glass');
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
  }
});
