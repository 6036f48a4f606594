import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { isChanged } from '../server/build.mjs';
import { scratch } from './store/helpers.ts';

/** A folder with a source that was written long before it was built. */
function built(): string {
  const root = scratch();
  for (const folder of ['src/deep', 'dist']) mkdirSync(join(root, folder), { recursive: true });
  writeFileSync(join(root, 'src/deep/a.ts'), 'a');
  writeFileSync(join(root, 'dist/mark'), '');
  for (const path of ['src/deep/a.ts', 'src/deep', 'src']) utimesSync(join(root, path), 1_000, 1_000);
  utimesSync(join(root, 'dist/mark'), 2_000, 2_000);
  return root;
}

const changed = (root: string) => isChanged(root, ['src', 'package.json'], 'dist/mark');

test('nothing is built again where nothing has changed since', () => {
  expect(changed(built())).toBe(false);
});

test.each<[string, (root: string) => void]>([
  ['a source was written', (root) => utimesSync(join(root, 'src/deep/a.ts'), 3_000, 3_000)],
  ['a source came', (root) => writeFileSync(join(root, 'src/deep/b.ts'), 'b')],
  ['a source went', (root) => rmSync(join(root, 'src/deep/a.ts'))],
  ['what is installed has changed', (root) => writeFileSync(join(root, 'package.json'), '{}')],
  ['what was built is gone', (root) => rmSync(join(root, 'dist'), { recursive: true })],
])('it is built again where %s', (_, change) => {
  const root = built();
  change(root);
  expect(changed(root)).toBe(true);
});

test('what server and phone both draw is drawn from the sources as they are too, as npm run dev runs them', () => {
  const ticket = new URL('../views/client/tickets/ticket-body.tsx', import.meta.url).href;
  const draws = `const { TicketBody } = await import('${ticket}');
    console.log(TicketBody({ step: { kind: 'gate', sets: [] }, setName: '', of: '' }).props.children.length);`;
  const args = ['--import', 'tsx', '--input-type=module', '--eval', draws];
  const { stdout, stderr } = spawnSync(process.execPath, args, {
    cwd: fileURLToPath(new URL('..', import.meta.url)),
    encoding: 'utf8',
  });
  expect(`${stdout}${stderr}`).toBe('6\n');
});
