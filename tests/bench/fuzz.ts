/**
 * `npm run bench -- fuzz [requests] [seed]`: so many fuzzed requests (100,000 where none is named) to every route, as
 * nobody, helper and maker. Prints the statuses, the slowest requests and every request that was answered as a fault of
 * ours.
 */
import { countApp } from '../support/count-app.ts';
import { cookiesOf, fuzzRequest, requestLine, seeded, send, targetOf } from '../support/fuzz-requests.ts';

const REQUESTS = 100_000;
const SLOWEST_SHOWN = 5;
/**
 * Builds that came in meanwhile are dropped with the app that holds them, or the list of builds alone would take the
 * time.
 */
const AN_APP = 5000;

export default async function fuzz([requests, seed]: string[]): Promise<void> {
  const most = Number(requests ?? REQUESTS);
  const draw = seeded(Number(seed ?? 1));
  const statuses = new Map<number, number>();
  const slow: { ms: number; line: string }[] = [];
  let bench = await countApp();
  let cookies = cookiesOf(bench);
  for (let i = 0; i < most; i++) {
    if (i > 0 && i % AN_APP === 0) {
      await bench.close();
      bench = await countApp();
      cookies = cookiesOf(bench);
    }
    const request = fuzzRequest(draw, targetOf(bench));
    bench.clock.nowMs += 1000;
    const begun = performance.now();
    const { statusCode } = await send(bench.app, request, cookies);
    slow.push({ ms: performance.now() - begun, line: requestLine(request) });
    slow.sort((a, b) => b.ms - a.ms).splice(SLOWEST_SHOWN);
    statuses.set(statusCode, (statuses.get(statusCode) ?? 0) + 1);
    if (statusCode >= 500) console.log(`${statusCode} at ${i}: ${requestLine(request)}`);
  }
  await bench.close();
  const counts = [...statuses].sort(([a], [b]) => a - b).map(([status, count]) => `${status}: ${count}`);
  console.log(`${most} requests; ${counts.join(', ')}`);
  for (const { ms, line } of slow) console.log(`${ms.toFixed(0).padStart(6)} ms  ${line.slice(0, 160)}`);
}
