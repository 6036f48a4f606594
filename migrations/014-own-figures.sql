-- What the maker has measured: paces, yields and lead times by name, one of each build, from which the next build may begin.

create table own_figures (
  build_key integer not null references builds (key),
  kind      text not null check (kind in ('pace', 'yield', 'lead')),
  name      text not null,
  value     real not null,
  counted   integer not null check (counted >= 1),
  kept_at   text not null,
  primary key (build_key, kind, name)
) strict, without rowid;
