import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Build } from '../../server/model/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore, tap } from '../store/helpers.ts';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

const BUILD: Build = {
  ...lantern({ event: '2026-12-14T18:00' }),
  parameters: [{ name: 'rib_length', value: 480, unit: 'mm' }],
  limits: [{ id: 'fit', name: 'Rib in its frame', of: '505 - rib_length', least: 0, unit: 'mm' }],
  parts: lantern().parts!.map((part) => ({ ...part, dependsOn: ['rib_length'], revision: 'A' })),
  boxes: [
    {
      id: 'crate',
      name: 'Crate',
      parts: [
        { part: 'ribs', count: 'rib_length / 12' },
        { part: 'ribs', count: 2, spare: true },
      ],
    },
  ],
  points: [{ id: 'beam', name: 'Beam', load: 'rib_length / 40', limit: 20 }],
  strike: [{ id: 'down', name: 'Take it down', minutes: 'rib_length / 8' }],
};

let browser: Browser;
let real: RealApp;
let url: string;
let context: BrowserContext;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => closePages(browser));
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(BUILD, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  real.planner.append('lantern', [tap('tap-0001', { n: 12 }), tap('tap-0002', { step: 'glue', n: 4 })], 'maker');
  await real.planner.settled();
  url = `${await real.app.listen({ port: 0, host: '127.0.0.1' })}/b/lantern`;
});
afterEach(async () => {
  await context?.close();
  await real.close();
});

/** Types another length and saves: the form asks what becomes of what is made. */
async function longer(page: Page, length: string): Promise<void> {
  await page.goto(`${url}/design?open=parameters/rib_length`);
  await page.fill('#f-quantity', length);
  await page.press('#f-quantity', 'Enter');
  await page.waitForSelector('.ripple');
}

const width = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth);
const ribs = () => real.planner.build('lantern')!.build.parts!.find(({ id }) => id === 'ribs')!;

describe('on a phone, a changed dimension', () => {
  it('asks before it is saved what becomes of what is made, and saves both as one edit', async () => {
    context = await browser.newContext({ ...PHONE });
    const { page, complaints } = await openPage(context);
    await longer(page, '500');
    expect(real.planner.build('lantern')!.revision).toBe(1);
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('ripple');
    const reached = (await page.textContent('.reached'))!;
    expect(reached).toMatch(/rib_length 480 → 500/);
    for (const line of ['Crate (ribs 40 → 42, spare ribs still 2)', 'Beam 12 → 12.5', 'Take it down 60 → 63'])
      expect(reached).toContain(line);
    expect(await page.$$eval('.made-state > legend', (all) => all.map((it) => it.textContent))).toEqual([
      '8\u00a0×\u00a0ribs, last through cut ribs',
      '4\u00a0×\u00a0ribs, last through glue ribs',
    ]);
    expect(await width(page)).toBeLessThanOrEqual(390);
    await page.fill('[name="ripple.ribs.passed.cut.good"]', '5');
    await page.fill('[name="ripple.ribs.passed.cut.scrap"]', '9');
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.made-state .threat');
    expect(await page.textContent('.made-state .threat')).toContain('there are 8; answer for 8 at most');
    expect(await page.inputValue('[name="ripple.ribs.passed.cut.good"]')).toBe('5');
    expect(await page.inputValue('#f-quantity')).toBe('500');
    await page.fill('[name="ripple.ribs.passed.cut.scrap"]', '3');
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.saved');
    expect(real.planner.build('lantern')!.revision).toBe(2);
    expect(ribs()).toMatchObject({ revision: 'B', unchecked: [{ at: 'passed', step: 'glue', units: 4 }] });
    expect(await page.textContent('.part .unchecked')).toContain('4 units unchecked');
    // What was refused is told by the browser too.
    expect(complaints.filter((complaint) => !complaint.includes('409'))).toEqual([]);
  });

  it('that nobody answered for is marked on every sheet where the part shows, until it is looked at', async () => {
    context = await browser.newContext({ ...PHONE });
    const { page } = await openPage(context);
    await longer(page, '500');
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.saved');
    await real.planner.settled();
    for (const sheet of ['', '/steps', '/dates', '/design', '/count']) {
      await page.goto(`${url}${sheet}`);
      expect(await page.textContent('main'), sheet).toMatch(/12 (units )?unchecked/);
      expect(await width(page), sheet).toBeLessThanOrEqual(390);
    }
    await page.goto(`${url}/design`);
    await page.click('.part .unchecked a');
    await page.waitForSelector('.ripple');
    await page.fill('[name="ripple.ribs.passed.cut.good"]', '8');
    await page.fill('[name="ripple.ribs.passed.glue.good"]', '4');
    await page.click('.buttons button[value=save]');
    await expect.poll(ribs).not.toHaveProperty('unchecked');
    await expect.poll(() => page.$$('.part .unchecked')).toEqual([]);
  });

  it('that breaks a limit says so before it is saved, and is a threat afterwards', async () => {
    context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const { page } = await openPage(context);
    await longer(page, '510');
    expect(await page.textContent('.ripple .threat')).toBe(
      'This breaks a limit. Rib in its frame would be \u22125 mm; it must be at least 0 mm.',
    );
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.saved');
    await real.planner.settled();
    await page.goto(url);
    expect(await page.textContent('main')).toContain('Rib in its frame is \u22125 mm; it must be at least 0 mm.');
  });

  it('changed by two tells the second, and keeps what the second typed', async () => {
    context = await browser.newContext({ ...PHONE });
    const { page } = await openPage(context);
    await longer(page, '500');
    await page.fill('[name="ripple.ribs.passed.cut.good"]', '8');
    await real.planner.edit('lantern', [{ kind: 'set', list: 'parts', key: 'ribs', field: 'spares', value: 2 }], 'Ana');
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.refusal, .refused, [role=alert]');
    expect(await page.textContent('form.edit')).toContain('Ana has changed the build since you opened it');
    expect(await page.inputValue('#f-quantity')).toBe('500');
    expect(await page.inputValue('[name="ripple.ribs.passed.cut.good"]')).toBe('8');
    await page.click('.buttons button[value=save]');
    await page.waitForSelector('.saved');
    expect(real.planner.build('lantern')!.build.parameters![0]!.value).toBe(500);
    expect(ribs().unchecked).toEqual([expect.objectContaining({ step: 'glue', units: 4 })]);
  });
});
