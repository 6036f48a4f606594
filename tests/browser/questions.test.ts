/**
 * The twenty questions of somebody at the bench: each is answered within two taps from the phone's first page, and the
 * answer is that of the forecast, or of the plan worked out beside it. What is in which box (19) is tested where boxes
 * are packed.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build, Change, DaySpell, Forecast, NewLogEntry } from '../../server/model/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import { gainedText, leverText } from '../../views/words/lever-words.ts';
import { lookAtTexts } from '../../views/words/look-at-words.ts';
import { threatText } from '../../views/words/threat-words.ts';
import { turnTexts, wayRows } from '../../views/words/way-words.ts';
import { effectText, figuresOf } from '../../views/words/what-if-words.ts';
import { chanceText, figure, roomText, whenText, workText } from '../../views/words/wording.ts';
import { closePages, openBrowser, openPage, PHONE } from '../support/browser.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

const minutes = (instant: string): number => Date.parse(instant) / 60_000;
/** A Wednesday evening, half an hour after the first has come. */
const NOW = minutes('2026-12-02T18:30Z');
const CLOCK = wallClock('UTC');

const RAIN = {
  id: 'rain',
  name: 'Rain of drops',
  zone: 'UTC',
  start: '2026-11-23T18:00',
  event: '2026-12-19T18:00',
  readyBy: '2026-12-12T16:00',
  askedChance: 0.05,
  parameters: [
    { name: 'drops', value: 48 },
    { name: 'drop_width', value: 80, unit: 'mm' },
  ],
  parts: [
    { id: 'drop', name: 'drop', source: 'make', count: 'drops', yield: 0.9, spares: 2, dependsOn: ['drop_width'] },
    { id: 'hook', name: 'hook', source: 'buy', count: 'drops', packSize: 25, supplier: 'shop' },
    { id: 'cord', name: 'cord', source: 'buy', count: 'drops', supplier: 'shop' },
    {
      id: 'cap',
      name: 'cap',
      source: 'make',
      count: 24,
      ways: [
        { id: 'here', name: 'Print them here', source: 'make' },
        { id: 'out', name: 'Have them printed', source: 'send-out', supplier: 'shop', unitCost: 2.5 },
      ],
    },
  ],
  suppliers: [{ id: 'shop', name: 'Hook shop', lead: { low: 2, likely: 3, high: 6 }, cutOff: '20:00' }],
  people: [
    {
      id: 'ada',
      name: 'Ada',
      hours: 'mon-fri 18:00-22:00; sat 09:00-17:00',
      can: ['turn', 'fold', 'order-hook', 'order-cord', 'order-cap'],
    },
    { id: 'bo', name: 'Bo', hours: 'mon wed fri 19:00-22:00; sat 10:00-16:00', can: ['print', 'oil', 'hang'] },
  ],
  machines: [{ id: 'printer', name: 'Printer', unattended: true, overnight: true }],
  steps: [
    {
      id: 'turn',
      name: 'Turn drops',
      part: 'drop',
      lotSize: 6,
      phases: [{ kind: 'hands', perUnit: 9 }],
      hazards: ['dust'],
    },
    {
      id: 'oil',
      name: 'Oil drops',
      part: 'drop',
      lotSize: 12,
      hazards: ['spray'],
      phases: [
        { kind: 'hands', perUnit: 4 },
        { kind: 'wait', minutes: 540 },
      ],
    },
    {
      id: 'hang',
      name: 'Hang drops',
      part: 'drop',
      uses: ['hook', 'cord'],
      lotSize: 12,
      phases: [{ kind: 'hands', perUnit: 7 }],
    },
    {
      id: 'print',
      name: 'Print caps',
      part: 'cap',
      lotSize: 6,
      phases: [
        { kind: 'hands', minutes: 10 },
        { kind: 'run', machine: 'printer', minutes: 280 },
        { kind: 'hands', minutes: 5 },
      ],
    },
    { id: 'fold', name: 'Fold flags', count: 60, lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
  ],
  decisions: [{ id: 'colour', question: 'Which blue?', waits: ['oil'] }],
} as unknown as Build;

const LOG: NewLogEntry[] = [
  { id: 'rain-tap-1', kind: 'done', step: 'turn', n: 12, at: '2026-11-30T20:00:00Z', who: 'Ada' },
  { id: 'rain-tap-2', kind: 'began', step: 'turn', at: '2026-12-01T18:00:00Z', who: 'Ada' },
  { id: 'rain-tap-3', kind: 'done', step: 'turn', n: 10, at: '2026-12-01T20:00:00Z', who: 'Ada' },
  { id: 'rain-tap-4', kind: 'scrapped', step: 'turn', n: 2, at: '2026-12-01T20:01:00Z', who: 'Ada' },
  { id: 'rain-tap-5', kind: 'ordered', step: 'order-cord', n: 48, at: '2026-12-02T12:00:00Z', who: 'Ada' },
] as unknown as NewLogEntry[];

let browser: Browser;
let real: RealApp;
let url: string;
let page: Page;
let complaints: string[];
let forecast: Forecast;

beforeAll(async () => {
  browser = await openBrowser();
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), NOW);
  // The laptop's clock stands at the evening that is planned.
  real.app.server.prependListener('request', (_, response) =>
    response.setHeader('date', new Date(NOW * 60_000).toUTCString()),
  );
  const made = await real.planner.create(RAIN, LOG as never, 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
  const edited = await real.planner.edit(
    'rain',
    [{ kind: 'set', list: 'parts', key: 'drop', field: 'spares', value: 3 }],
    'maker',
    1,
  );
  if (!edited.ok) throw new Error(edited.problems[0]!.message);
  await real.planner.settled();
  const address = await real.app.listen({ port: 0, host: '127.0.0.1' });
  url = `${address}/b/rain`;
  ({ page, complaints } = await openPage(await browser.newContext(PHONE)));
  forecast = (await (await fetch(`${url}/forecast.json`)).json()) as Forecast;
});
afterAll(async () => {
  await closePages(browser);
  await real.close();
});

/** Opens the first page and taps links by their names, two at most. */
async function reach(...taps: readonly string[]): Promise<void> {
  expect(taps.length).toBeLessThanOrEqual(2);
  await page.goto(url);
  for (const name of taps) {
    const before = page.url();
    await page.getByRole('link', { name, exact: true }).first().click();
    await page.waitForURL((to) => to.href !== before);
  }
}

const plain = (words: string): string => words.replaceAll(/[\u00a0\u202f\s]+/g, ' ').trim();
const seen = async (selector = '#sheet'): Promise<string> =>
  // biome-ignore lint/performance/useDomNodeTextContent: what is hidden or folded is no answer
  plain(await page.locator(selector).first().innerText());
const when = (instant: number): string => plain(whenText(CLOCK, instant, NOW));
const nameOf = (id: string): string => forecast.steps.find((step) => step.id === id)!.name;
const stepOf = (id: string) => forecast.steps.find((step) => step.id === id)!;

/** What changes and entries would do, worked out beside the page. */
async function whatIf(changes: readonly Change[], entries: readonly NewLogEntry[] = []) {
  const seen = await real.planner.whatIf('rain', changes, 2, entries);
  if (!seen.ok) throw new Error(seen.problems[0]!.message);
  return seen.value;
}

/** As a form says it before anything is saved. */
const effectOf = ({ present, forecast: after }: { present: Forecast; forecast: Forecast }): string =>
  plain(effectText(CLOCK, NOW, figuresOf(present), figuresOf(after))).toLowerCase();
const isoOf = (instant: number): string => new Date(instant * 60_000).toISOString();
/** As a field for an instant takes it, in UTC. */
const wallOf = (instant: number): string => isoOf(instant).slice(0, 16);

describe('on the phone, within two taps,', () => {
  it('1 and 2: whether it will be ready, how likely, by when, and how much room there is, now and a week ago', async () => {
    await reach();
    const { risk, room } = forecast;
    expect(await seen('.verdict-answer .stamp')).toBe(plain(chanceText(risk!.readyBy.chance)));
    const dates = await seen('.chances dl');
    for (const instant of [room.readyBy.finish!, risk!.readyAt.p50, risk!.readyAt.p80, risk!.readyAt.p95]) {
      expect(dates).toContain(when(instant));
    }
    expect(await seen('.verdict-room')).toContain(plain(roomText(room.readyBy.clock)));
    await reach('Where the room went', 'last 7 days');
    const then = real.planner.history('rain').find(({ computedAt }) => computedAt >= NOW - 7 * 1440);
    expect(then).toBeDefined();
    expect(await seen()).toContain(plain(roomText(room.readyBy.clock)));
  });

  it('3 and 18: which step threatens the date first, and where the plan leans on nights or on one alone', async () => {
    await reach();
    const [first] = forecast.threats!;
    if (first === undefined) expect(await seen('.lead')).toContain('Nothing threatens the date.');
    else expect(await seen('.lead-first')).toContain(plain(threatText(forecast, CLOCK, first)));
    await page.$$eval('details', (folds) => {
      for (const fold of folds) fold.open = true;
    });
    const all = await seen();
    const warned = lookAtTexts(forecast, CLOCK);
    expect(forecast.workHours.length).toBeGreaterThan(0);
    for (const warning of warned) expect(all).toContain(plain(warning));
  });

  it('4 and 5: what to do in the next two hours, and what must start now because it dries, prints or ships', async () => {
    await reach('Now');
    const spells = forecast.days.flatMap(({ people }) => people.flatMap((one): DaySpell[] => [...one.spells]));
    const soon = spells.filter(({ start, finish }) => start < NOW + 120 && finish > NOW);
    const tasks = await seen('.body-now section');
    expect(soon.length).toBeGreaterThan(0);
    for (const { step } of soon) expect(tasks).toContain(nameOf(step));
    const later = spells.filter(({ start, step }) => start >= NOW + 120 && soon.every((one) => one.step !== step));
    for (const { step } of later) expect(tasks.split('Could be done')[0]).not.toContain(nameOf(step));
    expect(await seen('.now-here')).toContain('Ada is here until Wed 2 Dec 22:00.');
    const leaves = minutes('2026-12-02T22:00Z');
    const overnight = forecast.lots.filter((lot) =>
      lot.placements.some(
        ({ kind, start, finish }) =>
          ['run', 'wait', 'lead'].includes(kind) && start >= NOW && start <= leaves && finish > leaves,
      ),
    );
    const before = await seen('section[aria-labelledby=leaving-title]');
    expect(new Set(overnight.map(({ step }) => step)).size).toBeGreaterThan(1);
    for (const { step } of overnight) expect(before).toContain(nameOf(step));
    expect(before).toMatch(/Printer then runs until .*Leave it running only/);
  });

  it('6 and 9: how many are made and scrapped at which step, how long one takes and what was assumed', async () => {
    await reach('All steps');
    for (const { id, done, total } of forecast.steps) {
      expect(await seen(`#steps-${id} .step-count`)).toBe(`${figure(done)} of ${figure(total)}`);
    }
    const { scrapped, pace } = stepOf('turn');
    await page.locator('#steps-turn summary').first().click();
    const ticket = await seen('#steps-turn .job');
    expect(scrapped).toBe(2);
    expect(ticket).toContain(`${scrapped} scrapped`);
    expect(pace!.units).toBeGreaterThan(0);
    expect(ticket).toContain(
      plain(`${pace!.units} in ${workText(pace!.minutes)}, assumed ${figure(pace!.estimate, 1)} min`),
    );
    expect(ticket).toContain(`${plain(figure(pace!.minutesPerUnit, 1))} min`);
  });

  it('7: how many to start to end with enough, and how sure that is', async () => {
    await reach('Contents', 'Design');
    const drop = forecast.parts.find(({ id }) => id === 'drop')!;
    expect(drop.toMake).toBeGreaterThan(drop.need + drop.spares);
    expect(await seen('#parts-drop')).toContain(plain(figure(drop.toMake)));
    expect(await seen()).toContain(`${forecast.confidence * 100} %`);
  });

  it('10 and 17: the last moment for each order, and how many of everything are needed and missing', async () => {
    await reach('Dates');
    for (const { orderBy, state, name } of forecast.orders.filter((one) => one.state === 'to-order')) {
      expect(state).toBe('to-order');
      const all = await seen();
      expect(all).toContain(name);
      expect(all).toContain(CLOCK.read(orderBy).time);
    }
    await reach('Contents', 'Orders');
    const hooks = forecast.supplies!.find(({ part }) => part === 'hook')!;
    expect(await seen()).toContain(plain(figure(hooks.units)));
    expect(await seen()).toContain('hook');
  });

  it('11: until when a part can be made or sent out, and what each comes to', async () => {
    await reach('Contents', 'Make or send out');
    await expect.poll(() => real.planner.partWays('rain')?.state, { timeout: 20_000 }).toBe('ended');
    await page.reload();
    const caps = real.planner.partWays('rain')!.found!.parts.find(({ part }) => part === 'cap')!;
    const terms = { clock: CLOCK, now: NOW, currency: forecast.currency };
    expect(caps.ways.map(({ way }) => way)).toEqual(['here', 'out']);
    const sheet = await seen('#ways-cap');
    for (const way of caps.ways) for (const { is } of wayRows(way, terms)) expect(sheet).toContain(plain(is));
    expect(turnTexts(caps, terms).length).toBeGreaterThan(0);
    for (const turn of turnTexts(caps, terms)) expect(sheet).toContain(plain(turn));
    expect(caps.ways.find(({ isPresent }) => isPresent)!.worth.readyAt).toBe(forecast.room.readyBy.finish);
  });

  it('12: what would buy time, the most first, and the first of it does', async () => {
    await reach('What would buy time');
    // The search is worked out in the thread of the pages here, so that the answer to the press comes late.
    await page.locator('button[name=look]').first().click({ noWaitAfter: true, timeout: 20_000 });
    await expect.poll(() => real.planner.levers('rain')?.search?.isDone, { timeout: 30_000 }).toBe(true);
    await page.goto(`${url}/levers`, { timeout: 20_000 });
    const { rows } = real.planner.levers('rain')!.search!;
    const gaining = rows.filter(({ verdict }) => verdict === 'gains');
    expect(gaining.length).toBeGreaterThan(1);
    const shown = await page.locator('.body-levers ol.levers').first().locator('> li').allInnerTexts();
    expect(shown.length).toBe(gaining.length);
    for (const [place, row] of gaining.entries()) {
      expect(plain(shown[place]!)).toContain(plain(leverText(row.lever)));
      expect(plain(shown[place]!)).toContain(plain(gainedText(row).is));
    }
    const tried = await whatIf(gaining[0]!.lever.changes);
    expect(tried.compared!.readyAt.mean).toBeLessThan(0);
  });

  it('13: when it is ready with fewer', async () => {
    await reach('Contents', 'Design');
    await page.locator('#parameters-drops .change').click();
    await page.fill('#f-quantity', '40');
    await page.click('form.edit button[value=see]');
    await page.waitForSelector('.seen');
    const fewer = await whatIf([{ kind: 'set', list: 'parameters', key: 'drops', field: 'value', value: 40 }]);
    expect(fewer.forecast.parts.find(({ id }) => id === 'drop')!.need).toBe(40);
    expect(fewer.forecast.room.readyBy.finish).toBeLessThan(fewer.present.room.readyBy.finish!);
    expect((await seen('.seen')).toLowerCase()).toContain(effectOf(fewer));
    expect(real.planner.build('rain')!.revision).toBe(2);
  });

  it('14: what a changed dimension reaches: the units made to the old one, by how far they are', async () => {
    await reach('Contents', 'Design');
    await page.locator('#parameters-drop_width .change').click();
    await page.fill('#f-quantity', '84');
    await page.click('form.edit .buttons button[value=save]');
    await page.waitForSelector('.ripple');
    const asked = real.planner.ripple(
      'rain',
      [{ kind: 'set', list: 'parameters', key: 'drop_width', field: 'value', value: 84 }],
      2,
    );
    const made = asked.ok ? asked.value.made : [];
    const { done } = stepOf('turn');
    expect(made).toMatchObject([{ part: 'drop', units: done }]);
    expect(await seen('.ripple')).toContain('drop_width 80 → 84');
    expect(await seen('.made-state')).toContain(`${done} × drop, last through Turn drops`);
    expect(real.planner.build('rain')!.revision).toBe(2);
    await page.click('form.edit a.button');
  });

  it('15: what a delivery three days late does, and a weekend lost', async () => {
    const { arrives } = forecast.orders.find(({ step }) => step === 'order-cord')!;
    const late = arrives + 3 * 1440;
    await reach('A delivery is late');
    expect(await page.inputValue('#delivery-step')).toBe('order-cord');
    await page.fill('#delivery-until', wallOf(late));
    await page.click('#delivery button[value=what-if]');
    await page.waitForSelector('#delivery .seen');
    const promised = { id: 'rain-later', kind: 'promised', step: 'order-cord', at: isoOf(NOW), until: isoOf(late) };
    const delayed = await whatIf([], [promised as unknown as NewLogEntry]);
    expect(delayed.forecast.orders.find(({ step }) => step === 'order-cord')!.arrives).toBe(late);
    expect((await seen('#delivery .seen')).toLowerCase()).toContain(effectOf(delayed));

    await reach('An evening is lost');
    await page.fill('#evening-from', '2026-12-05T00:00');
    await page.fill('#evening-until', '2026-12-06T23:59');
    await page.click('#evening button[value=what-if]');
    await page.waitForSelector('#evening .seen');
    const off = ['2026-12-05', '2026-12-06'].map((date) => ({ date, hours: 'off' }));
    const away = await whatIf(
      ['ada', 'bo'].map((key) => ({ kind: 'set', list: 'people', key, field: 'exceptions', value: off }) as const),
    );
    expect(away.forecast.room.readyBy.finish).toBeGreaterThan(away.present.room.readyBy.finish!);
    expect((await seen('#evening .seen')).toLowerCase()).toContain(effectOf(away));
    expect(real.planner.log('rain').length).toBe(LOG.length);
  });

  it('16: who does what on Saturday, and that nobody waits for one machine', async () => {
    const saturday = forecast.days.find(({ date }) => date === '2026-12-05')!;
    await reach('Dates');
    await page.locator(`a[href$="/dates/${saturday.date}"]`).first().click();
    await page.waitForURL(`**/${saturday.date}`);
    const sheet = await seen();
    const busy = saturday.people.filter(({ spells }) => spells.length > 0);
    expect(busy.length).toBeGreaterThan(0);
    for (const { name, spells } of busy) {
      expect(sheet).toContain(name);
      for (const { step } of spells) expect(sheet).toContain(nameOf(step));
    }
    for (const { spells } of saturday.machines) {
      for (let i = 1; i < spells.length; i++) expect(spells[i]!.start).toBeGreaterThanOrEqual(spells[i - 1]!.finish);
    }
  });

  it('20: what was changed, by whom, with the value before and after', async () => {
    await reach('Contents', 'History');
    const edit = await seen('.edits li');
    expect(edit).toContain('2 → 3');
    expect(edit).toContain('maker');
  });

  it('8: a tap counts, and one takes it back', async () => {
    await reach('Count');
    const kinds = () => real.planner.log('rain').map(({ kind }) => kind);
    const before = kinds().filter((kind) => kind === 'done').length;
    await page.locator('.ticket[open] .one').click();
    await expect.poll(() => kinds().filter((kind) => kind === 'done').length).toBe(before + 1);
    await page.locator('#undo-last').click();
    await expect.poll(() => kinds().at(-1)).toBe('undo');
    await real.planner.settled();
  });

  it('and the Now sheet opens from its copy with no laptop, and goes on by the clock', async () => {
    await reach('Now');
    const isWhole = () =>
      page.evaluate(async () => {
        const name = (await caches.keys()).find((one) => one.includes('/now:'));
        return name !== undefined && (await (await caches.open(name)).match('/assets/whole')) !== undefined;
      });
    await expect.poll(isWhole, { timeout: 20_000 }).toBe(true);
    expect(complaints).toEqual([]);
    real.app.server.close();
    real.app.server.closeAllConnections();
    await page.reload();
    expect(await seen('.now-here')).toContain('Ada is here until Wed 2 Dec 22:00.');
    const clockOn = (hours: number) =>
      page.evaluate((ms) => {
        const offset = Number(localStorage.getItem('daywright-clock-offset'));
        localStorage.setItem('daywright-clock-offset', String(offset + ms));
      }, hours * 3_600_000);
    await clockOn(2);
    await page.reload();
    const later = await seen('.body-now');
    expect(later).toContain('has not heard from the laptop since');
    const then = forecast.days
      .flatMap(({ people }) => people.flatMap(({ spells }) => [...spells]))
      .filter(({ start, finish }) => start < NOW + 240 && finish > NOW + 120);
    for (const { step } of then) expect(later).toContain(nameOf(step));
    await clockOn(3);
    await page.reload();
    expect(await seen('.now-here')).toMatch(/Nobody is here until Thu 3 Dec 18:00, when Ada comes/);
    await clockOn(-64);
    await page.reload();
    expect(await seen('.now-here')).toContain('Ada is here until Wed 2 Dec 22:00.');
    expect(await seen('.body-now')).toContain('The clock of this device is behind this plan');
  });
});
