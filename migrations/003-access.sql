-- Who is let in. Only hashes are kept: no key, code or token can be read from here. Instants in milliseconds since the epoch.

create table maker_key (
  one     integer primary key check (one = 1),
  hash    text not null,
  made_at integer not null
) strict;

create table maker_sessions (
  token_hash text primary key,
  created_at integer not null,
  ended_at   integer
) strict;

create table helpers (
  id         text primary key,
  build_key  integer not null references builds (key),
  name       text not null,
  token_hash text not null unique,
  created_at integer not null,
  ended_at   integer
) strict;

create unique index helpers_by_name on helpers (build_key, lower(name)) where ended_at is null;

create table join_codes (
  hash       text primary key,
  build_key  integer not null references builds (key),
  created_at integer not null,
  expires_at integer not null,
  most_uses  integer not null check (most_uses >= 1),
  uses       integer not null default 0 check (uses between 0 and most_uses),
  ended_at   integer
) strict;
