import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createOutbox, type Draft, newId, type Outbox } from '../../../../views/client/outbox/outbox.ts';
import { memoryShelf } from '../../../../views/client/outbox/outbox-shelf.ts';

const START = Date.parse('2026-11-25T09:00:00Z');
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const TAP: Draft = { kind: 'done', step: 'press', n: 1 };

beforeEach(() => {
  vi.useFakeTimers({ now: START, toFake: ['Date', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a phone whose clock is set while entries wait', () => {
  it('back with the page open has what was tapped before corrected by what it was then', async () => {
    const phone = await workshopPhone(HOUR);
    await phone.tapsFor(3);
    phone.set(-HOUR);
    await phone.tapsFor(3);
    await phone.isRight();
    expect(phone.outbox().clockSetMs()).toBe(-HOUR);
  });

  it('back with the page shut, by more than it was shut for', async () => {
    const phone = await workshopPhone(HOUR);
    await phone.tapsFor(3);
    phone.shutFor(10 * MINUTE, -HOUR);
    await phone.tapsFor(3);
    await phone.isRight();
  });

  it('back with the page shut, by less than it was shut for', async () => {
    const phone = await workshopPhone(HOUR);
    await phone.tapsFor(3);
    phone.shutFor(3 * HOUR, -HOUR);
    await phone.tapsFor(3);
    await phone.isRight();
  });

  it('to a wrong hour with the page shut, back or forward', async () => {
    for (const byMs of [-9 * HOUR, 9 * HOUR]) {
      const phone = await workshopPhone(0);
      await phone.tapsFor(2);
      phone.shutFor(14 * HOUR, byMs);
      await phone.tapsFor(2);
      await phone.isRight();
    }
  });

  it('forward while it is looked at, after a night of sleep', async () => {
    const phone = await workshopPhone(0);
    await phone.tapsFor(2);
    phone.sleepFor(9 * HOUR);
    await phone.tapsFor(2);
    phone.set(20 * MINUTE);
    await phone.tapsFor(2);
    await phone.isRight();
  });

  it('and set right again before the server answers, seen or in the hours it was shut', async () => {
    const open = await workshopPhone(0);
    await open.tapsFor(2);
    open.set(2 * HOUR);
    await open.tapsFor(2);
    open.set(-2 * HOUR);
    await open.tapsFor(2);
    await open.isRight();
    const shut = await workshopPhone(0);
    await shut.tapsFor(2);
    shut.set(-2 * HOUR);
    await shut.tapsFor(2);
    shut.shutFor(5 * HOUR, 2 * HOUR);
    await shut.tapsFor(2);
    await shut.isRight();
  });

  it('twice, with the server heard in between', async () => {
    const phone = await workshopPhone(HOUR);
    await phone.tapsFor(2);
    phone.shutFor(HOUR, -HOUR);
    await phone.tapsFor(1);
    await phone.isRight();
    await phone.tapsFor(2);
    phone.shutFor(HOUR, 30 * MINUTE);
    await phone.tapsFor(2);
    await phone.isRight();
  });

  it('is not taken for one by a night of sleep, a shut page, or clocks that drift apart', async () => {
    const phone = await workshopPhone(7 * MINUTE);
    await phone.tapsFor(2);
    phone.sleepFor(9 * HOUR);
    await phone.tapsFor(2);
    phone.shutFor(40 * HOUR, 5000);
    await phone.tapsFor(2);
    await phone.isRight(6000);
    expect(phone.outbox().clockSetMs()).toBe(0);
  });

  it('has the pause of its run clock corrected as the tap was that it is read off', async () => {
    const phone = await workshopPhone(HOUR);
    const [tap] = await phone.tapsFor(1);
    phone.set(-HOUR);
    await phone.outbox().keep([{ kind: 'paused', step: 'press', phoneMs: tap!.phoneMs }]);
    const [done, paused] = await phone.sent();
    expect(paused!.at).toBe(done!.at);
  });
});

describe('whenever a phone’s clock is set once between two answers', () => {
  it('each entry has the instant at which it was tapped', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: -600, max: 600 }),
        fc.integer({ min: -300, max: 300 }).filter((minutes) => Math.abs(minutes) > 1),
        fc.boolean(),
        fc.integer({ min: 1, max: 4 }),
        async (aheadMinutes, setMinutes, shut, taps) => {
          const phone = await workshopPhone(aheadMinutes * MINUTE);
          await phone.tapsFor(taps);
          if (shut) phone.shutFor(6 * HOUR, setMinutes * MINUTE);
          else phone.set(setMinutes * MINUTE);
          await phone.tapsFor(taps);
          await phone.isRight();
        },
      ),
      { seed: 20261125, numRuns: 80 },
    );
  });
});

/** A phone that has heard the server once; its clock is so much ahead of the true time. */
async function workshopPhone(aheadMs: number) {
  const shelf = memoryShelf();
  const build = `b-${newId()}`;
  let trueMs = START;
  let ahead = aheadMs;
  let outbox: Outbox = createOutbox(build, shelf);
  const tapped = new Map<string, number>();
  const passes = (ms: number, steadyMs: number): void => {
    trueMs += ms;
    vi.advanceTimersByTime(steadyMs);
    vi.setSystemTime(trueMs + ahead);
  };
  const sent = async () => {
    await outbox.hear(-ahead);
    const batch = await outbox.nextBatch(500, -ahead);
    await outbox.take(batch.map(({ id }, i) => ({ id, state: 'stored', seq: i + 1, problems: [], questions: [] })));
    return batch;
  };
  passes(0, 0);
  await outbox.hear(-ahead);
  return {
    outbox: () => outbox,
    sent,
    /** Taps, a minute and a half apart. */
    tapsFor: async (taps: number) => {
      const all = [];
      for (let n = 0; n < taps; n++) {
        passes(90_000, 90_000);
        const [kept] = await outbox.keep([TAP]);
        tapped.set(kept!.id, trueMs);
        all.push(kept!);
      }
      return all;
    },
    set: (byMs: number) => {
      ahead += byMs;
      passes(20_000, 20_000);
    },
    sleepFor: (ms: number) => passes(ms, 1000),
    shutFor: (ms: number, setMs: number) => {
      ahead += setMs;
      passes(ms, 0);
      outbox = createOutbox(build, shelf);
    },
    isRight: async (withinMs = 0) => {
      passes(5000, 5000);
      await outbox.reload();
      for (const entry of await sent()) {
        expect(Math.abs(Date.parse(entry.at) - tapped.get(entry.id)!)).toBeLessThanOrEqual(withinMs);
      }
      expect(outbox.list().every(({ state }) => state === 'arrived')).toBe(true);
    },
  };
}
