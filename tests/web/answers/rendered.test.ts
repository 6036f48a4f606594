import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Changed } from '../../../server/planner/index.ts';
import { createRendered } from '../../../server/web/rendered.ts';
import type { BuildPage } from '../../../views/types.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';

const PAGE = { build: { id: 'wall' }, seen: '1.0.5', revision: 1, stale: false, light: null } as unknown as BuildPage;

/** A shelf of texts, a count of how often one was made, and a way to say that a build has changed. */
function shelf() {
  const listeners: ((id: string, what: Changed) => void)[] = [];
  const onChange = (listener: (typeof listeners)[number]) => {
    listeners.push(listener);
    return () => undefined;
  };
  const rendered = createRendered({ onChange });
  const made: string[] = [];
  const ask = (address: string, page = PAGE, text = address) =>
    rendered.of(page, address, async () => {
      made.push(address);
      return text;
    });
  const change = (id: string, what: Changed = 'forecast') => listeners.forEach((listener) => void listener(id, what));
  return { ask, made, change };
}

test('a sheet of a state is made once for all who ask, until its build changes', async () => {
  const { ask, made, change } = shelf();
  for (let n = 0; n < 50; n++) expect(await ask('sheet /b/wall')).toBe('sheet /b/wall');
  expect(made).toHaveLength(1);
  change('other');
  await ask('sheet /b/wall');
  expect(made).toHaveLength(1);
  change('wall', 'work');
  await ask('sheet /b/wall');
  expect(made).toHaveLength(1);
  change('wall');
  await ask('sheet /b/wall');
  expect(made).toHaveLength(2);
});

test.each<[string, string, Partial<BuildPage>]>([
  ['another address', 'page /b/wall', {}],
  ['another state', 'sheet /b/wall', { seen: '1.1.5' }],
  ['numbers that have become old', 'sheet /b/wall', { stale: true, behind: { edits: 0, entries: 1 } }],
  ['another light', 'sheet /b/wall', { light: 'slate' as never }],
])('it is made for itself of %s', async (_, address, changes) => {
  const { ask, made } = shelf();
  await ask('sheet /b/wall');
  await ask(address, { ...PAGE, ...changes });
  expect(made).toHaveLength(2);
});

test('what is being made is made once for all who ask meanwhile, and not kept where its build changes', async () => {
  const { ask, made, change } = shelf();
  expect(await Promise.all([ask('sheet /b/wall'), ask('sheet /b/wall')])).toEqual(['sheet /b/wall', 'sheet /b/wall']);
  expect(made).toHaveLength(1);
  const old = ask('page /b/wall', PAGE, 'old');
  change('wall');
  expect(await ask('page /b/wall', PAGE, 'new')).toBe('new');
  expect(await old).toBe('old');
  expect(await ask('page /b/wall')).toBe('new');
});

test('the oldest go where there are too many', async () => {
  const { ask, made } = shelf();
  const large = 'x'.repeat(8_000_000);
  for (const name of ['a', 'b', 'c', 'c', 'b', 'a']) await ask(name, PAGE, large);
  expect(made).toEqual(['a', 'b', 'c', 'a']);
});

let fake: FakeApp;
beforeAll(async () => {
  fake = await fakeApp();
});
afterAll(() => fake.close());

test('a page follows an edit and a tap, and a form is nobody else’s', async () => {
  const get = async (path: string) => (await fake.app.inject(`/b/tide-wall${path}`)).body;
  const before = await get('');
  expect(await get('')).toBe(before);
  await fake.planner.edit('tide-wall', [{ kind: 'set', list: 'build', field: 'name', value: 'Ebb Wall' }], 'maker');
  expect(await get('')).toContain('Ebb Wall');
  expect(await get('/steps')).not.toContain('<form');
  expect(await get('/steps?open=steps/press')).toContain('<form');
  expect(await get('/steps')).not.toContain('<form');
});
