import { afterEach, describe, expect, it, vi } from 'vitest';
import { flatMapInTurns, inTurns, isTurnOver, LONGEST_TURN, othersTurn } from '../../server/turns/turns.ts';

afterEach(() => void vi.restoreAllMocks());

/**
 * A clock that work alone moves, and the milliseconds that each turn of the event loop took by it. It goes on from now:
 * by one that was behind, a turn that another test began would never be over.
 */
function workClock() {
  let clock = Math.ceil(performance.now());
  let before = clock;
  let isOver = false;
  const turns: number[] = [];
  vi.spyOn(performance, 'now').mockImplementation(() => clock);
  const turn = (): void => {
    turns.push(clock - before);
    before = clock;
    if (!isOver) setImmediate(turn);
  };
  setImmediate(turn);
  return {
    work: (milliseconds: number): void => {
      clock += milliseconds;
    },
    /** The milliseconds of each turn that had any. */
    stop: (): number[] => {
      isOver = true;
      return [...turns, clock - before].filter((took) => took > 0);
    },
  };
}

/** A turn, and the part of the work at which it was seen to be over. */
const MOST = LONGEST_TURN + 2;

describe('long work in one thread', () => {
  it('takes no more of a turn of the event loop when several are at it', async () => {
    const { work, stop } = workClock();
    const list = Array.from({ length: 40 }, (_, i) => i);
    const one = (n: number) => {
      work(2);
      return [n];
    };
    const read = async (): Promise<number[]> => {
      const all: number[] = [];
      for await (const n of inTurns(list)) all.push(...one(n));
      return all;
    };
    const all = await Promise.all([flatMapInTurns(list, one), flatMapInTurns(list, one), read(), read()]);
    const turns = stop();
    expect(all).toEqual([list, list, list, list]);
    expect(Math.max(...turns)).toBeLessThanOrEqual(MOST + 3 * 2);
    // What begins in the same turn does a first part each before it sees that the turn is over.
    expect(turns.filter((took) => took > MOST).length).toBeLessThanOrEqual(1);
  });

  it('goes on in the order in which it waited, one after the other', async () => {
    const { work, stop } = workClock();
    const done: string[] = [];
    const long = async (name: string, milliseconds: number): Promise<void> => {
      for (let n = 0; n < 3; n++) {
        await othersTurn();
        work(milliseconds);
        done.push(`${name}${n}`);
      }
    };
    await Promise.all([long('a', 1), long('b', LONGEST_TURN), long('c', 1)]);
    expect(done).toEqual(['a0', 'b0', 'c0', 'a1', 'b1', 'c1', 'a2', 'b2', 'c2']);
    expect(Math.max(...stop())).toBeLessThanOrEqual(MOST);
  });

  it('begins a turn of its own once the event loop has turned', async () => {
    const { work, stop } = workClock();
    const nextTurns = (): Promise<void> => new Promise((resolve) => setImmediate(() => setImmediate(resolve)));
    await nextTurns();
    expect(isTurnOver()).toBe(false);
    work(LONGEST_TURN);
    expect(isTurnOver()).toBe(true);
    await nextTurns();
    stop();
    expect(isTurnOver()).toBe(false);
  });
});
