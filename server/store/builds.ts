/** Builds and their revisions: every edit keeps the whole build, so that it can be taken back. */
import type { Build } from '../model/index.ts';
import type { Db } from './open.ts';

/** Which state of a build is on disk; `key` tells a build from a removed one of the same name. */
export interface Ground {
  readonly key: number;
  readonly revision: number;
  readonly logSeq: number;
}

export interface BuildRow {
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  readonly event: string;
  readonly revision: number;
  readonly entries: number;
}

export interface RevisionRow {
  readonly revision: number;
  readonly savedAt: string;
  readonly who: string;
  readonly cause: string;
}

/** Who changed something, when (UTC, ISO 8601) and why, in plain words. */
export interface Saved {
  readonly savedAt: string;
  readonly who: string;
  readonly cause: string;
}

export interface BuildStore {
  /** In order of making. */
  list(): BuildRow[];
  /** Builds ever made, removed ones counted. */
  everMade(): number;
  ground(id: string): Ground | null;
  /** The build as of its latest revision, or of an older one. */
  document(key: number, revision: number): Build | null;
  revisions(key: number): RevisionRow[];
  /** Revision 1. The id must be free: ask `ground` first, in the same transaction. */
  create(build: Build, saved: Saved): Ground;
  /** The next revision. */
  save(key: number, build: Build, saved: Saved): number;
  /** Takes the build out of sight; its revisions and its log stay on disk. False: there is none. */
  remove(id: string, removedAt: string): boolean;
}

/** The questions about builds that the database answers. */
export function createBuildStore(db: Db): BuildStore {
  const list = db.prepare(`
    select b.id, json_extract(r.document, '$.name') as name, json_extract(r.document, '$.zone') as zone,
           json_extract(r.document, '$.event') as event, b.revision,
           (select count(*) from log l where l.build_key = b.key) as entries
      from builds b join revisions r on r.build_key = b.key and r.revision = b.revision
     where b.removed_at is null order by b.key`);
  const everMade = db.prepare('select count(*) from builds').pluck();
  const ground = db.prepare(`
    select key, revision, coalesce((select max(seq) from log where build_key = key), 0) as logSeq
      from builds where id = ? and removed_at is null`);
  const document = db.prepare('select document from revisions where build_key = ? and revision = ?').pluck();
  const revisions = db.prepare(`
    select revision, saved_at as savedAt, who, cause from revisions where build_key = ? order by revision`);
  const addBuild = db.prepare('insert into builds (id, revision, created_at) values (?, 1, ?)');
  const addRevision = db.prepare(`
    insert into revisions (build_key, revision, saved_at, who, cause, document) values (?, ?, ?, ?, ?, ?)`);
  const raise = db.prepare('update builds set revision = revision + 1 where key = ? returning revision').pluck();
  const remove = db.prepare('update builds set removed_at = ? where id = ? and removed_at is null');

  const create = db.transaction((build: Build, { savedAt, who, cause }: Saved): Ground => {
    const key = Number(addBuild.run(build.id, savedAt).lastInsertRowid);
    addRevision.run(key, 1, savedAt, who, cause, JSON.stringify(build));
    return { key, revision: 1, logSeq: 0 };
  });
  const save = db.transaction((key: number, build: Build, { savedAt, who, cause }: Saved): number => {
    const revision = raise.get(key) as number;
    addRevision.run(key, revision, savedAt, who, cause, JSON.stringify(build));
    return revision;
  });

  return {
    list: () => list.all() as BuildRow[],
    everMade: () => everMade.get() as number,
    ground: (id) => (ground.get(id) as Ground | undefined) ?? null,
    document: (key, revision) => {
      const text = document.get(key, revision) as string | undefined;
      return text === undefined ? null : (JSON.parse(text) as Build);
    },
    revisions: (key) => revisions.all(key) as RevisionRow[],
    create: (build, saved) => create.immediate(build, saved),
    save: (key, build, saved) => save.immediate(key, build, saved),
    remove: (id, removedAt) => remove.run(removedAt, id).changes === 1,
  };
}
