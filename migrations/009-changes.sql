-- What an edit changed, as a list of changes (see server/model/changes), and why the revision is there, as a fact
-- (server/model/revision.ts). Null in a revision from before: `cause` is then the sentence that was kept, which is empty
-- where there is a fact.
alter table revisions add column changes text check (changes is null or json_valid(changes));
alter table revisions add column fact text check (fact is null or json_valid(fact));
