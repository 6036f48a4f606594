import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LAPTOP, launchBrowser, openPage } from '../support/browser.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';

let browser: Browser;
let fake: FakeApp;
let url: string;
let context: BrowserContext;

beforeAll(async () => {
  browser = await launchBrowser();
  fake = await fakeApp();
  url = `${await fake.app.listen({ port: 0, host: '127.0.0.1' })}/b/tide-wall`;
});
afterAll(async () => {
  await context?.close();
  await browser.close();
  await fake.close();
});

describe('what is typed into a form', () => {
  it('is there again after the back button, said on other sheets, and gone when it is saved or closed', async () => {
    context = await browser.newContext(LAPTOP);
    const { page, complaints } = await openPage(context);
    page.setDefaultTimeout(5000);
    await page.goto(`${url}/steps`);
    await page.locator('#steps-press .change').click();
    await page.fill('#f-name', 'press them in');
    await page.goBack();
    await page.locator('#unsaved a').waitFor();
    await page.goto(`${url}/hands`);
    expect(await page.textContent('#unsaved')).toMatch(/Typed and not saved yet: .+/);
    await page.locator('#unsaved a').click();
    await page.locator('form.edit').waitFor();
    await expect.poll(() => page.inputValue('#f-name')).toBe('press them in');
    expect(await page.locator('#unsaved').isHidden()).toBe(true);
    await page.locator('form.edit .buttons button[value=save]').click();
    await page.locator('form.edit').waitFor({ state: 'detached' });
    expect(fake.planner.build('tide-wall')!.build.steps.find(({ id }) => id === 'press')!.name).toBe('press them in');
    await page.goto(`${url}/hands`);
    expect(await page.locator('#unsaved').isHidden()).toBe(true);

    await page.goto(`${url}/steps?open=steps/press`);
    await page.fill('#f-name', 'thrown away');
    await page.locator('form.edit a.button').click();
    await page.locator('form.edit').waitFor({ state: 'detached' });
    await page.goto(`${url}/steps?open=steps/press`);
    expect(await page.inputValue('#f-name')).toBe('press them in');
    expect(complaints).toEqual([]);
  });
});
