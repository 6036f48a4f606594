-- What calendars last gave out of each event, so that an event is given a new stamp and sequence only where it has changed. By language, since
-- its words are in one. `told` is a hash of what the event says; `stamp` is in minutes since the epoch.
create table calendar_stamps (
  build_key integer not null references builds (key),
  language  text not null,
  uid       text not null,
  told      text not null,
  sequence  integer not null,
  stamp     integer not null,
  primary key (build_key, language, uid)
) strict, without rowid;
