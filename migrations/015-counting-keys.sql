-- Keys of programs that may only count, such as a scale on the bench. Only hashes are kept, those of ended ones too, so that a key that was
-- ended can say so. Instants in milliseconds since the epoch.
create table counting_keys (
  number     integer primary key autoincrement,
  build_key  integer not null references builds (key),
  -- Its counts stand in the log under this name.
  name       text not null,
  token_hash text not null unique,
  created_at integer not null,
  -- When it was last let in; null: never yet.
  used_at    integer,
  ended_at   integer
) strict;

create unique index counting_keys_by_name on counting_keys (build_key, lower(name)) where ended_at is null;
