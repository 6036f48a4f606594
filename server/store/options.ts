/** Options: lists of changes kept beside a build under a name. */
import { type Change, changeListOf, readChangeList } from '../model/index.ts';
import type { Db } from './open.ts';

export interface OptionRow {
  /** Never given twice. */
  readonly number: number;
  readonly name: string;
  /** The edit that the changes were made on. */
  readonly revision: number;
  readonly changes: readonly Change[];
  /** UTC, ISO 8601. */
  readonly savedAt: string;
  readonly who: string;
}

export type NewOption = Omit<OptionRow, 'number'>;

export interface OptionStore {
  /** In order of making. One whose changes are of a form that is not known has none. */
  of(key: number): OptionRow[];
  /** Its number. The name must be free among those of the build: ask `of` first, in the same transaction. */
  add(key: number, build: string, option: NewOption): number;
  /** Other changes under the same name and number. False: there is no such option. */
  change(key: number, build: string, number: number, option: NewOption): boolean;
  /** False: there is no such option. */
  drop(key: number, number: number): boolean;
}

/** The questions about options that the database answers. */
export function createOptionStore(db: Db): OptionStore {
  const of = db.prepare(`
    select o.number, o.name, o.revision, o.changes, o.saved_at as savedAt, o.who, b.id as build
      from options o join builds b on b.key = o.build_key where o.build_key = ? order by o.number`);
  const add = db.prepare(`
    insert into options (build_key, name, revision, changes, saved_at, who)
    values (:key, :name, :revision, :list, :savedAt, :who)`);
  const change = db.prepare(`
    update options set name = :name, revision = :revision, changes = :list, saved_at = :savedAt, who = :who
     where build_key = :key and number = :number`);
  const drop = db.prepare('delete from options where build_key = ? and number = ?');
  const columns = (key: number, build: string, { changes, ...option }: NewOption) => ({
    ...option,
    key,
    list: JSON.stringify(changeListOf(build, changes)),
  });
  return {
    of: (key) => (of.all(key) as KeptOption[]).map(optionOf),
    add: (key, build, option) => Number(add.run(columns(key, build, option)).lastInsertRowid),
    change: (key, build, number, option) => change.run({ ...columns(key, build, option), number }).changes === 1,
    drop: (key, number) => drop.run(key, number).changes === 1,
  };
}

type KeptOption = Omit<OptionRow, 'changes'> & { readonly changes: string; readonly build: string };

function optionOf({ changes, build, ...row }: KeptOption): OptionRow {
  const read = readChangeList(JSON.parse(changes), build);
  return { ...row, changes: read.ok ? read.value : [] };
}
