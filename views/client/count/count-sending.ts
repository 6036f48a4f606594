/** Sends what the outbox holds, in order, and notices when the server has forgotten what had arrived. */

import type { SendingAnswer } from '../outbox/count-wire.ts';
import type { Outbox } from '../outbox/outbox.ts';
import { ask, NoContact, TooLarge } from './count-talk.ts';

interface Sending {
  /** Sends all that waits; asks first whether the server remembers, where `isFine` or its silence leave that open. */
  sendAll(isFine: boolean): Promise<void>;
  /** By how much the server's clock is ahead of this phone's, in milliseconds; null before the first answer. */
  offsetMs(): number | null;
  /** When the server answered last; 0: never. */
  heardMs(): number;
}

/** Fewer than the server's list of mine holds, so that a lost answer is made good by the next look. */
const MOST_AT_ONCE = 50;
/** After so long without a word the server's clock and memory are asked for again before anything is sent. */
const HELLO_AFTER_MS = 60_000;
/** The same where something failed since: the laptop may have been put back to an older state, but not so soon. */
const HELLO_AFTER_FAILURE_MS = 5000;

/** Sends the outbox of a build; `onAnswer` is called after each answer. */
export function createSending(build: string, outbox: Outbox, onAnswer: () => void): Sending {
  let offsetMs: number | null = null;
  let heardMs = 0;
  /** The server's book no longer holds what had arrived: it was put back to an older state. */
  let forgotten = false;

  const post = async (entries: readonly unknown[]): Promise<SendingAnswer> => {
    const sentMs = Date.now();
    const answer = await ask<SendingAnswer>(`/b/${build}/entries`, heardMs, { entries, last: outbox.lastArrived() });
    const gotMs = Date.now();
    if (!Array.isArray(answer.receipts)) throw new NoContact({ kind: 'silent', sinceMs: heardMs });
    offsetMs = Date.parse(answer.now) - (sentMs + gotMs) / 2;
    heardMs = gotMs;
    onAnswer();
    forgotten ||= !answer.knowsLast;
    await outbox.hear(offsetMs);
    return answer;
  };

  /** One batch; a batch that is too large or malformed is halved until the one entry that cannot go is found. */
  const sendSome = async (most: number): Promise<void> => {
    const entries = await outbox.nextBatch(most, offsetMs ?? 0);
    if (entries.length === 0) return;
    try {
      const { receipts } = await post(entries);
      await outbox.take(receipts);
      const answered = new Set(receipts.map((receipt) => receipt.id));
      if (!entries.some((entry) => answered.has(entry.id))) throw new NoContact({ kind: 'silent', sinceMs: heardMs });
    } catch (error) {
      if (!(error instanceof TooLarge)) throw error;
      if (entries.length > 1) await sendSome(Math.floor(entries.length / 2));
      else await outbox.refuse([entries[0]!.id], error.message);
    }
  };

  const isWaiting = (): boolean => outbox.list().some((entry) => entry.state === 'waiting');

  /** What waits is answered by whether the server still knows the last that arrived; without it that must be asked. */
  const isHelloDue = (isFine: boolean): boolean => {
    const quietMs = Date.now() - heardMs;
    if (quietMs < 0 || quietMs > HELLO_AFTER_MS) return true;
    return !isFine && (quietMs > HELLO_AFTER_FAILURE_MS || !isWaiting());
  };

  return {
    sendAll: async (isFine) => {
      if (isHelloDue(isFine)) await post([]);
      while (forgotten || isWaiting()) {
        if (forgotten) await outbox.sendAllAgain();
        forgotten = false;
        await sendSome(MOST_AT_ONCE);
      }
    },
    offsetMs: () => offsetMs,
    heardMs: () => heardMs,
  };
}
