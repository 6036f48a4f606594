/**
 * Who is let in: the maker's key, sessions, codes to join and helpers. Hashes only; instants in milliseconds since the
 * epoch.
 */
import type { Db } from './open.ts';

export interface Helper {
  readonly id: string;
  /** The one build that they may count on. */
  readonly build: string;
  readonly name: string;
  readonly createdAt: number;
  readonly endedAt: number | null;
}

export interface NewHelper {
  readonly id: string;
  readonly name: string;
  readonly tokenHash: string;
}

export interface NewJoinCode {
  readonly hash: string;
  readonly build: string;
  readonly createdAt: number;
  readonly expiresAt: number;
  readonly mostUses: number;
}

/** The maker signs with this name; a helper of the same name could take back what others have logged. */
const RESERVED_NAME = 'maker';

export type JoinRefusal = 'unknown-code' | 'expired' | 'used-up' | 'name-taken';

export interface AccessStore {
  makerKeyHash(): string | null;
  /** A new key ends all of the maker's sessions. */
  setMakerKey(hash: string, now: number): void;
  /** The same key under another hash: its sessions stay. */
  rehashMakerKey(hash: string): void;
  openMakerSession(tokenHash: string, now: number): void;
  /** Whether there is such a session that was opened after an instant and has not been ended. */
  isMakerSession(tokenHash: string, openedAfter: number): boolean;
  endMakerSession(tokenHash: string, now: number): void;
  /** False: there is no such build. */
  addJoinCode(code: NewJoinCode): boolean;
  /** Whether a code may still be used, and for which build; changes nothing. */
  checkJoinCode(hash: string, now: number): { readonly build: string } | JoinRefusal;
  /** Uses the code once and lets the helper in, in one transaction. */
  join(hash: string, helper: NewHelper, now: number): Helper | JoinRefusal;
  endJoinCodes(build: string, now: number): void;
  /** The helper whose session this is, if it has not been ended and the build is still there. */
  helperByToken(tokenHash: string): Helper | null;
  /** Those of a build, ended ones included, oldest first. */
  helpers(build: string): Helper[];
  /** False: there is no such helper on this build, or they have been ended before. */
  endHelper(build: string, id: string, now: number): boolean;
}

/** The questions about access that the database answers. */
export function createAccessStore(db: Db): AccessStore {
  return { ...makerAccess(db), ...helperAccess(db) };
}

type MakerAccess = Pick<
  AccessStore,
  'makerKeyHash' | 'setMakerKey' | 'rehashMakerKey' | 'openMakerSession' | 'isMakerSession' | 'endMakerSession'
>;

/** The maker's key, and the browsers that have signed in with it. */
function makerAccess(db: Db): MakerAccess {
  const key = db.prepare('select hash from maker_key').pluck();
  const putKey = db.prepare(`
    insert into maker_key (one, hash, made_at) values (1, ?, ?)
    on conflict (one) do update set hash = excluded.hash, made_at = excluded.made_at`);
  const rehash = db.prepare('update maker_key set hash = ?');
  const endSessions = db.prepare('update maker_sessions set ended_at = ? where ended_at is null');
  const addSession = db.prepare('insert into maker_sessions (token_hash, created_at) values (?, ?)');
  const session = db.prepare(`
    select 1 from maker_sessions where token_hash = ? and created_at > ? and ended_at is null`);
  const endSession = db.prepare('update maker_sessions set ended_at = ? where token_hash = ? and ended_at is null');

  const setMakerKey = db.transaction((hash: string, now: number): void => {
    putKey.run(hash, now);
    endSessions.run(now);
  });

  return {
    makerKeyHash: () => (key.get() as string | undefined) ?? null,
    setMakerKey: (hash, now) => setMakerKey.immediate(hash, now),
    rehashMakerKey: (hash) => void rehash.run(hash),
    openMakerSession: (tokenHash, now) => void addSession.run(tokenHash, now),
    isMakerSession: (tokenHash, openedAfter) => session.get(tokenHash, openedAfter) !== undefined,
    endMakerSession: (tokenHash, now) => void endSession.run(now, tokenHash),
  };
}

/** Codes to join a build, and the helpers who joined. */
function helperAccess(db: Db): Omit<AccessStore, keyof MakerAccess> {
  const addCode = db.prepare(`
    insert into join_codes (hash, build_key, created_at, expires_at, most_uses)
    select ?, key, ?, ?, ? from builds where id = ? and removed_at is null`);
  const code = db.prepare(`
    select c.build_key as key, b.id as build, c.expires_at as expiresAt, c.most_uses as mostUses, c.uses
      from join_codes c join builds b on b.key = c.build_key and b.removed_at is null
     where c.hash = ? and c.ended_at is null`);
  const useCode = db.prepare('update join_codes set uses = uses + 1 where hash = ?');
  const endCodes = db.prepare(`
    update join_codes set ended_at = ? where ended_at is null
       and build_key = (select key from builds where id = ? and removed_at is null)`);
  const columns = `h.id, b.id as build, h.name, h.created_at as createdAt, h.ended_at as endedAt
      from helpers h join builds b on b.key = h.build_key and b.removed_at is null`;
  const byToken = db.prepare(`select ${columns} where h.token_hash = ? and h.ended_at is null`);
  const byBuild = db.prepare(`select ${columns} where b.id = ? order by h.created_at, h.id`);
  const named = db.prepare(`
    select 1 from helpers where build_key = :key and lower(name) = lower(:name) and ended_at is null
    union all
    select 1 from counting_keys where build_key = :key and lower(name) = lower(:name) and ended_at is null`);
  const addHelper = db.prepare(`
    insert into helpers (id, build_key, name, token_hash, created_at) values (?, ?, ?, ?, ?)`);
  const endHelper = db.prepare(`
    update helpers set ended_at = ? where id = ? and ended_at is null
       and build_key = (select key from builds where id = ? and removed_at is null)`);

  const usable = (hash: string, now: number): Code | JoinRefusal => {
    const row = code.get(hash) as Code | undefined;
    if (!row) return 'unknown-code';
    if (row.expiresAt <= now) return 'expired';
    return row.uses >= row.mostUses ? 'used-up' : row;
  };
  const join = db.transaction((hash: string, helper: NewHelper, now: number): Helper | JoinRefusal => {
    const row = usable(hash, now);
    if (typeof row === 'string') return row;
    const name = helper.name.trim().toLowerCase();
    if (name === RESERVED_NAME || named.get({ key: row.key, name: helper.name })) return 'name-taken';
    useCode.run(hash);
    addHelper.run(helper.id, row.key, helper.name, helper.tokenHash, now);
    return { id: helper.id, build: row.build, name: helper.name, createdAt: now, endedAt: null };
  });

  return {
    addJoinCode: ({ hash, build, createdAt, expiresAt, mostUses }) =>
      addCode.run(hash, createdAt, expiresAt, mostUses, build).changes === 1,
    checkJoinCode: (hash, now) => {
      const row = usable(hash, now);
      return typeof row === 'string' ? row : { build: row.build };
    },
    join: (hash, helper, now) => join.immediate(hash, helper, now),
    endJoinCodes: (build, now) => void endCodes.run(now, build),
    helperByToken: (tokenHash) => (byToken.get(tokenHash) as Helper | undefined) ?? null,
    helpers: (build) => byBuild.all(build) as Helper[],
    endHelper: (build, id, now) => endHelper.run(now, id, build).changes === 1,
  };
}

interface Code {
  readonly key: number;
  readonly build: string;
  readonly expiresAt: number;
  readonly mostUses: number;
  readonly uses: number;
}
