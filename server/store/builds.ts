/** Builds and their revisions: every edit keeps the whole build, so that it can be taken back. */
import {
  type Build,
  type Change,
  causeOfSentence,
  changeListOf,
  type RevisionCause,
  readChangeList,
} from '../model/index.ts';
import type { Db } from './open.ts';

/** Which state of a build is on disk; `key` tells a build from a removed one of the same name. */
export interface Ground {
  readonly key: number;
  readonly revision: number;
  readonly logSeq: number;
  /** Null while it is open. */
  readonly closed: Closed | null;
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
  readonly cause: RevisionCause;
}

/** Who changed something, when (UTC, ISO 8601), why, and, where it was changed by changes, by which. */
export interface Saved {
  readonly savedAt: string;
  readonly who: string;
  readonly cause: RevisionCause;
  readonly changes?: readonly Change[];
}

/** Who closed a build, and when (UTC, ISO 8601). */
export interface Closed {
  readonly at: string;
  readonly who: string;
}

export interface BuildStore {
  /** In order of making. */
  list(): BuildRow[];
  /** Builds ever made, removed ones counted. */
  everMade(): number;
  ground(id: string): Ground | null;
  /** The build as of its latest revision, or of an older one. */
  document(key: number, revision: number): Build | null;
  /** Oldest first. */
  revisions(key: number): RevisionRow[];
  /** The changes that led to a revision; null where none were kept, or where they are of a form that is not known. */
  changes(key: number, revision: number): readonly Change[] | null;
  /** Revision 1. The id must be free: ask `ground` first, in the same transaction. */
  create(build: Build, saved: Saved): Ground;
  /** Revision 1 of a build that nobody sees until it is shown: its log is still to come. */
  prepare(build: Build, saved: Saved): Ground;
  /** Shows a build that was prepared. The id must be free, as for `create`. */
  show(key: number): void;
  /** The next revision. */
  save(key: number, build: Build, saved: Saved): number;
  /** Null while it is open. */
  closed(key: number): Closed | null;
  close(key: number, closed: Closed): void;
  reopen(key: number): void;
  /** Takes the build out of sight; its revisions and its log stay on disk. False: there is none. */
  remove(id: string, removedAt: string): boolean;
  /** Builds that were taken out of sight, the last removed first. */
  removed(): RemovedRow[];
  /** Brings a removed build into sight again. False: there is none of this key, or its id is taken. */
  bringBack(key: number): boolean;
}

export interface RemovedRow {
  readonly key: number;
  readonly id: string;
  readonly name: string;
  /** UTC, ISO 8601. */
  readonly removedAt: string;
}

/** The questions about builds that the database answers. */
export function createBuildStore(db: Db): BuildStore {
  return { ...readingOf(db), ...savingOf(db), ...endingOf(db) };
}

/** What builds there are, and what they were at each revision. */
function readingOf(db: Db): Pick<BuildStore, 'list' | 'everMade' | 'ground' | 'document' | 'revisions' | 'changes'> {
  const list = db.prepare(`
    select b.id, json_extract(r.document, '$.name') as name, json_extract(r.document, '$.zone') as zone,
           json_extract(r.document, '$.event') as event, b.revision,
           (select count(*) from log l where l.build_key = b.key) as entries
      from builds b join revisions r on r.build_key = b.key and r.revision = b.revision
     where b.removed_at is null order by b.key`);
  const everMade = db.prepare('select count(*) from builds').pluck();
  const ground = db.prepare(`
    select key, revision, coalesce((select max(seq) from log where build_key = key), 0) as logSeq,
           closed_at as closedAt, closed_by as closedBy
      from builds where id = ? and removed_at is null`);
  const document = db.prepare('select document from revisions where build_key = ? and revision = ?').pluck();
  const revisions = db.prepare(`
    select revision, saved_at as savedAt, who, cause, fact from revisions where build_key = ? order by revision`);
  const changes = db.prepare(`
    select r.changes, b.id from revisions r join builds b on b.key = r.build_key
     where r.build_key = ? and r.revision = ? and r.changes is not null`);

  return {
    list: () => list.all() as BuildRow[],
    everMade: () => everMade.get() as number,
    ground: (id) => groundOf(ground.get(id) as GroundRow | undefined),
    document: (key, revision) => {
      const text = document.get(key, revision) as string | undefined;
      return text === undefined ? null : (JSON.parse(text) as Build);
    },
    revisions: (key) => (revisions.all(key) as KeptRevision[]).map(revisionOf),
    changes: (key, revision) => {
      const row = changes.get(key, revision) as { changes: string; id: string } | undefined;
      if (row === undefined) return null;
      const read = readChangeList(JSON.parse(row.changes), row.id);
      return read.ok ? read.value : null;
    },
  };
}

/** A build is made, and each edit is a further revision. */
function savingOf(db: Db): Pick<BuildStore, 'create' | 'prepare' | 'show' | 'save'> {
  const addBuild = db.prepare('insert into builds (id, revision, created_at, removed_at) values (?, 1, ?, ?)');
  const show = db.prepare('update builds set removed_at = null where key = ?');
  const addRevision = db.prepare(`
    insert into revisions (build_key, revision, saved_at, who, cause, fact, changes, document)
    values (:key, :revision, :savedAt, :who, '', :fact, :changes, :document)`);
  const raise = db.prepare('update builds set revision = revision + 1 where key = ? returning revision').pluck();

  const create = db.transaction((build: Build, saved: Saved, removedAt: string | null): Ground => {
    const key = Number(addBuild.run(build.id, saved.savedAt, removedAt).lastInsertRowid);
    addRevision.run({ key, revision: 1, ...columnsOf(build, saved) });
    return { key, revision: 1, logSeq: 0, closed: null };
  });
  const save = db.transaction((key: number, build: Build, saved: Saved): number => {
    const revision = raise.get(key) as number;
    addRevision.run({ key, revision, ...columnsOf(build, saved) });
    return revision;
  });

  return {
    create: (build, saved) => create.immediate(build, saved, null),
    prepare: (build, saved) => create.immediate(build, saved, saved.savedAt),
    show: (key) => void show.run(key),
    save: (key, build, saved) => save.immediate(key, build, saved),
  };
}

/** A build is closed and reopened, removed and brought back. */
function endingOf(db: Db): Pick<BuildStore, 'closed' | 'close' | 'reopen' | 'remove' | 'removed' | 'bringBack'> {
  const closed = db.prepare(`
    select closed_at as "at", closed_by as who from builds where key = ? and closed_at is not null`);
  const setClosed = db.prepare('update builds set closed_at = ?, closed_by = ? where key = ?');
  const remove = db.prepare('update builds set removed_at = ? where id = ? and removed_at is null');
  // A build that is still being read in is out of sight as of its making.
  const removed = db.prepare(`
    select b.key, b.id, json_extract(r.document, '$.name') as name, b.removed_at as removedAt
      from builds b join revisions r on r.build_key = b.key and r.revision = b.revision
     where b.removed_at > b.created_at order by b.removed_at desc, b.key desc`);
  const bringBack = db.prepare(`
    update builds set removed_at = null where key = ? and removed_at > created_at
       and not exists (select 1 from builds other where other.id = builds.id and other.removed_at is null)`);

  return {
    closed: (key) => (closed.get(key) as Closed | undefined) ?? null,
    close: (key, { at, who }) => void setClosed.run(at, who, key),
    reopen: (key) => void setClosed.run(null, null, key),
    remove: (id, removedAt) => remove.run(removedAt, id).changes === 1,
    removed: () => removed.all() as RemovedRow[],
    bringBack: (key) => bringBack.run(key).changes === 1,
  };
}

type GroundRow = Omit<Ground, 'closed'> & { readonly closedAt: string | null; readonly closedBy: string };

function groundOf(row: GroundRow | undefined): Ground | null {
  if (row === undefined) return null;
  const { closedAt, closedBy, ...ground } = row;
  return { ...ground, closed: closedAt === null ? null : { at: closedAt, who: closedBy } };
}

type KeptRevision = Omit<RevisionRow, 'cause'> & { readonly cause: string; readonly fact: string | null };

function columnsOf(build: Build, { savedAt, who, cause, changes }: Saved) {
  const list = changes === undefined ? null : JSON.stringify(changeListOf(build.id, changes));
  return { savedAt, who, fact: JSON.stringify(cause), changes: list, document: JSON.stringify(build) };
}

function revisionOf({ cause, fact, ...row }: KeptRevision): RevisionRow {
  return { ...row, cause: fact === null ? causeOfSentence(cause) : (JSON.parse(fact) as RevisionCause) };
}
