-- What the counting asked about entries that it kept, in the words in which it asked. The answer is in the log: an entry of
-- kind `confirmed`, or one of the two taken back.

create table doubts (
  build_key integer not null references builds (key),
  entry_id  text not null,
  question  text not null,
  -- The other entry that the question is about, where there is one.
  other_id  text,
  primary key (build_key, entry_id, question)
) strict, without rowid;
