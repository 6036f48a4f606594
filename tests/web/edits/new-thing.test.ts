/** What is wrong with a new thing is said at its field, in the words of the form, though it has no key yet. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createStore, openDatabase } from '../../../server/store/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOON);
  const made = await real.planner.create(lantern({ event: '2026-12-08T18:00' }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
});
afterAll(() => real.close());

const plain = (html: string) =>
  html
    .replaceAll('&quot;', '"')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

it.each([
  ['hands?open=people/new', { name: 'Third hand', hours: 'mon 18-25' }, 'hours', '"18-25" is not on the clock'],
  [
    'hands?open=suppliers/new',
    { name: 'Paint shop', lead: '7 to 3, likely 5' },
    'lead',
    '“Lead time, working days” must rise from low over likely to high',
  ],
  ['design?open=parts/new', { name: 'Post', source: 'make', count: '-4' }, 'count', '“How many” must be at least 0'],
  ['design?open=parts/new', { name: 'Post', source: 'make', yield: '150 %' }, 'yield', 'must be at most 1; it is 1.5'],
] as const)('%s %j', async (path, fields, at, sentence) => {
  const { statusCode, body } = await real.app.inject({
    method: 'POST',
    url: `/b/lantern/${path}`,
    payload: new URLSearchParams({ edit: '1', do: 'save', ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  expect(statusCode).toBe(422);
  const wrong = body.slice(body.indexOf(`id="f-${at}-wrong"`));
  expect(plain(wrong.slice(0, wrong.indexOf('</p>')))).toContain(sentence);
  expect(real.planner.build('lantern')!.revision).toBe(1);
});
