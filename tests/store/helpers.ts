import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Build, NewLogEntry } from '../../server/model/index.ts';
import { createStore, type Db, openDatabase, type Store } from '../../server/store/index.ts';

/** A folder that is gone after the test that asks for it. */
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A database that is closed after the test that asks for it. */
export function openDb(file = ':memory:'): Db {
  const result = openDatabase(file);
  if (!result.ok) throw new Error(result.problems[0]!.message);
  onTestFinished(() => {
    result.value.close();
  });
  return result.value;
}

export function openStore(file = ':memory:'): Store {
  return createStore(openDb(file));
}

/** A lantern of two kinds of work, one set. */
export function lantern(changes: Partial<Build> = {}): Build {
  return {
    id: 'lantern',
    name: 'Lantern',
    zone: 'Europe/Berlin',
    event: '2026-12-20T18:00',
    parts: [{ id: 'ribs', name: 'ribs', source: 'make', count: 40 }],
    people: [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' }],
    steps: [
      { id: 'cut', name: 'cut ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 4 }] },
      { id: 'glue', name: 'glue ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 6 }] },
    ],
    ...changes,
  };
}

export function tap(id: string, changes: Partial<NewLogEntry> = {}): NewLogEntry {
  return { id, kind: 'done', step: 'cut', n: 1, at: '2026-11-30T10:00:00Z', ...changes };
}

export const SAVED = { savedAt: '2026-11-30T09:00:00Z', who: 'maker', cause: { code: 'made' } } as const;
export const ARRIVED = '2026-11-30T10:00:05Z';
