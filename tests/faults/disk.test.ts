import { connect } from 'node:net';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, describe, expect, it } from 'vitest';
import type { SendingAnswer } from '../../views/client/outbox/count-wire.ts';
import { openDb, scratch } from '../store/helpers.ts';
import { BUILD, type CountApp, type CountAppOptions, countApp } from '../support/count-app.ts';
import { FAKE_NOW } from '../support/fake-forecast.ts';

const benches: CountApp[] = [];
const held: HeldSyncs[] = [];
afterEach(async () => {
  for (const syncs of held.splice(0)) syncs.letGo();
  for (const bench of benches.splice(0)) await bench.close();
});

async function open(options: CountAppOptions = {}): Promise<{ bench: CountApp; file: string; cookie: string }> {
  const file = join(scratch(), 'faults.sqlite');
  const bench = await countApp({ file, ...options });
  benches.push(bench);
  return { bench, file, cookie: bench.helperCookie('Ana') };
}

describe('a disk that is full', () => {
  it('answers 503 in words, stores nothing, and stores once when there is room again', async () => {
    const { bench, cookie } = await open();
    await post(bench, cookie, [entry()]);
    const pages = bench.db.pragma('page_count', { simple: true }) as number;
    bench.db.pragma(`max_page_count = ${pages}`);
    const large = Array.from({ length: 60 }, () => entry({ note: 'x'.repeat(1500) }));
    const full = await post(bench, cookie, large);
    expect(full.statusCode).toBe(503);
    expect(full.json().problem).toMatch(/could not save it \(disk full, locked or missing\).*the phone keeps it/);
    expect(full.headers['retry-after']).toBe('5');
    expect(bench.planner.log(BUILD)).toHaveLength(1);
    bench.db.pragma('max_page_count = 1000000');
    const again = await post(bench, cookie, large);
    expect(again.json<SendingAnswer>().receipts.every((receipt) => receipt.state === 'stored')).toBe(true);
    expect(bench.done('press')).toBe(61);
  });

  it('answers 503 to other writes too, in words', async () => {
    const { bench } = await open();
    const maker = bench.makerCookie();
    bench.db.pragma(`max_page_count = ${bench.db.pragma('page_count', { simple: true })}`);
    let answer = await makeCode(bench, maker);
    for (let n = 0; n < 500 && answer.statusCode === 200; n++) answer = await makeCode(bench, maker);
    expect(answer.statusCode).toBe(503);
    expect(answer.body).toContain('Nothing was changed');
  });

  it('fails all that were sent together, and none of them is half stored', async () => {
    const { bench, cookie } = await open();
    bench.db.pragma(`max_page_count = ${bench.db.pragma('page_count', { simple: true })}`);
    const sendings = Array.from({ length: 6 }, () => [
      entry({ note: 'x'.repeat(2000) }),
      entry({ note: 'x'.repeat(2000) }),
    ]);
    const answers = await Promise.all(sendings.map((entries) => post(bench, cookie, entries)));
    const stored = answers.flatMap((answer, i) => (answer.statusCode === 200 ? sendings[i]! : []));
    expect(answers.some((answer) => answer.statusCode === 503)).toBe(true);
    expect(bench.planner.log(BUILD).map((one) => one.id)).toEqual(stored.map((one) => one.id));
  });
});

describe('a disk that is slow', () => {
  it('has nobody answered before it has what was counted, and holds up no file that is always the same', async () => {
    const syncs = byHand();
    const { bench, cookie } = await open({ sync: syncs.sync });
    const maker = bench.makerCookie();
    await freed(syncs, bench);
    const one = entry();
    const counted = watched(post(bench, cookie, [one]));
    await expect.poll(() => syncs.begun).toHaveLength(1);
    // The same again, by a phone that lost its answer; a page of somebody else, who would see the count; a session.
    const again = watched(post(bench, cookie, [one]));
    const seen = watched(bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie } }));
    const code = watched(makeCode(bench, maker));
    expect((await bench.app.inject('/assets/htmx.min.js')).statusCode).toBe(200);
    await pause(100);
    expect([counted, again, seen, code].map(({ isOver }) => isOver)).toEqual([false, false, false, false]);
    await freed(syncs, bench);
    expect((await counted.answer).json<SendingAnswer>().receipts[0]?.state).toBe('stored');
    expect((await again.answer).json<SendingAnswer>().receipts[0]?.state).toBe('known');
    expect([(await seen.answer).statusCode, (await code.answer).statusCode]).toEqual([200, 200]);
  });

  it('tells open pages of a count only when it is there', async () => {
    const syncs = byHand();
    const { bench, cookie } = await open({ sync: syncs.sync });
    const maker = bench.makerCookie();
    await freed(syncs, bench);
    const { port } = await listen(bench);
    const told = await liveOf(port, maker);
    const counted = post(bench, cookie, [entry()]);
    await pause(2500);
    expect(told.text()).not.toContain('seen=1.1.');
    expect(told.text()).not.toMatch(/id: 1\.1\./);
    await freed(syncs, bench);
    await counted;
    await expect.poll(() => told.text(), { timeout: 5000 }).toMatch(/id: 1\.1\./);
    told.close();
  });
});

describe('a disk that fails after something was committed', () => {
  it('is said in words to everybody, claims no count, and takes nothing more; the next start has it once', async () => {
    const syncs = byHand();
    const { bench, file, cookie } = await open({ sync: syncs.sync });
    const maker = bench.makerCookie();
    await freed(syncs, bench);
    const one = entry();
    const counted = post(bench, cookie, [one]);
    await expect.poll(() => syncs.begun).toHaveLength(1);
    syncs.begun[0]!.fail(new Error('EIO: i/o error, fdatasync'));
    const answers = [await counted, await post(bench, cookie, [one]), await post(bench, cookie, [entry()])];
    for (const { statusCode, body } of answers) {
      expect(statusCode).toBe(503);
      expect(body).not.toMatch(/stored|known/);
    }
    expect(answers[0]!.json().problem).toMatch(/did not take what was saved last.*start it again/);
    const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie, accept: 'text/html' } });
    expect([page.statusCode, page.body.includes('did not take what was saved last')]).toEqual([503, true]);
    const code = await makeCode(bench, maker);
    expect([code.statusCode, code.headers.location, code.headers['set-cookie']]).toEqual([503, undefined, undefined]);
    await benches.pop()!.close();

    const anew = await countApp({ file });
    benches.push(anew);
    const sent = await post(anew, cookie, [one]);
    expect(sent.json<SendingAnswer>().receipts[0]?.state).toBe('known');
    expect(anew.planner.log(BUILD)).toHaveLength(1);
  });
});

describe('a database that another process has locked', () => {
  it('answers 503 after a while, and takes the same entry once the lock is gone', async () => {
    const { bench, file, cookie } = await open();
    const other = new Database(file);
    other.exec('begin immediate');
    const one = entry();
    const [locked, beside] = await Promise.all([post(bench, cookie, [one]), post(bench, cookie, [entry()])]);
    expect([locked.statusCode, beside.statusCode]).toEqual([503, 503]);
    other.exec('commit');
    other.close();
    expect((await post(bench, cookie, [one])).json<SendingAnswer>().receipts[0]?.state).toBe('stored');
    expect(bench.done('press')).toBe(1);
  });
});

describe('a request that breaks off', () => {
  it('half written, stores nothing and leaves the server counting', async () => {
    const { bench, cookie } = await open();
    const { port } = await listen(bench);
    const text = JSON.stringify({ entries: [entry()], last: null });
    await raw(port, cookie, text, text.length / 2);
    expect(bench.planner.log(BUILD)).toEqual([]);
    expect((await post(bench, cookie, [entry()])).statusCode).toBe(200);
  });

  it('before its answer, is stored once when it is sent again', async () => {
    const { bench, cookie } = await open();
    const { port } = await listen(bench);
    const one = entry();
    const text = JSON.stringify({ entries: [one], last: null });
    await raw(port, cookie, text, text.length);
    await expect.poll(() => bench.planner.log(BUILD).length).toBe(1);
    expect((await post(bench, cookie, [one])).json<SendingAnswer>().receipts[0]?.state).toBe('known');
    expect(bench.done('press')).toBe(1);
  });
});

describe('a backup while counting', () => {
  it('holds the log as it was at one moment, without a gap', async () => {
    const { bench, cookie, file } = await open();
    const copy = `${file}.copy`;
    let going = true;
    const counting = (async () => {
      while (going) await post(bench, cookie, [entry(), entry()]);
    })();
    await bench.store.backup(copy);
    going = false;
    await counting;
    const kept = openDb(copy).prepare('select seq, id from log order by seq').all() as { seq: number; id: string }[];
    const all = bench.planner.log(BUILD);
    expect(kept).toEqual(all.slice(0, kept.length).map(({ seq, id }) => ({ seq, id })));
    expect(kept.length % 2).toBe(0);
  });
});

describe('the laptop’s clock', () => {
  it('set back by a day, keeps the order of arrival and counts on', async () => {
    const { bench, cookie } = await open();
    await post(bench, cookie, [entry()]);
    bench.clock.nowMs -= 86_400_000;
    const early = entry({ at: new Date(bench.clock.nowMs).toISOString() });
    expect((await post(bench, cookie, [early])).json<SendingAnswer>().receipts[0]).toMatchObject({
      state: 'stored',
      seq: 2,
    });
    expect(bench.done('press')).toBe(2);
  });

  it('is taken up where it stands after a night asleep', async () => {
    const { bench, cookie } = await open();
    bench.clock.nowMs += 9 * 3_600_000;
    const overnight = entry({ at: new Date(bench.clock.nowMs - 3_600_000).toISOString() });
    expect((await post(bench, cookie, [overnight])).json<SendingAnswer>().receipts[0]?.state).toBe('stored');
  });
});

interface HeldSyncs {
  readonly begun: { readonly end: () => void; readonly fail: (error: Error) => void }[];
  readonly sync: () => Promise<void>;
  /** From now on they end by themselves. */
  readonly letGo: () => void;
}

/** Syncs that end when they are told to. */
function byHand(): HeldSyncs {
  const begun: HeldSyncs['begun'] = [];
  let isHeld = true;
  const sync = (): Promise<void> =>
    new Promise((resolve, reject) => {
      if (isHeld) begun.push({ end: resolve, fail: reject });
      else resolve();
    });
  const letGo = (): void => {
    isHeld = false;
    for (const { end } of begun.splice(0)) end();
  };
  const syncs = { begun, sync, letGo };
  held.push(syncs);
  return syncs;
}

/** Ends syncs until everything is on the disk. */
async function freed({ begun }: HeldSyncs, { store }: CountApp): Promise<void> {
  let isOver = false;
  const over = Promise.resolve(store.synced()).then(() => {
    isOver = true;
  });
  while (!isOver) {
    for (const { end } of begun.splice(0)) end();
    await pause(1);
  }
  await over;
}

function watched<T>(answer: PromiseLike<T>): { isOver: boolean; answer: Promise<T> } {
  const state = { isOver: false, answer: Promise.resolve(answer) };
  void state.answer.then(() => {
    state.isOver = true;
  });
  return state;
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

function makeCode(bench: CountApp, cookie: string) {
  const headers = { cookie, accept: 'text/html' };
  return bench.app.inject({ method: 'POST', url: `/b/${BUILD}/helpers/codes`, headers });
}

/** What an open page is told; resolves once it is told anything. */
async function liveOf(port: number, cookie: string): Promise<{ text: () => string; close: () => void }> {
  const ending = new AbortController();
  const headers = { cookie, accept: 'text/event-stream' };
  const response = await fetch(`http://127.0.0.1:${port}/b/${BUILD}/live`, { headers, signal: ending.signal });
  let text = '';
  const reading = async (): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const chunk of response.body!) text += decoder.decode(chunk as Uint8Array, { stream: true });
  };
  void reading().catch(() => undefined);
  await expect.poll(() => text).toMatch(/id: /);
  return { text: () => text, close: () => ending.abort() };
}

let next = 0;

function entry(changes: Record<string, unknown> = {}): { id: string } {
  next += 1;
  return {
    id: `fault-${String(next).padStart(6, '0')}`,
    kind: 'done',
    step: 'press',
    n: 1,
    at: new Date(FAKE_NOW * 60_000).toISOString(),
    ...changes,
  } as { id: string };
}

function post(bench: CountApp, cookie: string, entries: readonly object[]) {
  return bench.app.inject({
    method: 'POST',
    url: `/b/${BUILD}/entries`,
    headers: { cookie, accept: 'application/json' },
    payload: { entries, last: null },
  });
}

async function listen(bench: CountApp): Promise<{ port: number }> {
  await bench.app.listen({ port: 0, host: '127.0.0.1' });
  return bench.app.server.address() as { port: number };
}

/** Writes the first bytes of a request by hand and hangs up. */
function raw(port: number, cookie: string, text: string, bytes: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => {
      const head = [
        `POST /b/${BUILD}/entries HTTP/1.1`,
        'host: localhost',
        `cookie: ${cookie}`,
        'content-type: application/json',
        `content-length: ${text.length}`,
        '',
        '',
      ];
      socket.write(head.join('\r\n') + text.slice(0, bytes), () => {
        setTimeout(() => {
          socket.destroy();
          resolve();
        }, 20);
      });
    });
    socket.on('error', reject);
  });
}
