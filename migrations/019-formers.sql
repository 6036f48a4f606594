-- The plan that stood before a row of the ledger of room, kept until the row's parts are worked out. It is as long as
-- the build has lots, so it is no longer in the row, which is read with each look at the ledger; only its writer reads
-- it, so its form is not looked at.
create table forecast_formers (
  id        integer primary key,
  build_key integer not null references builds (key),
  number    integer not null,
  former    text not null,
  unique (build_key, number)
) strict;
insert into forecast_formers (build_key, number, former)
  select build_key, number, former from forecast_history where former is not null order by build_key, number;
alter table forecast_history drop column former;
