/**
 * A server that has read its program and waits for the word to open its database, bundled into one file: so that fifty
 * starts take no minutes. The threads that search for better plans are left out with it; counting waits for none of them.
 */
import { serve } from '../../dist/server/serve.js';
import { readSettings } from '../../dist/server/settings.js';

process.on('message', async (args) => {
  const settings = readSettings(args, {});
  if (!settings.ok) throw new Error(settings.problems[0].message);
  const serving = await serve(settings.value, { nowMilliseconds: Date.now, report: () => {} });
  if (!serving.ok) throw new Error(serving.problems[0].message);
  process.emit('serving');
  process.send('serving');
});
process.on('disconnect', () => process.exit());
