/** Copies the database while it is in use, and puts such a copy back in its place. */
import { closeSync, copyFileSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { type Problem, problem, problemTexts, type Result } from '../model/index.ts';
import { type Db, foreign, schemaVersion, unreadable } from './open.ts';
import { makeFile } from './private.ts';

const say = problemTexts.serving.backup;

/**
 * Files beside a database that belong to it and to no other: a log or a journal that is put beside another one spoils
 * it.
 */
const COMPANIONS = ['-journal', '-wal', '-shm'] as const;

/**
 * Copies the database to `file` while it is in use (SQLite's online backup), to be read by `restoreDatabase`. The copy
 * is written beside its place and put there when it is whole, so a broken backup never replaces a good one.
 */
export async function backupDatabase(db: Db, file: string): Promise<void> {
  await copyWhole(db, `${file}.part`);
  putInPlace(`${file}.part`, file);
}

/**
 * Puts a backup in the place of the database `file`. What was there is kept beside it as `<file>.before-restore` (an
 * older one of that name is replaced).
 *
 * Whatever breaks it off, the file in the place is the old database or the new one, whole: the new one is made beside
 * it, and takes its place in one step, after the old one has been brought into one file.
 *
 * Refused: a backup that is missing, damaged, foreign or newer; a database that another process has open.
 */
export async function restoreDatabase(backup: string, file: string): Promise<Result<{ keptAs: string | null }>> {
  if (!existsSync(backup)) {
    return { ok: false, problems: [problem('shape', 'file', backup, say.isMissing(backup))] };
  }
  const bad = damage(backup);
  if (bad) return { ok: false, problems: [bad] };
  const busy = existsSync(file) ? inUse(file) : null;
  if (busy) return { ok: false, problems: [busy] };
  const source = new Database(backup, { readonly: true });
  await copyWhole(source, `${file}.part`);
  source.close();
  const keptAs = existsSync(file) ? `${file}.before-restore` : null;
  if (keptAs) keep(file, keptAs);
  putInPlace(`${file}.part`, file);
  return { ok: true, value: { keptAs } };
}

/** A copy in one file, its owner's alone. What an earlier try has left there, its journal too, is put away first. */
async function copyWhole(db: Db, half: string): Promise<void> {
  for (const end of ['', ...COMPANIONS]) rmSync(`${half}${end}`, { force: true });
  makeFile(half);
  await db.backup(half);
  leaveWriteAhead(half);
}

/**
 * A copy of a write-ahead database would otherwise leave two more files beside it when it is looked into. What SQLite
 * cannot open is left as it is.
 */
function leaveWriteAhead(copy: string): void {
  const db = new Database(copy);
  try {
    db.pragma('journal_mode = DELETE');
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error;
  } finally {
    db.close();
  }
}

/**
 * `inUse` has brought the old database into one file; only one that SQLite cannot open has companions still, which go
 * with it as they are.
 */
function keep(file: string, keptAs: string): void {
  for (const end of COMPANIONS) for (const kept of [keptAs, `${keptAs}.part`]) rmSync(`${kept}${end}`, { force: true });
  copyFileSync(file, `${keptAs}.part`);
  const companions = COMPANIONS.filter((end) => existsSync(`${file}${end}`));
  if (companions.length === 0) leaveWriteAhead(`${keptAs}.part`);
  putInPlace(`${keptAs}.part`, keptAs);
  for (const end of companions) renameSync(`${file}${end}`, `${keptAs}${end}`);
}

/** In one step, and on the disk when it returns: whatever breaks off, one of the two is in place. */
function putInPlace(half: string, file: string): void {
  renameSync(half, file);
  const folder = openSync(dirname(file), 'r');
  try {
    fsyncSync(folder);
  } finally {
    closeSync(folder);
  }
}

function damage(file: string): Problem | null {
  let db: Db | null = null;
  try {
    db = new Database(file, { readonly: true });
    const verdict = db.pragma('integrity_check', { simple: true });
    if (verdict !== 'ok') return problem('shape', 'file', file, say.isDamaged(file, String(verdict)));
    if (schemaVersion(db) === 0) return problem('shape', 'file', file, say.isForeign(file));
    return foreign(db, file);
  } catch (error) {
    return unreadable(file, error);
  } finally {
    db?.close();
  }
}

/**
 * Whether somebody else has the file open: then SQLite does not let us have it for ourselves alone. What a try that
 * broke off has left in a journal is taken back here, and the write-ahead log brought into the file. Its mode is left
 * as it is: to change it takes a journal, and one that a kill leaves keeps out whoever may not write.
 */
function inUse(file: string): Problem | null {
  let db: Db | null = null;
  try {
    db = new Database(file, { timeout: 200 });
    db.pragma('locking_mode = EXCLUSIVE');
    db.exec('begin exclusive; commit');
    db.pragma('wal_checkpoint(TRUNCATE)');
    return null;
  } catch (error) {
    if ((error as { code?: string }).code !== 'SQLITE_BUSY') return null;
    return problem('conflict', 'db', file, say.inUse(file));
  } finally {
    db?.close();
  }
}
