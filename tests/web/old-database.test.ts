/**
 * A database as an earlier Daywright left it: what was kept in it is shown, and what phones still hold for it is taken.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, describe, expect, it } from 'vitest';
import { createStore, newestSchemaVersion, openDatabase, schemaVersion } from '../../server/store/index.ts';
import { scratch } from '../store/helpers.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

const NOW = Date.parse('2026-11-30T13:30Z') / 60_000;
const DUMP = readFileSync(join(import.meta.dirname, '../support/changes/old-database.sql'), 'utf8');

let real: RealApp | null = null;
afterEach(async () => {
  await real?.close();
  real = null;
});

function oldDatabase(): string {
  const file = join(scratch(), 'old.sqlite');
  const db = new Database(file);
  db.exec(DUMP);
  db.close();
  return file;
}

async function opened(): Promise<RealApp> {
  const db = openDatabase(oldDatabase());
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOW);
  return real;
}

const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const page = async ({ app }: RealApp, path: string) => plain((await app.inject({ url: `/b/${path}` })).body);

describe('a database of an earlier version', () => {
  it('is brought up to this one, its builds and counts as they were', async () => {
    const before = new Database(oldDatabase());
    expect(before.pragma('user_version', { simple: true })).toBe(8);
    const documents = before.prepare('select revision, document from revisions where build_key = 1').all();
    before.close();
    const db = openDatabase(oldDatabase());
    if (!db.ok) throw new Error(db.problems[0]!.message);
    expect(schemaVersion(db.value)).toBe(newestSchemaVersion());
    expect(db.value.prepare('select revision, document from revisions where build_key = 1').all()).toEqual(documents);
    db.value.close();
    const { planner } = await opened();
    expect(planner.builds().map(({ id, revision, entries }) => [id, revision, entries])).toEqual([
      ['canopy', 7, 3],
      ['canopy-2', 1, 3],
    ]);
  });

  it('shows its edits with their sentences and with what was and what became of it', async () => {
    const words = await page(await opened(), 'canopy/history');
    for (const line of [
      '7 Back to edit 3 The build: ready-by 2026-12-17 18:00 → 2026-12-18 18:00 Step Drill removed',
      '6 dates and names of the build changed The build: ready-by 2026-12-18 18:00 → 2026-12-17 18:00',
      '5 step “Drill” moved Step Drill moved, now after Cut slats',
      '4 step “Drill” added Step Drill added',
      '3 part “Hook” changed Part Hook: how many 40 → 44',
      '2 step “Sand” changed Step Sand: work pattern, minutes for each unit 3 → 4',
      '1 The build was started',
    ]) {
      expect(words).toContain(line);
    }
    expect(await page(real!, 'canopy-2/history')).toContain('1 Build read in from a file, with 3 log entries');
  });

  it('shows the causes of its ledger as they were kept', async () => {
    const words = await page(await opened(), 'canopy/ledger?since=start');
    expect(words).toContain('put back as it was at revision 3');
    expect(words).toContain('dates and names of the build changed');
  });

  it('lets any of its edits be taken back', async () => {
    const { app, planner } = await opened();
    const post = (fields: Record<string, string>) =>
      app.inject({
        method: 'POST',
        url: '/b/canopy/history',
        payload: new URLSearchParams(fields).toString(),
        headers: { 'content-type': 'application/x-www-form-urlencoded' },
      });
    expect((await post({ undo: '2' })).statusCode).toBe(303);
    const { build } = planner.build('canopy')!;
    expect(build.steps[1]!.phases![0]).toEqual({ kind: 'hands', perUnit: 3 });
    expect(build.parts![1]!.count).toBe(44);
    expect((await post({ revision: '5' })).statusCode).toBe(303);
    expect(planner.build('canopy')!.build.steps.map(({ id }) => id)).toEqual(['cut', 'drill', 'sand']);
  });

  it('takes the counts that a phone has kept since, and knows those that had arrived', async () => {
    const { app, planner } = await opened();
    // As the phone of then sends them: one that arrived, whose answer was lost, and three that never left.
    const entries = [
      { id: 'tap-000001', kind: 'done', step: 'cut', n: 4, at: '2026-11-30T12:20:00Z' },
      {
        id: 'tap-000004',
        kind: 'done',
        step: 'cut',
        n: 2,
        at: '2026-11-30T13:10:00.000Z',
        phoneAt: '2026-11-30T13:11:00.000Z',
      },
      { id: 'tap-000005', kind: 'scrapped', step: 'cut', n: 1, at: '2026-11-30T13:12:00.000Z', reason: 'split' },
      { id: 'tap-000006', kind: 'undo', undoes: 'tap-000005', at: '2026-11-30T13:13:00.000Z' },
    ];
    const answer = await app.inject({
      method: 'POST',
      url: '/b/canopy/entries',
      payload: { entries, last: { id: 'tap-000003', seq: 3 } },
    });
    expect(answer.statusCode).toBe(200);
    const { receipts, knowsLast } = answer.json<{ receipts: { state: string; seq: number }[]; knowsLast: boolean }>();
    expect(receipts.map(({ state, seq }) => [state, seq])).toEqual([
      ['known', 1],
      ['stored', 4],
      ['stored', 5],
      ['stored', 6],
    ]);
    expect(knowsLast).toBe(true);
    await planner.settled();
    const cut = (await planner.snapshot('canopy'))!.forecast.steps.find(({ id }) => id === 'cut');
    expect(cut?.sets.map(({ done }) => done)).toEqual([6]);
  });
});
