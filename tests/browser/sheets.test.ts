import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { closePages, LAPTOP, openBrowser, openPage, overhang, PHONE } from '../support/browser.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { FAKE_NOW } from '../support/fake-forecast.ts';

let browser: Browser;
let fake: FakeApp;
let url: string;
let context: BrowserContext;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => closePages(browser));
beforeEach(async () => {
  fake = await fakeApp();
  url = `${await fake.app.listen({ port: 0, host: '127.0.0.1' })}/b/tide-wall`;
});
afterEach(async () => {
  await context?.close();
  await fake.close();
});

async function open(path: string, options: object = LAPTOP): Promise<{ page: Page; complaints: string[] }> {
  context = await browser.newContext(options);
  const opened = await openPage(context);
  await opened.page.goto(url + path);
  return opened;
}

function tap(n: number): void {
  const at = new Date(FAKE_NOW * 60_000).toISOString();
  const [receipt] = fake.planner.append(
    'tide-wall',
    [{ id: `tap-${n}-${at}`.replaceAll(/[^\w-]/g, ''), kind: 'done', step: 'paint-fish', n, at }],
    'maker',
  );
  expect(receipt).toMatchObject({ state: 'stored', problems: [] });
}

describe('an open Countdown', () => {
  it('changes by the stream after a tap elsewhere, without a reload, and stays where it was scrolled to and unfolded', async () => {
    const { page, complaints } = await open('');
    const folded = page.locator('details').first();
    await folded.evaluate((it: HTMLDetailsElement) => {
      it.open = true;
    });
    await page.evaluate(() => {
      (window as unknown as { marked: boolean }).marked = true;
      window.scrollTo(0, 300);
    });
    await page.waitForFunction(() => document.querySelector('.tight-list')?.textContent?.includes('48'));
    await stream(page);
    tap(10);
    await page.waitForFunction(() => document.querySelector('.tight-list')?.textContent?.includes('38'), null, {
      polling: 20,
    });
    expect(await page.evaluate(() => (window as unknown as { marked?: boolean }).marked)).toBe(true);
    expect(await page.evaluate(() => window.scrollY)).toBe(300);
    expect(await folded.evaluate((it: HTMLDetailsElement) => it.open)).toBe(true);
    expect(complaints).toEqual([]);
  });

  it('says after a reload what it would have said by the stream', async () => {
    const { page } = await open('');
    await stream(page);
    tap(4);
    await page.waitForFunction(() => document.querySelector('.tight-list')?.textContent?.includes('44'));
    const live = await page.textContent('#sheet');
    await page.reload();
    expect(await page.textContent('#sheet')).toBe(live);
  });

  it('says that it hears of no changes any more, without moving anything', async () => {
    const { page } = await open('');
    await stream(page);
    expect(await page.isVisible('#cut-off')).toBe(false);
    const before = await page.evaluate(() => document.querySelector('h1')!.getBoundingClientRect().top);
    await context.setOffline(true);
    await page.waitForSelector('#cut-off', { state: 'visible' });
    expect(await page.evaluate(() => document.querySelector('h1')!.getBoundingClientRect().top)).toBe(before);
    await context.setOffline(false);
    await page.waitForSelector('#cut-off', { state: 'hidden' });
  });

  it('catches up with what it has missed while it was closed to the stream', async () => {
    const { page } = await open('');
    await stream(page);
    await context.setOffline(true);
    tap(2);
    await context.setOffline(false);
    await page.waitForFunction(() => document.querySelector('.tight-list')?.textContent?.includes('46'), null, {
      timeout: 15_000,
    });
  });
});

/** Until the stream of changes is open. */
async function stream(page: Page): Promise<void> {
  await page.waitForFunction(() =>
    Boolean((document.querySelector('#live') as unknown as { _htmx?: { sse?: unknown } })?._htmx?.sse),
  );
}

describe('a form', () => {
  it('opens in its place, is refused with a sentence and the text kept, then saved, all without a reload', async () => {
    const { page, complaints } = await open('/hands', { ...PHONE });
    await page.evaluate(() => {
      (window as unknown as { marked: boolean }).marked = true;
    });
    await page.click('#machines-printer .change');
    await page.fill('#f-count', 'two');
    await page.click('form.edit button.main');
    await page.waitForSelector('#f-count-wrong');
    expect(await page.inputValue('#f-count')).toBe('two');
    expect(await page.textContent('#f-count-wrong')).toContain('“How many alike” must be a whole number');
    await page.fill('#f-count', '3');
    await page.click('form.edit button.main');
    await page.waitForFunction(() => document.querySelector('#machines-printer')?.textContent?.includes('3 alike'));
    expect(fake.planner.build('tide-wall')?.build.machines?.[0]?.count).toBe(3);
    expect(await page.evaluate(() => (window as unknown as { marked?: boolean }).marked)).toBe(true);
    expect(page.url()).toBe(`${url}/hands`);
    // A refusal is told to the console by the browser itself.
    expect(complaints.filter((it) => !it.includes('422'))).toEqual([]);
  });

  it('is not swept away by a tap elsewhere', async () => {
    const { page } = await open('/steps?open=steps/press');
    await stream(page);
    await page.fill('#f-name', 'half typed');
    tap(3);
    await page.waitForTimeout(600);
    expect(await page.inputValue('#f-name')).toBe('half typed');
  });

  it('builds a work pattern by its buttons', async () => {
    const { page } = await open('/steps?open=steps/press');
    await page.click('button[value="add:phases:wait"]');
    await page.waitForSelector('[name="phases.1.minutes"]');
    await page.fill('[name="phases.1.minutes"]', '2 h');
    await page.click('button[value="up:phases:1"]');
    await page.waitForSelector('fieldset.phase-wait + fieldset.phase-hands');
    await page.click('form.edit button.main');
    await page.waitForSelector('#steps-press .step-line');
    expect(fake.planner.build('tide-wall')?.build.steps.find((it) => it.id === 'press')?.phases).toEqual([
      { kind: 'wait', minutes: '2 h' },
      { kind: 'hands', perUnit: 1.5 },
    ]);
  });

  it('works without scripts', async () => {
    const { page } = await open('/design', { ...LAPTOP, javaScriptEnabled: false });
    await page.click('#parameters-panels .change');
    await page.fill('#f-quantity', '5');
    await page.click('form.edit button.main');
    expect(page.url()).toBe(`${url}/design#parameters-panels`);
    expect(fake.planner.build('tide-wall')?.build.parameters?.[0]?.value).toBe(5);
  });

  it('goes back to the page when the browser does', async () => {
    const { page } = await open('/hands');
    await page.click('#people-maker .change');
    await page.waitForSelector('form.edit');
    await page.goBack();
    await page.waitForFunction(() => document.querySelector('form.edit') === null);
    expect(await page.textContent('#people-maker')).toContain('Mon to Fri');
  });
});

describe('a day on the phone', () => {
  it.each(['100%', '200%'])('has people and machines in reach of one thumb at %s text', async (size) => {
    const { page } = await open('/dates/2026-11-26', PHONE);
    await page.evaluate((text) => {
      document.documentElement.style.fontSize = text;
    }, size);
    const spells = page.locator('.day-table .spell:visible');
    expect(await spells.filter({ hasText: 'printer' }).count()).toBe(2);
    for (const spell of await spells.all()) {
      const { x, width } = (await spell.boundingBox())!;
      expect([x >= 0, x + width <= PHONE.viewport.width]).toEqual([true, true]);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.viewport.width);
  });
});

describe('large type', () => {
  it.each(['', '/steps?open=steps/press', '/dates'])('%s/ stays within the phone at twice the size', async (path) => {
    const { page } = await open(path, PHONE);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '200%';
    });
    expect(await overhang(page)).toBeLessThanOrEqual(0);
  });
});

describe('one thumb', () => {
  it('reaches the way to every sheet at the foot of the phone, each at least 48 pixels high', async () => {
    const { page } = await open('', PHONE);
    const boxes = await page.$$eval('.tabs li', (items) =>
      items
        .map((item) => item.getBoundingClientRect())
        .filter((box) => box.width > 0)
        .map(({ top, bottom, height }) => ({ top, bottom, height })),
    );
    expect(boxes.length).toBe(5);
    for (const box of boxes) {
      expect(box.height).toBeGreaterThanOrEqual(48);
      expect(box.bottom).toBeLessThanOrEqual(844);
      expect(box.top).toBeGreaterThan(844 - 100);
    }
  });
});
