-- Which sentence asks the question, with its values, as JSON: for readers of other languages. Null where only the words
-- are known, as of what was asked before.

alter table doubts add column sentence text;
