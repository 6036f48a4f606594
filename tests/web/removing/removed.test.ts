/** A build that is removed is out of sight with all that it had, and comes back by one press. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

let real: RealApp;
let now = NOON;
beforeEach(async () => {
  now = NOON;
  real = await realApp(openStore(), () => now);
  const made = await real.planner.create(lantern({ event: '2026-12-08T18:00' }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  now += 60;
});
afterEach(() => real.close());

function post(url: string, fields: Record<string, string> = {}) {
  return real.app.inject({
    method: 'POST',
    url,
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}
const first = async () => (await real.app.inject('/')).body;

it('goes out of sight and comes back with its edits and its log', async () => {
  const at = new Date(NOON * 60_000).toISOString();
  real.planner.append('lantern', [{ id: 'count-000000001', kind: 'done', step: 'cut', n: 3, at }], 'Ana');
  const { build } = real.planner.build('lantern')!;
  expect((await post('/b/lantern/remove', { edit: '0' })).statusCode).toBe(409);
  const gone = await post('/b/lantern/remove', { edit: '1' });
  expect([gone.statusCode, gone.headers.location]).toEqual([303, '/#removed']);
  expect((await real.app.inject('/b/lantern')).statusCode).toBe(404);
  expect(await first()).not.toContain('href="/b/lantern"');
  const [removed] = real.planner.removed();
  expect(await first()).toContain(`Restore ${build.name}`);
  const back = await post('/builds/back', { key: String(removed!.key) });
  expect([back.statusCode, back.headers.location]).toEqual([303, '/b/lantern']);
  expect(real.planner.build('lantern')).toEqual({ build, revision: 1 });
  expect(real.planner.log('lantern').map(({ kind, n }) => [kind, n])).toEqual([['done', 3]]);
  expect(real.planner.removed()).toEqual([]);
});

it('is not brought back where its name is taken again, or where it is not removed', async () => {
  await post('/b/lantern/remove', { edit: '1' });
  const [removed] = real.planner.removed();
  await real.planner.create(lantern({ event: '2026-12-09T18:00' }), [], 'maker');
  const taken = await post('/builds/back', { key: String(removed!.key) });
  expect([taken.statusCode, taken.body]).toEqual([422, expect.stringContaining('again; remove that one first')]);
  for (const key of ['0', '99', 'x', '']) {
    const none = await post('/builds/back', { key });
    expect([none.statusCode, none.body]).toEqual([422, expect.stringContaining('not among the removed ones')]);
  }
  expect(real.planner.build('lantern')!.build.event).toBe('2026-12-09T18:00');
});

it('is the demo, where that is wanted', async () => {
  expect(await first()).toContain('Restore the demo');
  expect((await post('/builds/example', { id: 'slow-ceiling' })).headers.location).toBe('/b/slow-ceiling');
  expect(await first()).not.toContain('Restore the demo');
  expect(await first()).toContain('a demo, all of it made up');
  expect((await post('/builds/example', { id: 'slow-ceiling' })).statusCode).toBe(422);
});

it('is an example of another trade, where somebody looks at one; a name that there is not brings nothing', async () => {
  for (const [id, name] of [
    ['paper-flock', 'Paper Flock'],
    ['turning-stage', 'Turning Stage'],
  ] as const) {
    expect(await first()).toContain(`Look at ${name}`);
    expect((await post('/builds/example', { id })).headers.location).toBe(`/b/${id}`);
    expect(await first()).not.toContain(`Look at ${name}`);
  }
  for (const fields of [{ id: 'nothing' }, { id: '' }, {}]) {
    const none = await post('/builds/example', fields);
    expect([none.statusCode, none.body]).toEqual([422, expect.stringContaining('no example of that name')]);
  }
  expect(
    real.planner
      .builds()
      .map(({ id }) => id)
      .sort(),
  ).toEqual(['lantern', 'paper-flock', 'turning-stage']);
});

it('refuses a ready-by after the event at the beginning, and keeps what was typed', async () => {
  const fields = { name: 'Late', zone: 'new york', event: '2026-12-20T18:00', readyBy: '2026-12-24T18:00', loadIn: '' };
  const late = await post('/builds', fields);
  expect(late.statusCode).toBe(422);
  expect(late.body).toContain('value="2026-12-24T18:00"');
  expect(late.body).toContain('value="America/New_York"');
  expect(real.planner.build('late')).toBe(null);
});
