import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { wallClock } from '../../server/web/wall-clock.ts';
import type { CountState } from '../../views/client/outbox/count-wire.ts';
import { CountPage } from '../../views/count/count.tsx';
import { renderPage } from '../../views/render.ts';
import { CountdownPage } from '../../views/sheets/countdown.tsx';
import type { BuildPage } from '../../views/types.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { fakeBuild } from '../support/fake-build.ts';
import { FAKE_NOW, fakeForecast } from '../support/fake-forecast.ts';

const SHEETS = [
  '',
  '/burn-down',
  '/steps',
  '/steps?open=steps/press',
  '/dates',
  '/dates/2026-11-26',
  '/design',
  '/hands',
  '/history',
  '/ledger',
  '/contents',
];
const OLD =
  'The forecast failed (today 10:12). It tries again at the next change, and every 15 minutes. These numbers are out of date: from today 10:12, before the last 2 entries and the last edit.';

const ASKED_AS = [{}, { 'hx-request': 'true', 'hx-request-type': 'partial' }];

let fake: FakeApp;
const answers = new Map<string, { readonly statusCode: number; readonly body: string }>();

beforeAll(async () => {
  fake = await fakeApp();
  fake.planner.latest('tide-wall');
  const { store } = fake;
  const { key } = store.builds.ground('tide-wall')!;
  fake.fail(true);
  store.builds.save(
    key,
    { ...fakeBuild(), note: 'edited' },
    { savedAt: '2026-11-25T09:12:00Z', who: 'maker', cause: { code: 'edit' } },
  );
  const at = new Date(FAKE_NOW * 60_000).toISOString();
  const tap = (id: string) => ({ id, kind: 'done' as const, step: 'press', n: 1, at });
  store.log.append(key, [tap('tap-00001'), tap('tap-00002')], at);
  // Each waits a moment for the forecast that does not come: all of them at once.
  const asked = SHEETS.flatMap((path) =>
    ASKED_AS.map(async (headers) => {
      const { statusCode, body } = await fake.app.inject({ url: `/b/tide-wall${path}`, headers });
      answers.set(path + JSON.stringify(headers), { statusCode, body });
    }),
  );
  await Promise.all(asked);
});
afterAll(() => fake.close());

const words = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

describe.each(SHEETS)('%s', (path) => {
  it.each(ASKED_AS)(
    'says of numbers that could not be renewed that they are old, of when and of which state: %j',
    (headers) => {
      const { statusCode, body } = answers.get(path + JSON.stringify(headers))!;
      expect(statusCode).toBe(200);
      expect(body).toMatch(/<p class="freshness threat" role="status">/);
      expect(words(body)).toContain(OLD);
      expect(words(body)).toMatch(/Edit 1 Log 0 entries Computed today 10:12, not updated/);
    },
  );
});

describe('the mark', () => {
  const page = (changes: Partial<BuildPage>): BuildPage => ({
    build: fakeBuild(),
    revision: 1,
    forecast: fakeForecast(),
    entries: 4,
    computedAt: FAKE_NOW,
    stale: false,
    seen: '1',
    clock: wallClock('Europe/Amsterdam'),
    light: null,
    ...changes,
  });
  const state = {
    build: 'tide-wall',
    who: 'Ana',
    setName: 'panel',
    steps: [],
    people: [],
    machines: [],
    mine: [],
  } as unknown as CountState;
  const count = (changes: Partial<BuildPage>) =>
    words(renderPage(CountPage({ page: page(changes), state, helper: true })));

  it('stands on the Count too, while a newer forecast is on its way', () => {
    const old = count({ stale: true, behind: { edits: 0, entries: 1 } });
    expect(old).toContain(
      'These numbers are out of date: from today 10:12, before the last entry. New ones are on the way.',
    );
    expect(old).toContain('Computed today 10:12, updating…');
  });

  it('says when a first answer has not been bettered because the search failed', () => {
    expect(count({ failedAt: FAKE_NOW })).toContain(
      'A quick first answer; Daywright is still looking for a better sequence.',
    );
  });

  it('says of an old chance whether a new one is on its way', () => {
    const forecast = { ...fakeForecast(), riskFrom: { revision: 1, logSeq: 3, computedAt: FAKE_NOW - 10 } };
    const countdown = (changes: Partial<BuildPage>) =>
      words(renderPage(CountdownPage({ page: page({ forecast, ...changes }) })));
    expect(countdown({})).toContain('from today 10:02, before the last entry: new ones are on the way.');
    expect(countdown({ failedAt: FAKE_NOW })).toContain('before the last entry: new ones could not be worked out.');
  });

  it('is not there when all is well', () => {
    expect(count({})).not.toMatch(/old|failed|anew|renewed/);
  });
});

it('a mended forecast takes the mark away', async () => {
  fake.fail(false);
  await fake.app.inject({ url: '/b/tide-wall' });
  await fake.planner.settled();
  const { body } = await fake.app.inject({ url: '/b/tide-wall' });
  expect(body).not.toContain('class="freshness');
  expect(words(body)).toContain('Edit 2 Log 2 entries Computed today 10:12');
});
