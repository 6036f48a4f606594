/** Opens the database file and brings it up to this version's migrations. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { type Problem, problem, problemTexts, type Result } from '../model/index.ts';
import { makePrivate } from './private.ts';

const say = problemTexts.serving.database;

export type Db = Database.Database;

/** Marks the file as ours, so that no other program's database is ever migrated: "DAYW" in ASCII. */
const APPLICATION_ID = 0x44415957;
const BUSY_MILLISECONDS = 2000;

/**
 * Opens (and, where it is missing, makes) the database file and migrates it forward. `:memory:` keeps nothing. The file
 * is made its owner's alone, an existing one too. What a restore or a commit that broke off has left is taken back
 * here.
 *
 * A commit is on the disk when it returns (write-ahead log, full synchronous mode), but for that of a forecast, until
 * the disk falls behind (see `createDisk`): a tap that was answered survives a power cut. Another process that holds
 * the file is waited for, two seconds at most.
 *
 * Refused, and left as it is: a file that is no database, one of another program, and one that a newer Daywright made.
 */
export function openDatabase(file: string): Result<Db> {
  let db: Db | null = null;
  try {
    if (file !== ':memory:') makePrivate(file);
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

/** What keeps Daywright from a database that is somebody else’s or newer; null where it is its own. */
export function foreign(db: Db, file: string): Problem | null {
  const empty = db.prepare('select count(*) = 0 as empty from sqlite_schema').get() as { empty: number };
  if (empty.empty === 1 && schemaVersion(db) === 0) return null;
  if (db.pragma('application_id', { simple: true }) !== APPLICATION_ID) {
    return problem('version', 'db', file, say.foreign(file));
  }
  const [has, knows] = [schemaVersion(db), newestSchemaVersion()];
  if (has <= knows) return null;
  return problem('version', 'db', file, say.newer(file, has, knows));
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

/** `migrations/` is beside `server/` in the sources and one level further up from the compiled files. */
function migrationsFolder(): string {
  for (let folder = dirname(fileURLToPath(import.meta.url)); folder !== dirname(folder); folder = dirname(folder)) {
    if (existsSync(join(folder, 'migrations')) && existsSync(join(folder, 'package.json'))) {
      return join(folder, 'migrations');
    }
  }
  throw new Error('the folder "migrations" is missing');
}

/** What SQLite said of a file, as a sentence. */
export function unreadable(file: string, error: unknown): Problem {
  const reason = (error as { code?: string }).code;
  if (reason === 'SQLITE_NOTADB') {
    return problem('shape', 'db', file, say.isNone(file));
  }
  if (reason === 'SQLITE_BUSY') {
    return problem('conflict', 'db', file, say.isLocked(file));
  }
  return problem('shape', 'db', file, say.unopened(file, (error as Error).message));
}
