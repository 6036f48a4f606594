-- The ledger of room: who caused a change of the answer, and its parts (see server/model/ledger.ts), which add up to the
-- whole change since the row before. Null where they are not worked out: then the change stands under its cause.

alter table forecast_history add column who text;
alter table forecast_history add column parts text check (parts is null or json_valid(parts));
