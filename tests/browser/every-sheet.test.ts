import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { brokenWords, closePages, LAPTOP, openBrowser, openPage, overhang, PHONE } from '../support/browser.ts';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';
import { SHEETS } from '../support/sheets.ts';
import { seriousOn, serveAxe } from './axe.ts';

let browser: Browser;
let bench: CountApp;
let address: string;

beforeAll(async () => {
  browser = await openBrowser();
  bench = await countApp();
  serveAxe(bench.app);
  address = await bench.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(async () => {
  await closePages(browser);
  await bench.close();
});

describe.each([
  ['the phone by night', { ...PHONE, colorScheme: 'dark' }],
  ['the laptop by day', { ...LAPTOP, colorScheme: 'light' }],
] as const)('on %s', (_name, options) => {
  let context: BrowserContext;
  let page: Page;
  let complaints: string[];

  beforeAll(async () => {
    context = await browser.newContext(options);
    const [name, value] = bench.makerCookie().split('=') as [string, string];
    await context.addCookies([{ name, value, url: address, httpOnly: true, sameSite: 'Strict' }]);
    ({ page, complaints } = await openPage(context));
  });
  afterAll(() => context.close());

  it.each(SHEETS)('%s/ has nothing wider than the page, no word broken and nothing serious for axe', async (path) => {
    await page.goto(`${address}/b/${BUILD}${path}`);
    expect(await overhang(page)).toBeLessThanOrEqual(0);
    expect(await brokenWords(page)).toEqual([]);
    expect(await seriousOn(page)).toEqual([]);
    expect(complaints.splice(0)).toEqual([]);
  });
});
