/** Opens the database file, brings it up to this version's migrations, and copies it while it is in use. */
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { type Problem, problem, type Result } from '../model/index.ts';

export type Db = Database.Database;

/** Marks the file as ours, so that no other program's database is ever migrated: "DAYW" in ASCII. */
const APPLICATION_ID = 0x44415957;
const BUSY_MILLISECONDS = 2000;

/**
 * Opens (and, where it is missing, makes) the database file and migrates it forward. `:memory:` keeps nothing.
 *
 * A commit is on the disk when it returns (write-ahead log, full synchronous mode): a tap that was answered survives a
 * power cut. Another process that holds the file is waited for, two seconds at most.
 *
 * Refused, and left as it is: a file that is no database, one of another program, and one that a newer Daywright made.
 */
export function openDatabase(file: string): Result<Db> {
  if (file !== ':memory:') mkdirSync(dirname(file), { recursive: true });
  let db: Db | null = null;
  try {
    db = new Database(file, { timeout: BUSY_MILLISECONDS });
    const refused = foreign(db, file);
    if (refused) {
      db.close();
      return { ok: false, problems: [refused] };
    }
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.pragma('foreign_keys = ON');
    db.pragma('trusted_schema = OFF');
    migrate(db);
    return { ok: true, value: db };
  } catch (error) {
    db?.close();
    return { ok: false, problems: [unreadable(file, error)] };
  }
}

/** The number of the last migration that the database has seen. */
export function schemaVersion(db: Db): number {
  return db.pragma('user_version', { simple: true }) as number;
}

/** The number of the last migration that this Daywright knows. */
export function newestSchemaVersion(): number {
  return migrations().length;
}

/**
 * Copies the database to `file` while it is in use (SQLite's online backup), to be read by `restoreDatabase`. The copy is
 * written beside its place and put there when it is whole, so a broken backup never replaces a good one.
 */
export async function backupDatabase(db: Db, file: string): Promise<void> {
  mkdirSync(dirname(file), { recursive: true });
  const half = `${file}.part`;
  rmSync(half, { force: true });
  await db.backup(half);
  const copy = new Database(half);
  // A copy of a write-ahead database would otherwise leave two more files beside it when it is looked into.
  copy.pragma('journal_mode = DELETE');
  copy.close();
  renameSync(half, file);
}

/**
 * Puts a backup in the place of the database `file`. What was there is kept beside it as `<file>.before-restore`
 * (an older one of that name is replaced).
 *
 * Refused: a backup that is missing, damaged, foreign or newer; a database that another process has open.
 */
export async function restoreDatabase(backup: string, file: string): Promise<Result<{ keptAs: string | null }>> {
  if (!existsSync(backup)) {
    return { ok: false, problems: [problem('shape', 'file', backup, `There is no file "${backup}" to restore.`)] };
  }
  const bad = damage(backup);
  if (bad) return { ok: false, problems: [bad] };
  const busy = existsSync(file) ? held(file) : null;
  if (busy) return { ok: false, problems: [busy] };
  const source = new Database(backup, { readonly: true });
  const half = `${file}.part`;
  mkdirSync(dirname(file), { recursive: true });
  rmSync(half, { force: true });
  await source.backup(half);
  source.close();
  const keptAs = existsSync(file) ? `${file}.before-restore` : null;
  if (keptAs) copyFileSync(file, keptAs);
  for (const rest of ['-wal', '-shm']) rmSync(`${file}${rest}`, { force: true });
  // In one step: whatever breaks off, one of the two lies in the place.
  renameSync(half, file);
  return { ok: true, value: { keptAs } };
}

function foreign(db: Db, file: string): Problem | null {
  const empty = db.prepare('select count(*) = 0 as empty from sqlite_schema').get() as { empty: number };
  if (empty.empty === 1 && schemaVersion(db) === 0) return null;
  if (db.pragma('application_id', { simple: true }) !== APPLICATION_ID) {
    return problem(
      'version',
      'db',
      file,
      `"${file}" is a database of another program and is left alone; choose another file with --db.`,
    );
  }
  const [has, knows] = [schemaVersion(db), newestSchemaVersion()];
  if (has <= knows) return null;
  return problem(
    'version',
    'db',
    file,
    `"${file}" was written by a newer Daywright (its schema is number ${has}, this one knows ${knows}); update Daywright, or choose another file with --db.`,
  );
}

function migrate(db: Db): void {
  const run = db.transaction(() => {
    db.pragma(`application_id = ${APPLICATION_ID}`);
    for (const { number, sql } of migrations().slice(schemaVersion(db))) {
      db.exec(sql);
      db.pragma(`user_version = ${number}`);
    }
  });
  if (schemaVersion(db) < newestSchemaVersion()) run.immediate();
}

let known: readonly { readonly number: number; readonly sql: string }[] | null = null;

/** The migrations in order: 001-….sql is number 1. A gap or a doubled number is a broken program. */
function migrations(): readonly { readonly number: number; readonly sql: string }[] {
  if (known) return known;
  const folder = migrationsFolder();
  known = readdirSync(folder)
    .filter((name) => name.endsWith('.sql'))
    .sort()
    .map((name, index) => {
      const number = Number.parseInt(name, 10);
      if (number !== index + 1) throw new Error(`migration ${name} should be number ${index + 1}`);
      return { number, sql: readFileSync(join(folder, name), 'utf8') };
    });
  return known;
}

/** `migrations/` stands beside `server/` in the sources and one level further up from the compiled files. */
function migrationsFolder(): string {
  for (let folder = dirname(fileURLToPath(import.meta.url)); folder !== dirname(folder); folder = dirname(folder)) {
    if (existsSync(join(folder, 'migrations')) && existsSync(join(folder, 'package.json'))) {
      return join(folder, 'migrations');
    }
  }
  throw new Error('the folder "migrations" is missing');
}

function damage(file: string): Problem | null {
  let db: Db | null = null;
  try {
    db = new Database(file, { readonly: true });
    const verdict = db.pragma('integrity_check', { simple: true });
    if (verdict !== 'ok') return problem('shape', 'file', file, `The backup "${file}" is damaged: ${verdict}.`);
    if (schemaVersion(db) === 0) return problem('shape', 'file', file, `"${file}" is not a backup of Daywright.`);
    return foreign(db, file);
  } catch (error) {
    return unreadable(file, error);
  } finally {
    db?.close();
  }
}

/** Leaving the write-ahead mode needs the file for oneself alone: refused by SQLite while anybody else has it open. */
function held(file: string): Problem | null {
  let db: Db | null = null;
  try {
    db = new Database(file, { timeout: 200 });
    db.pragma('journal_mode = DELETE');
    return null;
  } catch (error) {
    if ((error as { code?: string }).code !== 'SQLITE_BUSY') return null;
    return problem('conflict', 'db', file, `"${file}" is in use; stop Daywright before restoring a backup.`);
  } finally {
    db?.close();
  }
}

function unreadable(file: string, error: unknown): Problem {
  const reason = (error as { code?: string }).code;
  if (reason === 'SQLITE_NOTADB') {
    return problem('shape', 'db', file, `"${file}" is not a database; choose another file with --db.`);
  }
  if (reason === 'SQLITE_BUSY') {
    return problem('conflict', 'db', file, `"${file}" is locked by another process; try again when it has finished.`);
  }
  return problem('shape', 'db', file, `"${file}" cannot be opened: ${(error as Error).message}.`);
}
