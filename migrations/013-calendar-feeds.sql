-- Calendar feeds: secret addresses under which a phone's calendar fetches what is to be done and when. Only hashes are kept, those of
-- ended ones too, so that an address that was ended can say so. Instants in milliseconds since the epoch.
create table calendar_feeds (
  number        integer primary key autoincrement,
  build_key     integer not null references builds (key),
  -- Whose days; null: all that is to be done.
  person        text,
  -- How long before a last moment it rings; null: never.
  alarm_minutes integer check (alarm_minutes between 0 and 10080),
  token_hash    text not null unique,
  created_at    integer not null,
  ended_at      integer
) strict;
