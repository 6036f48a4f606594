import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

let browser: Browser;
let real: RealApp;
let url: string;
let context: BrowserContext;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => closePages(browser));
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(lantern({ event: '2026-12-04T18:00' }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  url = `${await real.app.listen({ port: 0, host: '127.0.0.1' })}/b/lantern`;
});
afterEach(async () => {
  await context?.close();
  await real.close();
});

describe('on a phone, an edit', () => {
  it('is seen first, kept as an option, compared and adopted, without a reload and within the width', async () => {
    context = await browser.newContext({ ...PHONE });
    const { page, complaints } = await openPage(context);
    await page.goto(`${url}/design?open=parts/ribs`);
    await page.evaluate(() => {
      (window as unknown as { marked: boolean }).marked = true;
    });
    await page.fill('#f-count', '25');
    await page.click('button[value=see]');
    await page.waitForSelector('.seen');
    expect(await page.textContent('.seen')).toMatch(/Ready .* earlier/);
    expect(await page.inputValue('#f-count')).toBe('25');
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('seen');
    await page.click('.buttons button[value=keep]');
    await page.fill('#f-option-name', 'Fewer ribs');
    await page.press('#f-option-name', 'Enter');
    await page.waitForSelector('.options');
    expect(real.planner.build('lantern')!.revision).toBe(1);
    await page.waitForFunction(() => document.querySelectorAll('.option .figures').length === 2);
    const columns = await page.$$eval('.option', (all) => all.map((it) => it.getBoundingClientRect()));
    expect(columns[1]!.top).toBeGreaterThanOrEqual(columns[0]!.bottom);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const rooms = await page.evaluate(() => document.querySelector('.plans')!.getBoundingClientRect().top);
    expect(rooms).toBeLessThan(columns[0]!.top);
    await page.click('button[name=adopt]');
    await page.waitForSelector('.saved');
    expect(await page.textContent('.saved')).toMatch(/Edit 2: ready .* earlier/);
    expect(real.planner.build('lantern')!.build.parts![0]!.count).toBe(25);
    expect(await page.evaluate(() => (window as unknown as { marked?: boolean }).marked)).toBe(true);
    expect(complaints).toEqual([]);
  });
});
