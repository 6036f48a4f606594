import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createPlanner, type RunningPlanner } from '../../server/planner/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { buildApp } from '../../server/web/app.ts';
import { filing, NOW } from '../engine/_filing.ts';
import { quickly, SHORT_PAUSES } from '../planner/at-once.ts';
import { BAD_LOGS } from '../support/bad-logs.ts';

let app: FastifyInstance;
let planner: RunningPlanner;
let now = NOW;

beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]?.message);
  planner = createPlanner({ store: createStore(db.value), now: () => now, background: quickly, pauses: SHORT_PAUSES });
  app = await buildApp({ planner, now: () => now });
});
afterAll(() => app.close());

describe('a bad or thin log is said on the page', () => {
  test.each(BAD_LOGS.map((bad) => [bad.build.id, bad] as const))('%s', async (id, { build, log, sheet, says }) => {
    const made = await planner.create(build, log, 'maker');
    expect(made.ok ? [] : made.problems).toEqual([]);
    const { statusCode, body } = await app.inject(`/b/${id}${sheet}`);
    expect(statusCode).toBe(200);
    expect(body.replaceAll('&quot;', '"')).toContain(says);
  });

  test('a measured pace is shown with its interval, on Countdown and Steps', async () => {
    const told = BAD_LOGS.find(({ build }) => build.id === 'slow')!;
    await planner.create({ ...told.build, id: 'interval' }, told.log, 'maker');
    const [countdown, steps] = await Promise.all(['', '/steps'].map((sheet) => app.inject(`/b/interval${sheet}`)));
    const { minutesPerUnit, low, high } = (await planner.snapshot('interval'))!.forecast.steps[0]!.pace!;
    const tenth = (value: number) => String(Math.round(10 * value) / 10);
    const words = countdown!.body.replaceAll('\u00a0', ' ');
    expect(words).toContain(`${tenth(minutesPerUnit)} min each (${tenth(low)} to ${tenth(high)})`);
    expect(steps!.body).toContain(`${tenth(low)} to ${tenth(high)}`);
    expect(steps!.body).toMatch(/24 in 8\sh, assumed 1\smin each/);
  });

  test('a range out of order is not let in, with the field and what would be right', async () => {
    const made = await planner.create({ ...filing({ low: 9, likely: 3, high: 1 }), id: 'range' }, [], 'maker');
    expect(made).toMatchObject({ ok: false, problems: [{ code: 'range', field: 'steps.file.phases.1.perUnit' }] });
    expect(made.ok ? '' : made.problems[0]!.message).toContain('must rise from low over likely to high');
  });

  test('the hour of the event passes, and the page says so', async () => {
    await planner.create({ ...filing(3), id: 'over', event: '2026-12-10T20:00' }, [], 'maker');
    now = NOW + 180;
    const { statusCode, body } = await app.inject('/b/over');
    now = NOW;
    expect(statusCode).toBe(200);
    expect(body).toContain('The event, Thu 10 Dec');
  });
});
