/** Sends what the outbox holds, as often as it takes, and fetches what the server counts. */

import type { CountState } from '../outbox/count-wire.ts';
import type { Outbox } from '../outbox/outbox.ts';
import { createSending } from './count-sending.ts';
import { ask, type Contact, NoContact } from './count-talk.ts';

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

const LOOK_EVERY_MS = 10_000;
/** Sooner, where the state does not hold yet what has arrived. */
const LOOK_AGAIN_MS = 2_000;
const FIRST_RETRY_MS = 1000;
/** While the server is silent, taps alone do not ask it more often than that. */
const TRY_AGAIN_MS = 2000;
const LONGEST_RETRY_MS = 15_000;
/** Where something got through before the last try failed: the network loses much, but not all. */
const SOON_MS = 200;

/** Starts sending and looking; goes on with a timer, when the page is seen again and when the network is back. */
export function startSync({ build, outbox, most, onNews }: SyncOptions): Sync {
  let contact: Contact = { kind: 'not-yet' };
  let triedMs = 0;
  let running = false;
  let again = false;
  let behind = false;
  let retryMs = FIRST_RETRY_MS;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const sending = createSending(build, outbox, () => {
    retryMs = SOON_MS;
  });

  /** Nothing that goes wrong with drawing may stop the sending. */
  const tell = (state: CountState | null): void => {
    try {
      onNews(state);
    } catch (error) {
      reportError(error);
    }
  };

  const round = async (): Promise<void> => {
    await sending.sendAll(contact.kind === 'fine');
    const state = await ask<CountState>(`/b/${build}/count/now?mine=${most()}`, sending.heardMs());
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

  whenSeenAgain(kick, () => {
    retryMs = FIRST_RETRY_MS;
    void outbox.reload().then(kick);
  });
  kick();

  return { tapped, contact: () => contact, offsetMs: sending.offsetMs };
}

/** Calls when the network or the page is back; `onSeen` when the page can be seen again. */
function whenSeenAgain(onBack: () => void, onSeen: () => void): void {
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) onSeen();
  });
  for (const event of ['online', 'pageshow', 'focus']) window.addEventListener(event, onBack);
}

/** Only one tab of the phone sends at a time, where the browser can see to it; two at once would do no harm. */
async function alone(name: string, work: () => Promise<void>): Promise<void> {
  if (navigator.locks) await navigator.locks.request(name, work);
  else await work();
}
