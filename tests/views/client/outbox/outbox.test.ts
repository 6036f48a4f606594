import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { WireEntry, WireReceipt } from '../../../../views/client/outbox/count-wire.ts';
import { createOutbox, type Draft, newId } from '../../../../views/client/outbox/outbox.ts';
import { memoryShelf } from '../../../../views/client/outbox/outbox-shelf.ts';

const START = Date.parse('2026-11-25T09:00:00Z');
const TAP: Draft = { kind: 'done', step: 'press', n: 1 };

beforeEach(() => {
  vi.useFakeTimers({ now: START, toFake: ['Date', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the outbox', () => {
  it('gives entries out in the order of tapping, until they have arrived', async () => {
    const outbox = open();
    for (let n = 1; n <= 5; n++) await outbox.keep([{ ...TAP, n }]);
    const batch = await outbox.nextBatch(3, 0);
    expect(batch.map((entry) => entry.n)).toEqual([1, 2, 3]);
    await outbox.take(batch.slice(0, 2).map((entry, i) => receipt(entry, { seq: i + 1 })));
    expect((await outbox.nextBatch(10, 0)).map((entry) => entry.n)).toEqual([3, 4, 5]);
  });

  it('says the same each time an entry is sent, though the clock was measured anew', async () => {
    const outbox = open();
    await outbox.keep([TAP]);
    const first = await outbox.nextBatch(1, 3_600_000);
    const again = await outbox.nextBatch(1, 3_601_234);
    expect(again).toEqual(first);
    expect(first[0]).toMatchObject({ at: '2026-11-25T10:00:00.000Z', phoneAt: '2026-11-25T09:00:00.000Z' });
  });

  it('corrects nothing where the clocks differ by no more than a moment', async () => {
    const outbox = open();
    await outbox.keep([TAP]);
    expect((await outbox.nextBatch(1, 1900))[0]?.at).toBe('2026-11-25T09:00:00.000Z');
  });

  it('corrects what was tapped before the phone’s clock was set back by what it was then', async () => {
    const outbox = open();
    // The phone is an hour fast until somebody sets it right.
    vi.setSystemTime(START + 3_600_000);
    const fast = open();
    await fast.keep([{ ...TAP, n: 1 }]);
    passes(60_000, START + 60_000);
    await fast.keep([{ ...TAP, n: 2 }]);
    const sent = await fast.nextBatch(2, 0);
    expect(sent.map((entry) => entry.at)).toEqual(['2026-11-25T09:00:00.000Z', '2026-11-25T09:01:00.000Z']);
    expect(outbox.list()).toEqual([]);
  });

  it('does not take a night’s sleep for a clock that was set', async () => {
    const outbox = open();
    await outbox.keep([TAP]);
    // The steady clock stands still while the phone sleeps.
    passes(1000, START + 9 * 3_600_000);
    await outbox.keep([TAP]);
    const sent = await outbox.nextBatch(2, 0);
    expect(sent.map((entry) => entry.at)).toEqual(['2026-11-25T09:00:00.000Z', '2026-11-25T18:00:00.000Z']);
  });

  it('goes on over the end of daylight saving, whose hour comes twice', async () => {
    vi.setSystemTime(Date.parse('2026-10-25T00:30:00Z'));
    const outbox = open();
    await outbox.keep([TAP]);
    passes(3_600_000, Date.parse('2026-10-25T01:30:00Z'));
    await outbox.keep([TAP]);
    const sent = await outbox.nextBatch(2, 0);
    expect(sent.map((entry) => entry.at)).toEqual(['2026-10-25T00:30:00.000Z', '2026-10-25T01:30:00.000Z']);
  });

  it('keeps what was refused, with the reason, until it is put away', async () => {
    const outbox = open();
    await outbox.keep([TAP]);
    const [entry] = await outbox.nextBatch(1, 0);
    await outbox.take([receipt(entry!, { state: 'refused', seq: null, problems: [wrong('No such step.')] })]);
    expect(outbox.list()).toMatchObject([{ state: 'refused', reasons: ['No such step.'], settled: false }]);
    expect(await outbox.nextBatch(1, 0)).toEqual([]);
    await outbox.settle(entry!.id);
    expect(outbox.list()).toMatchObject([{ state: 'refused', settled: true }]);
  });

  it('sends what was refused again when it is told to, with its instant corrected anew', async () => {
    const outbox = open();
    await outbox.keep([TAP]);
    const [early] = await outbox.nextBatch(1, 3_600_000);
    await outbox.take([receipt(early!, { state: 'refused', seq: null, problems: [wrong('Still to come.')] })]);
    await outbox.tryAgain([early!.id]);
    expect(await outbox.nextBatch(1, 0)).toEqual([{ ...early, at: '2026-11-25T09:00:00.000Z' }]);
    await outbox.take([receipt(early!)]);
    await outbox.tryAgain([early!.id]);
    expect(outbox.list()).toMatchObject([{ state: 'arrived', reasons: [] }]);
  });

  it('sends everything again when the server’s book was put back', async () => {
    const outbox = open();
    await outbox.keep([TAP, TAP]);
    const sent = await outbox.nextBatch(2, 0);
    await outbox.take(sent.map((entry, i) => receipt(entry, { seq: i + 7 })));
    expect(outbox.lastArrived()).toEqual({ id: sent[1]!.id, seq: 8 });
    await outbox.sendAllAgain();
    expect(outbox.lastArrived()).toBeNull();
    expect(await outbox.nextBatch(9, 5_000_000)).toEqual(sent);
  });

  it('forgets after two months what has arrived, and nothing else', async () => {
    const outbox = open();
    await outbox.keep([
      { ...TAP, n: 1 },
      { ...TAP, n: 2 },
      { ...TAP, n: 3 },
    ]);
    const sent = await outbox.nextBatch(2, 0);
    await outbox.take([receipt(sent[0]!), receipt(sent[1]!, { state: 'refused', seq: null })]);
    vi.setSystemTime(START + 61 * 24 * 3_600_000);
    await outbox.keep([{ ...TAP, n: 4 }]);
    await outbox.forgetOld();
    expect(outbox.list().map((kept) => kept.entry.n)).toEqual([2, 3, 4]);
  });

  it('loses and doubles nothing, whatever order answers and failures come in', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('tap', 'send', 'lost answer', 'half answer', 'restore'), { maxLength: 60 }),
        async (acts) => {
          const outbox = open();
          const book = new Map<string, WireEntry>();
          let tapped = 0;
          for (const act of acts) {
            if (act === 'tap') {
              await outbox.keep([TAP]);
              tapped += 1;
            } else if (act === 'restore') {
              book.clear();
              await outbox.sendAllAgain();
            } else {
              const batch = await outbox.nextBatch(7, 0);
              for (const entry of batch) book.set(entry.id, entry);
              const answered =
                act === 'lost answer' ? [] : act === 'half answer' ? batch.slice(0, batch.length / 2) : batch;
              await outbox.take(answered.map((entry) => receipt(entry, { seq: book.size })));
            }
          }
          for (let i = 0; i <= acts.length; i++) {
            const batch = await outbox.nextBatch(7, 0);
            for (const entry of batch) book.set(entry.id, entry);
            await outbox.take(batch.map((entry) => receipt(entry)));
          }
          expect(book.size).toBe(tapped);
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });
});

describe('an id', () => {
  it('is one of the form the server takes, and differs each time', () => {
    const ids = Array.from({ length: 500 }, newId);
    expect(new Set(ids).size).toBe(500);
    for (const id of ids) expect(id).toMatch(/^[A-Za-z0-9_-]{8,64}$/);
  });
});

function open() {
  return createOutbox(`b-${newId()}`, memoryShelf());
}

/** So much time passes on the steady clock, while the wall clock comes to stand at an instant. */
function passes(steadyMs: number, wallMs: number): void {
  vi.advanceTimersByTime(steadyMs);
  vi.setSystemTime(wallMs);
}

function wrong(message: string): WireReceipt['problems'][number] {
  return { code: 'log', severity: 'error', field: 'entry.step', value: 'fold', message };
}

function receipt(entry: WireEntry, changes: Partial<WireReceipt> = {}): WireReceipt {
  return { id: entry.id, state: 'stored', seq: 1, problems: [], questions: [], ...changes };
}
