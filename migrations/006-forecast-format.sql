-- By which form of forecasts the kept one was made: one of another form is computed anew instead of shown.
alter table forecasts add column format integer not null default 0;
