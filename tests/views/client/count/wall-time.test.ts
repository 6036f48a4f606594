import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instantOf, wallOf } from '../../../../views/client/count/wall-time.ts';

describe('a day and an hour on the clock of the build', () => {
  it('are those of its zone, not of the phone', () => {
    const ms = Date.parse('2026-12-04T17:05:00Z');
    expect(wallOf(ms, 'Pacific/Auckland')).toBe('2026-12-05T06:05');
    expect(instantOf('2026-12-05T06:05', 'Pacific/Auckland')).toBe(ms);
    expect(wallOf(ms, 'UTC')).toBe('2026-12-04T17:05');
  });

  it('go there and back for every minute, but for the hour that a clock change repeats', () => {
    const zone = 'Europe/Lisbon';
    fc.assert(
      fc.property(fc.integer({ min: 29_000_000, max: 31_000_000 }), (minutes) => {
        const ms = minutes * 60_000;
        const back = instantOf(wallOf(ms, zone), zone)!;
        expect(wallOf(back, zone)).toBe(wallOf(ms, zone));
        expect(Math.abs(back - ms) === 0 || Math.abs(back - ms) === 3_600_000).toBe(true);
      }),
    );
  });

  it('are none where nothing was typed', () => {
    expect([instantOf('', 'UTC'), instantOf('soon', 'UTC')]).toEqual([null, null]);
  });
});
