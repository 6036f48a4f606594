/**
 * Counts for as long as it is let: `behind FILE`. The log goes into the database file again and again meanwhile; each
 * entry that is on the disk is a line of the output.
 */
import { createDisk, createStore, openDatabase } from '../../server/store/index.ts';

const opened = openDatabase(process.argv[2]!);
if (!opened.ok) throw new Error(opened.problems[0]?.message);
const disk = createDisk(opened.value);
const store = createStore(opened.value, disk);
disk.fallBehind({
  report: (error) => {
    throw error;
  },
  pages: 20,
});
const { key } = store.builds.ground('lantern')!;

for (let n = 0; ; n++) {
  const entries = Array.from({ length: 3 }, (_, i) => ({
    id: `${process.pid}-${n}-${i}-`.padEnd(16, 'x'),
    kind: 'done' as const,
    step: 'cut',
    n: 1,
    at: '2026-11-30T10:00:00Z',
    note: 'x'.repeat(900),
  }));
  store.log.append(key, entries, '2026-11-30T10:00:05Z');
  await disk.synced();
  process.stdout.write(entries.map(({ id }) => `${id}\n`).join(''));
}
