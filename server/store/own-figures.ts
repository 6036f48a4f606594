/** The maker's own shelf: what was measured in earlier builds, by kind and name. */
import type { OwnFigure } from '../model/index.ts';
import type { Db } from './open.ts';

export interface OwnFigureStore {
  /** All figures in the order of the builds, those of removed builds too: what was measured stays true. */
  all(): OwnFigure[];
  /** Puts the figures of a build in place of those that were kept of it before, all or none. */
  keep(key: number, figures: readonly Omit<OwnFigure, 'build' | 'buildName'>[], keptAt: string): void;
}

/** The questions about the shelf that the database answers. */
export function createOwnFigureStore(db: Db): OwnFigureStore {
  const all = db.prepare(`
    select f.kind, f.name, f.value, f.counted, b.id as build, json_extract(r.document, '$.name') as buildName
      from own_figures f join builds b on b.key = f.build_key
      join revisions r on r.build_key = b.key and r.revision = b.revision
     order by f.build_key, f.kind, f.name`);
  const clear = db.prepare('delete from own_figures where build_key = ?');
  const add = db.prepare(`
    insert into own_figures (build_key, kind, name, value, counted, kept_at)
    values (:key, :kind, :name, :value, :counted, :keptAt)
    on conflict do update set value = excluded.value, counted = excluded.counted, kept_at = excluded.kept_at`);
  const keep = db.transaction((key: number, figures: Parameters<OwnFigureStore['keep']>[1], keptAt: string): void => {
    clear.run(key);
    for (const { kind, name, value, counted } of figures) add.run({ key, kind, name, value, counted, keptAt });
  });
  return {
    all: () => all.all() as OwnFigure[],
    keep: (key, figures, keptAt) => keep.immediate(key, figures, keptAt),
  };
}
