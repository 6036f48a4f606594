import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, LAPTOP, openBrowser, openPage } from '../support/browser.ts';
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

  it('stays with its row where rows move, and with the edit on which it was begun', async () => {
    const { page } = await openPage(context);
    page.setDefaultTimeout(5000);
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

  it('is kept too where it is drawn', async () => {
    const { page } = await openPage(context);
    page.setDefaultTimeout(5000);
    await page.goto(`${url}/hands?open=people/helper`);
    await page.click('.week-drawing summary');
    await page.locator('.week-day').last().scrollIntoViewIfNeeded();
    const boxes = await Promise.all(
      [3, 6].map((hour) => page.locator(`.week-day input[value="6-${hour}"] + span`).boundingBox()),
    );
    const [from, to] = boxes.map((box) => [box!.x + box!.width / 2, box!.y + box!.height / 2] as const);
    await page.mouse.move(...from!);
    await page.mouse.down();
    await page.mouse.move(...to!, { steps: 12 });
    await page.mouse.up();
    const ticked = () => page.locator('.week-day input[value^="6-"]:checked').evaluateAll((all) => all.length);
    expect(await ticked()).toBe(4);
    await page.reload();
    await expect.poll(ticked).toBe(4);
  });
});
