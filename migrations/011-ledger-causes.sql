-- Why a row of the ledger of room is there, as facts (server/model/ledger.ts). Null in a row from before: `cause` is
-- then the line that was kept, which is empty where there are facts.
alter table forecast_history add column facts text check (facts is null or json_valid(facts));
