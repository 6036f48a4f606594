import { describe, expect, it } from 'vitest';
import { scratch } from '../store/helpers.ts';
import { killBrowserOn, launchPhone } from '../support/browser.ts';
import { BUILD } from '../support/count-app.ts';
import {
  arrived,
  close,
  contexts,
  cookieFor,
  look,
  openTicket,
  openWorkshop,
  phone,
  ready,
  reload,
  serve,
  shows,
  tapMany,
  tapOne,
  tls,
} from '../support/count-phone.ts';

openWorkshop();

describe('a phone without a network', () => {
  it('counts two hundred taps over two reloads, and all of them arrive once', async () => {
    const { bench, url } = await serve();
    const { context, page } = await phone(bench, url);
    await page.getByText('also opens without a network').waitFor();
    await context.setOffline(true);
    for (const [first, last] of [
      [1, 70],
      [71, 140],
      [141, 200],
    ] as const) {
      await tapMany(page, last - first + 1);
      await shows(page, 'press', 12 + last);
      if (last < 200) await reload(page);
    }
    expect(bench.planner.log(BUILD)).toEqual([]);
    expect(await page.locator('#kept').textContent()).toMatch(/200 counts kept on this phone/);
    await context.setOffline(false);
    await arrived(page);
    expect(bench.done('press')).toBe(200);
    expect(new Set(bench.planner.log(BUILD).map((entry) => entry.id)).size).toBe(201);
  });

  it('draws the tickets of a long list itself, and counts on them', async () => {
    const { bench, url } = await serve({ more: 90 });
    const { context, page } = await phone(bench, url);
    await page.getByText('also opens without a network').waitFor();
    await context.setOffline(true);
    const last = page.locator('[data-step=more-90]');
    expect(await last.locator('.ticket-body > *').count()).toBe(0);
    await openTicket(page, 'more-90');
    await last.getByRole('button', { name: '+5' }).click();
    await shows(page, 'more-90', 5);
    await tapMany(page, 2);
    await reload(page);
    await expect.poll(() => last.locator('[data-show=left]').textContent()).toBe('5 left');
    await openTicket(page, 'more-90');
    await shows(page, 'more-90', 7);
    expect(await last.locator('.ticket-figures').textContent()).toMatch(/of 12\s×/);
    expect(await page.locator('.ticket .ticket-figures').count()).toBeLessThan(70);
    await context.setOffline(false);
    await arrived(page);
    expect(bench.done('more-90')).toBe(7);
  });

  it('keeps a tap that was shown, though the page is thrown away at that moment', async () => {
    const { bench, url } = await serve();
    const { context, page } = await phone(bench, url);
    await page.getByText('also opens without a network').waitFor();
    await context.setOffline(true);
    await tapOne(page);
    await shows(page, 'press', 13);
    await page.close();
    const again = await context.newPage();
    await again.goto(url);
    await shows(again, 'press', 13);
    await context.setOffline(false);
    await arrived(again);
    expect(bench.done('press')).toBe(1);
  });

  it('has its counts again when its battery went flat', async () => {
    const { bench, url } = await serve();
    const folder = scratch();
    const before = await launchPhone(folder);
    await before.addCookies([cookieFor(bench, url, 'Ana')]);
    const page = await before.newPage();
    await page.goto(url);
    await ready(page);
    await openTicket(page, 'press');
    await before.setOffline(true);
    await tapMany(page, 3);
    killBrowserOn(folder);
    const after = await launchPhone(folder);
    contexts.push(after);
    await after.addCookies([cookieFor(bench, url, 'Bo')]);
    const again = await after.newPage();
    await again.goto(url);
    await arrived(again);
    expect(bench.done('press')).toBe(3);
    expect(await again.locator('.ticket[open]').getAttribute('data-step')).toBe('press');
  });

  it('says on plain HTTP that the page must stay open, and sends when the server is back', async () => {
    const { bench, port } = await serve({ ways: { names: ['bench.test'] } });
    const { page } = await phone(bench, `http://bench.test:${port}/b/${BUILD}/count`);
    expect(await page.evaluate(() => isSecureContext)).toBe(false);
    await page.getByText('Keep this page open').waitFor();
    await page.context().setOffline(true);
    for (let n = 0; n < 5; n++) await tapOne(page);
    await shows(page, 'press', 17);
    await page.getByText('No answer from the laptop').waitFor();
    await page.context().setOffline(false);
    await arrived(page);
    expect(bench.done('press')).toBe(5);
  });

  it('warns before it is left with a queue, and only then', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url);
    let warnings = 0;
    page.on('dialog', (dialog) => {
      warnings += 1;
      void dialog.accept();
    });
    await tapMany(page, 1);
    await arrived(page);
    await page.reload();
    await ready(page);
    expect(warnings).toBe(0);
    await context.setOffline(true);
    await openTicket(page, 'press');
    await tapOne(page);
    await shows(page, 'press', 14);
    await page.reload();
    expect(warnings).toBe(1);
    await context.setOffline(false);
  });

  it('opens over HTTPS from its copy when the laptop is shut', async () => {
    const { bench, url, port } = await serve({ tls });
    const { page } = await phone(bench, url, { secure: true });
    await page.getByText('also opens without a network').waitFor();
    await close(bench);
    await page.reload();
    await ready(page);
    await openTicket(page, 'press');
    await tapOne(page);
    await shows(page, 'press', 13);
    await page.getByText('No answer from the laptop').waitFor();
    const again = await serve({ tls, port });
    await page.context().addCookies([cookieFor(again.bench, url)]);
    await arrived(page);
    expect(again.bench.done('press')).toBe(1);
  });
});

describe('two at once', () => {
  it('two phones count interleaved, each going off the network at times', async () => {
    const { bench, url } = await serve();
    const [one, two] = [await phone(bench, url, { name: 'Ana' }), await phone(bench, url, { name: 'Bo' })];
    for (let n = 0; n < 18; n++) {
      if (n === 5) await one.context.setOffline(true);
      if (n === 10) await two.context.setOffline(true);
      if (n === 12) await one.context.setOffline(false);
      await tapOne(one.page);
      await tapOne(two.page);
    }
    await two.context.setOffline(false);
    await expect.poll(() => bench.done('press')).toBe(36);
    await arrived(one.page);
    await arrived(two.page);
    const whose = bench.planner.log(BUILD).filter((entry) => entry.kind === 'done');
    expect([whose.filter((e) => e.who === 'Ana').length, whose.filter((e) => e.who === 'Bo').length]).toEqual([18, 18]);
    // Each look brings what the other has counted, once the forecast knows of it.
    const seen = async () => {
      await look(one.page);
      return one.page.locator('[data-step=press] [data-show=done]').textContent();
    };
    await expect.poll(seen).toBe('48');
  });

  it('two tabs of one phone share what is kept', async () => {
    const { bench, url } = await serve();
    const { context, page } = await phone(bench, url);
    const other = await context.newPage();
    await other.goto(url);
    await ready(other);
    await context.setOffline(true);
    await tapOne(page);
    await shows(other, 'press', 13);
    await openTicket(other, 'press');
    await tapOne(other);
    await shows(page, 'press', 14);
    await context.setOffline(false);
    await arrived(page);
    expect(bench.done('press')).toBe(2);
  });

  it('are both asked whether the same lot was one or two; either can say, and that ends it for both', async () => {
    const { bench, url } = await serve();
    const [one, two] = [await phone(bench, url, { name: 'Ana' }), await phone(bench, url, { name: 'Bo' })];
    const lot = async (key: string) => {
      for (const { page } of [one, two]) await page.locator(`[data-step=press] [data-n="${key}"]`).click();
      for (const { page } of [one, two]) await arrived(page);
      for (const { page } of [one, two]) {
        await look(page);
        await page.getByText('one lot or two?').waitFor();
      }
    };
    await lot('5');
    expect(bench.done('press')).toBe(10);
    await one.page.getByRole('button', { name: /^Same lot: undo mine/ }).click();
    await expect.poll(() => bench.done('press')).toBe(5);
    await look(two.page);
    for (const { page } of [one, two]) await expect.poll(() => page.locator('#doubts li').count()).toBe(0);
    await lot('12');
    await two.page.getByRole('button', { name: /^Two lots: keep both/ }).click();
    await expect.poll(() => bench.planner.log(BUILD).at(-1)?.kind).toBe('confirmed');
    await look(one.page);
    for (const { page } of [one, two]) await expect.poll(() => page.locator('#doubts li').count()).toBe(0);
    expect(bench.done('press')).toBe(29);
  });
});
