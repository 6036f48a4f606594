/**
 * What happens in a workshop, told on the phone: loss after a count, what was begun, promises, lost time, who counts.
 */
import { describe, expect, it } from 'vitest';
import { BUILD } from '../support/count-app.ts';
import {
  arrived,
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
} from '../support/count-phone.ts';

openWorkshop();

describe('on the phone can be told', () => {
  it('that units were scrapped after they were counted, or are to be done again, each taken back by one undo', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await tapMany(page, 3);
    await shows(page, 'press', 15);
    await arrived(page);
    const ticket = page.locator('[data-step=press]');
    await ticket.getByText('Scrapped, or to do again…').click();
    await ticket.locator('#scrap-press').fill('99');
    await ticket.getByRole('button', { name: 'Yes, counted' }).click();
    await page.locator('#last').getByText('Only 15 are counted as done here, not 99.').waitFor();
    await ticket.locator('#scrap-press').fill('2');
    await ticket.getByRole('button', { name: 'Yes, counted' }).click();
    await shows(page, 'press', 13);
    await arrived(page);
    await shows(page, 'press', 13);
    await page.locator('#undo-last').click();
    await shows(page, 'press', 15);
    await ticket.getByText('Scrapped, or to do again…').click();
    await ticket.locator('#scrap-press').fill('3');
    await ticket.getByRole('button', { name: 'Send back' }).click();
    await shows(page, 'press', 12);
    await arrived(page);
    await shows(page, 'press', 12);
    const told = bench.planner.log(BUILD).filter(({ kind }) => kind !== 'done' && kind !== 'began');
    expect(told.map(({ kind, n, counted }) => ({ kind, n, counted }))).toMatchObject([
      { kind: 'scrapped', n: 2, counted: true },
      { kind: 'undo' },
      { kind: 'sent-back', n: 3 },
    ]);
    expect(bench.done('press')).toBe(0);
  });

  it('that scrap has raised how many are made: the ticket says the new total without being opened again', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const total = page.locator('[data-step=press] [data-show=of]');
    const [said, number] = /(\d+)/.exec((await total.textContent())!)!;
    await page.route(/count\/(frame|now)/, async (route) => {
      const response = await route.fetch();
      const body = (await response.text()).replace(
        /("id":"press".*?"total":)(\d+)/,
        (_, up, of) => `${up}${Number(of) + 1200}`,
      );
      await route.fulfill({ response, body });
    });
    await tapOne(page);
    await arrived(page);
    const raised = `1\u202f${Number(number) + 200}`;
    await page.waitForFunction(
      (text) => document.querySelector('[data-step=press] [data-show=of]')?.textContent?.includes(text),
      raised,
    );
    expect(await total.textContent()).not.toContain(`of ${said} `);
  });

  it('how many fail, beside the total that it changes, without the page being loaded again', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const failing = page.locator('[data-step=press] [data-show=failing]');
    let tried = 12;
    await page.route(/count\/now/, async (route) => {
      const response = await route.fetch();
      const body = await response.json();
      body.steps.find(({ id }: { id: string }) => id === 'press').failing = `1 of ${tried} failed`;
      await route.fulfill({ response, json: body });
    });
    expect(await failing.textContent()).toBe('');
    for (const told of [13, 14]) {
      tried = told;
      await tapOne(page);
      await arrived(page);
      await expect.poll(() => failing.textContent(), { timeout: 20_000 }).toBe(`1 of ${told} failed`);
    }
  });

  it('nothing to a closed build: what is tapped stays on the phone, says why, and is sent once it is reopened', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const { key } = bench.store.builds.ground(BUILD)!;
    bench.store.builds.close(key, { at: '2026-12-06T10:00:00Z', who: 'maker' });
    await tapOne(page);
    await page.getByText('This build was closed by maker on 2026-12-06 11:00').first().waitFor();
    await page.getByText('1 count kept on this phone').first().waitFor();
    expect(bench.done('press')).toBe(0);
    bench.store.builds.reopen(key);
    await reload(page);
    await arrived(page);
    expect(bench.done('press')).toBe(1);
  });

  it('who counts, and then every entry is theirs, after a reload too', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const people = await page
      .locator('#me option')
      .evaluateAll((all) => all.map((one) => (one as HTMLOptionElement).value));
    await page.locator('#me').selectOption(people[1]!);
    await tapOne(page);
    await shows(page, 'press', 13);
    await arrived(page);
    await page.reload();
    await ready(page);
    expect(await page.locator('#me').inputValue()).toBe(people[1]);
    expect(bench.planner.log(BUILD)).toMatchObject([
      { kind: 'began', person: people[1] },
      { kind: 'done', person: people[1] },
    ]);
  });

  it('an evening that somebody lost, with an undo, and nothing that is still to come', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await page.getByText('Time lost…').click();
    // The fold tells that it opened a moment later, and the hours come with that.
    await expect.poll(() => page.locator('#lost-until').inputValue()).toMatch(/^\d{4}-\d\d-\d\dT23:59$/);
    await page.locator('#lost-of').selectOption('person maker');
    await page.locator('.lost').getByRole('button', { name: 'Log it' }).click();
    await page.locator('#last').getByText('time lost').waitFor();
    await arrived(page);
    expect(bench.planner.log(BUILD)).toMatchObject([{ kind: 'lost', person: 'maker' }]);
    await page.locator('#undo-last').click();
    await expect.poll(() => bench.planner.log(BUILD).at(-1)?.kind, { timeout: 15_000 }).toBe('undo');
    await page.getByText('Time lost…').click();
    await page.locator('#lost-from').fill('2199-01-01T08:00');
    await page.locator('#lost-until').fill('2199-01-02T08:00');
    await page.locator('.lost').getByRole('button', { name: 'Log it' }).click();
    await page.locator('#last').getByText('start no later than now').waitFor();
    expect(bench.planner.log(BUILD)).toHaveLength(2);
  });

  it('that something was ordered, and when the supplier promises it', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await openTicket(page, 'order-fish');
    const ticket = page.locator('[data-step=order-fish]');
    await ticket.getByRole('button', { name: 'Ordered' }).click();
    await page.locator('#last').getByText('50 × fish ordered, fish from the saw yard. Saved on the laptop.').waitFor();
    await ticket
      .locator('.loads')
      .getByText(/^50 ordered \w{3} \d+ \w{3}/)
      .waitFor();
    await ticket.locator('#until-order-fish').fill('2199-12-04T12:00');
    await ticket.locator('[data-typed=promised] button').click();
    await ticket
      .locator('.loads')
      .getByText(/promised for Wed 4 Dec/)
      .waitFor();
    await arrived(page);
    // The server says the same of it as the phone did.
    await expect(ticket.locator('.loads').textContent()).resolves.toMatch(/promised for Wed 4 Dec/);
    expect(bench.planner.log(BUILD)).toMatchObject([{ kind: 'ordered' }, { kind: 'promised', step: 'order-fish' }]);
  });
});

describe('what is kept', () => {
  it('is kept again and sent when the browser clears its storage under the open page', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url);
    await context.setOffline(true);
    for (let n = 0; n < 3; n++) await tapOne(page);
    await shows(page, 'press', 15);
    const session = await context.newCDPSession(page);
    await session.send('Storage.clearDataForOrigin', { origin: new URL(url).origin, storageTypes: 'indexeddb' });
    await page.locator('#place').getByText('saved 4 entries again').waitFor();
    await tapOne(page);
    await shows(page, 'press', 16);
    await context.setOffline(false);
    await reload(page);
    await arrived(page);
    expect(bench.done('press')).toBe(4);
  });

  it('begins the run clock once for taps that come at one moment', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await page.evaluate(() => {
      for (let n = 0; n < 4; n++) document.querySelector<HTMLButtonElement>('.ticket[open] .one')!.click();
    });
    await shows(page, 'press', 16);
    await arrived(page);
    expect(bench.planner.log(BUILD).map(({ kind }) => kind)).toEqual(['began', 'done', 'done', 'done', 'done']);
  });

  it('is drawn around the tickets from a piece of the page, not from all of it', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(new URL(request.url()).pathname));
    await tapOne(page);
    await shows(page, 'press', 13);
    await arrived(page);
    await look(page);
    await expect.poll(() => asked.filter((path) => path.endsWith('/count/frame')).length, { timeout: 15_000 }).toBe(1);
    expect(asked.filter((path) => path.endsWith('/count'))).toEqual([]);
    expect(await page.locator('.rule').count()).toBe(1);
  });
});
