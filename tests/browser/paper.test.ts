/** What is printed: one page a day, with every step of the day on it and nothing cut, on A4 and on Letter. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, openBrowser, openPage } from '../support/browser.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';

/** Millimetres and what is printed on of them, with margins of 12 mm, at 96 pixels an inch. */
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] } as const;
const pixels = (millimetres: number) => Math.floor(((millimetres - 24) / 25.4) * 96);

let browser: Browser;
let fake: FakeApp;
let url: string;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  fake = await fakeApp();
  url = `${await fake.app.listen({ port: 0, host: '127.0.0.1' })}/b/tide-wall`;
  context = await browser.newContext({ colorScheme: 'dark' });
  ({ page } = await openPage(context));
});
afterAll(async () => {
  await closePages(browser);
  await fake.close();
});

async function printed(path: string, format: keyof typeof PAPERS): Promise<number> {
  await page.goto(url + path);
  const pdf = (await page.pdf({ format, printBackground: true, preferCSSPageSize: false })).toString('latin1');
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: pixels(PAPERS[format][0]), height: pixels(PAPERS[format][1]) });
  return pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

/** What is wider than the page, or hidden by a box that is smaller. Runs in the page. */
function cutOff(): string[] {
  const wide = document.documentElement.clientWidth;
  return [...document.querySelectorAll('#sheet *')]
    .filter((it) => {
      const box = it.getBoundingClientRect();
      const isHeard = it.closest('.heard, svg, nav') !== null;
      const hides = getComputedStyle(it).overflowX !== 'visible' && it.scrollWidth > it.clientWidth + 1;
      return box.width > 0 && !isHeard && (box.right > wide + 1 || hides);
    })
    .map((it) => `${it.tagName} ${it.className}: ${it.textContent?.slice(0, 60)}`);
}

describe.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])('on %s', (format) => {
  it('the whole plan gives each day a page of its own, with all its steps and nothing cut', async () => {
    const pages = await printed('/paper', format);
    const height = pixels(PAPERS[format][1]);
    const days = page.locator('.day-paper');
    const heights = await days.evaluateAll((all) => all.map((it) => it.getBoundingClientRect().height));
    expect(heights.length).toBeGreaterThan(5);
    expect(Math.max(...heights)).toBeLessThan(height);
    expect(pages).toBeGreaterThan(heights.length);
    expect(pages).toBeLessThanOrEqual(heights.length + 3);
    expect(await page.evaluate(cutOff)).toEqual([]);
    for (const day of fake.planner.latest('tide-wall')!.forecast.days) {
      const steps = day.people.flatMap(({ spells }) => spells.map(({ step }) => step));
      if (steps.length === 0) continue;
      const text = await days
        .filter({ hasText: new RegExp(`\\b${Number(day.date.slice(-2))}\\b`) })
        .first()
        .textContent();
      const names = fake.planner.latest('tide-wall')!.forecast.steps;
      for (const step of steps) expect(text).toContain(names.find(({ id }) => id === step)!.name);
    }
  });

  it('a day’s sheet is one page in black on white, for one person without the work of others', async () => {
    expect(await printed('/dates/2026-11-26', format)).toBe(1);
    expect(await page.evaluate(cutOff)).toEqual([]);
    expect(await page.evaluate(() => getComputedStyle(document.body).color)).toBe('rgb(0, 0, 0)');
    const all = await page.locator('.day-work').textContent();
    expect(await printed('/dates/2026-11-26?person=maker', format)).toBe(1);
    const own = await page.locator('.day-work').textContent();
    expect(own).toContain('Maker');
    expect(own).not.toContain('Helper');
    expect(own!.length).toBeLessThanOrEqual(all!.length);
  });

  it('Orders and Money fit the width', async () => {
    for (const path of ['/orders', '/money']) {
      await printed(path, format);
      expect(await page.evaluate(cutOff)).toEqual([]);
    }
  });
});
