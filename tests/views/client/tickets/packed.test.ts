import fc from 'fast-check';
import { expect, it } from 'vitest';
import { packed, unpacked } from '../../../../views/client/tickets/packed.ts';

it('gives back what was packed, and writes names once', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 4 }), (data) => {
      expect(unpacked(packed(data))).toEqual(JSON.parse(JSON.stringify(data)));
    }),
    { seed: 1, numRuns: 300 },
  );
  const rows = Array.from({ length: 50 }, (_, i) => ({
    name: `row ${i}`,
    sets: [{ counted: i }],
    ...(i % 2 ? { extra: null } : {}),
  }));
  expect(unpacked(packed(rows))).toEqual(rows);
  expect(packed(rows).split('counted')).toHaveLength(2);
});
