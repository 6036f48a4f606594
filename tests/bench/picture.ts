/**
 * `npm run bench -- picture [file]`: the README's picture, the demo's Countdown as a laptop shows it, by default
 * seed/countdown.png. The demo is of a fixed noon, so that the picture changes with the page and not with the day.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readSettings } from '../../server/settings.ts';
import { LAPTOP, launchBrowser } from '../support/browser.ts';

/** Wed 2 Dec 2026, 12:00. */
const NOON = Date.UTC(2026, 11, 2, 12);
const MOST_MILLISECONDS = 180_000;

export default async function picture([file = 'seed/countdown.png']: string[]): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-picture-'));
  const settings = readSettings(['--port', '0', '--db', join(folder, 'demo.sqlite')], {});
  // As built: its threads run what was compiled.
  const { serve } = await import('../../dist/server/serve.js' as string);
  const serving = settings.ok
    ? await serve(settings.value, { nowMilliseconds: () => NOON, report: console.error })
    : settings;
  if (!serving.ok) throw new Error(serving.problems[0].message);
  const browser = await launchBrowser();
  try {
    const page = await (await browser.newContext(LAPTOP)).newPage();
    await page.goto(`${serving.value.addresses[0]}b/${serving.value.seeded[0]}`);
    await page
      .getByText(/\d+ in 100|\d+ %/)
      .first()
      .waitFor({ timeout: MOST_MILLISECONDS });
    // What cost room since yesterday comes last of all that is worked out.
    await page.getByText('than yesterday').waitFor({ timeout: MOST_MILLISECONDS });
    await page.getByText('not split up yet').waitFor({ state: 'detached', timeout: MOST_MILLISECONDS });
    await page.evaluate('document.fonts.ready');
    await page.screenshot({ path: file });
    console.log(`${file}: ${page.url()}`);
  } finally {
    await browser.close();
    await serving.value.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
