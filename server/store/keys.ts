/** Keys of programs that may only count, by their hashes. Instants in milliseconds since the epoch. */
import type { Db } from './open.ts';

export interface NewKey {
  /** Its counts stand in the log under this name. */
  readonly name: string;
  readonly tokenHash: string;
  readonly createdAt: number;
}

export interface CountingKey extends Omit<NewKey, 'tokenHash'> {
  /** Never given twice. */
  readonly number: number;
  readonly build: string;
  /** When it was last let in, to the minute; null: never yet. */
  readonly usedAt: number | null;
  readonly endedAt: number | null;
}

export interface KeyStore {
  /**
   * `name-taken`: another key or a helper of the build counts under it. A name is free again once its key or helper has
   * been ended.
   */
  add(build: string, key: NewKey): 'added' | 'name-taken' | 'no-build';
  /** Those of a build that have not been ended, oldest first. */
  of(build: string): CountingKey[];
  /** One by its token, an ended one too; null where there is none, or its build is gone. */
  byToken(tokenHash: string): CountingKey | null;
  /** Notes that it was let in. A note within a minute of the last one changes nothing, so that counts wait for none. */
  used(number: number, now: number): void;
  /** False: there is no such key of this build, or it has been ended before. */
  end(build: string, number: number, now: number): boolean;
}

const MINUTE_MS = 60_000;

/** The questions about keys that the database answers. */
export function createKeyStore(db: Db): KeyStore {
  const buildKey = db.prepare('select key from builds where id = ? and removed_at is null').pluck();
  const named = db.prepare(`
    select 1 from counting_keys where build_key = :key and lower(name) = lower(:name) and ended_at is null
    union all
    select 1 from helpers where build_key = :key and lower(name) = lower(:name) and ended_at is null`);
  const insert = db.prepare(`
    insert into counting_keys (build_key, name, token_hash, created_at) values (:key, :name, :tokenHash, :createdAt)`);
  const columns = `k.number, b.id as build, k.name, k.created_at as createdAt, k.used_at as usedAt, k.ended_at as endedAt
      from counting_keys k join builds b on b.key = k.build_key and b.removed_at is null`;
  const of = db.prepare(`select ${columns} where b.id = ? and k.ended_at is null order by k.number`);
  const byToken = db.prepare(`select ${columns} where k.token_hash = ?`);
  const used = db.prepare(`
    update counting_keys set used_at = :now
     where number = :number and (used_at is null or used_at <= :now - ${MINUTE_MS} or used_at > :now)`);
  const end = db.prepare(`
    update counting_keys set ended_at = ? where number = ? and ended_at is null
       and build_key = (select key from builds where id = ? and removed_at is null)`);

  const add = db.transaction((build: string, key: NewKey): 'added' | 'name-taken' | 'no-build' => {
    const at = buildKey.get(build) as number | undefined;
    if (at === undefined) return 'no-build';
    if (named.get({ key: at, name: key.name }) !== undefined) return 'name-taken';
    insert.run({ ...key, key: at });
    return 'added';
  });
  return {
    add: (build, key) => add.immediate(build, key),
    of: (build) => of.all(build) as CountingKey[],
    byToken: (tokenHash) => (byToken.get(tokenHash) as CountingKey | undefined) ?? null,
    used: (number, now) => void used.run({ number, now }),
    end: (build, number, now) => end.run(now, number, build).changes === 1,
  };
}
