-- Ground state: what a person typed or tapped. A build is a document per revision; its log is only ever appended to.

create table builds (
  key        integer primary key,
  id         text not null,
  revision   integer not null check (revision >= 1),
  created_at text not null,
  removed_at text
) strict;

-- A removed build stays on disk with its log; its name is free again.
create unique index builds_by_id on builds (id) where removed_at is null;

create table revisions (
  build_key integer not null references builds (key),
  revision  integer not null check (revision >= 1),
  saved_at  text not null,
  who       text not null,
  cause     text not null,
  document  text not null check (json_valid(document)),
  primary key (build_key, revision)
) strict;

create trigger revisions_are_not_changed before update on revisions
begin select raise(abort, 'a revision is never changed'); end;

create trigger revisions_are_not_deleted before delete on revisions
begin select raise(abort, 'a revision is never deleted'); end;

create trigger revisions_are_not_replaced before insert on revisions
when exists (select 1 from revisions where build_key = new.build_key and revision = new.revision)
begin select raise(abort, 'a revision is never changed'); end;

create table log (
  build_key integer not null references builds (key),
  seq       integer not null check (seq >= 1),
  id        text not null,
  arrived   text not null,
  entry     text not null check (json_valid(entry)),
  primary key (build_key, seq)
) strict, without rowid;

create unique index log_by_id on log (build_key, id);

create trigger log_is_not_changed before update on log
begin select raise(abort, 'the log is only appended to'); end;

create trigger log_is_not_deleted before delete on log
begin select raise(abort, 'the log is only appended to'); end;

create trigger log_is_not_replaced before insert on log
when exists (select 1 from log where build_key = new.build_key and (seq = new.seq or id = new.id))
begin select raise(abort, 'the log is only appended to'); end;
