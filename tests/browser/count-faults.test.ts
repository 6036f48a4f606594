import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { backupDatabase, openDatabase, restoreDatabase } from '../../server/store/index.ts';
import { scratch } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { BUILD } from '../support/count-app.ts';
import {
  arrived,
  close,
  cookieFor,
  look,
  openWorkshop,
  phone,
  ready,
  reload,
  reloadAway,
  serve,
  shows,
  tapMany,
  tapOne,
} from '../support/count-phone.ts';

openWorkshop();

describe('a phone that something is wrong with', () => {
  it('has its wrong clock noticed, said and corrected; the entry keeps both times', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url, {
      script: () => localStorage.setItem('ahead', '3600000'),
    });
    await page.addInitScript(skewedClock);
    await reload(page);
    await tapMany(page, 1);
    await arrived(page);
    await page.getByText(/clock is 60 min fast/).waitFor();
    const [entry] = bench.planner.log(BUILD).filter((one) => one.kind === 'done');
    expect(Math.abs(Date.parse(entry!.at) - Date.now())).toBeLessThan(20_000);
    expect(Date.parse(entry!.phoneAt!) - Date.parse(entry!.at)).toBeGreaterThan(3_590_000);
  });

  it('sends on when drawing fails', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await arrived(page);
    await page.evaluate(() => document.getElementById('undo-last')!.remove());
    for (const counted of [1, 2]) {
      await tapOne(page);
      await expect.poll(() => bench.done('press')).toBe(counted);
    }
  });

  it('whose clock is set back while the page is shut has each count corrected by what the clock was then', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url, { script: skewedClock });
    await page.evaluate(() => localStorage.setItem('ahead', '3600000'));
    await reload(page);
    await page.getByText(/also opens without a network.*clock is 60 min fast/).waitFor();
    await context.setOffline(true);
    await look(page);
    await page.getByText('No answer from the laptop').waitFor();
    await tapMany(page, 2);
    await page.evaluate(() => localStorage.setItem('ahead', '0'));
    await reload(page);
    await tapMany(page, 1);
    await context.setOffline(false);
    await arrived(page);
    await page.getByText(/was set back by 60 min while counts waited/).waitFor();
    const entries = bench.planner.log(BUILD).filter((one) => one.kind === 'done');
    const ages = entries.map(({ at }) => Math.abs(Date.parse(at) - Date.now()));
    expect(ages.every((age) => age < 20_000)).toBe(true);
    const ahead = entries.map(({ at, phoneAt }) => Math.round((Date.parse(phoneAt!) - Date.parse(at)) / 60_000));
    expect(ahead).toEqual([60, 60, 0]);
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
    await page.getByText('Counts kept on this phone: 1.').waitFor();
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
    await editBy(bench.planner, BUILD, (build) => {
      build.steps = build.steps.filter((step) => step.id !== 'press').map((step) => ({ ...step, after: [] }));
    });
    await context.setOffline(false);
    await page.getByText(/Not counted: 1 done, press bushings.*is gone/).waitFor();
    await page.locator('#kept').getByText('The laptop did not take 1 count: see the questions below.').waitFor();
    await page.reload();
    await ready(page);
    await page.getByText(/Not counted: 1 done/).waitFor();
    // The step comes back; the entry that is sent again is taken, and another stays refused until it is put away.
    await bench.planner.takeBack(BUILD, 1, 'maker');
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
    await page.locator('#kept').getByText('Every count has arrived.').waitFor();
  });

  it('brings its counts again after the laptop was put back to a backup', async () => {
    const folder = scratch();
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

/** Runs in the page: its clock is ahead by as many milliseconds as its storage says. */
function skewedClock(): void {
  const real = Date;
  const ahead = Number(localStorage.getItem('ahead') ?? 0);
  globalThis.Date = class extends real {
    constructor(...args: []) {
      super(...(args.length === 0 ? ([real.now() + ahead] as unknown as []) : args));
    }
    static now() {
      return real.now() + ahead;
    }
  } as DateConstructor;
}
