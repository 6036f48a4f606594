import { createHash, X509Certificate } from 'node:crypto';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { backupDatabase, openDatabase, restoreDatabase } from '../../server/store/index.ts';
import { ownCertificate } from '../../server/web/tls.ts';
import { scratch } from '../store/helpers.ts';
import { killBrowserOn, launchBrowser, launchPhone, PHONE } from '../support/browser.ts';
import { BUILD, type CountApp, type CountAppOptions, countApp } from '../support/count-app.ts';

let browser: Browser;
let tls: { cert: string; key: string };
const benches: CountApp[] = [];
const contexts: BrowserContext[] = [];

beforeAll(async () => {
  tls = await ownCertificate(scratchOnce(), ['localhost', '127.0.0.1'], Date.now());
  const spki = new X509Certificate(tls.cert).publicKey.export({ type: 'spki', format: 'der' });
  // The browser is told to trust this one key, as a phone is that has installed the authority.
  const trusted = createHash('sha256').update(spki).digest('base64');
  browser = await launchBrowser([
    '--host-resolver-rules=MAP bench.test 127.0.0.1',
    `--ignore-certificate-errors-spki-list=${trusted}`,
  ]);
});
afterAll(() => browser.close());
afterEach(async () => {
  for (const context of contexts.splice(0)) await context.close();
  for (const bench of benches.splice(0)) await bench.close();
});

describe('a phone without a network', () => {
  it('counts two hundred taps over two reloads, and all of them arrive once', async () => {
    const { bench, url } = await serve();
    const { context, page } = await phone(bench, url);
    await page.getByText('also opens with no network').waitFor();
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
    expect(await page.locator('#kept').textContent()).toMatch(/201 counts kept on this phone/);
    await context.setOffline(false);
    await arrived(page);
    expect(bench.done('press')).toBe(200);
    expect(new Set(bench.planner.log(BUILD).map((entry) => entry.id)).size).toBe(201);
  });

  it('keeps a tap that was shown, though the page is thrown away at that moment', async () => {
    const { bench, url } = await serve();
    const { context, page } = await phone(bench, url);
    await page.getByText('also opens with no network').waitFor();
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
    await page.getByText('The laptop does not answer').waitFor();
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
    await page.getByText('also opens with no network').waitFor();
    await close(bench);
    await page.reload();
    await ready(page);
    await openTicket(page, 'press');
    await tapOne(page);
    await shows(page, 'press', 13);
    await page.getByText('The laptop does not answer').waitFor();
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
    for (let n = 0; n < 20; n++) {
      if (n === 5) await one.context.setOffline(true);
      if (n === 10) await two.context.setOffline(true);
      if (n === 12) await one.context.setOffline(false);
      await tapOne(one.page);
      await tapOne(two.page);
    }
    await two.context.setOffline(false);
    await arrived(one.page);
    await arrived(two.page);
    expect(bench.done('press')).toBe(40);
    const whose = bench.planner.log(BUILD).filter((entry) => entry.kind === 'done');
    expect([whose.filter((e) => e.who === 'Ana').length, whose.filter((e) => e.who === 'Bo').length]).toEqual([20, 20]);
    await look(one.page);
    await shows(one.page, 'press', 52);
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
      for (const { page } of [one, two]) {
        await arrived(page);
        await look(page);
        await page.getByText('one lot or two?').waitFor();
      }
    };
    await lot('5');
    expect(bench.done('press')).toBe(10);
    await one.page.getByRole('button', { name: /^One: take mine back/ }).click();
    await expect.poll(() => bench.done('press')).toBe(5);
    await look(two.page);
    for (const { page } of [one, two]) await expect.poll(() => page.locator('#doubts li').count()).toBe(0);
    await lot('12');
    await two.page.getByRole('button', { name: /^Two: keep both/ }).click();
    await expect.poll(() => bench.planner.log(BUILD).at(-1)?.kind).toBe('confirmed');
    await look(one.page);
    for (const { page } of [one, two]) await expect.poll(() => page.locator('#doubts li').count()).toBe(0);
    expect(bench.done('press')).toBe(29);
  });
});

describe('a phone that something is wrong with', () => {
  it('has its wrong clock noticed, said and corrected; the entry keeps both times', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url, {
      script: () => {
        const real = Date;
        const ahead = 3_600_000;
        globalThis.Date = class extends real {
          constructor(...args: []) {
            super(...(args.length === 0 ? ([real.now() + ahead] as unknown as []) : args));
          }
          static now() {
            return real.now() + ahead;
          }
        } as DateConstructor;
      },
    });
    await tapMany(page, 1);
    await arrived(page);
    await page.getByText(/clock is 60 min fast/).waitFor();
    const [entry] = bench.planner.log(BUILD).filter((one) => one.kind === 'done');
    expect(Math.abs(Date.parse(entry!.at) - Date.now())).toBeLessThan(20_000);
    expect(Date.parse(entry!.phoneAt!) - Date.parse(entry!.at)).toBeGreaterThan(3_590_000);
  });

  it('that keeps nothing says so, and counts only what the laptop has answered', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url, {
      script: () => Object.defineProperty(globalThis, 'indexedDB', { get: () => undefined }),
    });
    await page.getByText('keeps nothing').waitFor();
    await tapOne(page);
    await shows(page, 'press', 13);
    await context.setOffline(true);
    await tapOne(page);
    await page.waitForTimeout(300);
    await shows(page, 'press', 13);
    await context.setOffline(false);
    await shows(page, 'press', 14);
    expect(bench.done('press')).toBe(2);
  });

  it('whose storage is full is told that the tap was not counted', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await page.evaluate(() => {
      IDBObjectStore.prototype.add = () => {
        throw new DOMException('full', 'QuotaExceededError');
      };
    });
    await page.locator('.ticket[open] .one').click();
    await page.getByText('it was not counted').waitFor();
    await shows(page, 'press', 12);
  });

  it('that was shut out keeps its counts and sends them when it is let in again', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url, { name: 'Ana' });
    bench.store.access.endHelper(BUILD, bench.store.access.helpers(BUILD)[0]!.id, Date.now());
    await tapOne(page);
    await page.getByText('no longer knows this phone').waitFor();
    await shows(page, 'press', 13);
    expect(bench.done('press')).toBe(0);
    await reloadAway(page);
    await page.getByText('Counts kept on this phone: 2.').waitFor();
    await context.addCookies([cookieFor(bench, url, 'Ana')]);
    await page.goto(url);
    await arrived(page);
    expect(bench.done('press')).toBe(1);
  });

  it('is told what was refused and why, until it puts it away', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url);
    await context.setOffline(true);
    await tapOne(page);
    await shows(page, 'press', 13);
    bench.planner.edit(BUILD, 'step taken out', 'maker', (build) => {
      build.steps = build.steps.filter((step) => step.id !== 'press').map((step) => ({ ...step, after: [] }));
    });
    await context.setOffline(false);
    await page.getByText(/Not taken: 1 done, press bushings.*is gone/).waitFor();
    await page.reload();
    await ready(page);
    await page.getByText(/Not taken: 1 done/).waitFor();
    // The step comes back; the entry that is sent again is taken, and another stays refused until it is put away.
    bench.planner.takeBack(BUILD, 1, 'maker');
    await page
      .locator('#doubts li')
      .filter({ hasText: '1 done' })
      .getByRole('button', { name: /^Send again/ })
      .click();
    await expect.poll(() => bench.done('press')).toBe(1);
    for (let left = await page.locator('#doubts li').count(); left > 0; left--) {
      await page
        .getByRole('button', { name: /^Put away/ })
        .first()
        .click();
      await expect.poll(() => page.locator('#doubts li').count()).toBe(left - 1);
    }
  });

  it('brings its counts again after the laptop was put back to a backup', async () => {
    const folder = scratchOnce();
    const file = join(folder, 'restored.sqlite');
    const first = await serve({ file });
    const { page } = await phone(first.bench, first.url);
    await tapMany(page, 2);
    await arrived(page);
    const db = openDatabase(file);
    if (!db.ok) throw new Error('no database');
    await backupDatabase(db.value, join(folder, 'copy.sqlite'));
    db.value.close();
    const late = await phone(first.bench, first.url, { name: 'Late' });
    for (const each of [page, late.page]) {
      await tapMany(each, 3);
      await arrived(each);
    }
    expect(first.bench.done('press')).toBe(8);
    await close(first.bench);
    await tapMany(page, 1);
    expect((await restoreDatabase(join(folder, 'copy.sqlite'), file)).ok).toBe(true);
    const second = await serve({ file, port: first.port });
    expect(second.bench.done('press')).toBe(2);
    await look(page);
    await expect.poll(() => second.bench.done('press'), { timeout: 20_000 }).toBe(6);
    await arrived(page);
    // Who joined after the backup joins again, and brings what had arrived before.
    await look(late.page);
    await late.page.getByText('no longer knows this phone').waitFor();
    await late.context.addCookies([cookieFor(second.bench, second.url, 'Late')]);
    await look(late.page);
    await expect.poll(() => second.bench.done('press'), { timeout: 20_000 }).toBe(9);
    const ids = second.bench.planner.log(BUILD).map((entry) => entry.id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe('quick ways', () => {
  it('a pedal counts one for each press, whatever the key, and not its chatter or repeats', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await page.locator('#pedal').check();
    for (const key of ['PageDown', 'b', 'ArrowRight', 'Enter', ' ']) {
      await page.keyboard.press(key, { delay: 20 });
      await page.waitForTimeout(110);
    }
    await page.keyboard.down('b');
    for (let n = 0; n < 5; n++) await page.keyboard.down('b');
    await page.keyboard.up('b');
    await page.waitForTimeout(110);
    await page.evaluate(() => {
      for (let n = 0; n < 4; n++) document.dispatchEvent(new KeyboardEvent('keydown', { key: 'x' }));
    });
    await shows(page, 'press', 12 + 7);
    await page.keyboard.press('Escape');
    await page.keyboard.press('b');
    await arrived(page);
    expect(bench.done('press')).toBe(7);
  });

  it('a lot, a typed number, scrapped with a reason, and undo', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const ticket = page.locator('[data-step=press]');
    await ticket.locator('[data-n="12"]').click();
    await ticket.locator('#typed-press').fill('7');
    await ticket.getByRole('button', { name: 'Count', exact: true }).click();
    await shows(page, 'press', 31);
    await ticket.getByText('Scrapped…').click();
    await ticket.locator('#scrap-press').fill('2');
    await ticket.locator('#why-press').selectOption('dropped');
    await ticket.getByRole('button', { name: 'Log it' }).click();
    await ticket.getByText('2 scrapped').waitFor();
    await page.locator('#undo-last').click();
    await arrived(page);
    await page.locator('#mine button').last().click();
    await shows(page, 'press', 19);
    await arrived(page);
    expect(bench.done('press')).toBe(7);
    expect(bench.planner.log(BUILD).find((entry) => entry.kind === 'scrapped')).toMatchObject({
      n: 2,
      reason: 'dropped',
    });
  });

  it('a count that is none is not taken', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    for (const typed of ['', '0', '-3', '2.5', '1e9']) {
      await page.locator('#typed-press').fill(typed);
      await page.locator('[data-step=press]').getByRole('button', { name: 'Count', exact: true }).click();
      await page.getByText('is not a count').waitFor();
    }
    expect(bench.planner.log(BUILD)).toEqual([]);
  });

  it('a printer that was loaded counts down to when somebody must be there', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await openTicket(page, 'print-cranks');
    await page.locator('[data-step=print-cranks]').getByRole('button', { name: 'Loaded 8' }).click();
    await page.getByText(/8 in the machine: be there at \d\d:\d\d, in 2 h 22 min/).waitFor();
    await arrived(page);
    expect(bench.planner.log(BUILD)).toMatchObject([
      { kind: 'loaded', n: 8, machine: 'printer', step: 'print-cranks' },
    ]);
  });

  it('a delivery, and a gate that fails with what goes back and then passes', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await openTicket(page, 'order-fish');
    await page.locator('#got-order-fish').fill('30');
    await page.locator('[data-step=order-fish]').getByRole('button', { name: 'Received' }).click();
    await page.locator('#last').getByText('30 received, fish from the saw yard').waitFor();
    await openTicket(page, 'soak');
    const gate = page.locator('[data-step=soak]');
    await gate.getByText('Failed…').click();
    await gate.locator('#back-soak-mount-fish').fill('3');
    await gate.locator('#why-soak').fill('leaks');
    await gate.getByRole('button', { name: 'Log the failure' }).click();
    await openTicket(page, 'mount-fish');
    await openTicket(page, 'soak');
    await gate.getByRole('button', { name: /^Passed/ }).click();
    await expect.poll(() => bench.planner.log(BUILD).at(-1)?.kind).toBe('passed');
    const kinds = bench.planner.log(BUILD).map(({ kind, step, n, reason }) => ({ kind, step, n, reason }));
    expect(kinds).toContainEqual({ kind: 'failed', step: 'soak', n: undefined, reason: 'leaks' });
    expect(kinds.some((one) => one.kind === 'sent-back' && one.n === 3)).toBe(true);
    expect(kinds[0]).toMatchObject({ kind: 'received', n: 30 });
    expect(kinds.at(-1)).toMatchObject({ kind: 'passed', step: 'soak' });
  });

  it('the run clock starts with the first tap and can be paused', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await tapOne(page);
    await page
      .locator('[data-step=press]')
      .getByText(/Clock running since/)
      .waitFor();
    await page.getByRole('button', { name: 'Pause the clock' }).click();
    await page.locator('[data-step=press]').getByRole('button', { name: 'Start the clock' }).waitFor();
    await arrived(page);
    expect(bench.planner.log(BUILD).map((entry) => entry.kind)).toEqual(['began', 'done', 'paused']);
  });
});

interface ServeOptions extends CountAppOptions {
  readonly port?: number;
  readonly tls?: { cert: string; key: string };
}

async function serve(options: ServeOptions = {}) {
  const secure = options.tls !== undefined;
  const bench = await countApp({
    startMs: Date.now(),
    live: true,
    ...options,
    ...(secure ? { ways: { secure }, tls: options.tls! } : {}),
  });
  benches.push(bench);
  await bench.app.listen({ port: options.port ?? 0, host: '127.0.0.1' });
  const { port } = bench.app.server.address() as { port: number };
  return { bench, port, url: `${secure ? 'https' : 'http'}://localhost:${port}/b/${BUILD}/count` };
}

async function close(bench: CountApp): Promise<void> {
  benches.splice(benches.indexOf(bench), 1);
  bench.app.server.closeAllConnections();
  await bench.close();
}

interface PhoneOptions {
  readonly name?: string;
  readonly secure?: boolean;
  readonly script?: () => void;
}

async function phone(bench: CountApp, url: string, options: PhoneOptions = {}) {
  const context = await browser.newContext({ ...PHONE, deviceScaleFactor: 1 });
  contexts.push(context);
  await context.addCookies([cookieFor(bench, url, options.name)]);
  if (options.script) await context.addInitScript(options.script);
  const page = await context.newPage();
  await page.goto(url);
  await ready(page);
  await openTicket(page, 'press');
  return { context, page };
}

let helpers = 0;

function cookieFor(bench: CountApp, url: string, name?: string) {
  helpers += 1;
  const [key, value] = bench.helperCookie(name ?? `Helper ${helpers}`).split('=') as [string, string];
  const { origin, protocol } = new URL(url);
  return { name: key, value, url: origin, secure: protocol === 'https:', httpOnly: true, sameSite: 'Strict' as const };
}

async function ready(page: Page): Promise<void> {
  await page.locator('html[data-counting=ready]').waitFor({ state: 'attached' });
}

async function reload(page: Page): Promise<void> {
  await reloadAway(page);
  await ready(page);
  await openTicket(page, 'press');
}

/** Loads the page anew where something else than the count may come. */
async function reloadAway(page: Page): Promise<void> {
  page.once('dialog', (dialog) => void dialog.accept());
  await page.reload();
}

async function openTicket(page: Page, step: string): Promise<void> {
  const ticket = page.locator(`[data-step=${step}]`);
  if ((await ticket.getAttribute('open')) === null) await ticket.locator('> summary').click();
}

/** Asks the server at once, as when the page is looked at again. */
async function look(page: Page): Promise<void> {
  await page.evaluate(() => window.dispatchEvent(new Event('focus')));
}

async function tapOne(page: Page): Promise<void> {
  await page.locator('.ticket[open] .one').dispatchEvent('click');
}

/** Taps as fast as the page answers: the next when the number has changed. */
async function tapMany(page: Page, taps: number): Promise<void> {
  await page.evaluate(async (count) => {
    const ticket = document.querySelector('.ticket[open]')!;
    const shown = ticket.querySelector('[data-show=done]')!;
    for (let n = 0; n < count; n++) {
      const before = shown.textContent;
      ticket.querySelector<HTMLButtonElement>('.one')!.click();
      while (shown.textContent === before) await new Promise((resolve) => setTimeout(resolve, 1));
    }
  }, taps);
}

async function shows(page: Page, step: string, done: number): Promise<void> {
  await expect
    .poll(() => page.locator(`[data-step=${step}] [data-show=done]`).textContent(), { timeout: 20_000 })
    .toBe(String(done));
}

async function arrived(page: Page): Promise<void> {
  await page.locator('#kept[data-waiting="0"][data-contact=fine]').waitFor({ timeout: 30_000 });
}

let folder: string | null = null;

function scratchOnce(): string {
  folder ??= scratch();
  return folder;
}
