/** How long the sending takes where the network lets only some requests through, on a clock of its own. */
import { afterEach, expect, it, vi } from 'vitest';
import { startSync } from '../../../../views/client/count/count-sync.ts';
import type { WireEntry } from '../../../../views/client/outbox/count-wire.ts';
import { createOutbox, newId } from '../../../../views/client/outbox/outbox.ts';
import { memoryShelf } from '../../../../views/client/outbox/outbox-shelf.ts';
import { seeded } from '../../../support/fuzz-requests.ts';

const START = Date.parse('2026-11-25T09:00:00Z');
const ANSWER_MS = 50;
const LONGEST_MS = 10 * 60_000;

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** A server behind a network that refuses this share of the requests before they reach it. */
function serverBehind(refused: number): { readonly stored: ReadonlySet<string>; readonly requests: () => number } {
  const draw = seeded(7);
  const stored = new Set<string>();
  let requests = 0;
  vi.stubGlobal('fetch', async (_path: string, { body }: { body?: string }) => {
    requests += 1;
    const lost = draw() < refused;
    await new Promise((resolve) => setTimeout(resolve, ANSWER_MS));
    if (lost) throw new TypeError('network');
    if (body === undefined) return Response.json({ logSeq: stored.size });
    const { entries } = JSON.parse(body) as { entries: readonly WireEntry[] };
    const receipts = entries.map(({ id }) => {
      stored.add(id);
      return { id, state: 'stored', seq: stored.size, problems: [] };
    });
    return Response.json({ now: new Date().toISOString(), knowsLast: true, receipts });
  });
  return { stored, requests: () => requests };
}

/** Seconds until a thousand counts that were kept without a network have all arrived, ten minutes at most. */
async function sent(refused: number): Promise<{ arrived: number; seconds: number; requests: number }> {
  vi.useFakeTimers({ now: START, toFake: ['Date', 'performance', 'setTimeout', 'clearTimeout'] });
  vi.stubGlobal('document', { hidden: false, addEventListener: () => undefined });
  vi.stubGlobal('window', { addEventListener: () => undefined });
  vi.stubGlobal('navigator', {});
  const { stored, requests } = serverBehind(refused);
  const outbox = createOutbox(`b-${newId()}`, memoryShelf());
  for (let n = 0; n < 1000; n++) await outbox.keep([{ kind: 'done', step: 'press', n: 1 }]);
  const begun = Date.now();
  startSync({ build: 'wall', outbox, most: () => 60, onNews: () => undefined });
  while (stored.size < 1000 && Date.now() - begun < LONGEST_MS) await vi.advanceTimersByTimeAsync(ANSWER_MS);
  return { arrived: stored.size, seconds: (Date.now() - begun) / 1000, requests: requests() };
}

it('sends a thousand counts within half a minute through a network that refuses half of all requests', async () => {
  const { arrived, seconds } = await sent(0.5);
  expect(arrived).toBe(1000);
  expect(seconds).toBeLessThan(30);
});

it('gets some through where nearly all are refused, and asks no more than once in a second', async () => {
  const { arrived, seconds, requests } = await sent(0.85);
  expect(arrived).toBeGreaterThan(0);
  expect(requests / seconds).toBeLessThan(1);
});
