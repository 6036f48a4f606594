-- The guard of the log again, asking by each key for itself: asked by "either", it read the whole log for every entry.

drop trigger log_is_not_replaced;

create trigger log_is_not_replaced before insert on log
when exists (select 1 from log where build_key = new.build_key and seq = new.seq)
  or exists (select 1 from log where build_key = new.build_key and id = new.id)
begin select raise(abort, 'the log is only appended to'); end;
