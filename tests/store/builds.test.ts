import { describe, expect, it } from 'vitest';
import { createStore } from '../../server/store/index.ts';
import { ARRIVED, lantern, openDb, openStore, SAVED, tap } from './helpers.ts';

describe('builds and their revisions', () => {
  it('keeps the whole build of every revision with who, when and why', () => {
    const { builds } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const renamed = lantern({ name: 'Big lantern' });
    const changes = [{ kind: 'set', list: 'build', field: 'name', value: 'Big lantern' }] as const;
    const saved = { savedAt: '2026-12-01T08:00:00Z', who: 'maker', cause: { code: 'edit' }, changes } as const;
    expect(builds.save(key, renamed, saved)).toBe(2);
    expect(builds.document(key, 1)).toEqual(lantern());
    expect(builds.document(key, 2)).toEqual(renamed);
    expect(builds.document(key, 3)).toBeNull();
    expect(builds.revisions(key)).toEqual([
      { revision: 1, savedAt: '2026-11-30T09:00:00Z', who: 'maker', cause: { code: 'made' } },
      { revision: 2, savedAt: '2026-12-01T08:00:00Z', who: 'maker', cause: { code: 'edit' } },
    ]);
    expect([1, 2, 3].map((revision) => builds.changes(key, revision))).toEqual([null, changes, null]);
  });

  it('lists builds with the words of their latest revision and their entries', () => {
    const { builds, log } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    builds.create(lantern({ id: 'arch', name: 'Arch' }), SAVED);
    builds.save(key, lantern({ name: 'Big lantern' }), SAVED);
    log.append(key, [tap('entry-0001'), tap('entry-0002')], ARRIVED);
    expect(builds.list()).toEqual([
      { id: 'lantern', name: 'Big lantern', zone: 'Europe/Berlin', event: '2026-12-20T18:00', revision: 2, entries: 2 },
      { id: 'arch', name: 'Arch', zone: 'Europe/Berlin', event: '2026-12-20T18:00', revision: 1, entries: 0 },
    ]);
  });

  it('knows the ground state by revision and last entry', () => {
    const { builds, log } = openStore();
    expect(builds.ground('lantern')).toBeNull();
    const { key } = builds.create(lantern(), SAVED);
    expect(builds.ground('lantern')).toEqual({ key, revision: 1, logSeq: 0, closed: null });
    log.append(key, [tap('entry-0001')], ARRIVED);
    builds.save(key, lantern(), SAVED);
    expect(builds.ground('lantern')).toEqual({ key, revision: 2, logSeq: 1, closed: null });
  });

  it('frees the name of a removed build and starts the next one without its log', () => {
    const { builds, log } = openStore();
    const old = builds.create(lantern(), SAVED);
    log.append(old.key, [tap('entry-0001')], ARRIVED);
    expect(builds.remove('lantern', ARRIVED)).toBe(true);
    expect(builds.remove('lantern', ARRIVED)).toBe(false);
    expect(builds.list()).toEqual([]);
    const fresh = builds.create(lantern(), SAVED);
    expect(log.since(fresh.key)).toEqual([]);
    expect(log.since(old.key)).toHaveLength(1);
    expect(builds.everMade()).toBe(2);
  });

  it('refuses two builds of one name', () => {
    const { builds } = openStore();
    builds.create(lantern(), SAVED);
    expect(() => builds.create(lantern(), SAVED)).toThrow(/UNIQUE/);
  });

  it('lets nobody change or delete a revision', () => {
    const db = openDb();
    const { builds } = createStore(db);
    builds.create(lantern(), SAVED);
    expect(() => db.exec("update revisions set changes = '[]'")).toThrow('a revision is never changed');
    expect(() => db.exec("update revisions set cause = 'x'")).toThrow('a revision is never changed');
    expect(() => db.exec('delete from revisions')).toThrow('a revision is never deleted');
  });

  it('gives no changes that are of a form it does not know', () => {
    const db = openDb();
    const { builds } = createStore(db);
    const { key } = builds.create(lantern(), SAVED);
    db.exec(`insert into revisions (build_key, revision, saved_at, who, cause, changes, document)
      values (1, 2, '', '', 'as said then', '{"format":"daywright-changes","version":99}', '{}')`);
    expect(builds.changes(key, 2)).toBeNull();
    expect(builds.revisions(key)[1]?.cause).toEqual({ code: 'said', text: 'as said then' });
  });
});
