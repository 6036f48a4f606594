/** Calendar feeds: secret addresses, by their hashes. Instants in milliseconds since the epoch. */
import type { Db } from './open.ts';

export interface NewFeed {
  /** Id of the person whose days they are; null: all that is to be done. */
  readonly person: string | null;
  /** How long before a last moment it rings; null: never. */
  readonly alarmMinutes: number | null;
  readonly tokenHash: string;
  readonly createdAt: number;
}

export interface Feed extends Omit<NewFeed, 'tokenHash'> {
  /** Never given twice. */
  readonly number: number;
  readonly build: string;
  readonly endedAt: number | null;
}

export interface FeedStore {
  /** False: there is no such build. */
  add(build: string, feed: NewFeed): boolean;
  /** Those of a build that have not been ended, oldest first. */
  of(build: string): Feed[];
  /** One by its token, an ended one too; null where there is none, or its build is gone. */
  byToken(tokenHash: string): Feed | null;
  /** False: there is no such feed of this build, or it has been ended before. */
  end(build: string, number: number, now: number): boolean;
}

/** The questions about calendar feeds that the database answers. */
export function createFeedStore(db: Db): FeedStore {
  const add = db.prepare(`
    insert into calendar_feeds (build_key, person, alarm_minutes, token_hash, created_at)
    select key, :person, :alarmMinutes, :tokenHash, :createdAt from builds where id = :build and removed_at is null`);
  const columns = `f.number, b.id as build, f.person, f.alarm_minutes as alarmMinutes, f.created_at as createdAt,
      f.ended_at as endedAt
      from calendar_feeds f join builds b on b.key = f.build_key and b.removed_at is null`;
  const of = db.prepare(`select ${columns} where b.id = ? and f.ended_at is null order by f.number`);
  const byToken = db.prepare(`select ${columns} where f.token_hash = ?`);
  const end = db.prepare(`
    update calendar_feeds set ended_at = ? where number = ? and ended_at is null
       and build_key = (select key from builds where id = ? and removed_at is null)`);
  return {
    add: (build, feed) => add.run({ ...feed, build }).changes === 1,
    of: (build) => of.all(build) as Feed[],
    byToken: (tokenHash) => (byToken.get(tokenHash) as Feed | undefined) ?? null,
    end: (build, number, now) => end.run(now, number, build).changes === 1,
  };
}
