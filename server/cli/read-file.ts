/** Reads a build file: JSON, or YAML as far as it says the same. */
import { readFileSync, statSync } from 'node:fs';
import { commandTexts } from '../../views/texts/programs/command.ts';
import { type BuildFile, type ProblemCode, type Result, wordedProblem } from '../model/index.ts';
import { MOST_FILE_MEGABYTES, readBuildFile } from '../planner/index.ts';

const say = commandTexts.wrong;

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
      return refuse('too-large', path, say.largeFile(path, megabytes, MOST_FILE_MEGABYTES));
    }
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path)) };
  } catch (error) {
    return refuse('shape', path, say.unread(path, unreadable(error)));
  }
}

function unreadable(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT') return say.why.noFile;
  if (code === 'EISDIR') return say.why.folder;
  if (code === 'EACCES') return say.why.forbidden;
  return code === 'ERR_ENCODING_INVALID_ENCODED_DATA' ? say.why.notText : message;
}

function refuse<T>(code: ProblemCode, path: string, message: string): Result<T> {
  return { ok: false, problems: [wordedProblem(code, 'file', path, message)] };
}
