/** The database holds names, notes and the hashes of keys: nobody else on the machine may read it. */
import { chmodSync, closeSync, existsSync, mkdirSync, openSync, readdirSync } from 'node:fs';
import { basename, dirname } from 'node:path';

const OWNER_ONLY = 0o600;
const OWNER_ONLY_FOLDER = 0o700;
/** What SQLite and restoring put beside the database. */
const BESIDE = ['', '-wal', '-shm', '-journal', '.before-restore', '.part'] as const;
/** The folder of the certificate that is made here. */
const CERTIFICATES = 'tls';

/**
 * Makes the file where it is missing, and takes everybody's rights to it but the owner's: 600 for it and what is beside
 * it, 700 for its folder. A folder that holds other things than ours (a home, a desktop) keeps its rights. Where the
 * system does not know such rights, or the file is somebody else's, they stay as they are.
 */
export function makePrivate(file: string): void {
  const folder = dirname(file);
  makeFile(file);
  for (const end of BESIDE) if (existsSync(`${file}${end}`)) restrict(`${file}${end}`, OWNER_ONLY);
  if (isOurs(folder, basename(file))) restrict(folder, OWNER_ONLY_FOLDER);
}

/** An empty file, its owner's alone; one that is there stays as it is. */
export function makeFile(file: string): void {
  mkdirSync(dirname(file), { recursive: true, mode: OWNER_ONLY_FOLDER });
  if (!existsSync(file)) closeSync(openSync(file, 'a', OWNER_ONLY));
}

function isOurs(folder: string, name: string): boolean {
  return readdirSync(folder).every((one) => one.startsWith(name) || one === CERTIFICATES);
}

function restrict(path: string, mode: number): void {
  try {
    chmodSync(path, mode);
  } catch (error) {
    if (!['EPERM', 'ENOTSUP', 'EROFS'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
  }
}
