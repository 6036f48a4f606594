-- The kept forecast in pieces, each compressed (gzip) and read by itself, so that a large one holds nobody up. Where
-- there are any, the document of the same build in forecasts is empty: {}.

create table forecast_pieces (
  build_key integer not null references builds (key),
  number    integer not null check (number >= 1),
  packed    blob not null,
  primary key (build_key, number)
) strict;
