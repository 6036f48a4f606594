/** Reads a build file: JSON, or YAML as far as it says the same. */
import { readFileSync, statSync } from 'node:fs';
import { type BuildFile, type ProblemCode, problem, type Result } from '../model/index.ts';
import { MOST_FILE_MEGABYTES, readBuildFile } from '../planner/index.ts';

const BYTES_A_MEGABYTE = 1024 * 1024;

/** The build file at `path`, checked. Problems name the field, the value and what would be right. */
export function buildFileAt(path: string): Result<BuildFile> {
  const text = readText(path);
  return text.ok ? readBuildFile(text.value, path) : text;
}

function readText(path: string): Result<string> {
  try {
    const { size } = statSync(path);
    if (size > MOST_FILE_MEGABYTES * BYTES_A_MEGABYTE) {
      const megabytes = Math.ceil(size / BYTES_A_MEGABYTE);
      return refuse(
        'too-large',
        path,
        `${path} has ${megabytes} MB; a build file has at most ${MOST_FILE_MEGABYTES} MB. Leave out what is not the build, or split it.`,
      );
    }
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path)) };
  } catch (error) {
    return refuse('shape', path, `${path} cannot be read: ${unreadable(error)}.`);
  }
}

function unreadable(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT') return 'there is no such file';
  if (code === 'EISDIR') return 'it is a folder; name a file';
  if (code === 'EACCES') return 'you may not read it';
  return code === 'ERR_ENCODING_INVALID_ENCODED_DATA' ? 'it is not UTF-8 text' : message;
}

function refuse<T>(code: ProblemCode, path: string, message: string): Result<T> {
  return { ok: false, problems: [problem(code, 'file', path, message)] };
}
