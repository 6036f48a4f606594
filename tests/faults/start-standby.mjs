/**
 * Loads the bundled server with what V8 compiled of it when it first served: `start-standby BUNDLE`, and with `keep` behind
 * it writes that down where nobody has. To compile so large a file at every start takes longer than the tests themselves.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { constants, Script } from 'node:vm';

const [bundle, keep] = process.argv.slice(2);
const kept = `${bundle}.compiled`;
const isKept = existsSync(kept);
const script = new Script(`(function (require, __filename) {${readFileSync(bundle, 'utf8')}\n})`, {
  filename: bundle,
  ...(isKept ? { cachedData: readFileSync(kept) } : {}),
  importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
});
if (keep === 'keep' && !isKept) process.once('serving', () => writeFileSync(kept, script.createCachedData()));
script.runInThisContext()(createRequire(bundle), bundle);
