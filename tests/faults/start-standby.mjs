/**
 * Loads the bundled server with what V8 compiled of it when it first served: `start-standby BUNDLE`. Compiling so large
 * a file at every start would take longer than all that the tests do with the server.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { constants, Script } from 'node:vm';

const bundle = process.argv[2];
const kept = `${bundle}.compiled`;
const isKept = existsSync(kept);
const script = new Script(`(function (require, __filename) {${readFileSync(bundle, 'utf8')}\n})`, {
  filename: bundle,
  ...(isKept ? { cachedData: readFileSync(kept) } : {}),
  importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
});
if (!isKept) process.once('serving', () => writeFileSync(kept, script.createCachedData()));
script.runInThisContext()(createRequire(bundle), bundle);
