import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bareHeaders } from '../../server/web/headers.ts';
import { type CountApp, countApp } from '../support/count-app.ts';
import {
  cookiesOf,
  type FuzzTarget,
  fuzzRequest,
  requestLine,
  seeded,
  send,
  targetOf,
  type Visitor,
} from '../support/fuzz-requests.ts';

const SEED = 29_112_026;
const REQUESTS = 5000;

let bench: CountApp;
let cookies: Readonly<Record<Visitor, string>>;
let target: FuzzTarget;

beforeAll(async () => {
  bench = await countApp();
  cookies = cookiesOf(bench);
  target = targetOf(bench);
});
afterAll(() => bench.close());

describe('a fuzzed request', () => {
  it('never makes a route fail, whoever sends it, and always gets the headers', { timeout: 120_000 }, async () => {
    const draw = seeded(SEED);
    const statuses = new Map<number, number>();
    for (let i = 0; i < REQUESTS; i++) {
      const request = fuzzRequest(draw, target);
      bench.clock.nowMs += 1000;
      const answer = await send(bench.app, request, cookies);
      statuses.set(answer.statusCode, (statuses.get(answer.statusCode) ?? 0) + 1);
      expect(answer.statusCode, `${i} ${requestLine(request)}: ${answer.body}`).toBeLessThan(500);
      expect(answer.headers, `${i} ${requestLine(request)}`).toMatchObject(bareHeaders(false));
    }
    // Without requests that are taken, and those of each refusal, the fuzz would say little.
    for (const status of [200, 303, 400, 401, 403, 404, 413, 414, 415, 422])
      expect(statuses.get(status) ?? 0, String(status)).toBeGreaterThan(3);
  });
});
