/** Large answers that are given in parts, so that others have their turn between. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inTurns } from '../../../server/turns/turns.ts';
import { jsonParts } from '../../../server/web/api/json-parts.ts';

describe('an object in parts', () => {
  it('is the text that the whole gives, over random objects and long lists', () => {
    const field = fc.oneof(fc.jsonValue(), fc.constant(undefined), fc.array(fc.jsonValue(), { maxLength: 70 }));
    fc.assert(
      fc.property(fc.dictionary(fc.string(), field), (object) => {
        expect([...jsonParts(object)].join('')).toBe(JSON.stringify(object));
      }),
      { numRuns: 60 },
    );
    const lists = { a: Array.from({ length: 61 }, (_, i) => ({ i })), b: [], c: [undefined, 1] };
    expect([...jsonParts(lists)].join('')).toBe(JSON.stringify(lists));
  });

  it('gives others their turn between parts that take long', async () => {
    let turns = 0;
    const others = setInterval(() => {
      turns += 1;
    }, 1);
    const seen: number[] = [];
    for await (const part of inTurns([1, 2, 3])) {
      const until = performance.now() + 20;
      while (performance.now() < until);
      seen.push(part);
    }
    clearInterval(others);
    expect(seen).toEqual([1, 2, 3]);
    expect(turns).toBeGreaterThan(0);
  });
});
