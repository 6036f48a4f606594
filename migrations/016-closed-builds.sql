-- A build that is closed after its show: who closed it, and when (UTC, ISO 8601). Both or neither; reopening takes them away.

alter table builds add column closed_at text;
alter table builds add column closed_by text;
