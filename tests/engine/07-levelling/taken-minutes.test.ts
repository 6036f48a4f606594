import { describe, expect, test } from 'vitest';
import { FREE, NEVER } from '../../../server/engine/07-levelling/instance/codes.ts';
import { TakenMinutes } from '../../../server/engine/07-levelling/instance/taken-minutes.ts';
import { Random } from '../../../server/engine/numbers/random.ts';

/** The same, minute by minute. Far longer than anything that is asked about. */
class Slow {
  private readonly taken = new Array<boolean>(4000).fill(false);

  constructor(private readonly limit: number) {}

  private free(from: number, to: number): boolean {
    return !this.taken.slice(from, to).includes(true);
  }

  gap(from: number, minutes: number): number {
    let at = from;
    while (!this.free(at, at + minutes)) at++;
    return at;
  }

  blockedUntil(from: number, to: number): number {
    const last = this.taken.lastIndexOf(true, to - 1);
    return last < from ? FREE : this.taken.indexOf(false, last);
  }

  /** Beyond the limit, whatever lies before the last taken minute is taken as well. */
  take(from: number, to: number): void {
    this.taken.fill(true, from, to);
    if (to > this.limit) this.taken.fill(true, Math.min(from, this.limit), to);
  }
}

describe('taken minutes', () => {
  test.each([
    [1, 40, 700],
    [2, 9, 700],
    [3, 90, 1000],
    [4, 40, 64],
    [5, 3, 333],
  ])(
    'places and blocks as a list of minutes does (seed %i, work up to %i minutes, %i in the calendar)',
    (seed, longest, limit) => {
      const random = new Random(seed);
      const people = new TakenMinutes(Int32Array.of(limit, 0, limit));
      for (let round = 0; round < 20; round++) {
        const slow = new Slow(limit);
        people.clear();
        for (let n = 0; n < 60; n++) {
          const from = random.below(limit + 50);
          const minutes = 1 + random.below(longest);
          const gap = slow.gap(from, minutes);
          expect(people.gap(2, from, minutes, NEVER)).toBe(gap);
          const first = Math.min(limit, slow.gap(from, 1));
          if (from < limit) expect(people.firstFree(Int32Array.of(2), 0, 1, from)).toBe(first);
          const fits = first + minutes <= limit && slow.gap(first, minutes) === first;
          expect(people.isFree(2, first, minutes)).toBe(fits);
          if (gap > from) expect(people.gap(2, from, minutes, gap - 1)).toBeGreaterThanOrEqual(gap);
          expect(people.blockedUntil(2, from, from + minutes)).toBe(slow.blockedUntil(from, from + minutes));
          const begin = random.below(3) === 0 ? from : gap;
          if (begin < limit || begin === gap) {
            slow.take(begin, begin + minutes);
            people.take(2, begin, begin + minutes);
          }
        }
        expect(people.gap(0, 5, 10, NEVER)).toBe(5);
      }
    },
  );

  test('says when the first of several people is free, and who of them is taken then', () => {
    const random = new Random(6);
    const limit = 900;
    const people = new TakenMinutes(Int32Array.of(limit, 0, limit, limit));
    const asked = Int32Array.of(3, 0, 2);
    for (let round = 0; round < 20; round++) {
      people.clear();
      const slow = new Map([...asked].map((person) => [person, new Slow(limit)]));
      for (let n = 0; n < 40; n++) {
        const from = random.below(limit);
        const frees = [...asked].map((person) => slow.get(person)!.gap(from, 1));
        const first = Math.min(limit, ...frees);
        expect(people.firstFree(asked, 0, 3, from)).toBe(first);
        if (first < limit) {
          expect([...asked].map((person) => people.isTaken(person, first))).toEqual(
            frees.map((free) => (free === first ? 0 : 1)),
          );
        }
        const person = asked[random.below(3)]!;
        const minutes = 1 + random.below(120);
        people.take(person, from, from + minutes);
        slow.get(person)!.take(from, from + minutes);
      }
    }
  });

  test('passes over a day full of work and many gaps that are too small, however often it is asked', () => {
    const people = new TakenMinutes(Int32Array.of(100_000));
    for (let at = 0; at < 60_000; at += 10) people.take(0, at, at + 7);
    people.take(0, 60_000, 70_000);
    for (let n = 0; n < 3; n++) {
      expect(people.gap(0, 5, 4, NEVER)).toBe(70_000);
      expect(people.gap(0, 5, 3, NEVER)).toBe(7);
      expect(people.gap(0, 30_002, 4, NEVER)).toBe(70_000);
      expect(people.gap(0, 5, 4, 500)).toBeGreaterThan(500);
    }
    people.clear();
    expect(people.gap(0, 5, 4, NEVER)).toBe(5);
  });

  test('forgets nothing that is free, whatever was asked before: thousands of stretches, asked for early and late by turns', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const random = new Random(seed);
      const limit = 40_000;
      const people = new TakenMinutes(Int32Array.of(limit));
      const taken = new Uint8Array(limit + 2000);
      const take = (from: number, minutes: number) => {
        taken.fill(1, from, from + minutes);
        people.take(0, from, from + minutes);
      };
      const firstFree = (from: number, minutes: number) => {
        let free = 0;
        for (let at = from; ; at++) {
          free = taken[at] === 1 ? 0 : free + 1;
          if (free === minutes) return at + 1 - minutes;
        }
      };
      for (let at = 0; at < 20_000; at += 10 + random.below(12)) take(at, 6 + random.below(4));
      for (let n = 0; n < 3000; n++) {
        const from = random.below(22_000);
        const minutes = 1 + random.below(20);
        const gap = people.gap(0, from, minutes, NEVER);
        expect(gap, `seed ${seed}, question ${n}`).toBe(firstFree(from, minutes));
        if (random.below(2) === 0) take(gap, minutes);
      }
    }
  });
});
