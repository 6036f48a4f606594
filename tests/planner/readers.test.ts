import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { createReaders } from '../../server/planner/background/readers.ts';
import { numberOfThread } from '../../server/planner/background/threads.ts';
import { lantern, scratch } from '../store/helpers.ts';

const LIMIT = { milliseconds: 400, megabytes: 256 };
const FILE = JSON.stringify({ ok: true, value: { format: 'daywright-build', version: 1, build: lantern() } });

/** Readers whose thread does this before it answers with a build. */
function readersThat(does: string): ReturnType<typeof createReaders> {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(
    file,
    `import { readlinkSync } from 'node:fs';
const numberOfThread = ${numberOfThread.toString()};
export const read = ({ thread }) => { Atomics.store(thread, 0, numberOfThread()); ${does}; return ${FILE}; };`,
  );
  return createReaders(pathToFileURL(file), LIMIT);
}

test('a file whose thread gets no time to work on it is read all the same', async () => {
  const waits = 'Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 1000)';
  expect(await readersThat(waits).read('', 'slow.json')).toMatchObject({ ok: true });
});

test('a file that takes more work than a file may is refused, and its thread ended', async () => {
  expect(await readersThat('for (;;);').read('', 'endless.json')).toMatchObject({
    ok: false,
    problems: [
      {
        code: 'too-large',
        field: 'file',
        message:
          'endless.json takes more than 0.4 seconds of work or 256 MB of memory to be read. Leave out what is not the build, or write it as JSON.',
      },
    ],
  });
});
