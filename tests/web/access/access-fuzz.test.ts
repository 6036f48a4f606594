import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NewLogEntry } from '../../../server/model/index.ts';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';

const SEED = 5_112_026;
const STORED = 3;

let bench: CountApp;
let maker: string;

beforeAll(async () => {
  bench = await countApp();
  maker = bench.makerCookie();
  const at = new Date(FAKE_NOW * 60_000).toISOString();
  const entries = Array.from({ length: STORED }, (_, i) => ({
    id: `stored-${i}-x`,
    kind: 'done' as const,
    step: 'press',
    n: 2,
    at,
  }));
  bench.planner.append(BUILD, entries, 'maker');
});
afterAll(() => bench.close());

/** Bodies as people, broken programs and the curious send them. */
const body = fc.oneof(
  fc.record({ type: fc.constant('application/json'), text: fc.json() }),
  fc.record({ type: fc.constant('application/json'), text: fc.string({ maxLength: 200 }) }),
  fc.record({ type: fc.constant('application/x-www-form-urlencoded'), text: fc.webQueryParameters() }),
  fc.record({ type: fc.constant('application/x-www-form-urlencoded'), text: formOf() }),
  fc.record({ type: fc.constant('multipart/form-data; boundary=b'), text: fc.string({ maxLength: 200 }) }),
  fc.record({ type: fc.constant('multipart/form-data; boundary=b'), text: fc.string({ maxLength: 200 }).map(partOf) }),
  fc.record({ type: fc.constantFrom('text/plain', 'application/xml', 'nonsense', ''), text: fc.string() }),
);

/** Values where the routes expect names, numbers and dates. */
const segment = fc.oneof(
  fc.constantFrom(
    BUILD,
    'no-such',
    '..',
    '%00',
    '%2e%2e%2f',
    '2026-13-45',
    '0',
    '-1',
    '1e9',
    'constructor',
    '__proto__',
  ),
  fc.string({ minLength: 1, maxLength: 30 }).map(encodeURIComponent),
);

/** Entries each of which has something that may not be. */
const badEntry = fc.oneof(
  fc.record({ n: fc.oneof(fc.constant(0), fc.integer({ max: -1 }), fc.double({ min: 0.01, max: 0.99 }), fc.string()) }),
  fc.record({ kind: fc.string({ minLength: 1 }).filter((kind) => !/^[a-z-]+$/.test(kind)) }),
  fc.record({
    at: fc.oneof(fc.string({ maxLength: 8 }), fc.constant('2999-01-01T00:00:00Z'), fc.constant('0001-01-01T00:00:00Z')),
  }),
  fc.record({ step: fc.string({ minLength: 1 }).map((text) => `no ${text}`) }),
  fc.record({ set: fc.integer({ min: 5 }) }),
  fc.record({ undoes: fc.stringMatching(/^[a-z]{8,20}$/) }),
  fc.record({ id: fc.constant('stored-0-x'), n: fc.integer({ min: 3, max: 99 }) }),
  fc.record({ surplus: fc.jsonValue() }),
);

describe('malformed requests', () => {
  it('never make a route fail, and never change a count', { timeout: 60_000 }, async () => {
    const routes = bench.routes.filter((route) => !route.endsWith('/live') && !route.endsWith('/leave'));
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...routes),
        segment,
        segment,
        body,
        fc.boolean(),
        async (route, one, two, sent, ours) => {
          const [method, path] = route.split(' ') as ['GET' | 'POST', string];
          const id = ours || path.includes('/entries') ? BUILD : one;
          const url =
            path.replace(':id', id).replace(/:\w+/, two) + (method === 'GET' ? `?${encodeURI(sent.text)}` : '');
          bench.clock.nowMs += 1000;
          const answer = await bench.app.inject({
            method,
            url,
            headers: { cookie: maker, ...(method === 'POST' && sent.type ? { 'content-type': sent.type } : {}) },
            ...(method === 'POST' ? { payload: sent.text } : {}),
          });
          expect(answer.statusCode, `${method} ${url} ${sent.type} ${sent.text}: ${answer.body}`).toBeLessThan(500);
          countsAsBefore();
        },
      ),
      { seed: SEED, numRuns: 600 },
    );
  });

  it('are measured against an entry that is stored when nothing is wrong with it', async () => {
    const fresh = await countApp();
    const [receipt] = fresh.planner.append(BUILD, [otherwiseGood({})() as NewLogEntry], 'maker');
    expect(receipt?.state).toBe('stored');
    await fresh.close();
  });

  it('with entries that may not be, leave the log as it was', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.oneof(badEntry.map(otherwiseGood), fc.jsonValue()), { maxLength: 6 }),
        async (wrongs) => {
          const entries = wrongs.map((wrong) => (typeof wrong === 'function' ? wrong() : wrong));
          bench.clock.nowMs += 1000;
          const answer = await bench.app.inject({
            method: 'POST',
            url: `/b/${BUILD}/entries`,
            headers: { cookie: maker },
            payload: { entries },
          });
          expect(answer.statusCode).toBe(200);
          const states = answer.json<{ receipts: { state: string }[] }>().receipts.map((receipt) => receipt.state);
          expect(states).toEqual(entries.map(() => 'refused'));
          countsAsBefore();
        },
      ),
      { seed: SEED, numRuns: 200 },
    );
  });
});

let made = 0;

/** An entry that would be stored were it not for what is wrong with it. */
function otherwiseGood(wrong: object): () => object {
  return () => {
    made += 1;
    return {
      id: `fuzzed-${made}-x`,
      kind: 'done',
      step: 'press',
      n: 1,
      at: new Date(FAKE_NOW * 60_000).toISOString(),
      ...wrong,
    };
  };
}

function countsAsBefore(): void {
  expect(bench.planner.log(BUILD)).toHaveLength(STORED);
  expect(bench.done('press')).toBe(2 * STORED);
}

function partOf(text: string): string {
  return `--b\r\ncontent-disposition: form-data; name="file"; filename="a.json"\r\n\r\n${text}\r\n--b--\r\n`;
}

/** Forms with the names that ours have, and anything in them. */
function formOf(): fc.Arbitrary<string> {
  const names = [
    'list',
    'key',
    'revision',
    'edit',
    'id',
    'name',
    'zone',
    'event',
    'light',
    'back',
    'delete',
    'act',
    'code',
    'key',
    'to',
  ];
  const value = fc.oneof(
    fc.string({ maxLength: 20 }),
    fc.constantFrom('steps', 'press', '1', '-1', 'NaN', 'parts', 'build'),
  );
  return fc
    .array(fc.tuple(fc.constantFrom(...names), value), { maxLength: 6 })
    .map((pairs) => new URLSearchParams(pairs.map(([name, text]): [string, string] => [name, text])).toString());
}
