/** Day sheets: for one person, of a day that has passed, and the whole plan on paper. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LogEntry } from '../../../server/model/index.ts';
import { buildApp } from '../../../server/web/app.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';

let fake: FakeApp;
beforeAll(async () => {
  fake = await fakeApp();
  const at = (minutesAgo: number) => new Date((FAKE_NOW - minutesAgo) * 60_000).toISOString();
  const told = [
    { id: 'yesterday-1', kind: 'done' as const, step: 'paint-fish', n: 5, at: at(1500) },
    { id: 'yesterday-2', kind: 'done' as const, step: 'paint-fish', n: 7, at: at(1400) },
    { id: 'yesterday-3', kind: 'scrapped' as const, step: 'paint-fish', n: 1, at: at(1390) },
  ];
  expect(fake.planner.append('tide-wall', told, 'maker').every(({ state }) => state === 'stored')).toBe(true);
  await fake.planner.settled();
});
afterAll(() => fake.close());

async function get(path: string): Promise<{ status: number; said: string; html: string }> {
  const { statusCode, body } = await fake.app.inject({ url: `/b/tide-wall${path}`, headers: { accept: 'text/html' } });
  return {
    status: statusCode,
    html: body,
    said: body.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0\u202f]+/g, ' '),
  };
}

describe('a day’s sheet', () => {
  it('is for one person without the work of others, and keeps to that person from day to day', async () => {
    const { html, said } = await get('/dates/2026-11-27?person=helper');
    expect(said).toMatch(/Day sheet, Fri 27 Nov: Helper/);
    expect(html).toContain('/dates/2026-11-26?person=helper');
    expect(html).toContain('/dates/2026-11-28?person=helper');
    expect(html).not.toContain('class="day-table"');
  });

  it('says who there is where nobody of that name is', async () => {
    const { status, said } = await get('/dates/2026-11-27?person=nobody-such');
    expect(status).toBe(404);
    expect(said).toContain('Nobody in this build is called “nobody-such”. Its people are maker, helper.');
  });

  it('that has passed says so, with what was told on it', async () => {
    const { status, said } = await get('/dates/2026-11-24');
    expect(status).toBe(200);
    expect(said).toContain('This day has passed.');
    expect(said).toMatch(/paint fish, three coats: 12 done/);
    expect(said).toMatch(/paint fish, three coats: 1 scrapped/);
    expect((await get('/dates/2026-11-20')).said).toContain('No entries on this day.');
  });

  it.each(['2026-11-02', '2026-02-31', '2027-05-01', 'tomorrow'])('is not there for %s', async (date) => {
    expect((await get(`/dates/${date}`)).status).toBe(404);
  });

  it('that has passed is there however long the log is', async () => {
    const at = new Date((FAKE_NOW - 1500) * 60_000).toISOString();
    const log = Array.from({ length: 150_000 }, (_, i): LogEntry => {
      return { id: `entry-${i}`, kind: 'done', step: 'paint-fish', n: 1, at };
    });
    const app = await buildApp({ planner: { ...fake.planner, log: () => log }, now: () => FAKE_NOW });
    const { statusCode, body } = await app.inject({ url: '/b/tide-wall/dates/2026-11-24' });
    expect(statusCode).toBe(200);
    expect(body).toMatch(/150.000 done/);
    await app.close();
  });

  it('of today is one tap from Contents', async () => {
    expect((await get('/contents')).html).toContain('/b/tide-wall/dates/2026-11-25"');
  });
});

describe('the whole plan on paper', () => {
  it('has last moments, orders and every day on which anything is planned', async () => {
    const { html, said } = await get('/paper');
    const { days } = fake.planner.latest('tide-wall')!.forecast;
    const busy = days.filter(({ people, machines }) =>
      [...people, ...machines].some(({ spells }) => spells.length > 0),
    );
    const sheets = html.match(/class="day-paper"/g)!.length;
    expect(sheets).toBeGreaterThanOrEqual(busy.length);
    expect(said).toContain('send out 50 × fish');
    expect(said).toMatch(/1 pack of 2\.5 L oil/);
    expect((await get('/paper?person=helper')).html.match(/class="day-paper"/g)!.length).toBeLessThanOrEqual(sheets);
  });
});
