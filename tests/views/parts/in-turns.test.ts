import { h } from 'preact';
import { expect, test } from 'vitest';
import { fragmentInTurns, type Html, InTurns, renderFragment } from '../../../views/render.ts';

/** Takes longer than half a turn. */
function Slow({ n }: { n: number }): Html {
  const until = performance.now() + 5;
  while (performance.now() < until);
  return h('li', { value: n }, `row ${n} & more`);
}

const rows = (count: number) => Array.from({ length: count }, (_, n) => h(InTurns, { key: n }, h(Slow, { n })));
const part = (child: Html) => h(InTurns, null, child);
const sheet = (count: number): Html =>
  h(
    'main',
    null,
    h('ol', null, rows(count)),
    part(h('section', null, h('ol', null, rows(count)), 'the end')),
    h('svg', null, part(h('path', { strokeWidth: 2, d: 'M0 0' } as object))),
    h('select', { value: 'b' }, part(h('option', { value: 'b' }, 'B'))),
  );

test('a sheet drawn in turns is the text that it is when it is drawn at once', async () => {
  const text = await fragmentInTurns(sheet(6));
  expect(text).toBe(renderFragment(sheet(6)));
  expect(text).toContain('<path stroke-width="2" d="M0 0">');
  expect(text).toContain('<option selected value="b">');
});

test('others have their turns while sheets are drawn, and each sheet is whole', async () => {
  let turns = 0;
  let isDone = false;
  const count = (): void => {
    turns += 1;
    if (!isDone) setImmediate(count);
  };
  setImmediate(count);
  const texts = await Promise.all([fragmentInTurns(sheet(8)), fragmentInTurns(sheet(9))]);
  isDone = true;
  expect(turns).toBeGreaterThanOrEqual(8);
  expect(texts).toEqual([renderFragment(sheet(8)), renderFragment(sheet(9))]);
});

test('what goes wrong in a later turn is thrown to whoever asked', async () => {
  const Wrong = (): Html => {
    throw new Error('no such step');
  };
  const wrong = h('main', null, rows(3), part(h(Wrong, null)));
  await expect(fragmentInTurns(wrong)).rejects.toThrow('no such step');
});
