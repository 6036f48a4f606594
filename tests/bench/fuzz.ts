/**
 * `npm run bench -- fuzz [requests] [seed]`: so many fuzzed requests (100,000 where none is named) to every route, as
 * nobody, helper and maker. Prints the statuses, how long requests and a well-behaved client beside them waited, the
 * slowest requests and every request that was answered as a fault of ours; ends with code 1 where there was any.
 */
import { setTimeout } from 'node:timers/promises';
import { type CountApp, countApp } from '../support/count-app.ts';
import { cookiesOf, fuzzRequest, requestLine, seeded, send, targetOf } from '../support/fuzz-requests.ts';

const REQUESTS = 100_000;
const SLOWEST_SHOWN = 5;
/**
 * Builds that came in meanwhile are dropped with the app that holds them, or the list of builds alone would take the
 * time.
 */
const AN_APP = 5000;
/** How often the client beside asks for a small page. */
const ASKS_EVERY_MS = 50;

export default async function fuzz([requests, seed]: string[]): Promise<void> {
  const most = Number(requests ?? REQUESTS);
  const draw = seeded(Number(seed ?? 1));
  const statuses = new Map<number, number>();
  const took: number[] = [];
  const slow: { ms: number; line: string }[] = [];
  let bench = await countApp();
  let cookies = cookiesOf(bench);
  const waits: number[] = [];
  let beside = clientBeside(bench, waits);
  for (let i = 0; i < most; i++) {
    if (i > 0 && i % AN_APP === 0) {
      await beside.end();
      await bench.close();
      bench = await countApp();
      cookies = cookiesOf(bench);
      beside = clientBeside(bench, waits);
    }
    const request = fuzzRequest(draw, targetOf(bench));
    bench.clock.nowMs += 1000;
    const begun = performance.now();
    const { statusCode } = await send(bench.app, request, cookies);
    took.push(performance.now() - begun);
    slow.push({ ms: took.at(-1)!, line: requestLine(request) });
    slow.sort((a, b) => b.ms - a.ms).splice(SLOWEST_SHOWN);
    statuses.set(statusCode, (statuses.get(statusCode) ?? 0) + 1);
    if (statusCode >= 500) {
      console.log(`${statusCode} at ${i}: ${requestLine(request)}`);
      process.exitCode = 1;
    }
  }
  await beside.end();
  await bench.close();
  const counts = [...statuses].sort(([a], [b]) => a - b).map(([status, count]) => `${status}: ${count}`);
  console.log(`${most} requests; ${counts.join(', ')}`);
  console.log(`a request took ${spreadOf(took)}`);
  console.log(`the client beside waited ${spreadOf(waits)} (${waits.length} times)`);
  for (const { ms, line } of slow) console.log(`${ms.toFixed(0).padStart(6)} ms  ${line.slice(0, 160)}`);
}

/**
 * Somebody who asks for a small page again and again. A wait counts from when the page was due to be asked for, so that
 * a thread that was held counts too.
 */
function clientBeside({ app }: CountApp, waits: number[]): { readonly end: () => Promise<void> } {
  let ended = false;
  const asking = (async () => {
    for (let due = performance.now() + ASKS_EVERY_MS; !ended; due = Math.max(due + ASKS_EVERY_MS, performance.now())) {
      await setTimeout(due - performance.now());
      await app.inject({ method: 'GET', url: '/join' });
      waits.push(performance.now() - due);
    }
  })();
  return {
    end: () => {
      ended = true;
      return asking;
    },
  };
}

function spreadOf(waits: readonly number[]): string {
  const sorted = [...waits].sort((a, b) => a - b);
  const at = (share: number): string => `${(sorted[Math.floor(share * (sorted.length - 1))] ?? 0).toFixed(0)} ms`;
  return `${at(0.5)} at the median, ${at(0.99)} at p99, ${at(1)} at most`;
}
