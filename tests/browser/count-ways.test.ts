import { describe, expect, it } from 'vitest';
import { BUILD } from '../support/count-app.ts';
import {
  arrived,
  look,
  openTicket,
  openWorkshop,
  phone,
  serve,
  shows,
  tapMany,
  tapOne,
} from '../support/count-phone.ts';

openWorkshop();

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
    await ticket.getByText('Scrapped, or to do again…').click();
    await ticket.locator('#scrap-press').fill('2');
    await ticket.locator('#why-press').selectOption('dropped');
    await ticket.getByRole('button', { name: 'No, not yet' }).click();
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
    await page.locator('[data-step=print-cranks]').getByRole('button', { name: 'Loaded' }).click();
    await page.getByText(/8 in the machine: be there at \d\d:\d\d, in 2 h 2[12] min/).waitFor();
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
    await page.locator('#last').getByText('30 × fish received, fish from the saw yard').waitFor();
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

  it('what was taken back by mistake is brought back, however often, and counts once', async () => {
    const { bench, url } = await serve();
    const { page, context } = await phone(bench, url);
    await page.locator('[data-step=press] [data-n="5"]').click();
    await shows(page, 'press', 17);
    await context.setOffline(true);
    const way = page.locator('#undo-last');
    for (const [label, done, said] of [
      ['Undo', 12, 'Undone'],
      ['Redo', 17, 'Kept on this phone|Saved on the laptop'],
      ['Undo', 12, 'Undone'],
      ['Redo', 17, 'Kept on this phone|Saved on the laptop'],
    ] as const) {
      await way.getByText(label, { exact: true }).click();
      await shows(page, 'press', done);
      expect(await page.locator('#last').textContent()).toMatch(new RegExp(`5 done, press bushings\\. (${said})\\.$`));
    }
    const other = await context.newPage();
    await context.setOffline(false);
    await other.goto(url);
    await arrived(page);
    await arrived(other);
    expect(bench.done('press')).toBe(5);
    await other.locator('#mine').getByRole('button', { name: /^Undo/ }).click();
    await other.locator('#mine').getByRole('button', { name: /^Redo/ }).click();
    await arrived(other);
    await expect.poll(() => bench.planner.log(BUILD).filter(({ kind }) => kind === 'undo').length).toBe(6);
    expect(bench.done('press')).toBe(5);
    await shows(page, 'press', 17);
  });

  it('a failure that was a slip is taken back with all that it sent back', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await openTicket(page, 'soak');
    await page.locator('[data-step=soak]').getByText('Failed…').click();
    await page.locator('[data-step=soak]').getByRole('button', { name: 'Log the failure' }).click();
    await page.locator('#last').getByText('failed, soak test').waitFor();
    await page.locator('#undo-last').click();
    await page
      .locator('#last')
      .getByText(/^failed, .*\. Undone\. .* sent back, .*\. Undone\.$/)
      .waitFor();
    await arrived(page);
    const log = bench.planner.log(BUILD);
    const undone = log.filter(({ kind }) => kind === 'undo').map(({ undoes }) => undoes);
    expect(undone).toEqual(log.filter(({ kind }) => kind !== 'undo').map(({ id }) => id));
    expect(undone.length).toBeGreaterThan(1);
  });

  it('what is above the plan is asked about once, and not again when it was said to be right', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    const left = Number.parseInt((await page.locator('[data-step=press] [data-show=left]').textContent())!, 10);
    await page.locator('#typed-press').fill(String(left));
    await page.locator('#typed-press').press('Enter');
    for (let n = 0; n < 3; n++) await tapMany(page, 1);
    await arrived(page);
    await expect.poll(() => page.locator('#doubts li').count()).toBe(1);
    await page.getByRole('button', { name: /^It is right/ }).click();
    await tapMany(page, 3);
    await arrived(page);
    await look(page);
    await expect.poll(() => bench.done('press')).toBe(left + 6);
    expect(await page.locator('#doubts li').count()).toBe(0);
    expect(bench.planner.doubts(BUILD)).toEqual([]);
  });

  it('new tickets, when the plan has changed, leave the ticket open and the set chosen that are counted on', async () => {
    const { bench, url } = await serve();
    const { page } = await phone(bench, url);
    await openTicket(page, 'mount-fish');
    await page.locator('[data-step=mount-fish] .sets label').nth(1).click();
    await page.route(
      '**/count/now*',
      async (route) => {
        const answer = await route.fetch();
        const state = await answer.json();
        state.steps[0].name = 'called otherwise';
        await route.fulfill({ response: answer, json: state });
      },
      { times: 1 },
    );
    await look(page);
    await page.locator('#last').getByText('this list is up to date').waitFor();
    await tapOne(page);
    await expect.poll(() => bench.planner.log(BUILD).at(-1)).toMatchObject({ step: 'mount-fish', set: 2, n: 1 });
  });

  it('a tap buzzes, and sounds if asked to; the screen is kept awake until it is let sleep', async () => {
    const { url, bench } = await serve();
    const { page } = await phone(bench, url, { script: pretend });
    const heard = () => page.evaluate(() => (globalThis as unknown as { heard: string[] }).heard.splice(0));
    await tapMany(page, 1);
    expect(await heard()).toEqual(['buzz 35']);
    await page.locator('#sound').check();
    await tapMany(page, 1);
    expect(await heard()).toEqual(['buzz 35', 'tone 880']);
    await page.locator('#typed-press').fill('-1');
    await page.locator('#typed-press').press('Enter');
    expect(await heard()).toEqual(['buzz 80,60,80,60,80', 'tone 196']);
    await page.locator('#awake').check();
    await page.getByText('The screen stays awake.').waitFor();
    // The browser itself lets go of the screen when the page is hidden.
    for (const released of [false, true]) {
      await page.evaluate((gone) => {
        Object.assign(globalThis, { letGo: gone });
        document.dispatchEvent(new Event('visibilitychange'));
      }, released);
    }
    await page.locator('#awake').uncheck();
    await page.getByText('The screen may sleep.').waitFor();
    const said = (await heard()).filter((one) => /a(wake|sleep)/.test(one));
    expect(said).toEqual(['awake screen', 'awake screen', 'asleep']);
  });

  it('a browser that refuses to buzz, to sound and to stay awake counts all the same, and says what it cannot do', async () => {
    const { url, bench } = await serve();
    const { page } = await phone(bench, url, { script: pretend, told: true });
    const errors: Error[] = [];
    page.on('pageerror', (error) => errors.push(error));
    await page.locator('#sound').check();
    await tapMany(page, 2);
    await page.locator('#awake').click();
    await page.getByText('does not let the page keep the screen awake').waitFor();
    expect(await page.locator('#awake').isChecked()).toBe(false);
    await arrived(page);
    expect(await page.locator('#last').textContent()).toMatch(/^1 done, press bushings\. Saved on the laptop\.$/);
    expect(bench.done('press')).toBe(2);
    expect(errors).toEqual([]);
  });
});

/** Runs in the page: a phone whose buzzer, loudspeaker and screen note what they are told, or refuse it. */
function pretend(refuses: boolean): void {
  const heard: string[] = [];
  Object.assign(globalThis, { heard, letGo: false });
  const note = (what: string): void => {
    if (refuses) throw new DOMException('not here', 'NotAllowedError');
    heard.push(what);
  };
  const param = { setValueAtTime: () => {}, exponentialRampToValueAtTime: () => {} };
  class Sounds {
    readonly currentTime = 0;
    readonly state = 'running';
    readonly destination = {};
    constructor() {
      if (refuses) throw new DOMException('no sound here', 'NotSupportedError');
    }
    createGain() {
      return { gain: param, connect: () => ({}) };
    }
    createOscillator() {
      const frequency = { value: 0 };
      return {
        frequency,
        connect: () => ({ connect: () => ({}) }),
        start: () => note(`tone ${frequency.value}`),
        stop: () => {},
      };
    }
  }
  Object.assign(globalThis, { AudioContext: Sounds });
  Object.defineProperty(navigator, 'vibrate', { value: (pattern: number[]) => note(`buzz ${pattern}`) });
  const request = async (type: string) => {
    note(`awake ${type}`);
    return {
      get released() {
        return (globalThis as unknown as { letGo: boolean }).letGo;
      },
      release: async () => note('asleep'),
    };
  };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
}
