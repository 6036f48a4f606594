/** The first evening by quick lines: from an empty database to an honest answer, with few taps and no mouse. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { NOON } from '../planner/simple-forecast.ts';
import { openStore } from '../store/helpers.ts';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

let browser: Browser;
let real: RealApp;
let context: BrowserContext;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => closePages(browser));
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
});
afterEach(async () => {
  await context?.close();
  await real.close();
});

const DRUM_TREE = [
  '5 boughs',
  '18 drums per bough, glue 6 min each in lots of 6, dry 12 h; paint 2 coats 3 min each in lots of 18, dry 4 h',
  '1 shell per drum, shell turner, 4 days',
  '2 heads per drum, cut 3 min each in lots of 12, 95 % good',
  '1 striker per drum, on a plate of 6, 3 h 20 at night',
  '90 axles, bought from the metal shop, 3 days',
  '1 motor per bough, bought from the drive maker, 3 to 7 days, 1 spare',
  '5 boughs, mount 40 min, wire 2 h 30 each in lots of 1',
  'test 40 min, may fail 20 %, 3 back to mount',
  'pack 3 h',
];

describe('on a phone, the first evening', () => {
  it('goes from nothing to a date in fewer than sixty steps, saying what it assumed', async () => {
    context = await browser.newContext({ ...PHONE });
    const { page, complaints } = await openPage(context);
    const evening = hand(page);
    await page.goto(await real.app.listen({ port: 0, host: '127.0.0.1' }));
    await evening.type('input[name=name]', 'Drum Tree');
    const own = await page.evaluate(() => Intl.DateTimeFormat().resolvedOptions().timeZone);
    expect(await page.inputValue('input[name=zone]')).toBe(own);
    await evening.type('input[name=zone]', 'America/New_York');
    await evening.type('input[name=event]', '2026-12-18T18:00');
    await evening.press('#do-week-evenings');
    await evening.press('#do-week-weekend');
    expect(await page.inputValue('#hours')).toBe('Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00');
    await evening.press('.begin button.main');
    await page.waitForSelector('#lines');
    await evening.type('#lines', DRUM_TREE.join('\n'), DRUM_TREE.length);
    await evening.press('button[value=read]');
    await page.waitForSelector('.understood');
    expect(await page.locator('.understood .threat').count()).toBe(0);
    expect(await page.textContent('.understood')).toContain(
      'Printer is a new machine that runs unattended, at night too',
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await evening.press('button[value=add]');
    await page.getByText(`${DRUM_TREE.length} lines are in the build.`).waitFor();
    expect(evening.steps()).toBeLessThan(60);
    const forecast = (await real.planner.snapshot('drum-tree'))!.forecast;
    expect(forecast.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    const needs = Object.fromEntries(forecast.parts.map(({ name, need }) => [name, need]));
    expect(needs).toMatchObject({ Drums: 90, Heads: 180, Shell: 90, Striker: 90, Motor: 5 });
    expect(forecast.room.readyBy.finish).not.toBe(null);
    expect(complaints).toEqual([]);
  });
});

/** Counts what a hand does: a field typed into, a button pressed, a line written. */
function hand(page: Page) {
  let steps = 0;
  const count = (n: number): void => {
    steps += n;
  };
  return {
    count,
    steps: () => steps,
    type: async (field: string, text: string, n = 1): Promise<void> => {
      count(n);
      await page.fill(field, text);
    },
    press: async (button: string): Promise<void> => {
      count(1);
      await page.click(button);
    },
  };
}
