/** Keys of programs that may only count: made and ended on their sheet, and what they can do. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NewLogEntry } from '../../../server/model/index.ts';
import { BUILD, type CountApp, countApp, OTHER_BUILD } from '../../support/count-app.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';

let bench: CountApp;
beforeAll(async () => {
  bench = await countApp();
});
afterAll(() => bench.close());

const AT = new Date((FAKE_NOW - 5) * 60_000).toISOString();

function weighed(id: string, changes: Partial<NewLogEntry> = {}): NewLogEntry {
  return { id, kind: 'done', step: 'press', n: 3, at: AT, ...changes };
}

async function post(key: string, entries: readonly unknown[], build = BUILD) {
  const answer = await bench.app.inject({
    method: 'POST',
    url: `/b/${build}/entries`,
    headers: { authorization: `Bearer ${key}`, accept: 'application/json' },
    payload: { entries },
  });
  return { status: answer.statusCode, headers: answer.headers, ...(answer.json() as Record<string, unknown>) };
}

async function sheet(form?: Record<string, string>): Promise<{ status: number; html: string }> {
  const { statusCode, body } = await bench.app.inject({
    url: `/b/${BUILD}/keys`,
    headers: { cookie: bench.makerCookie(), accept: 'text/html', 'content-type': 'application/x-www-form-urlencoded' },
    ...(form === undefined ? {} : { method: 'POST' as const, payload: new URLSearchParams(form).toString() }),
  });
  return { status: statusCode, html: body };
}

describe('the sheet of keys', () => {
  it('makes a key, shows it once, says when it was last used, and ends it', async () => {
    const made = await sheet({ name: ' scale  on the bench ' });
    const key = /class="secret">([\w-]{43})</.exec(made.html)![1]!;
    const before = await sheet();
    expect(before.html).not.toContain(key);
    expect(before.html).toMatch(/scale on the bench<\/b> <span class="quiet">since [^<]*, never used/);
    expect((await post(key, [weighed('scale-0001')])).status).toBe(200);
    const used = await sheet();
    expect(used.html).toMatch(/last used [^<]*<\/span>/);
    const number = /name="end" value="(\d+)"/.exec(used.html)![1]!;
    expect((await sheet({ end: number })).status).toBe(303);
    expect((await sheet()).html).not.toContain('scale on the bench</b>');
    expect((await sheet({ end: number })).status).toBe(404);
    const ended = await post(key, [weighed('scale-0002')]);
    expect(ended).toMatchObject({
      status: 401,
      problem: expect.stringContaining('ended the key “scale on the bench”'),
    });
    expect(ended.headers['www-authenticate']).toMatch(/^Bearer /);
    expect(bench.planner.log(BUILD).map(({ id }) => id)).toEqual(['scale-0001']);
  });

  it('keeps a hash of the key, and nowhere the key', async () => {
    const { html } = await sheet({ name: 'counter' });
    const key = /class="secret">([\w-]{43})</.exec(html)![1]!;
    expect(bench.db.serialize().includes(key)).toBe(false);
    expect(bench.store.keys.of(BUILD).map(({ name }) => name)).toEqual(['counter']);
  });

  it('refuses a name that says nothing, the maker’s, and one under which somebody counts', async () => {
    bench.helperCookie('Ana');
    bench.key('scale');
    const problems = [];
    for (const name of ['  ', 'x'.repeat(41), 'Maker', 'ana', 'SCALE', '“<b>Δ\u202E😀']) {
      const { status, html } = await sheet({ name });
      problems.push([status, /role="alert">\s*([^<]*)/.exec(html)?.[1]?.trim() ?? null]);
    }
    expect(problems).toEqual([
      [422, expect.stringContaining('1 to 40 letters')],
      [422, expect.stringContaining('1 to 40 letters')],
      [422, expect.stringContaining('The maker is called that already')],
      [422, expect.stringContaining('is called ana')],
      [422, expect.stringContaining('is called SCALE')],
      [200, null],
    ]);
    expect((await sheet()).html).toContain('“&lt;b>Δ\u202E😀');
    expect(() => bench.helperCookie('Scale')).toThrow('name-taken');
  });
});

describe('a program with a key', () => {
  it('counts under the name of its key, once however often it sends', async () => {
    const key = bench.key('press scale');
    const sent = [weighed('press-0001', { who: 'maker' }), weighed('press-0002', { kind: 'scrapped', n: 1 })];
    expect(await post(key, sent)).toMatchObject({ status: 200, receipts: [{ state: 'stored' }, { state: 'stored' }] });
    expect(await post(key, sent)).toMatchObject({ receipts: [{ state: 'known' }, { state: 'known' }] });
    const own = bench.planner.log(BUILD).filter(({ id }) => id.startsWith('press-'));
    expect(own.map(({ who, kind, n }) => ({ who, kind, n }))).toEqual([
      { who: 'press scale', kind: 'done', n: 3 },
      { who: 'press scale', kind: 'scrapped', n: 1 },
    ]);
  });

  it('posts nothing but counts: another kind keeps out all that comes with it', async () => {
    const key = bench.key('eager');
    const before = bench.planner.log(BUILD).length;
    for (const entry of [
      weighed('scale-0003', { kind: 'undo', undoes: 'scale-0001' }),
      weighed('scale-0004', { kind: 'loaded' }),
    ]) {
      const answer = await post(key, [weighed('scale-0002'), entry]);
      expect(answer).toMatchObject({ status: 403, problem: expect.stringContaining(`of kind "${entry.kind}"`) });
    }
    expect(bench.planner.log(BUILD)).toHaveLength(before);
    const odd = await post(key, [{ id: 'scale-0005', kind: 'weighed' }, 7, weighed('scale-0006', { step: 'no-such' })]);
    expect(odd).toMatchObject({
      status: 200,
      receipts: [{ state: 'refused' }, { state: 'refused' }, { state: 'refused' }],
    });
  });

  it('is refused in data whatever it asks for, as the guide’s own call asks for nothing in particular', async () => {
    const authorization = `Bearer ${bench.key('plain')}`;
    const asked = (payload: string, type = 'application/json') =>
      bench.app.inject({
        ...{ method: 'POST' as const, url: `/b/${BUILD}/entries`, payload },
        headers: { authorization, 'content-type': type, accept: '*/*' },
      });
    const undone = JSON.stringify({ entries: [weighed('scale-0007', { kind: 'undo', undoes: 'scale-0001' })] });
    const answers = [
      await asked(undone),
      await asked('{"entries": 7}'),
      await asked('{"entries"'),
      await asked('', 'x'),
    ];
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([403, 400, 400, 415]);
    for (const answer of answers) expect(answer.json()).toEqual({ problem: expect.stringMatching(/\.$/) });
  });

  it('reads ids, names and counts left of the steps of its build, and no more', async () => {
    const headers = { authorization: `Bearer ${bench.key('reader')}` };
    const { statusCode, body } = await bench.app.inject({ url: `/b/${BUILD}/steps.json`, headers });
    expect(statusCode).toBe(200);
    const { build, steps } = JSON.parse(body) as { build: string; steps: Record<string, unknown>[] };
    expect(build).toBe(BUILD);
    const { forecast } = bench.planner.latest(BUILD)!;
    expect(steps).toEqual(
      forecast.steps
        .filter(({ kind }) => kind === 'step')
        .map(({ id, name, unit, left }) => ({ id, name, unit, left })),
    );
    const elsewhere = await bench.app.inject({ url: `/b/${OTHER_BUILD}/steps.json`, headers });
    expect(elsewhere).toMatchObject({ statusCode: 403 });
    expect(elsewhere.json()).toEqual({ problem: expect.stringContaining('nothing else') });
  });

  it('is held to the limits of phones', async () => {
    const key = bench.key('restless');
    const many = Array.from({ length: 501 }, (_, i) => weighed(`scale-${10_000 + i}`));
    expect((await post(key, many)).status).toBe(413);
    expect((await post(key, [weighed('scale-0001', { note: 'x'.repeat(600_000) })])).status).toBe(413);
    let status = 200;
    for (let sent = 0; sent < 620 && status === 200; sent++) ({ status } = await post(key, []));
    expect(status).toBe(429);
    bench.clock.nowMs += 61_000;
    expect((await post(key, [])).status).toBe(200);
  });

  it('is let in though the disk does not take when it was used', async () => {
    const headers = { authorization: `Bearer ${bench.key('on a full disk')}` };
    bench.db.pragma('query_only = on');
    const { statusCode } = await bench.app.inject({ url: `/b/${BUILD}/steps.json`, headers });
    bench.db.pragma('query_only = off');
    expect(statusCode).toBe(200);
  });

  it('is nobody once its build has been removed', async () => {
    const key = bench.key('elsewhere', OTHER_BUILD);
    bench.planner.remove(OTHER_BUILD);
    expect(await post(key, [weighed('scale-0001')], OTHER_BUILD)).toMatchObject({
      status: 401,
      problem: expect.any(String),
    });
  });
});
