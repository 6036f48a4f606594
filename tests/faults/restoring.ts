/**
 * Restores a backup, and kills itself the way a power cut does before the call of the file system that is asked for:
 * `restoring BACKUP FILE CALL`. Without one it runs to its end and prints how many calls there were.
 */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';

const CALLS = ['copyFileSync', 'renameSync', 'rmSync', 'fsyncSync'] as const;
const [backup, file, at] = process.argv.slice(2) as [string, string, string | undefined];
let calls = 0;

for (const name of CALLS) {
  const real = fs[name] as (...args: unknown[]) => unknown;
  Object.assign(fs, {
    [name]: (...args: unknown[]) => {
      calls += 1;
      if (calls === Number(at)) process.kill(process.pid, 'SIGKILL');
      return real(...args);
    },
  });
}
syncBuiltinESMExports();

const { restoreDatabase } = await import('../../server/store/index.ts');
const restored = await restoreDatabase(backup, file);
if (!restored.ok) throw new Error(restored.problems[0]?.message);
process.stdout.write(String(calls));
