/**
 * What very many of one thing cost: `npm run bench -- many [thing …] [n …]`. A build with 1,000, 10,000 and 100,000
 * of each thing that a build has many of is read and planned in a process of its own. Prints milliseconds to read it,
 * to its first plan and to its first chance, processor time of all that, megabytes that it took more, and what was said
 * of it first.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { MANY_OF } from '../support/builds/many-of.ts';

/** Milliseconds, megabytes, and the first sentence. */
export interface Asked {
  readonly read: number;
  readonly early: number;
  readonly plan: number;
  readonly processor: number;
  readonly megabytes: number;
  readonly said: string;
}

const SIZES = [1_000, 10_000, 100_000];
/** Minutes of the processor. */
const LONGEST_S = 40;
const ONE = fileURLToPath(new URL('./parts/one-of-many.ts', import.meta.url));

export default function many(asked: readonly string[]): void {
  const sizes = asked.filter((word) => /^\d+$/.test(word)).map(Number);
  const things = asked.filter((word) => !/^\d+$/.test(word));
  for (const thing of Object.keys(MANY_OF).filter((name) => things.length === 0 || things.includes(name))) {
    console.log(thing);
    for (const n of sizes.length > 0 ? sizes : SIZES) console.log(lineOf(n, asking(thing, n)));
  }
}

function asking(thing: string, n: number): Asked | string {
  const command = `ulimit -t ${LONGEST_S} && exec "$0" --import tsx "$@"`;
  const args = ['-c', command, process.execPath, ONE, thing, String(n)];
  const { stdout, stderr, signal } = spawnSync('sh', args, { encoding: 'utf8' });
  if (signal !== null) return `no answer in ${LONGEST_S} s of the processor`;
  return stdout === ''
    ? `failed: ${stderr.split('\n').find((line) => line.includes('Error')) ?? stderr}`
    : JSON.parse(stdout);
}

function lineOf(n: number, asked: Asked | string): string {
  if (typeof asked === 'string') return `  ${String(n).padStart(7)}  ${asked}`;
  const figures = [asked.read, asked.early, asked.plan, asked.processor, asked.megabytes].map((one) =>
    one.toFixed(0).padStart(6),
  );
  return `  ${String(n).padStart(7)}  read ${figures[0]}  plan ${figures[1]}  chance ${figures[2]} ms, processor ${figures[3]} ms ${figures[4]} MB  ${asked.said.slice(0, 160)}`;
}
