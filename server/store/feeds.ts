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

/** An event as a calendar gives it out: its name, and a hash of what it says. */
export interface ToldEvent {
  readonly uid: string;
  readonly told: string;
}

/** How often an event has changed since it was first given out, and when it did last, in minutes since the epoch. */
export interface EventStamp {
  readonly sequence: number;
  readonly stamp: number;
}

export interface FeedStore {
  /** False: there is no such build. */
  add(build: string, feed: NewFeed): boolean;
  /** Those of a build that have not been ended, oldest first. */
  of(build: string): Feed[];
  /** One by its token, an ended one too; null where there is none, or its build is gone. */
  byToken(tokenHash: string): Feed | null;
  /**
   * The stamp of each of these events, in their order: the one that it had when its hash was the same, else `now` (in
   * minutes), with the next sequence. They are kept. Empty: there is no such build.
   */
  stamped(build: string, language: string, events: readonly ToldEvent[], now: number): EventStamp[];
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
  const keyOf = db.prepare('select key from builds where id = ? and removed_at is null').pluck();
  const before = db.prepare('select * from calendar_stamps where build_key = ? and language = ?');
  const keep = db.prepare(`
    insert into calendar_stamps (build_key, language, uid, told, sequence, stamp)
    values (:key, :language, :uid, :told, :sequence, :stamp)
    on conflict do update set told = excluded.told, sequence = excluded.sequence, stamp = excluded.stamp`);
  const stamped = db.transaction((build: string, language: string, events: readonly ToldEvent[], now: number) => {
    const key = keyOf.get(build) as number | undefined;
    if (key === undefined) return [];
    const rows = before.all(key, language) as (ToldEvent & EventStamp)[];
    const known = new Map(rows.map((row) => [row.uid, row]));
    return events.map(({ uid, told }): EventStamp => {
      const last = known.get(uid);
      if (last?.told === told) return { sequence: last.sequence, stamp: last.stamp };
      const next = { sequence: last === undefined ? 0 : last.sequence + 1, stamp: now };
      keep.run({ key, language, uid, told, ...next });
      return next;
    });
  });
  return {
    stamped: (build, language, events, now) => stamped.immediate(build, language, events, now) as EventStamp[],
    add: (build, feed) => add.run({ ...feed, build }).changes === 1,
    of: (build) => of.all(build) as Feed[],
    byToken: (tokenHash) => (byToken.get(tokenHash) as Feed | undefined) ?? null,
    end: (build, number, now) => end.run(now, number, build).changes === 1,
  };
}
