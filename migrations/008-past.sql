-- The plan that stood before a row, kept until its parts are worked out, so that they can still be after a stop.
alter table forecast_history add column former text check (former is null or json_valid(former));
-- 1: worked out afterwards, from a log that was there before the first forecast.
alter table forecast_history add column rebuilt integer not null default 0 check (rebuilt in (0, 1));

-- The plan as it stood when the first thing was counted: what the counts are held against. It stays when the build is edited.
create table first_plans (
  build_key integer primary key references builds (key),
  -- The revision that it is a plan of.
  revision  integer not null,
  document  text not null check (json_valid(document))
) strict;
