/** Quick lines on their page: read, seen first, added as one edit that can be taken back. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(lantern({ event: '2026-12-08T18:00' }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

function post(fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: '/b/lantern/lines',
    payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll('&quot;', '"')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const LINES = '40 hooks, bend 3 min each, dry 2 h\nwobble\npack 1 h';

it('shows what was understood, assumed and not understood, and what it would do, and saves nothing', async () => {
  const before = real.planner.build('lantern')!;
  const answer = await post({ lines: LINES, action: 'read' });
  const said = plain(answer.body);
  expect(answer.statusCode).toBe(200);
  expect(said).toContain('40 × Hooks Bend hooks: 3 min each Bend hooks then waits 2 h');
  expect(said).toContain('Bend hooks: Daywright chooses the lot size');
  expect(said).toContain('Not understood: “wobble”. This line is not added.');
  expect(said).toContain('Pack comes after');
  expect(said).toContain('Add 2 lines to the build');
  expect(said).toContain('What this would do');
  expect(real.planner.build('lantern')).toEqual(before);
});

it('adds what was understood as one edit, keeps the rest in the field, and is taken back as one', async () => {
  const before = real.planner.build('lantern')!;
  const answer = await post({ lines: LINES, action: 'add' });
  const after = real.planner.build('lantern')!;
  expect(plain(answer.body)).toContain('2 lines are in the build. 1 line was not understood and is still here.');
  expect(answer.body).toMatch(/<textarea[^>]*>\s*wobble\s*<\/textarea>/);
  expect(after.revision).toBe(before.revision + 1);
  expect(after.build.steps.slice(-2).map(({ name }) => name)).toEqual(['Bend hooks', 'Pack']);
  expect(plain((await post({ lines: '40 hooks, bend 3 min each, dry 2 h', action: 'add' })).body)).toContain(
    'All of this is in the build already.',
  );
  expect(real.planner.build('lantern')!.revision).toBe(after.revision);
  expect((await real.planner.undo('lantern', after.revision, 'maker')).ok).toBe(true);
  expect(real.planner.build('lantern')!.build).toEqual(before.build);
});

it('refuses what is too much, what says nothing and what another browser has changed, and loses no text', async () => {
  const long = await post({ lines: `5 hooks\n${'x'.repeat(501)}`, action: 'add' });
  expect([long.statusCode, plain(long.body)]).toEqual([422, expect.stringContaining('Line 2 is longer than 500')]);
  const many = await post({ lines: '5 hooks\n'.repeat(401), action: 'add' });
  expect([many.statusCode, plain(many.body)]).toEqual([413, expect.stringContaining('At most 400 lines at once')]);
  const none = await post({ lines: 'wobble', action: 'add' });
  expect([none.statusCode, plain(none.body)]).toEqual([422, expect.stringContaining('No line was understood')]);
  const late = await post({ lines: '5 hooks, bend 1 min', action: 'add', edit: '0' });
  expect(late.statusCode).toBe(409);
  expect(late.body).toMatch(/<textarea[^>]*>\s*5 hooks, bend 1 min\s*<\/textarea>/);
  expect(real.planner.build('lantern')!.revision).toBe(1);
});

it('fills in a line that the build lacks behind what is typed, by a tap, and saves nothing', async () => {
  const before = real.planner.build('lantern')!;
  const shown = await real.app.inject({ url: '/b/lantern/lines' });
  expect(plain(shown.body)).toContain('What builds forget');
  expect(shown.body).toContain('value="fill:pack 3 h with 2 people"');
  const answer = await post({ lines: '40 hooks, bend 3 min each', action: 'fill:pack 3 h with 2 people' });
  expect(answer.body).toMatch(/<textarea[^>]*>\s*40 hooks, bend 3 min each\npack 3 h with 2 people\s*<\/textarea>/);
  expect(real.planner.build('lantern')).toEqual(before);
});
