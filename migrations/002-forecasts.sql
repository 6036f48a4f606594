-- Derived state: may be thrown away; says which revision and which log entry it was computed from.

create table forecasts (
  build_key   integer primary key references builds (key),
  revision    integer not null,
  log_seq     integer not null,
  computed_at integer not null,
  depth       text not null check (depth in ('quick', 'deep')),
  document    text not null check (json_valid(document))
) strict;

-- One row for each change of the answer: what gained or cost room. Instants and lengths in minutes.
create table forecast_history (
  build_key    integer not null references builds (key),
  number       integer not null check (number >= 1),
  computed_at  integer not null,
  revision     integer not null,
  log_seq      integer not null,
  cause        text not null,
  ready_at     integer,
  room_minutes integer,
  chance       real check (chance between 0 and 1),
  primary key (build_key, number)
) strict, without rowid;
