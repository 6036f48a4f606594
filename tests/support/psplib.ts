/** Readers of the two text formats of the public benchmark sets, and of the folder they come in. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Work } from '../../server/engine/types.ts';
import { type TextbookActivity, textbookWork } from './textbook-work.ts';

export interface Instance {
  readonly name: string;
  readonly file: string;
  readonly criticalPath: number;
  /** Best published lower bound and makespan. */
  readonly lowerBound: number;
  readonly bestKnown: number;
}

/** The folder beside the repository where the public sets lie on some machines; null where they do not. */
export function benchmarkFolder(): string | null {
  const folder = fileURLToPath(new URL('../../../shared/psplib', import.meta.url));
  return existsSync(folder) ? folder : null;
}

/** The instances of FOLDER/SET.csv, in its order. */
export function readSet(folder: string, set: string): Instance[] {
  const [head, ...rows] = readFileSync(join(folder, `${set}.csv`), 'utf8')
    .trim()
    .split('\n');
  const column = (name: string) => head!.split(',').indexOf(name);
  return rows.map((row) => {
    const cells = row.split(',');
    return {
      name: cells[column('instance')]!,
      file: cells[column('file')]!,
      criticalPath: Number(cells[column('cpm_lower_bound')]),
      lowerBound: Number(cells[column('lower_bound')]),
      bestKnown: Number(cells[column('best_known')]),
    };
  });
}

/** The work in a file of either format, told by its name: .sm or .rcp. */
export function readInstance(folder: string, file: string): Work {
  const text = readFileSync(join(folder, file), 'utf8');
  return file.endsWith('.sm') ? readSm(text) : readRcp(text);
}

/** ProGen's .sm text: one mode, renewable resources only. */
export function readSm(text: string): Work {
  const lines = text.split(/\r?\n/);
  const after = (title: string) => lines.findIndex((line) => line.startsWith(title)) + 1;
  const numbers = (line: string) => line.trim().split(/\s+/).map(Number);
  const rows = (from: number) => {
    const found: number[][] = [];
    for (let i = from; /^\s*\d/.test(lines[i] ?? ''); i++) found.push(numbers(lines[i]!));
    return found;
  };
  const successors = rows(after('PRECEDENCE RELATIONS') + 1).map((row) => row.slice(3).map((job) => job - 1));
  const requests = rows(after('REQUESTS/DURATIONS') + 2);
  const capacities = numbers(lines[after('RESOURCEAVAILABILITIES') + 1]!);
  return textbookWork(
    capacities,
    requests.map(
      (row, i): TextbookActivity => ({ minutes: row[2]!, demands: row.slice(3), successors: successors[i]! }),
    ),
  );
}

/** Patterson's .rcp text: numbers only, white space without meaning. */
export function readRcp(text: string): Work {
  const numbers = text.trim().split(/\s+/).map(Number);
  let at = 0;
  const next = () => numbers[at++]!;
  const take = (count: number) => Array.from({ length: count }, next);
  const [jobs, resources] = [next(), next()];
  const capacities = take(resources);
  const activities = Array.from({ length: jobs }, (): TextbookActivity => {
    const minutes = next();
    const demands = take(resources);
    return { minutes, demands, successors: take(next()).map((job) => job - 1) };
  });
  return textbookWork(capacities, activities);
}
