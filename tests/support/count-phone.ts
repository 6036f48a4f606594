/**
 * Phones that count in a real browser, over the count's own server; the test files of a process share a browser,
 * and each cleans up after itself.
 */
import { createHash, X509Certificate } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, Dialog, Page } from 'playwright-core';
import { afterEach, beforeAll, expect } from 'vitest';
import { ownCertificate } from '../../server/web/tls.ts';
import { DATABASE } from '../../views/client/outbox/outbox-shelf.ts';
import { launchBrowser, PHONE } from './browser.ts';
import { BUILD, type CountApp, type CountAppOptions, countApp } from './count-app.ts';

/** Started by the first test file of a process that needs it. */
let workshop: Promise<Browser> | undefined;
let browser: Browser;
const benches: CountApp[] = [];
export const contexts: BrowserContext[] = [];
/** A certificate that the browser trusts, as a phone does that has installed the authority. */
export let tls: { cert: string; key: string };

/** Has a browser ready before the tests of a file, and ends what a test has opened after it. */
export function openWorkshop(): void {
  beforeAll(async () => {
    workshop ??= launchWorkshop();
    browser = await workshop;
  });
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    for (const bench of benches.splice(0)) await bench.close();
  });
}

/** A browser that trusts our certificate. */
async function launchWorkshop(): Promise<Browser> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-test-'));
  tls = await ownCertificate(folder, ['localhost', '127.0.0.1'], Date.now());
  rmSync(folder, { recursive: true });
  const spki = new X509Certificate(tls.cert).publicKey.export({ type: 'spki', format: 'der' });
  const trusted = createHash('sha256').update(spki).digest('base64');
  return launchBrowser([
    '--host-resolver-rules=MAP bench.test 127.0.0.1',
    `--ignore-certificate-errors-spki-list=${trusted}`,
  ]);
}

export interface ServeOptions extends CountAppOptions {
  readonly port?: number;
  readonly tls?: { cert: string; key: string };
}

/** A server with the two builds on a port of its own. */
export async function serve(options: ServeOptions = {}) {
  const secure = options.tls !== undefined;
  const bench = await countApp({
    startMs: Date.now(),
    live: true,
    ...options,
    ...(secure ? { ways: { secure }, tls: options.tls! } : {}),
  });
  benches.push(bench);
  await bench.app.listen({ port: options.port ?? 0, host: '127.0.0.1' });
  const { port } = bench.app.server.address() as { port: number };
  return { bench, port, url: `${secure ? 'https' : 'http'}://localhost:${port}/b/${BUILD}/count` };
}

/** Ends a server, with all that hangs on it. */
export async function close(bench: CountApp): Promise<void> {
  benches.splice(benches.indexOf(bench), 1);
  bench.app.server.closeAllConnections();
  await bench.close();
}

export interface PhoneOptions {
  readonly name?: string;
  readonly secure?: boolean;
  /** Runs in each page before the page's own scripts, with what `told` says. */
  readonly script?: (told: boolean) => void;
  readonly told?: boolean;
}

/** A phone that has been let in and has the Count page open at the step that tests tap. */
export async function phone(bench: CountApp, url: string, options: PhoneOptions = {}) {
  const context = await browser.newContext({ ...PHONE, deviceScaleFactor: 1 });
  contexts.push(context);
  await context.addCookies([cookieFor(bench, url, options.name)]);
  if (options.script) await context.addInitScript(options.script, options.told ?? false);
  const page = await context.newPage();
  await page.goto(url);
  await ready(page);
  await openTicket(page, 'press');
  return { context, page };
}

let helpers = 0;

/** The cookie of a helper who has been let in. */
export function cookieFor(bench: CountApp, url: string, name?: string) {
  helpers += 1;
  const [key, value] = bench.helperCookie(name ?? `Helper ${helpers}`).split('=') as [string, string];
  const { origin, protocol } = new URL(url);
  return { name: key, value, url: origin, secure: protocol === 'https:', httpOnly: true, sameSite: 'Strict' as const };
}

/** Waits until the page counts. */
export async function ready(page: Page): Promise<void> {
  await page.locator('html[data-counting=ready]').waitFor({ state: 'attached' });
}

/** Loads the page again, with the same ticket open. */
export async function reload(page: Page): Promise<void> {
  await reloadAway(page);
  await ready(page);
  await openTicket(page, 'press');
}

/** Loads the page again where something else than the count may come. */
export async function reloadAway(page: Page): Promise<void> {
  const accept = (dialog: Dialog): void => void dialog.accept();
  page.on('dialog', accept);
  await page.reload();
  page.off('dialog', accept);
}

/** Opens the ticket of a step. */
export async function openTicket(page: Page, step: string): Promise<void> {
  const ticket = page.locator(`[data-step=${step}]`);
  if ((await ticket.getAttribute('open')) === null) await ticket.locator('> summary').click();
}

/** Asks the server at once, as when the page is looked at again. */
export async function look(page: Page): Promise<void> {
  await page.evaluate(() => window.dispatchEvent(new Event('focus')));
}

/** One tap on the big button. */
export async function tapOne(page: Page): Promise<void> {
  await page.locator('.ticket[open] .one').dispatchEvent('click');
}

/** Taps as fast as the page answers: the next when the number has changed. */
export async function tapMany(page: Page, taps: number): Promise<void> {
  await page.evaluate(async (count) => {
    const ticket = document.querySelector('.ticket[open]')!;
    const shown = ticket.querySelector('[data-show=done]')!;
    for (let n = 0; n < count; n++) {
      const before = shown.textContent;
      ticket.querySelector<HTMLButtonElement>('.one')!.click();
      while (shown.textContent === before) await new Promise((resolve) => setTimeout(resolve, 1));
    }
  }, taps);
}

/** Waits until a ticket shows so many done. */
export async function shows(page: Page, step: string, done: number): Promise<void> {
  await expect
    .poll(() => page.locator(`[data-step=${step}] [data-show=done]`).textContent(), { timeout: 20_000 })
    .toBe(String(done));
}

/** Waits until what was tapped is kept, and then until nothing of it waits on the phone any more. */
export async function arrived(page: Page): Promise<void> {
  await page.evaluate(taken, DATABASE);
  const kept = () => page.locator('#kept').evaluate(({ outerHTML }) => outerHTML);
  await expect.poll(kept, { timeout: 25_000 }).toMatch(/(?=.*data-contact="fine")(?=.*data-waiting="0")/);
}

/** Resolves when the browser's database, where there is one, has done all that it was asked before. */
function taken(name: string): Promise<void> {
  return new Promise((resolve) => {
    const request = indexedDB.open(name);
    request.onupgradeneeded = () => request.transaction!.abort();
    request.onerror = () => resolve();
    request.onsuccess = () => {
      const database = request.result;
      const turn = database.transaction([...database.objectStoreNames], 'readwrite');
      turn.oncomplete = () => {
        database.close();
        resolve();
      };
    };
  });
}
