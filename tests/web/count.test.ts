import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CountState, SendingAnswer } from '../../views/client/outbox/count-wire.ts';
import { bodyText } from '../../views/client/tickets/count-bodies.ts';
import { unpacked } from '../../views/client/tickets/packed.ts';
import { countTexts } from '../../views/texts/count/sheet.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { BUILD, type CountApp, countApp } from '../support/count-app.ts';
import { FAKE_NOW } from '../support/fake-forecast.ts';

let bench: CountApp;
let ana: string;

beforeEach(async () => {
  bench = await countApp();
  ana = bench.helperCookie('Ana');
});
afterEach(() => bench.close());

it('has a line for each hazard on the ticket that has it, and says once who decides', async () => {
  const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana } });
  const ticket = (step: string) => page.body.split('<details class="ticket"').find((one) => one.includes(step)) ?? '';
  const line = '<b>Spray paint and solvents.</b> Air moving, and nothing nearby that can light it.';
  expect(ticket('data-step="paint-fish"')).toContain(line);
  expect(page.body.split(line)).toHaveLength(2);
  expect(page.body.split('Local codes, the venue and licensed people decide.')).toHaveLength(2);
});

it('leaves what is in the tickets of a long list to the phone, which draws it as the server would', async () => {
  const pageOf = async ({ app, helperCookie }: CountApp): Promise<string> =>
    (await app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: helperCookie('Bo') } })).body;
  const ticketsOf = (body: string) => [
    ...body.matchAll(/<details class="ticket"[^>]*data-step="([^"]+)".*?(?=<details class="ticket"|<\/section>)/gs),
  ];
  const inIt = (ticket: string): string =>
    /<div class="ticket-body"[^>]*>(.*)<\/div><\/details>/s
      .exec(ticket)![1]!
      .replace(/<ul class="caution-lines">.*<\/ul>/s, '');
  const long = await countApp({ more: 90 });
  try {
    const [whole, later] = [await pageOf(bench), await pageOf(long)];
    const state = stateOf(whole);
    const kinds = new Set<string>();
    for (const [ticket, id] of ticketsOf(whole)) {
      const step = state.steps.find((one) => one.id === id)!;
      const of = /data-show="of">(.*?)</.exec(ticket)![1]!;
      kinds.add(step.kind);
      expect(bodyText(step, state.setName, of)).toBe(inIt(ticket));
    }
    expect([...kinds].sort()).toEqual(['gate', 'order', 'step']);
    const tickets = ticketsOf(later);
    expect(tickets.filter(([ticket]) => ticket.includes('data-of="of ') && inIt(ticket) === '')).toHaveLength(
      tickets.length - 60,
    );
    expect(tickets.length).toBe(ticketsOf(whole).length + 90);
  } finally {
    await long.close();
  }
});

/** What the page's script starts from. */
function stateOf(page: string): CountState {
  const [, text] = /data-state="([^"]*)"/.exec(page)!;
  return unpacked(text!.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&amp;', '&')) as CountState;
}

describe('a browser without scripts', () => {
  const press = (fields: Readonly<Record<string, string>>) =>
    bench.app.inject({
      method: 'POST',
      url: `/b/${BUILD}/count`,
      headers: { cookie: ana, 'content-type': 'application/x-www-form-urlencoded' },
      payload: new URLSearchParams({ token: '0', ...fields }).toString(),
    });

  it('counts and takes back by a plain form, a press sent twice once', async () => {
    const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana } });
    const step = /<option value="(paint-fish\/[^"]*)"/.exec(page.body)![1]!;
    const twelve = { kind: 'done', step, n: '12' };
    expect((await press(twelve)).headers.location).toBe(`/b/${BUILD}/count`);
    expect((await press(twelve)).statusCode).toBe(303);
    expect(bench.done('paint-fish')).toBe(12);
    const { id } = bench.planner.log(BUILD).at(-1)!;
    expect(bench.planner.log(BUILD).at(-1)).toMatchObject({ kind: 'done', n: 12, who: 'Ana' });
    const after = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana } });
    expect(after.body).toContain(`name="undoes" value="${id}"`);
    await press({ kind: 'undo', undoes: id });
    expect(bench.done('paint-fish')).toBe(0);
  });

  it('sets going, fails a gate with what goes back, and logs lost time', async () => {
    const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana } });
    const gate = /<input type="hidden" name="step" value="([^"/]+)\/([^"]*)"/.exec(page.body)!;
    const back = /<input name="(back-[^"]+)"/.exec(page.body)![1]!;
    const step = `${gate[1]}/${gate[2]}`;
    await press({ kind: 'failed', step, [back]: '1', reason: 'slips' });
    expect(bench.planner.log(BUILD)).toMatchObject([
      { kind: 'failed', step: gate[1], reason: 'slips' },
      { kind: 'sent-back', n: 1, reason: 'slips' },
    ]);
    const day = at(-86_400_000).slice(0, 10);
    await press({ kind: 'lost', of: '', from: `${day}T18:00`, until: `${day}T20:00` });
    expect(bench.planner.log(BUILD).at(-1)).toMatchObject({ kind: 'lost' });
    const load = /value="([^"]+)"/.exec(page.body.split('<summary>Set going')[1] ?? '')?.[1];
    expect(load).toBeDefined();
  });

  it.each([
    [{ kind: 'lost', of: '', from: '2031-01-01T10:00', until: '2031-01-01T11:00' }, 'start no later than now'],
    [{ kind: 'done', step: 'paint-fish/', n: 'many' }, '“many” is not a number of units'],
    [{ kind: 'done', step: 'no-such/', n: '1' }, '“no-such” is no step of this build'],
    [{ kind: 'ordered', step: 'paint-fish/', n: '1' }, '“ordered” cannot be counted here'],
  ])('is told what is wrong with %j, and nothing is counted', async (fields, sentence) => {
    const answer = await press(fields);
    expect([answer.statusCode, answer.body.includes(sentence)]).toEqual([422, true]);
    expect(bench.planner.log(BUILD)).toEqual([]);
  });
});

describe('what a phone sends', () => {
  it('is stored, and known when it is sent again', async () => {
    const one = entry();
    expect((await send([one])).receipts).toMatchObject([{ id: one.id, state: 'stored', seq: 1 }]);
    expect((await send([one])).receipts).toMatchObject([{ id: one.id, state: 'known', seq: 1 }]);
    expect(bench.done('press')).toBe(1);
  });

  it('keeps both times when the phone’s clock was wrong', async () => {
    const phoneAt = new Date(bench.clock.nowMs - 7_200_000).toISOString();
    await send([entry({ phoneAt })]);
    expect(bench.planner.log(BUILD)[0]).toMatchObject({ at: at(0), phoneAt });
  });

  it('is answered with the clock of the server, so that the phone learns its own error', async () => {
    expect((await send([])).now).toBe(new Date(bench.clock.nowMs).toISOString());
  });

  it('may be that something was ordered, as many as are still to be', async () => {
    const order = (await stateFor(ana)).steps.find(({ kind }) => kind === 'order')!;
    expect([order.id, order.toOrder]).toEqual(['order-fish', 50]);
    const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana } });
    expect(page.body).toMatch(/data-typed="ordered".*?value="50"/);
    const { receipts } = await send([entry({ kind: 'ordered', step: 'order-fish', n: 50 })]);
    expect(receipts).toMatchObject([{ state: 'stored', questions: [] }]);
  });

  it('is asked about once when two people log the same lot within a minute', async () => {
    const ten = { n: 10, step: 'paint-fish' } as const;
    await send([entry(ten)]);
    const mine = entry({ ...ten, at: at(-30_000) });
    const bo = bench.helperCookie('Bo');
    expect((await send([mine], bo)).receipts[0]?.questions.join()).toMatch(/one lot or two\?/);
    // The answer may have been lost, so a second sending is asked the same, and no second question is put.
    expect((await send([mine], bo)).receipts[0]?.questions).toHaveLength(1);
    expect(bench.done('paint-fish')).toBe(20);
    await send([entry({ kind: 'undo', undoes: mine.id, step: undefined, n: undefined })], bo);
    expect(bench.done('paint-fish')).toBe(10);
    expect((await stateFor(bo)).doubts).toEqual([]);
  });

  it('asks both whose lots they are, the maker too, and nobody else', async () => {
    const ten = { n: 10, step: 'paint-fish' } as const;
    const [hers, his] = [entry(ten), entry(ten)];
    const bo = bench.helperCookie('Bo');
    await send([hers]);
    await send([his], bo);
    const takeBack = async (cookie: string) => (await stateFor(cookie)).doubts.map((doubt) => doubt.takeBack);
    expect(await takeBack(ana)).toEqual([{ id: hers.id, whose: null }]);
    expect(await takeBack(bo)).toEqual([{ id: his.id, whose: null }]);
    expect(await takeBack(bench.makerCookie())).toEqual([{ id: his.id, whose: 'Bo' }]);
    expect(await takeBack(bench.helperCookie('Cy'))).toEqual([]);
    await send([entry({ kind: 'confirmed', confirms: his.id, step: undefined, n: undefined })]);
    expect([await takeBack(ana), await takeBack(bo)]).toEqual([[], []]);
  });

  it('is kept and asked about when it is more than is left', async () => {
    const { receipts } = await send([entry({ n: 88 })]);
    expect(receipts[0]).toMatchObject({ state: 'stored' });
    expect(receipts[0]?.questions.join()).toMatch(/64 left/);
  });

  it('is merged with what another phone sent, each entry once', async () => {
    const bo = bench.helperCookie('Bo');
    const [mine, theirs] = [
      Array.from({ length: 20 }, () => entry()),
      Array.from({ length: 20 }, () => entry({ step: 'wire', set: 1 })),
    ];
    await Promise.all([
      ...mine.map((one) => send([one])),
      ...theirs.map((one) => send([one], bo)),
      send(mine),
      send(theirs, bo),
    ]);
    expect([bench.done('press'), bench.done('wire')]).toEqual([20, 20]);
    expect(bench.planner.log(BUILD)).toHaveLength(40);
  });

  it('tells whether the server still has the last that arrived', async () => {
    const one = entry();
    await send([one]);
    const knows = async (last: unknown) => (await post({ entries: [], last })).json<SendingAnswer>().knowsLast;
    expect(await knows({ id: one.id, seq: 1 })).toBe(true);
    expect(await knows(null)).toBe(true);
    expect(await knows({ id: one.id, seq: 2 })).toBe(false);
    expect(await knows({ id: 'of-another-book', seq: 1 })).toBe(false);
  });
});

describe('an entry that cannot be taken', () => {
  const refusals: readonly (readonly [string, Record<string, unknown>, RegExp])[] = [
    ['of another build’s step', { step: 'weave-net' }, /no step or gate "weave-net"/],
    ['of a time to come', { at: at(3 * 3600_000) }, /still to come/],
    ['of an ancient time', { at: '1999-12-31T23:59:00Z' }, /set the clock/],
    ['with a negative count', { n: -2 }, /at least 1/],
    ['with a fractional count', { n: 1.5 }, /whole number/],
    ['with no count', { n: undefined }, /needs "n"/],
    ['of an unknown kind', { kind: 'guessed' }, /kind/],
    ['with a long note', { note: 'x'.repeat(3000) }, /note/],
    ['for a set that is not there', { step: 'mount-fish', set: 9 }, /no set 9/],
    ['that confirms what is not there', { kind: 'confirmed', confirms: 'no-such-entry', step: undefined }, /no entry/],
    ['with an id too short', { id: 'short' }, /8 to 64/],
  ];
  for (const [title, changes, reason] of refusals) {
    it(`${title} is refused alone, with the reason`, async () => {
      const good = entry();
      const bad = entry(changes);
      const { receipts } = await send([bad, good]);
      expect(receipts.map((receipt) => receipt.state)).toEqual(['refused', 'stored']);
      expect(receipts[0]?.problems[0]?.message).toMatch(reason);
      expect(bench.planner.log(BUILD)).toHaveLength(1);
    });
  }

  it('under an id that was used for another is refused and changes nothing', async () => {
    const one = entry();
    await send([one]);
    const { receipts } = await send([{ ...one, n: 7 }]);
    expect(receipts[0]?.problems[0]?.message).toMatch(/is already the id of another entry/);
    expect(bench.done('press')).toBe(1);
  });

  it('takes back another helper’s count only for the maker', async () => {
    const one = entry();
    await send([one]);
    const undo = entry({ kind: 'undo', undoes: one.id, step: undefined, n: undefined });
    expect((await send([undo], bench.helperCookie('Bo'))).receipts[0]?.state).toBe('refused');
    expect(bench.done('press')).toBe(1);
    expect((await send([undo], bench.makerCookie())).receipts[0]?.state).toBe('stored');
    expect(bench.done('press')).toBe(0);
  });
});

describe('a sending', () => {
  it('of more than five hundred entries, or a quarter of a megabyte, is refused in words', async () => {
    const many = await post({ entries: Array.from({ length: 501 }, () => entry()) });
    expect(many.statusCode).toBe(413);
    expect(many.json().problem).toMatch(/at most 500 entries/);
    const large = await post({ entries: [entry({ note: 'x'.repeat(1_000_000) })] });
    expect(large.statusCode).toBe(413);
    expect(bench.planner.log(BUILD)).toEqual([]);
  });

  it('without a list of entries is refused in words', async () => {
    for (const body of [{}, { entries: 'none' }, []]) {
      const answer = await post(body);
      expect(answer.statusCode).toBe(400);
      expect(answer.json().problem).toMatch(/"entries"/);
    }
  });

  it('to a build that is not there is answered 404', async () => {
    const answer = await bench.app.inject({
      method: 'POST',
      url: '/b/no-such-wall/entries',
      headers: { cookie: bench.makerCookie(), accept: 'application/json' },
      payload: { entries: [entry()] },
    });
    expect(answer.statusCode).toBe(404);
    expect(answer.json().problem).toContain('no-such-wall');
  });

  it('comes too often after six hundred in a minute, and may wait', async () => {
    for (let i = 0; i < 600; i++) await post({ entries: [] });
    const over = await post({ entries: [entry()] });
    expect(over.statusCode).toBe(429);
    expect(over.json().problem).toMatch(/phone keeps everything/);
    bench.clock.nowMs += 60_001;
    expect((await post({ entries: [entry()] })).statusCode).toBe(200);
  });
});

describe('what the page shows', () => {
  it('is of one entry of the log, with the visitor’s own entries', async () => {
    await send([entry({ n: 3 })]);
    await send([entry()], bench.helperCookie('Bo'));
    const state = await stateFor(ana);
    expect(state.logSeq).toBe(2);
    expect(state.steps.find((step) => step.id === 'press')?.sets[0]).toMatchObject({
      total: 76,
      counted: 16,
      left: 60,
    });
    expect(state.mine.map(({ kind, n, seq }) => ({ kind, n, seq }))).toEqual([{ kind: 'done', n: 3, seq: 1 }]);
  });

  it('has all that was counted, far above the plan too', async () => {
    await send([entry({ n: 88 })]);
    const press = (await stateFor(ana)).steps.find((step) => step.id === 'press');
    expect(press?.sets).toMatchObject([{ counted: 100, left: 0 }]);
  });

  it('lists the last sixty of my entries, and as many more as are asked for', async () => {
    await send(Array.from({ length: 70 }, () => entry()));
    const mine = async (query: string) =>
      (await bench.app.inject({ url: `/b/${BUILD}/count/now${query}`, headers: { cookie: ana } })).json<CountState>()
        .mine.length;
    expect([await mine(''), await mine('?mine=120'), await mine('?mine=-1'), await mine('?mine=x')]).toEqual([
      60, 70, 60, 60,
    ]);
  });

  it('names what a gate sends back and what runs in a machine', async () => {
    const { steps } = await stateFor(ana);
    expect(steps.find((step) => step.id === 'soak')?.sendsBack).toEqual([
      { step: 'mount-fish', name: 'mount fish', units: 2 },
    ]);
    expect(steps.find((step) => step.id === 'print-cranks')?.underWay).toMatchObject([{ kind: 'loaded', units: 8 }]);
  });

  it('asks a page of an older version to be loaded again, and takes what it holds', async () => {
    expect((await send([entry({ kind: 'scrapped', n: 2 })])).receipts).toMatchObject([{ state: 'stored' }]);
    const old = await bench.app.inject({ url: `/b/${BUILD}/count/state?mine=60`, headers: { cookie: ana } });
    expect([old.statusCode, old.json<{ problem: string }>().problem]).toEqual([410, countTexts.pageTooOld]);
  });

  it('has a manifest of its own, so that it can be put on the first screen', async () => {
    const answer = await bench.app.inject({ url: `/b/${BUILD}/count.webmanifest`, headers: { cookie: ana } });
    expect(answer.json()).toMatchObject({ start_url: `/b/${BUILD}/count`, display: 'standalone' });
  });

  it('escapes what people have typed', async () => {
    await editBy(bench.planner, BUILD, (build) => {
      build.name = '<script>alert(1)</script>';
    });
    const page = await bench.app.inject({ url: `/b/${BUILD}/count`, headers: { cookie: ana, accept: 'text/html' } });
    expect(page.body).not.toContain('<script>alert(1)');
    expect(page.body).toContain('&lt;script>alert(1)');
  });
});

let next = 0;

function at(laterMs: number): string {
  return new Date(FAKE_NOW * 60_000 + laterMs).toISOString();
}

function entry(changes: Record<string, unknown> = {}): Record<string, unknown> & { id: string } {
  next += 1;
  return { id: `entry-${String(next).padStart(6, '0')}`, kind: 'done', step: 'press', n: 1, at: at(0), ...changes };
}

function post(payload: object, cookie = ana) {
  return bench.app.inject({
    method: 'POST',
    url: `/b/${BUILD}/entries`,
    headers: { cookie, accept: 'application/json' },
    payload,
  });
}

async function send(entries: readonly object[], cookie = ana): Promise<SendingAnswer> {
  const answer = await post({ entries }, cookie);
  expect(answer.statusCode).toBe(200);
  return answer.json<SendingAnswer>();
}

async function stateFor(cookie: string): Promise<CountState> {
  await bench.planner.settled();
  return (await bench.app.inject({ url: `/b/${BUILD}/count/now`, headers: { cookie } })).json<CountState>();
}
