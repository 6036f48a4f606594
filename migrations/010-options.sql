-- Options: lists of changes that are kept beside a build under a name, to be looked at and adopted or dropped. A number is never
-- given twice, so that a page that is old cannot mean another option than the one it shows.
create table options (
  number    integer primary key autoincrement,
  build_key integer not null references builds (key),
  name      text not null check (name <> ''),
  -- The edit that the changes were made on: what they speak of was there then.
  revision  integer not null,
  changes   text not null check (json_valid(changes)),
  saved_at  text not null,
  who       text not null
) strict;

create unique index options_by_name on options (build_key, lower(name));
