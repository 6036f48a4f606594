/**
 * `npm run bench -- NAME [arguments]` runs tests/bench/NAME.ts, whose default export takes the remaining arguments.
 * Benchmarks print figures and never fail on a slow machine; correctness belongs in the tests.
 */
import { readdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const names = readdirSync(here)
  .filter((file) => file.endsWith('.ts') && file !== 'run.ts')
  .map((file) => file.slice(0, -3));
const [name, ...rest] = process.argv.slice(2);

if (name === undefined || !names.includes(name)) {
  console.error(`Which benchmark? One of: ${names.join(', ')}. Got: ${name ?? 'nothing'}.`);
  process.exit(2);
}
const bench: { default: (args: string[]) => Promise<void> | void } = await import(`./${name}.ts`);
await bench.default(rest);
