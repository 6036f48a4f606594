/** Names of one long word, from right to left and with emoji, on the narrowest phone. */
import type { AddressInfo } from 'node:net';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build, LogEntry } from '../../server/model/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { closePages, openBrowser, openPage, overhang } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';
import { SHEETS } from '../support/sheets.ts';

const WORD = 'Hundertzwanzigzackenzahnradkranz'.repeat(3).slice(0, 80);

const BUILD: Build = {
  id: 'words',
  name: `מנורה 🕯️ ${WORD}`,
  zone: 'Europe/Berlin',
  readyBy: '2026-12-15T18:00',
  loadIn: '2026-12-19T09:00',
  event: '2026-12-20T12:00',
  suppliers: [{ id: 'shop', name: WORD, lead: 3 }],
  parts: [
    { id: 'wheel', name: WORD, source: 'make', count: 2000 },
    { id: 'pin', name: 'חלק 🧩 مرحبا', source: 'buy', count: 3, supplier: 'shop' },
  ],
  people: [
    { id: 'one', name: WORD, hours: 'daily 09:00-18:00' },
    { id: 'two', name: 'שרה', hours: 'sat 09:00-12:00' },
  ],
  machines: [{ id: 'mill', name: WORD }],
  steps: [
    {
      id: 'cut',
      name: WORD,
      part: 'wheel',
      lotSize: 50,
      phases: [
        { kind: 'hands', perUnit: 1 },
        { kind: 'run', machine: 'mill', minutes: 60 },
      ],
    },
    { id: 'pack', name: 'אריזה 🧩', part: 'wheel', phases: [{ kind: 'hands', perUnit: 1 }] },
    { id: 'hang', name: WORD, onSite: true, after: ['pack'], phases: [{ kind: 'hands', minutes: 60 }] },
  ],
  gates: [{ id: 'test', name: WORD, after: ['pack'], before: ['hang'], minutes: 20, failChance: 0.3 }],
  decisions: [{ id: 'which', question: `${WORD}?`, waits: ['cut'] }],
};
const LOG: LogEntry[] = [{ id: 'entry-0001', kind: 'done', step: 'cut', n: 3, at: '2026-11-29T10:00:00Z', note: WORD }];

const sheets = SHEETS.filter((path) => !/maker|paint-fish|dates.2|keys/.test(path));
const MORE = [
  '/count',
  '/dates/2026-11-30',
  '/waits?around=cut',
  '/steps/cut',
  '/design?open=parts/new',
  '/steps?open=gates/new',
];

let browser: Browser;
let real: RealApp;
let context: BrowserContext;
let page: Page;
let address: string;

beforeAll(async () => {
  browser = await openBrowser();
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOON);
  const made = await real.planner.create(BUILD, LOG, 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  await real.app.listen({ port: 0, host: '127.0.0.1' });
  address = `http://127.0.0.1:${(real.app.server.address() as AddressInfo).port}`;
  context = await browser.newContext({ viewport: { width: 320, height: 640 }, hasTouch: true, isMobile: true });
  ({ page } = await openPage(context));
});
afterAll(async () => {
  await closePages(browser);
  await real.close();
});

describe('names of one long word', () => {
  it.each([...sheets, ...MORE])('widen no sheet: %s/', async (path) => {
    expect((await page.goto(`${address}/b/words${path}`))!.status()).toBe(200);
    expect(await overhang(page)).toBeLessThanOrEqual(0);
  });
});
