/** The Orders sheet: what is tapped there is an entry of the log, once, and may be taken back. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { createStore, openDatabase, type Store } from '../../../server/store/index.ts';
import { orderTexts } from '../../../views/texts/paper/orders.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const OILED: Build = lantern({
  currency: 'EUR',
  parts: [
    { id: 'ribs', name: 'ribs', source: 'make', count: 43 },
    {
      ...{ id: 'oil', name: '<b>Oil</b> “ölig” שמן 🪵', source: 'buy', unit: 'L', packSize: 0.5 },
      ...{ usedIn: [{ part: 'ribs', count: 0.02 }], supplier: 'yard', unitCost: 20 },
    },
    { id: 'glue', name: 'glue', source: 'buy', count: 1 },
    { id: 'tape', name: 'tape;=1+1', source: 'buy', count: 3, onHand: 3, supplier: 'yard' },
  ],
  suppliers: [{ id: 'yard', name: 'the yard', lead: 2, cutOff: '14:00' }],
});

let store: Store;
let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  store = createStore(db.value);
  real = await realApp(store, NOON);
  const made = await real.planner.create(OILED, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterAll(async () => {
  await real.close();
  store.close();
});

async function orders(path = '/orders'): Promise<{ html: string; said: string }> {
  const { body: html } = await real.app.inject({ url: `/b/lantern${path}` });
  const said = html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0\u202f]+/g, ' ');
  return { html, said };
}

function tap(fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: '/b/lantern/orders',
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

/** The hidden fields of the form with this button, as a browser would send them. */
function formOf(html: string, kind: string): Record<string, string> {
  const form = html.split('<form').find((one) => one.includes(`value="${kind}"`) && one.includes('name="entry"'))!;
  const inputs = [...form.matchAll(/<input[^>]*name="(\w+)"[^>]*value="([^"]*)"/g)];
  return { ...Object.fromEntries(inputs.map((match) => [match[1], match[2]])), kind };
}

describe('the Orders sheet', () => {
  it('says what to buy from whom, in which packs, until when, at what cost, and what is missing this week', async () => {
    const { html, said } = await orders();
    expect(html).not.toContain('<b>Oil');
    expect(said).toContain(
      'From the yard, what is ordered before 14:00 of a working day goes out that day, the rest on the next',
    );
    expect(said).toMatch(/2 packs of 0\.5 L &lt;b>Oil&lt;\/b> “ölig” \u2068שמן\u2069 🪵 to order/);
    expect(said).toMatch(/order before \S+ ?\S* ?\S* ?\d\d:\d\d/);
    expect(said).toContain('0.86 L needed, 2 packs of 0.5 L, here');
    expect(said).toContain('20 EUR');
    expect(said).toMatch(/1 × glue nobody named/);
    expect((await orders('')).said).toMatch(/Missing this week: 2 packs of 0\.5 L .* \(order before .*\)\./);
  });

  it('gives the same as a table, in packs, with its state and cost, and nothing that a spreadsheet runs', async () => {
    const { body, headers } = await real.app.inject({ url: '/b/lantern/tables/orders.csv' });
    const [heading, ...lines] = body.slice(1).trim().split('\r\n');
    expect(headers['content-type']).toContain('text/csv');
    expect(heading).toBe(Object.values(orderTexts.columns).join(','));
    const row = (name: string) => lines.find((line) => line.includes(name));
    expect(row('Oil')).toMatch(
      /^<b>Oil<\/b> “ölig” שמן 🪵,the yard,2 packs of 0\.5 L [^,]*,2026-\d\d-\d\dT[\d:.]+Z,2026-\d\d-\d\dT[\d:.]+Z,to order,20$/,
    );
    expect(row('glue')).toMatch(/^glue,,1 × glue,,,[a-z ]+,$/);
    expect(row('tape')).toMatch(/^tape;'=1\+1,the yard,,/);
    const { body: semicolons } = await real.app.inject({ url: '/b/lantern/tables/orders.csv?separator=semicolon' });
    expect(semicolons).toContain(`"tape;'=1+1";the yard;`);
  });

  it('takes a tap for what was ordered, once however often it is sent, and says so on the ticket', async () => {
    const form = formOf((await orders()).html, 'ordered');
    expect(form).toMatchObject({ step: 'order-oil', n: '2' });
    expect((await tap(form)).statusCode).toBe(303);
    expect((await tap(form)).statusCode).toBe(303);
    await real.planner.settled();
    expect(real.planner.log('lantern').map(({ kind, step, n }) => [kind, step, n])).toEqual([
      ['ordered', 'order-oil', 2],
    ]);
    expect((await orders()).said).toMatch(
      /2 packs of 0\.5 L .* ordered .*, due .*2 packs of 0\.5 L .* ordered, logged .* by maker/,
    );
    expect((await orders('/steps')).said).toMatch(/2 packs of 0\.5 L .* ordered today 13:00, due Wed 2 Dec 12:00/);
    expect((await orders('')).said).toMatch(/Missing this week: 2 packs .* \(due .*\)\./);
    // Nothing of it is to be ordered any more.
    expect((await orders('/paper')).html).toMatch(/<td>the yard<\/td><td><\/td>/);
    expect((await orders('/tables/orders.csv')).html).toMatch(/,the yard,,/);
  });

  it('takes a tap for what came, in part too, and takes the last one back', async () => {
    const form = formOf((await orders()).html, 'received');
    expect((await tap({ ...form, n: '1' })).statusCode).toBe(303);
    await real.planner.settled();
    const partly = await orders();
    expect(partly.said).toContain('partly here');
    expect(partly.said).toContain('1 of 2 not here yet');
    expect((await tap(formOf(partly.html, 'undo'))).statusCode).toBe(303);
    await real.planner.settled();
    expect((await orders()).said).not.toContain('partly here');
  });

  it('says of how many its state is, though fewer are needed than were ordered', async () => {
    const more = { step: 'order-oil', entry: 'order-of-one-more', kind: 'ordered', n: '1' };
    expect((await tap(more)).statusCode).toBe(303);
    await real.planner.settled();
    const { html, said } = await orders();
    expect(said).toMatch(/3 packs of 0\.5 L &lt;b>Oil&lt;\/b> “ölig” \u2068שמן\u2069 🪵 ordered 2 packs/);
    expect((await tap(formOf(html, 'undo'))).statusCode).toBe(303);
    await real.planner.settled();
    expect((await orders()).said).toMatch(
      /2 packs of 0\.5 L &lt;b>Oil&lt;\/b> “ölig” \u2068שמן\u2069 🪵 ordered 2 packs/,
    );
  });

  it.each([
    ['a step that is no order', { step: 'cut', kind: 'ordered', n: '1' }, /“cut” is not an order of this build/],
    ['another kind', { step: 'order-oil', kind: 'scrapped', n: '1' }, /“scrapped” cannot be logged here/],
    ['half a pack', { step: 'order-oil', kind: 'received', n: '0.5' }, /“0\.5” is not a number of units/],
    ['none', { step: 'order-oil', kind: 'received', n: '0' }, /“0” is not a number of units/],
    ['an entry that is not there', { kind: 'undo', undoes: 'order-nothing' }, /no entry “order-nothing” to undo/],
  ])('refuses %s in a sentence, and logs nothing', async (_, fields, message) => {
    const before = real.planner.log('lantern').length;
    const answer = await tap({ entry: 'order-of-a-test-1', ...fields });
    expect(answer.statusCode).toBe(422);
    expect(answer.body.replaceAll('&amp;', '&')).toMatch(message);
    expect(real.planner.log('lantern')).toHaveLength(before);
  });

  it('says on the sheet of money what an order has committed', async () => {
    const { said } = await orders('/money');
    expect(said).toMatch(/Committed 20 EUR Still to come 0 EUR Total 20 EUR/);
    expect(said).toContain('No price, so not in the sum: glue.');
  });
});

describe('the loads of machines', () => {
  it('say which of those that are left are in the machine', async () => {
    const printed: Build = lantern({
      id: 'printed',
      machines: [{ id: 'printer', name: 'Printer', unattended: true, overnight: true }],
      parts: [{ id: 'cam', name: 'cam', source: 'make', count: 16 }],
      steps: [
        {
          id: 'print',
          name: 'print',
          part: 'cam',
          lotSize: 8,
          phases: [{ kind: 'run', machine: 'printer', minutes: 60 }],
        },
      ],
    });
    const made = await real.planner.create(printed, [], 'maker');
    expect(made.ok).toBe(true);
    const at = new Date(NOON * 60_000).toISOString();
    real.planner.append(
      'printed',
      [{ id: 'entry-load', kind: 'loaded', step: 'print', n: 8, machine: 'printer', at }],
      'maker',
    );
    await real.planner.settled();
    const { body } = await real.app.inject({ url: '/b/printed/orders' });
    expect(body.replaceAll('\u00a0', ' ')).toContain('2 of 2 loads left on Printer, 8 in each, 1 of them in it now');
  });
});
