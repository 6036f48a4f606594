/** Ticks of the pack list in a browser: kept without a network, sent later, taken off again where they are refused. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern } from '../store/helpers.ts';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

let browser: Browser;
let real: RealApp;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOON);
  const boxes = ['crate', 'case'].map((id) => ({ id, name: id, parts: [{ part: 'ribs', count: 2 }] }));
  const made = await real.planner.create(lantern({ boxes }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  const url = await real.app.listen({ port: 0, host: '127.0.0.1' });
  context = await browser.newContext(PHONE);
  ({ page } = await openPage(context));
  // The sheet stays as it was fetched: what is seen of a tick is the page's own.
  await page.route(/\/live/, (route) => route.abort());
  await page.goto(`${url}/b/lantern/show`);
});
afterAll(async () => {
  await closePages(browser);
  await real.close();
});

const tap = (box: string) => page.click(`form.pack-tap[data-box=${box}] button`);
const isPressed = (box: string) => page.getAttribute(`form.pack-tap[data-box=${box}] button`, 'aria-pressed');
const told = (box: string) => page.textContent(`form.pack-tap[data-box=${box}] [data-told]`);
const ticks = () => real.planner.log('lantern').map(({ kind, box }) => [kind, box]);

it('a tick that is refused is off again, with the reason', async () => {
  const gone = await real.planner.edit('lantern', [{ kind: 'remove', list: 'boxes', key: 'case' }], 'Bo');
  expect(gone.ok).toBe(true);
  await tap('case');
  await expect.poll(() => told('case'), { timeout: 20_000 }).toMatch(/There is no box "case"/);
  expect(await isPressed('case')).toBe('false');
  expect(ticks()).toEqual([]);
});

it('a tick is kept without a network, and sent when there is one', async () => {
  await context.setOffline(true);
  await tap('crate');
  await expect.poll(() => isPressed('crate')).toBe('true');
  expect(await told('crate')).toMatch(/kept on this phone/);
  expect(ticks()).toEqual([]);
  await context.setOffline(false);
  await expect.poll(ticks, { timeout: 20_000 }).toEqual([['packed', 'crate']]);
});
