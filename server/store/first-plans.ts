/**
 * The first plan of each build, as it stood when the first thing was counted. Its document is a text that only its
 * writer reads.
 */
import type { Db } from './open.ts';

export interface FirstPlanStore {
  get(key: number): { readonly revision: number; readonly document: string } | null;
  /** Keeps it in the place of the one before. */
  keep(key: number, revision: number, document: string): void;
  drop(key: number): void;
}

/** The questions about first plans that the database answers. */
export function createFirstPlanStore(db: Db): FirstPlanStore {
  const get = db.prepare('select revision, document from first_plans where build_key = ?');
  const put = db.prepare(`
    insert into first_plans (build_key, revision, document) values (?, ?, ?)
    on conflict (build_key) do update set revision = excluded.revision, document = excluded.document`);
  const drop = db.prepare('delete from first_plans where build_key = ?');
  return {
    get: (key) => (get.get(key) as { revision: number; document: string } | undefined) ?? null,
    keep: (key, revision, document) => {
      put.run(key, revision, document);
    },
    drop: (key) => {
      drop.run(key);
    },
  };
}
