import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';
import { SHEETS } from '../support/sheets.ts';
import { findingsOf, serveAxe } from './axe.ts';

let browser: Browser;
let bench: CountApp;
let address: string;

beforeAll(async () => {
  browser = await openBrowser();
  bench = await countApp({ startMs: Date.now(), live: true });
  serveAxe(bench.app);
  address = await bench.app.listen({ port: 0, host: '127.0.0.1' });
  bench.helperCookie('Dee');
});
afterAll(async () => {
  await closePages(browser);
  await bench.close();
});

const PAGES: readonly (readonly [string, string, 'nobody' | 'helper' | 'maker'])[] = [
  ['the Count page of a helper', `/b/${BUILD}/count`, 'helper'],
  ['the Count page of the maker', `/b/${BUILD}/count`, 'maker'],
  ['the addresses of the calendar', `/b/${BUILD}/calendar`, 'maker'],
  ['the list of helpers', `/b/${BUILD}/helpers`, 'maker'],
  ['the list of builds', '/', 'maker'],
  ['the way in for helpers', '/join', 'nobody'],
  ['the way in for the maker', '/enter', 'nobody'],
  ['the page that is not for a helper', `/b/${BUILD}`, 'helper'],
];

/** What is no page: data, a file, a stream. */
const NO_PAGE =
  /(\.json|\.webmanifest|\/state|\/count\/now|\/count\/frame|\/calendar\.ics|\/calendar\/:token|\/live|\/at-work|\/certificate|\/tables\/:table|\/after\.csv|\/axe-for-tests\.js)$/;

describe('a new address of the calendar', () => {
  const make = async (javaScriptEnabled: boolean) => {
    const { page, context, complaints } = await visit(`/b/${BUILD}/calendar`, 'maker', { javaScriptEnabled });
    await page.getByRole('button', { name: 'Make an address' }).click();
    const field = page.locator('#address');
    return { page, context, complaints, field, shown: await field.inputValue() };
  };

  it('is copied by a key, and says so to those who hear the page', async () => {
    const { page, context, complaints, field, shown } = await make(true);
    await field.focus();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('status').filter({ hasText: 'Copied.' }).waitFor();
    const other = page.locator('#address-typed');
    await page.evaluate(() => {
      document.body.append(Object.assign(document.createElement('textarea'), { id: 'address-typed' }));
    });
    await other.focus();
    await page.keyboard.press('Control+v');
    expect(await other.inputValue()).toBe(shown);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('has no button where no script runs, and can be selected', async () => {
    const { page, context, field, shown } = await make(false);
    expect(shown).toMatch(/\/calendar\/[\w-]{43}\.ics$/);
    expect(await page.getByRole('button', { name: 'Copy the address' }).count()).toBe(0);
    await field.selectText();
    await context.close();
  });
});

describe('axe finds nothing serious', () => {
  it('and is asked about every page there is', () => {
    const asked = new Set([...PAGES.map(([, path]) => path), ...SHEETS.map((path) => `/b/${BUILD}${path}`)]);
    const pages = bench.routes
      .filter((route) => route.startsWith('GET ') && !NO_PAGE.test(route))
      .map((route) =>
        route.slice('GET '.length).replace(':id', BUILD).replace(':date', '2026-11-26').replace(':step', 'paint-fish'),
      );
    expect(pages.filter((path) => !asked.has(path))).toEqual([]);
  });

  for (const [title, path, visitor] of PAGES) {
    it(`on ${title}, light and dark`, async () => {
      const { page, context, complaints } = await visit(path, visitor, { colorScheme: 'light' });
      if (path.endsWith('/helpers')) await page.getByRole('button', { name: 'Make a code' }).click();
      if (path.endsWith('/count')) await page.locator('.ticket[open] .one').click();
      await page.evaluate(() => {
        for (const part of document.querySelectorAll('details')) {
          part.removeAttribute('name');
          part.open = true;
        }
      });
      expect(await findingsOf(page)).toEqual([]);
      await page.emulateMedia({ colorScheme: 'dark' });
      expect(await findingsOf(page)).toEqual([]);
      expect(complaints.filter((complaint) => !complaint.includes('403'))).toEqual([]);
      await context.close();
    });
  }
});

describe('the keyboard alone', () => {
  it('goes from sheet to sheet, changes a step, and takes the change back', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'maker');
    await tabTo(page, `.tabs a[href="/b/${BUILD}/contents"]`);
    await page.keyboard.press('Enter');
    await page.waitForURL('**/contents');
    await tabTo(page, `.contents a[href="/b/${BUILD}/steps"]`);
    await page.keyboard.press('Enter');
    await page.waitForURL('**/steps');
    await tabTo(page, '#steps-press .change');
    await page.keyboard.press('Enter');
    await page.locator('form.edit').waitFor();
    await tabTo(page, '#f-name');
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('press all bushings');
    await tabTo(page, 'form.edit button.main');
    await page.keyboard.press('Enter');
    const nameOf = () => bench.planner.build(BUILD)?.build.steps.find((step) => step.id === 'press')?.name;
    await page.locator('form.edit').waitFor({ state: 'detached' });
    expect(nameOf()).toBe('press all bushings');
    await page.goto(`${address}/b/${BUILD}/history`);
    await tabTo(page, 'form[action$="/history"] button');
    await page.keyboard.press('Enter');
    await expect.poll(nameOf).not.toBe('press all bushings');
    await context.close();
  });

  it('lets a helper in, and the code is off the address before anything is sent', async () => {
    const { page, context } = await visit(`/b/${BUILD}/helpers`, 'maker');
    await tabTo(page, 'form[action$="/codes"] button');
    await page.keyboard.press('Enter');
    const code = (await page.locator('.code .stamp').textContent())!.trim();
    const joining = await visit(`/join#${code}`, 'nobody');
    expect(joining.page.url()).toBe(`${address}/join`);
    await tabTo(joining.page, 'input[name=name]');
    await joining.page.keyboard.type('Eve');
    await joining.page.keyboard.press('Enter');
    await joining.page.waitForURL(`${address}/b/${BUILD}/count`);
    expect(bench.store.access.helpers(BUILD).map(({ name }) => name)).toContain('Eve');
    await joining.context.close();
    await context.close();
  });
});

describe('the Count page', () => {
  it('has no target under 48 pixels, and the main one is far larger', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'helper');
    await page.locator('.ticket[open] .one').click();
    await page.locator('#mine button').first().waitFor();
    await page.evaluate(() => {
      for (const part of document.querySelectorAll('details')) {
        part.removeAttribute('name');
        part.open = true;
      }
    });
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('main button, main input, main select, main summary, main a')]
        .map((one) => [one, one.closest('label') ?? one] as const)
        .map(([one, target]) => ({ what: one.outerHTML.slice(0, 90), box: target.getBoundingClientRect() }))
        .filter(({ box }) => box.height > 0 && (box.height < 47.9 || box.width < 47.9))
        .map(({ what, box }) => `${what}: ${box.width} x ${box.height}`),
    );
    expect(small).toEqual([]);
    const one = await page.locator('.one').first().boundingBox();
    expect(one!.height).toBeGreaterThan(120);
    expect(one!.width).toBeGreaterThan(300);
    await context.close();
  });

  it('shows the first ticket and its main button without scrolling', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'maker');
    const box = await page.locator('.ticket[open] .one').boundingBox();
    expect(box!.y + box!.height).toBeLessThan(844 - 120);
    await context.close();
  });

  it('reads at 200 % text without running over the side', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'maker');
    await page.locator('.ticket[open] .one').click();
    await page.locator('#undo-last').waitFor();
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '200%';
    });
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    expect(over).toBe(0);
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('.ticket[open] button')]
        .filter((one) => one.scrollWidth > one.clientWidth + 1)
        .map((one) => one.textContent),
    );
    expect(cut).toEqual([]);
    // What stands at the foot leaves the tickets most of the screen, and breaks no word.
    const last = (await page.locator('.last').boundingBox())!;
    expect(last.height).toBeLessThan(844 / 4);
    expect((await page.locator('#last').boundingBox())!.width).toBeGreaterThan(250);
    const contents = page.locator('.tabs').getByRole('link', { name: 'Contents' });
    await contents.scrollIntoViewIfNeeded();
    const tab = (await contents.boundingBox())!;
    expect(tab.x + tab.width).toBeLessThanOrEqual(390);
    await context.close();
  });

  it('can be worked by the keyboard alone, from the first tap to its undoing', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'helper');
    const before = bench.done('press');
    await tabTo(page, '[data-step=press] > summary');
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-step=press] .one');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Space');
    await tabTo(page, '#typed-press');
    await page.keyboard.type('4');
    await page.keyboard.press('Enter');
    await expect.poll(() => bench.done('press')).toBe(before + 6);
    await tabTo(page, '[data-step=press] .more > summary');
    await page.keyboard.press('Enter');
    await tabTo(page, '#why-press');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.locator('[data-step=press]').getByText('1 scrapped').waitFor();
    await tabTo(page, '#undo-last');
    await page.keyboard.press('Enter');
    await expect.poll(() => bench.planner.log(BUILD).filter((entry) => entry.kind === 'undo').length).toBe(1);
    await context.close();
  });

  it('says each tap to those who listen', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'helper');
    expect(await page.locator('#last').getAttribute('aria-live')).toBe('polite');
    await page.locator('.ticket[open] .one').click();
    await expect
      .poll(() => page.locator('#last').textContent())
      .toMatch(/^1 done, print cranks\. Saved on the laptop\.$/);
    await context.close();
  });

  it('moves no button when a number changes', async () => {
    const { page, context } = await visit(`/b/${BUILD}/count`, 'helper');
    const places = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('.ticket button')]
          .filter((one) => one.getClientRects().length > 0)
          .map((one) => Math.round(one.getBoundingClientRect().top + scrollY)),
      );
    await page.locator('[data-step=press] > summary').click();
    // Lettering that comes late moves lines, not a number.
    await page.evaluate(() => document.fonts.ready.then(() => undefined));
    const before = await places();
    await page.locator('.ticket[open] .one').click();
    await expect.poll(() => page.locator('#last').textContent()).toMatch(/Saved on the laptop/);
    expect(await places()).toEqual(before);
    // Nor when the laptop falls silent: what is said of that has its room already.
    await context.setOffline(true);
    for (let n = 0; n < 12; n++) await page.locator('.ticket[open] .one').click();
    await page.evaluate(() => window.dispatchEvent(new Event('focus')));
    await page.getByText('No answer from the laptop').waitFor();
    expect(await places()).toEqual(before);
    await context.close();
  });
});

async function visit(
  path: string,
  visitor: 'nobody' | 'helper' | 'maker',
  options: { colorScheme?: 'light' | 'dark'; javaScriptEnabled?: boolean } = {},
) {
  const context: BrowserContext = await browser.newContext({ ...PHONE, deviceScaleFactor: 1, ...options });
  visits += 1;
  const cookie =
    visitor === 'maker' ? bench.makerCookie() : visitor === 'helper' ? bench.helperCookie(`Ana ${visits}`) : null;
  if (cookie !== null) {
    const [name, value] = cookie.split('=') as [string, string];
    await context.addCookies([{ name, value, url: address, httpOnly: true, sameSite: 'Strict' }]);
  }
  const { page, complaints } = await openPage(context);
  await page.goto(`${address}${path}`);
  if (path.endsWith('/count')) await page.locator('html[data-counting=ready]').waitFor({ state: 'attached' });
  return { page, context, complaints };
}

let visits = 0;

async function tabTo(page: Page, selector: string): Promise<void> {
  for (let presses = 0; presses < 120; presses++) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, selector)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`the keyboard never reaches ${selector}`);
}
