/** Sends what the outbox holds, in order and as often as it takes, and fetches what the server counts. */

import type { Outbox } from '../outbox/outbox.ts';
import type { CountState, SendingAnswer } from './count-wire.ts';

/** How it stands with the server. `refuses` and `trouble` carry the server's own words. */
export type Contact =
  | { readonly kind: 'not-yet' }
  | { readonly kind: 'fine'; readonly atMs: number }
  | { readonly kind: 'silent'; readonly sinceMs: number }
  | { readonly kind: 'shut-out' }
  | { readonly kind: 'trouble'; readonly words: string };

export interface Sync {
  /** Something was kept: sends it, unless the server did not answer a moment ago. */
  tapped(): void;
  contact(): Contact;
  /** By how much the server's clock is ahead of this phone's, in milliseconds; null before the first answer. */
  offsetMs(): number | null;
}

interface SyncOptions {
  readonly build: string;
  readonly outbox: Outbox;
  /** How many of my own entries the state is to list. */
  readonly most: () => number;
  /** A newer state of the count, or null when only the contact has changed. */
  readonly onNews: (state: CountState | null) => void;
}

/** Fewer than the server's list of mine holds, so that a lost answer is made good by the next look. */
const MOST_AT_ONCE = 50;
const ANSWER_WITHIN_MS = 12_000;
const LOOK_EVERY_MS = 10_000;
/** Sooner, where the state does not hold yet what has arrived. */
const LOOK_AGAIN_MS = 2_000;
const FIRST_RETRY_MS = 1000;
/** While the server is silent, taps alone do not ask it more often than that. */
const TRY_AGAIN_MS = 2000;
const LONGEST_RETRY_MS = 15_000;
/** Where something got through before the last try failed: the network loses much, but not all. */
const SOON_MS = 200;
/** After so long without a word the server's clock and memory are asked anew before anything is sent. */
const HELLO_AFTER_MS = 60_000;
/** The same where something failed since: the laptop may have been put back to an older state, but not so soon. */
const HELLO_AFTER_FAILURE_MS = 5000;

class NoContact extends Error {
  readonly contact: Contact;
  readonly retryMs: number | null;
  constructor(contact: Contact, retryMs: number | null = null) {
    super(contact.kind);
    this.contact = contact;
    this.retryMs = retryMs;
  }
}

class TooLarge extends Error {}

/**
 * Starts sending and looking; goes on by itself on a timer, when the page is seen again and when the network is back.
 */
export function startSync({ build, outbox, most, onNews }: SyncOptions): Sync {
  let contact: Contact = { kind: 'not-yet' };
  let offsetMs: number | null = null;
  let heardMs = 0;
  let triedMs = 0;
  /** The server's book no longer holds what had arrived: it was put back to an older state. */
  let forgotten = false;
  let running = false;
  let again = false;
  let behind = false;
  let retryMs = FIRST_RETRY_MS;
  let timer: ReturnType<typeof setTimeout> | undefined;

  /** Nothing that goes wrong with drawing may stop the sending. */
  const tell = (state: CountState | null): void => {
    try {
      onNews(state);
    } catch (error) {
      reportError(error);
    }
  };

  const post = async (entries: readonly unknown[]): Promise<SendingAnswer> => {
    const sentMs = Date.now();
    const answer = await ask<SendingAnswer>(`/b/${build}/entries`, { entries, last: outbox.lastArrived() });
    const gotMs = Date.now();
    if (!Array.isArray(answer.receipts)) throw new NoContact({ kind: 'silent', sinceMs: heardMs });
    offsetMs = Date.parse(answer.now) - (sentMs + gotMs) / 2;
    heardMs = gotMs;
    retryMs = SOON_MS;
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
  const isHelloDue = (): boolean => {
    const quietMs = Date.now() - heardMs;
    if (quietMs < 0 || quietMs > HELLO_AFTER_MS) return true;
    return contact.kind !== 'fine' && (quietMs > HELLO_AFTER_FAILURE_MS || !isWaiting());
  };

  const round = async (): Promise<void> => {
    if (isHelloDue()) await post([]);
    while (forgotten || isWaiting()) {
      if (forgotten) await outbox.sendAllAgain();
      forgotten = false;
      await sendSome(MOST_AT_ONCE);
    }
    const state = await ask<CountState>(`/b/${build}/count/now?mine=${most()}`);
    contact = { kind: 'fine', atMs: Date.now() };
    behind = state.logSeq < (outbox.lastArrived()?.seq ?? 0);
    tell(state);
  };

  const run = async (): Promise<void> => {
    running = true;
    triedMs = Date.now();
    clearTimeout(timer);
    let waitMs = LOOK_EVERY_MS;
    do {
      again = false;
      try {
        await alone(`daywright-send:${build}`, round);
        retryMs = FIRST_RETRY_MS;
        waitMs = behind ? LOOK_AGAIN_MS : LOOK_EVERY_MS;
      } catch (error) {
        contact = error instanceof NoContact ? error.contact : { kind: 'trouble', words: String(error) };
        waitMs = (error instanceof NoContact ? error.retryMs : null) ?? retryMs;
        retryMs = Math.min(retryMs * 2, LONGEST_RETRY_MS);
        again = false;
        tell(null);
      }
    } while (again);
    running = false;
    timer = setTimeout(kick, document.hidden ? LONGEST_RETRY_MS : waitMs);
  };
  const tapped = (): void => {
    if (contact.kind !== 'silent' || Date.now() - triedMs > TRY_AGAIN_MS || Date.now() < triedMs) kick();
  };
  const kick = (): void => {
    if (running) again = true;
    else void run();
  };

  document.addEventListener('visibilitychange', () => {
    if (document.hidden) return;
    retryMs = FIRST_RETRY_MS;
    void outbox.reload().then(kick);
  });
  for (const event of ['online', 'pageshow', 'focus']) window.addEventListener(event, kick);
  kick();

  return { tapped, contact: () => contact, offsetMs: () => offsetMs };

  async function ask<T>(path: string, body?: unknown): Promise<T> {
    const giveUp = new AbortController();
    const clock = setTimeout(() => giveUp.abort(), ANSWER_WITHIN_MS);
    try {
      const response = await fetch(path, {
        signal: giveUp.signal,
        cache: 'no-cache',
        redirect: 'manual',
        headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
        ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
      });
      if (response.ok) return (await response.json()) as T;
      throw await failure(response);
    } catch (error) {
      if (error instanceof NoContact || error instanceof TooLarge) throw error;
      throw new NoContact({ kind: 'silent', sinceMs: heardMs });
    } finally {
      clearTimeout(clock);
    }
  }
}

async function failure(response: Response): Promise<Error> {
  const words = await response
    .json()
    .then((body: { problem?: unknown }) => (typeof body.problem === 'string' ? body.problem : null))
    .catch(() => null);
  if (response.status === 401 || response.status === 403) return new NoContact({ kind: 'shut-out' });
  if (response.status === 413 || response.status === 400) return new TooLarge(words ?? `answer ${response.status}`);
  const after = Number(response.headers.get('retry-after'));
  const retryMs = Number.isFinite(after) && after > 0 ? after * 1000 : null;
  return new NoContact({ kind: 'trouble', words: words ?? `answer ${response.status}` }, retryMs);
}

/** Only one tab of the phone sends at a time, where the browser can see to it; two at once would do no harm. */
async function alone(name: string, work: () => Promise<void>): Promise<void> {
  if (navigator.locks) await navigator.locks.request(name, work);
  else await work();
}
