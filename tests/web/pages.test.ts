import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HX_NAMES } from '../../views/hx.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { minutes } from '../support/fake-forecast.ts';

const SHEETS = [
  '',
  '/steps',
  '/design',
  '/hands',
  '/contents',
  '/dates',
  '/dates/2026-11-26',
  '/history',
  '/ledger',
  '/burn-down',
  '/balance',
  '/waits',
  '/steps/press',
];
const FORMS = [
  '/steps?open=steps/print-cranks',
  '/steps?open=feeds/0',
  '/steps?open=gates/soak',
  '/steps?open=decisions/new',
  '/design?open=parameters/crank_minutes',
  '/design?open=parts/new',
  '/hands?open=people/maker',
  '/hands?open=machines/printer',
  '/hands?open=suppliers/saw',
  '/contents?open=build',
];

let fake: FakeApp;
beforeAll(async () => {
  fake = await fakeApp();
});
afterAll(() => fake.close());

const get = (path: string, headers: Record<string, string> = {}) => fake.app.inject({ url: path, headers });
const drawAnew = (note: string) =>
  editBy(fake.planner, 'tide-wall', (build) => {
    build.note = note;
  });
const text = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

describe.each([...SHEETS, ...FORMS].map((path) => `/b/tide-wall${path}`))('%s', (path) => {
  it('is a whole page, and its sheet alone where a page is open', async () => {
    const page = await get(path);
    expect(page.statusCode).toBe(200);
    expect(page.body).toMatch(/^<!doctype html>/);
    const sheet = await get(path, { 'hx-request': 'true', 'hx-request-type': 'partial' });
    expect(sheet.body).toMatch(/^<main id="sheet"/);
    expect(page.body).toContain(sheet.body);
  });

  it('holds no script, style or handler inside, and only the htmx names we use', async () => {
    const { body } = await get(path);
    expect(body).not.toMatch(/<style|\sstyle=|\son\w+=/);
    expect(body).not.toMatch(/<script(?![^>]*\ssrc=)/);
    const names = new Set([...body.matchAll(/\s(hx-[\w:-]+)=/g)].map((match) => match[1]!));
    expect([...names].filter((name) => !HX_NAMES.includes(name))).toEqual([]);
  });

  it('carries the rule, with all of it said in words', async () => {
    const { body } = await get(path);
    expect(text(body)).toContain(
      'ready Thu 3 Dec 13:40; room 1 day 4 h; event Sat 5 Dec 19:00; load-in Sat 5 Dec 08:00; ready-by Fri 4 Dec 18:00.',
    );
  });
});

describe('Countdown', () => {
  it('says when, with how much room, what is tight and at what pace', async () => {
    const words = text((await get('/b/tide-wall')).body);
    expect(words).toContain('82 % likely by the ready-by, Fri 4 Dec 18:00 room 1 day 4 h before the ready-by');
    expect(words).toContain('97 % installed before the event as planned Thu 3 Dec 13:40 even chance Thu 3 Dec');
    expect(words).toContain('80 in 100 Fri 4 Dec 01:40 95 in 100 Sat 5 Dec 01:40 after the ready-by');
    expect(words).toMatch(
      /What is tight paint fish, three coats room 1 day 4 h 48 × fish left, 28 done, 11 an hour, needs 14/,
    );
  });

  it('says what is due, before when, and what waits for it', async () => {
    const words = text((await get('/b/tide-wall')).body);
    expect(words).toContain('Send out 50 × fish before tomorrow 14:00 from the saw yard, here Tue 1 Dec 10:00');
    expect(words).toContain('Which blue? Decide before tomorrow 09:00 holds up paint fish, three coats');
  });

  it('says by how much the hands fall short, and that it is late', async () => {
    fake.tune({ lateMinutes: 900 });
    await drawAnew('late');
    const words = text((await get('/b/tide-wall')).body);
    fake.tune({});
    await drawAnew('in time');
    expect(words).toContain('15 h too late for the ready-by');
    expect(words).toContain('short by 15 h');
    expect(words).toContain('14 h short: not enough hands');
  });

  it('tells no chance where something is left out of the plan', async () => {
    fake.tune({ complete: false });
    await drawAnew('with something left out');
    const words = text((await get('/b/tide-wall')).body);
    fake.tune({});
    await drawAnew('in time');
    expect(words).toContain('could not be worked out, so there is no percentage');
    expect(words).not.toContain('likely by');
  });

  it('says beside a ready-by that is kept that the work on site ends after the event', async () => {
    fake.tune({ siteFinish: minutes('2026-12-07T20:54Z') });
    await drawAnew('late on site');
    const words = text((await get('/b/tide-wall')).body);
    fake.tune({});
    await drawAnew('in time');
    expect(words).toContain('before the ready-by but on site until Mon 7 Dec 21:54, 2 days 3 h after the event');
  });

  it('says of an order whose last moment has passed that it has, on the Countdown and on Dates', async () => {
    fake.tune({ missedOrder: true });
    await drawAnew('missed');
    const [countdown, dates] = await Promise.all(
      ['', '/dates'].map(async (path) => text((await get(`/b/tide-wall${path}`)).body)),
    );
    fake.tune({});
    await drawAnew('in time');
    expect(countdown).toContain('Order 200 × screw M3 x 8 before yesterday 10:12 last moment missed');
    const book = dates!.slice(dates!.indexOf('Missed'));
    expect(book).toMatch(/^Missed yesterday 10:12 order 200 × screw M3 x 8 from the ironmonger, here Wed 2 Dec 10:00/);
  });

  it('shows where each number comes from unless it is measured', async () => {
    const { body } = await get('/b/tide-wall/steps');
    const ticket = (id: string) =>
      text(body.split(`id="steps-${id}"`)[1]!.split('<article')[1]!.split('</article>')[0]!);
    expect(ticket('print-cranks')).toContain('1.5 min guessed');
    expect(ticket('mount-fish')).toContain('8.6 min left');
    expect(ticket('press')).toContain('no origin given');
  });
});

describe('what the browser is told', () => {
  it('allows nothing from elsewhere, nothing inline, no framing, and no lasting HTTPS on plain HTTP', async () => {
    const { headers } = await get('/b/tide-wall');
    const policy = String(headers['content-security-policy']);
    for (const rule of [
      "default-src 'none'",
      "script-src 'self'",
      "style-src 'self'",
      "form-action 'self'",
      "frame-ancestors 'none'",
    ]) {
      expect(policy).toContain(rule);
    }
    expect(policy).not.toContain('unsafe');
    expect(headers['strict-transport-security']).toBeUndefined();
  });

  it('finds everything a page asks for on this machine', async () => {
    const { body } = await get('/b/tide-wall');
    const asked = [...body.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map((match) => match[1]!);
    for (const name of ['mark.svg', 'sheet.css', 'cut-off.js', 'drafts.js', 'htmx.min.js', 'hx-sse.min.js'])
      expect(asked).toContain(`/assets/${name}`);
    for (const path of asked) expect([path, (await get(path)).statusCode]).toEqual([path, 200]);
    expect(body).not.toMatch(/(?:href|src)="https?:/);
  });

  it('is served no source or settings by way of the assets', async () => {
    for (const name of [
      'tsconfig.json',
      'outbox.ts',
      '../app.ts',
      '%2e%2e/package.json',
      'ext/hx-ws.min.js',
      'htmx.js',
    ]) {
      expect([name, (await get(`/assets/${name}`)).statusCode]).toEqual([name, 404]);
    }
  });

  it('turns to night shift by a cookie and goes back only within this server', async () => {
    const set = await fake.app.inject({
      method: 'POST',
      url: '/light',
      payload: { light: 'night', back: '/b/tide-wall' },
    });
    expect(set.headers.location).toBe('/b/tide-wall');
    const { body } = await get('/b/tide-wall', { cookie: 'light=night' });
    expect(body).toContain('<html lang="en" data-sheet="night">');
    for (const back of ['//elsewhere', 'https://elsewhere', '/\\elsewhere', undefined]) {
      const away = await fake.app.inject({ method: 'POST', url: '/light', payload: { light: 'night', back } });
      expect(away.headers.location).toBe('/');
    }
  });
});

describe('data', () => {
  it('gives the forecast and the build file as JSON', async () => {
    const forecast = await get('/b/tide-wall/forecast.json');
    expect(forecast.json().build.id).toBe('tide-wall');
    const file = await get('/b/tide-wall/file.json');
    expect(file.json()).toMatchObject({ format: 'daywright-build', version: 1, build: { id: 'tide-wall' }, log: [] });
    expect(file.headers['content-disposition']).toContain('tide-wall.json');
  });
});

describe('what is not there', () => {
  it.each([
    '/b/nothing',
    '/b/nothing/steps',
    '/b/nothing/live',
    '/b/tide-wall/dates/2031-01-01',
    '/b/tide-wall/nowhere',
  ])('answers %s with 404 and a sentence', async (path) => {
    const answer = await get(path);
    expect(answer.statusCode).toBe(404);
    expect(answer.body).toContain('Nothing here');
  });

  it.each(['steps/nothing', 'nothing/new', 'people/maker', 'feeds/7', 'feeds/x', 'steps', '__proto__/x'])(
    'refuses to open %s on Steps',
    async (open) => {
      expect((await get(`/b/tide-wall/steps?open=${open}`)).statusCode).toBe(404);
    },
  );

  it('answers data with data', async () => {
    const answer = await get('/b/nothing/forecast.json');
    expect(answer.statusCode).toBe(404);
    expect(answer.json().problem).toContain('There is no build “nothing” here');
  });
});

describe('an address with a slash at its end', () => {
  it('leads to the page without it, what is asked for with it', async () => {
    const answer = await get('/b/tide-wall/?open=build');
    expect([answer.statusCode, answer.headers.location]).toEqual([308, '/b/tide-wall?open=build']);
    expect((await get('/b/tide-wall/steps//')).headers.location).toBe('/b/tide-wall/steps');
  });

  it('is no page where there is none without it either', async () => {
    expect((await get('/no-such-page/')).headers.location).toBe('/no-such-page');
    expect((await get('/no-such-page')).statusCode).toBe(404);
  });
});
