import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, LAPTOP, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';

let browser: Browser;
let fake: FakeApp;
let url: string;
let context: BrowserContext;

beforeAll(async () => {
  browser = await openBrowser();
  fake = await fakeApp();
  url = `${await fake.app.listen({ port: 0, host: '127.0.0.1' })}/b/tide-wall`;
});
afterAll(async () => {
  await context?.close();
  await closePages(browser);
  await fake.close();
});

describe('what is typed into a form', () => {
  it('is there again after the back button, said on other sheets, and gone when it is saved or closed', async () => {
    context = await browser.newContext(LAPTOP);
    const { page, complaints } = await openPage(context);
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

  it('is gone too where somebody leaves the page the moment that it is saved', async () => {
    const { page } = await openPage(context);
    await page.goto(`${url}/steps?open=steps/press`);
    await page.fill('#f-name', 'press them in at once');
    // The page is left before its script hears that the form has gone.
    await page.evaluate(() => {
      for (const swapped of ['htmx:after:swap', 'htmx:after:settle'])
        addEventListener(swapped, (event) => event.stopImmediatePropagation(), true);
    });
    await page.locator('form.edit .buttons button[value=save]').click();
    await page.locator('form.edit').waitFor({ state: 'detached' });
    await page.goto(`${url}/hands`);
    expect(await page.locator('#unsaved').isHidden()).toBe(true);
    await page.goto(`${url}/steps?open=steps/press`);
    await page.fill('#f-name', 'press them in');
    await page.locator('form.edit .buttons button[value=save]').click();
    await page.locator('form.edit').waitFor({ state: 'detached' });
  });

  it('stays with its row where rows move, and with the edit on which it was begun', async () => {
    const { page } = await openPage(context);
    await page.goto(`${url}/steps?open=steps/press`);
    await page.click('button[value="add:phases:wait"]');
    await page.fill('[name="phases.1.minutes"]', '2 h');
    await page.click('button[value="up:phases:1"]');
    await page.waitForSelector('fieldset.phase-wait + fieldset.phase-hands');
    expect(await page.inputValue('[name="phases.0.minutes"]')).toBe('2 h');
    expect(await page.inputValue('[name="phases.1.minutes"]')).toBe('');
    await page.fill('#f-name', 'press and rest');
    await page.reload();
    await expect.poll(() => page.inputValue('#f-name')).toBe('press and rest');
    // The rows of the build are others than those that were typed: none of them takes the two hours.
    expect(await page.locator('fieldset.phase-wait').count()).toBe(0);
    expect(await page.inputValue('[name="phases.0.minutes"]')).toBe('');

    const { revision } = fake.planner.build('tide-wall')!;
    await fake.planner.edit(
      'tide-wall',
      [{ kind: 'set', list: 'steps', key: 'press', field: 'name', value: 'x' }],
      'Bo',
    );
    await page.reload();
    await expect.poll(() => page.inputValue('#f-name')).toBe('press and rest');
    expect(await page.inputValue('form.edit [name=edit]')).toBe(String(revision));
    await page.locator('form.edit .buttons button[value=save]').click();
    await page
      .getByText(/has changed the build since you opened it/)
      .first()
      .waitFor();
    expect(fake.planner.build('tide-wall')!.build.steps.find(({ id }) => id === 'press')!.name).toBe('x');
  });

  it('is kept too where a thumb draws a week by the quarter hour, and the page stays where it is', async () => {
    await context.close();
    context = await browser.newContext(PHONE);
    const { page } = await openPage(context);
    await page.goto(`${url}/hands?open=people/helper`);
    await page.fill('#f-hours', '');
    await page.click('.week-drawing summary');
    await page.locator('.week-day').nth(3).scrollIntoViewIfNeeded();
    const top = await page.evaluate(() => scrollY);
    const touch = await context.newCDPSession(page);
    const placeAt = async (day: number, minute: number) => {
      const box = (await page.locator('.week-strip').nth(day).boundingBox())!;
      return { x: box.x + (box.width * minute) / 1440, y: box.y + box.height / 2 };
    };
    const draw = async (...places: readonly { readonly x: number; readonly y: number }[]) => {
      await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [places[0]!] });
      for (const place of places.slice(1)) {
        await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [place] });
      }
      await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    };
    const hours = () => page.inputValue('#f-hours');
    await draw(await placeAt(0, 1087), await placeAt(2, 1200), await placeAt(4, 1330));
    await expect.poll(hours).toBe('Mon to Fri 18:00 to 22:15');
    await draw(await placeAt(2, 1142), await placeAt(2, 1170), await placeAt(2, 1213));
    await expect.poll(hours).toMatch(/; Wed 18:00 to 19:00, 20:15 to 22:15; /);
    expect(await page.evaluate(() => scrollY)).toBe(top);
    expect(await page.locator('.week-said').nth(2).textContent()).toBe('18:00–19:00, 20:15–22:15');
    const drawn = await hours();
    await page.reload();
    await expect.poll(hours).toBe(drawn);
    await page.locator('form.edit .buttons button[value=save]').click();
    await page.locator('form.edit').waitFor({ state: 'detached' });
    expect(fake.planner.build('tide-wall')!.build.people!.find(({ id }) => id === 'helper')!.hours).toBe(drawn);
  });
});
