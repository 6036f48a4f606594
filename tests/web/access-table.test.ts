import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BUILD, type CountApp, countApp, OTHER_BUILD } from '../support/count-app.ts';

/**
 * For each route: the status for nobody, a helper of the build, a helper of another build, the maker, a program with a
 * key of the build; bodies are empty.
 */
const TABLE: Readonly<Record<string, readonly [number, number, number, number, number]>> = {
  'GET /enter': [200, 200, 200, 200, 200],
  'POST /enter': [401, 401, 401, 401, 401],
  'POST /leave': [303, 303, 303, 303, 303],
  'GET /join': [200, 200, 200, 200, 200],
  'POST /join': [422, 422, 422, 422, 422],
  'GET /certificate': [404, 404, 404, 404, 404],

  'GET /b/:id/count': [401, 200, 403, 200, 403],
  'POST /b/:id/count': [401, 422, 403, 422, 403],
  'GET /b/:id/count/frame': [401, 200, 403, 200, 403],
  'GET /b/:id/count/now': [401, 200, 403, 200, 403],
  'GET /b/:id/count/state': [401, 410, 403, 410, 403],
  'GET /b/:id/count.webmanifest': [401, 200, 403, 200, 403],
  'GET /openapi.json': [200, 200, 200, 200, 200],
  'POST /b/:id/entries': [401, 400, 403, 400, 400],
  'GET /b/:id/steps.json': [401, 200, 403, 200, 200],

  'GET /calendar/:token': [404, 404, 404, 404, 404],
  'GET /b/:id/calendar': [401, 403, 403, 200, 403],
  'POST /b/:id/calendar': [401, 403, 403, 200, 403],
  'GET /b/:id/calendar.ics': [401, 403, 403, 200, 403],
  'GET /b/:id/keys': [401, 403, 403, 200, 403],
  'POST /b/:id/keys': [401, 403, 403, 422, 403],
  'GET /b/:id/helpers': [401, 403, 403, 200, 403],
  'POST /b/:id/helpers/codes': [401, 403, 403, 200, 403],
  'POST /b/:id/helpers/codes/end': [401, 403, 403, 303, 403],
  'POST /b/:id/helpers/:helper/end': [401, 403, 403, 404, 403],
  'GET /': [401, 403, 403, 200, 403],
  'POST /builds': [401, 403, 403, 422, 403],
  'POST /builds/file': [401, 403, 403, 422, 403],
  'POST /light': [401, 403, 403, 303, 403],
  'POST /language': [401, 403, 403, 303, 403],
  'GET /b/:id': [401, 403, 403, 200, 403],
  'GET /b/:id/now': [401, 403, 403, 200, 403],
  'GET /b/:id/dates': [401, 403, 403, 200, 403],
  'GET /b/:id/dates/:date': [401, 403, 403, 200, 403],
  'GET /b/:id/forecast.json': [401, 403, 403, 200, 403],
  'GET /b/:id/file.json': [401, 403, 403, 200, 403],
  'GET /b/:id/history': [401, 403, 403, 200, 403],
  'POST /b/:id/history': [401, 403, 403, 422, 403],
  'POST /b/:id/file': [401, 403, 403, 422, 403],
  'POST /b/:id/remove': [401, 403, 403, 409, 403],
  'POST /builds/back': [401, 403, 403, 422, 403],
  'POST /builds/example': [401, 403, 403, 422, 403],
  'GET /b/:id/lines': [401, 403, 403, 200, 403],
  'POST /b/:id/lines': [401, 403, 403, 200, 403],
  'GET /b/:id/options': [401, 403, 403, 200, 403],
  'POST /b/:id/options': [401, 403, 403, 422, 403],
  'GET /b/:id/wrong': [401, 200, 403, 200, 403],
  'POST /b/:id/wrong': [401, 422, 403, 422, 403],
  'GET /b/:id/orders': [401, 403, 403, 200, 403],
  'POST /b/:id/orders': [401, 403, 403, 422, 403],
  'GET /b/:id/tables': [401, 403, 403, 200, 403],
  'GET /b/:id/tables/:table': [401, 403, 403, 200, 403],
  'POST /b/:id/tables': [401, 403, 403, 422, 403],
  'POST /b/:id/tables/file': [401, 403, 403, 422, 403],
  'GET /b/:id/paper': [401, 403, 403, 200, 403],
  'GET /b/:id/money': [401, 403, 403, 200, 403],
  'POST /b/:id/close': [401, 403, 403, 423, 403],
  'POST /b/:id/reopen': [401, 403, 403, 303, 403],
  'GET /b/:id/after': [401, 403, 403, 200, 403],
  'GET /b/:id/after.csv': [401, 403, 403, 200, 403],
  'POST /b/:id/after': [401, 403, 403, 422, 403],
  'GET /b/:id/show': [401, 403, 403, 200, 403],
  'POST /b/:id/show': [401, 403, 403, 404, 403],
  'POST /b/:id/show/packed': [401, 403, 403, 422, 403],
  'POST /b/:id/show/take': [401, 403, 403, 422, 403],
  'GET /b/:id/levers': [401, 403, 403, 200, 403],
  'POST /b/:id/levers': [401, 403, 403, 422, 403],
  'GET /b/:id/levers.json': [401, 403, 403, 200, 403],
  'GET /b/:id/design/formulas': [401, 403, 403, 200, 403],
  'GET /b/:id/ways': [401, 403, 403, 200, 403],
  'POST /b/:id/ways': [401, 403, 403, 422, 403],
  'GET /b/:id/ways.json': [401, 403, 403, 200, 403],
  'GET /b/:id/ledger': [401, 403, 403, 200, 403],
  'GET /b/:id/live': [401, 403, 403, 200, 403],
  'GET /b/:id/at-work': [401, 403, 403, 200, 403],
  'POST /b/:id/at-work': [401, 403, 403, 422, 403],
  'GET /b/:id/design': [401, 403, 403, 200, 403],
  'POST /b/:id/design': [401, 403, 403, 404, 403],
  'GET /b/:id/steps': [401, 403, 403, 200, 403],
  'POST /b/:id/steps': [401, 403, 403, 404, 403],
  'GET /b/:id/hands': [401, 403, 403, 200, 403],
  'POST /b/:id/hands': [401, 403, 403, 404, 403],
  'GET /b/:id/burn-down': [401, 403, 403, 200, 403],
  'GET /b/:id/balance': [401, 403, 403, 200, 403],
  'GET /b/:id/waits': [401, 403, 403, 200, 403],
  'GET /b/:id/steps/:step': [401, 403, 403, 200, 403],
  'GET /b/:id/contents': [401, 403, 403, 200, 403],
  'POST /b/:id/contents': [401, 403, 403, 404, 403],
};
const VISITORS = ['nobody', 'a helper', 'a helper of another build', 'the maker', 'a program'] as const;

let bench: CountApp;
let address: string;

beforeAll(async () => {
  bench = await countApp();
  address = await bench.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(() => bench.close());

describe('the access table', () => {
  it('has a line for every route there is and for no other', () => {
    expect([...bench.routes].sort()).toEqual(Object.keys(TABLE).sort());
  });

  for (const [route, statuses] of Object.entries(TABLE)) {
    it(`answers ${route} as the table says`, async () => {
      const got: number[] = [];
      for (const visitor of VISITORS) got.push(await statusOf(route, visitor));
      expect(got).toEqual(statuses);
    });
  }

  it('gives styles and scripts to anybody, and nothing else under that path', async () => {
    const paths = [
      'tokens.css',
      'count.js',
      'service-worker.js',
      'count.ts',
      'tsconfig.json',
      '..%2f..%2fpackage.json',
    ];
    const got = await Promise.all(paths.map((path) => ask('GET', `/assets/${path}`, {})));
    expect(got.map((answer) => answer.status)).toEqual([200, 200, 200, 404, 404, 404]);
  });

  it('lets a key in to its own build alone, and not at all once it has been ended', async () => {
    const own = { authorization: `Bearer ${bench.key('scale on the bench')}` };
    const other = { authorization: `Bearer ${bench.key('scale elsewhere', OTHER_BUILD)}` };
    const steps = `/b/${BUILD}/steps.json`;
    const statuses = async (shown: Record<string, string>) =>
      Promise.all([ask('GET', steps, shown), ask('POST', `/b/${BUILD}/entries`, shown)]).then((all) =>
        all.map(({ status }) => status),
      );
    expect(await statuses(own)).toEqual([200, 400]);
    expect(await statuses(other)).toEqual([403, 403]);
    const { number } = bench.store.keys.of(BUILD).find(({ name }) => name === 'scale on the bench')!;
    expect(bench.store.keys.end(BUILD, number, bench.clock.nowMs)).toBe(true);
    expect(await statuses(own)).toEqual([401, 401]);
    expect(await statuses({ ...own, cookie: bench.makerCookie() })).toEqual([401, 401]);
    expect(await statuses({ authorization: 'Bearer no-such-key' })).toEqual([401, 401]);
    expect(await statuses({ authorization: 'Bearer' })).toEqual([401, 401]);
  });

  it('lets nobody but the maker learn whether a build is there', async () => {
    const shown = { cookie: bench.helperCookie('Curious') };
    const there = await ask('GET', `/b/${OTHER_BUILD}/count`, shown);
    const gone = await ask('GET', '/b/no-such-wall/count', shown);
    expect([there.status, gone.status]).toEqual([403, 403]);
    expect(await there.text()).toBe(await gone.text());
  });
});

let number = 0;

async function statusOf(route: string, visitor: (typeof VISITORS)[number]): Promise<number> {
  number += 1;
  const shown: Record<string, string> = {
    nobody: () => ({}),
    'a helper': () => ({ cookie: bench.helperCookie(`Ana ${number}`) }),
    'a helper of another build': () => ({ cookie: bench.helperCookie(`Bo ${number}`, OTHER_BUILD) }),
    'the maker': () => ({ cookie: bench.makerCookie() }),
    'a program': () => ({ authorization: `Bearer ${bench.key(`scale ${number}`)}` }),
  }[visitor]();
  const [method, path] = route.split(' ') as [string, string];
  const response = await ask(method, pathOf(path), shown);
  await response.body?.cancel();
  return response.status;
}

function pathOf(path: string): string {
  return path
    .replace(':id', BUILD)
    .replace(':date', '2026-11-26')
    .replace(':step', 'press')
    .replace(':table', 'parts.csv')
    .replace(':token', 'no-such-token.ics')
    .replace(':helper', 'nobody-such');
}

/**
 * Each request from an address of its own would be needed to stay under the limits on trying codes; the clock moves
 * instead.
 */
function ask(method: string, path: string, shown: Record<string, string>): Promise<Response> {
  bench.clock.nowMs += 60_000;
  // A page says what it has seen; the stream answers at once when that is not the present.
  return fetch(`${address}${path}${path.endsWith('/live') ? '?seen=nothing' : ''}`, {
    method,
    redirect: 'manual',
    headers: { accept: path.endsWith('/live') ? 'text/event-stream' : 'text/html', ...shown },
    ...(method === 'POST' ? { body: new URLSearchParams() } : {}),
  });
}
