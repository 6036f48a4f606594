/**
 * The description of the JSON API: valid by a public validator, complete, and true of what the server answers. Answers
 * are checked by Ajv, which is used for nothing else here.
 */
import { Validator } from '@seriousme/openapi-schema-validator';
import { Ajv2020 } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { asRead } from '../../../server/model/index.ts';
import { openApi } from '../../../server/web/api/openapi.ts';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';

interface Described {
  readonly responses: Readonly<
    Record<string, { readonly content: Readonly<Record<string, { schema: { $ref: string } }>> }>
  >;
}
interface Description {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Described>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, object>> };
}

const api = openApi('0.0.0') as Description;
const ajv = new Ajv2020({ strict: false, allErrors: true });
formats.default(ajv);
ajv.addSchema(api, 'api');

let bench: CountApp;
beforeAll(async () => {
  bench = await countApp();
});
afterAll(() => bench.close());

describe('the description of the API', () => {
  it('is valid OpenAPI 3.1', async () => {
    const result = await new Validator().validate(JSON.parse(JSON.stringify(api)));
    expect(result.errors ?? []).toEqual([]);
    expect(result.valid).toBe(true);
  });

  it('is what the server says at its address, to anybody', async () => {
    const { statusCode, body } = await ask('GET', '/openapi.json', {});
    expect(statusCode).toBe(200);
    expect({ ...(JSON.parse(body) as object), info: null }).toEqual({ ...api, info: null });
  });

  it('has every route that answers a browser with JSON, and no other', async () => {
    const answering: string[] = [];
    for (const route of bench.routes.filter((one) => !one.endsWith('/live'))) {
      const [method, path] = route.split(' ') as ['GET' | 'POST', string];
      const headers = { accept: 'text/html', 'content-type': 'application/x-www-form-urlencoded' };
      const answer = await ask(method, pathOf(path), { ...headers, cookie: bench.makerCookie() }, '');
      if (/json/.test(String(answer.headers['content-type']))) answering.push(route);
    }
    const described = Object.entries(api.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replace(/\{(\w+)\}/g, ':$1')}`),
    );
    // A sending without entries is refused with a page to whoever asks for one.
    expect([...answering, 'POST /b/:id/entries'].sort()).toEqual(described.sort());
  });
});

describe('what the server answers', () => {
  const json = { accept: 'application/json' };
  const sent = { entries: [{ id: 'scale-0001', kind: 'done', step: 'press', n: 2, at: new Date(FAKE_NOW * 60_000) }] };

  it.each([
    'GET /b/:id/steps.json',
    'GET /b/:id/count/now',
    'GET /b/:id/count.webmanifest',
    'GET /b/:id/forecast.json',
    'GET /b/:id/file.json',
    'GET /b/:id/levers.json',
    'GET /b/:id/ways.json',
    'GET /openapi.json',
  ])('to %s is what is described', async (route) => {
    expect(await faultsOf(route, { ...json, cookie: bench.makerCookie() })).toEqual([200]);
  });

  it('to counts is what is described, for a program and a helper', async () => {
    const key = { ...json, authorization: `Bearer ${bench.key('scale')}` };
    expect(await faultsOf('POST /b/:id/entries', key, sent)).toEqual([200]);
    const wrong = {
      entries: [...sent.entries, { id: 'x' }, { ...sent.entries[0], id: 'scale-0002', step: 'nowhere' }],
    };
    expect(await faultsOf('POST /b/:id/entries', { ...json, cookie: bench.helperCookie('Ana') }, wrong)).toEqual([200]);
    // Now with entries of its own, and a question about them.
    expect(await faultsOf('GET /b/:id/count/now', { ...json, cookie: bench.helperCookie('Bo') })).toEqual([200]);
  });

  it('when it refuses is what is described', async () => {
    const maker = { ...json, cookie: bench.makerCookie() };
    const key = { ...json, authorization: `Bearer ${bench.key('counter')}` };
    const entries = 'POST /b/:id/entries';
    const many = { entries: Array.from({ length: 501 }, () => sent.entries[0]) };
    expect(await faultsOf('GET /b/:id/steps.json', json)).toEqual([401]);
    expect(await faultsOf('GET /b/:id/forecast.json', key)).toEqual([403]);
    expect(await faultsOf('GET /b/:id/file.json', { ...json, cookie: bench.helperCookie('Cy') })).toEqual([403]);
    for (const route of Object.keys(api.paths).filter((path) => path.includes('{id}') && !path.endsWith('/state'))) {
      const method = route.endsWith('/entries') ? 'POST' : 'GET';
      const path = route.replace('{id}', ':id');
      expect(await faultsOf(`${method} ${path}`, maker, sent, 'no-such-wall')).toEqual([404]);
    }
    expect(await faultsOf('GET /b/:id/count/state', maker)).toEqual([410]);
    expect(await faultsOf(entries, maker, { entries: 7 })).toEqual([400]);
    expect(await faultsOf(entries, maker, '{"entries": [')).toEqual([400]);
    expect(await faultsOf(entries, maker, many)).toEqual([413]);
    expect(await faultsOf(entries, { ...maker, 'content-type': 'text/csv' }, 'a,b')).toEqual([415]);
    expect(await faultsOf(entries, key, { entries: [{ id: 'scale-0009', kind: 'undo' }] })).toEqual([403]);
    expect(await faultsOf(entries, { ...key, host: 'elsewhere.example' }, sent)).toEqual([421]);
  });

  it('of a forecast is what is described, where the engine has made it', () => {
    const forecast = JSON.parse(JSON.stringify(planBuild(fakeBuild(), [], FAKE_NOW), asRead)) as unknown;
    expect(faults('Forecast', forecast)).toEqual([]);
    expect(faults('Forecast', { ...(forecast as object), room: null })).not.toEqual([]);
  });

  it('of a build’s file is what is described, with all that goes to the show, is measured or is paid', () => {
    const build = {
      ...fakeBuild(),
      ...{ forPublic: true, certificate: 'B1, seen by Ana', strikeFrom: '2026-12-06T10:00', contingency: 0.1 },
      boxes: [
        { id: 'crate', name: 'Crate', width: 600, height: 400, depth: 400, weight: 12, carriers: 2, kit: ['tape'] },
      ],
      passages: [{ id: 'van', name: 'Van', kind: 'van', width: 1500, height: 1300, depth: 2400, payload: 800 }],
      points: [{ id: 'hook', name: 'Hook', load: 4, limit: 10, signedBy: 'the rigger' }],
      strike: [{ id: 'down', name: 'Take down', minutes: '2 h', people: 2 }],
      notNeeded: [{ code: 'power-on', of: 'home' }],
    };
    const parts = [{ id: 'oil', name: 'Oil', source: 'buy', unit: 'L', packSize: 2.5, count: 0.86, waste: 0.1 }];
    const file = { format: 'daywright-build', version: 1, build: { ...build, parts: [...build.parts!, ...parts] } };
    expect(faults('BuildFile', file)).toEqual([]);
    const wrong = (changes: object) => faults('BuildFile', { ...file, build: { ...file.build, ...changes } });
    expect(wrong({ notNeeded: [{ code: 'signature', of: 'home' }] })).not.toEqual([]);
    expect(wrong({ boxes: [{ id: 'crate', name: 'Crate', weight: 'heavy' }] })).not.toEqual([]);
    expect(wrong({ certificate: true })).not.toEqual([]);
  });

  it('is held to the description by a check that can fail', () => {
    expect(faults('Problem', { problem: '' })).not.toEqual([]);
    expect(faults('StepsToCount', { build: 'wall', logSeq: 0, isStale: false, steps: [{ id: 'press' }] })).not.toEqual(
      [],
    );
    expect(faults('CountState', {})).not.toEqual([]);
  });
});

function ask(method: 'GET' | 'POST', url: string, headers: Record<string, string>, payload?: unknown) {
  bench.clock.nowMs += 1000;
  const body = method === 'GET' || payload === undefined ? {} : { payload: payload as string };
  return bench.app.inject({ method, url, headers, ...body });
}

/** The status, and what of the answer is not as described for it. */
async function faultsOf(
  route: string,
  headers: Record<string, string>,
  payload?: unknown,
  build = BUILD,
): Promise<unknown[]> {
  const [method, path] = route.split(' ') as ['GET' | 'POST', string];
  const type = payload === undefined || method === 'GET' ? {} : { 'content-type': 'application/json' };
  const answer = await ask(method, path.replace(':id', build), { ...type, ...headers }, payload);
  const described = api.paths[path.replace(/:(\w+)/g, '{$1}')]?.[method.toLowerCase()];
  const response = described?.responses[answer.statusCode];
  if (response === undefined) return [answer.statusCode, 'is not described'];
  const [mime] = String(answer.headers['content-type']).split(';');
  const shape = response.content[mime!]?.schema.$ref;
  if (shape === undefined) return [answer.statusCode, `${mime} is not described`];
  return [answer.statusCode, ...faults(shape.split('/').at(-1)!, answer.json())];
}

function faults(shape: string, value: unknown): unknown[] {
  const validate = ajv.getSchema(`api#/components/schemas/${shape}`)!;
  return validate(value) ? [] : (validate.errors ?? []).slice(0, 5);
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
