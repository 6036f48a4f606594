import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Build } from '../../server/model/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

const WITH_HOOK: Build = lantern({
  event: '2026-12-08T18:00',
  contingency: 0.1,
  currency: 'EUR',
  parts: [
    { id: 'ribs', name: 'ribs', source: 'make', count: 200, yield: 0.95 },
    { id: 'hook', name: 'Brass hook', source: 'make', count: 4, unitCost: 7 },
  ],
  steps: [
    {
      id: 'cut',
      name: 'cut ribs',
      part: 'ribs',
      phases: [{ kind: 'hands', perUnit: { low: 5, likely: 9, high: 16 } }],
    },
    { id: 'glue', name: 'glue ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 8 }] },
    { id: 'cast', name: 'cast hooks', part: 'hook', phases: [{ kind: 'hands', perUnit: 20 }] },
  ],
});

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(WITH_HOOK, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

const RIBS = { name: 'ribs', source: 'make', yield: '0.95' };

function post(path: string, fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: `/b/lantern${path}`,
    payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const ribs = (fields: Record<string, string>) => post('/design?open=parts/ribs', { ...RIBS, ...fields });
const get = async (path: string) => (await real.app.inject({ url: `/b/lantern${path}` })).body;
const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const options = async () => {
  await get('/options');
  await real.planner.settled();
  return plain(await get('/options'));
};
const numberOf = () => String(real.planner.optionNames('lantern')[0]!.number);

describe('the money of an option', () => {
  it('is parted as on the sheet of money: committed, still to come, kept back', async () => {
    const hook = { name: 'Brass hook', source: 'make', unitCost: '7' };
    const kept = { 'option-name': 'more hooks', do: 'keep' };
    expect((await post('/design?open=parts/hook', { ...hook, count: '6', ...kept })).statusCode).toBe(303);
    const said = await options();
    expect(said).toContain('Money 30.80 EUR: 0 EUR committed, 28 EUR still to come, 2.80 EUR kept back');
    expect(said).toContain('Money 46.20 EUR: 0 EUR committed, 42 EUR still to come, 4.20 EUR kept back 15.40 EUR more');
  });
});

describe('See first', () => {
  it('shows in the form what the edit would do, with what was typed in it, and saves nothing', async () => {
    const answer = await ribs({ count: '120', do: 'see' });
    expect(answer.statusCode).toBe(200);
    const said = plain(answer.body);
    expect(said).toMatch(
      /What this would do Ready \w{3} \d+ Dec \d\d:\d\d, [\w ]+ earlier; (under )?\d+ % to (over )?\d+ %/,
    );
    expect(said).toMatch(/Chance: (over )?\d+ %, [\d.]+ points more ± [\d.]+/);
    expect(said).toMatch(/on average [\w ]+ earlier ± [\w ]+/);
    expect(said).toContain('Nothing is saved yet.');
    expect(answer.body).toContain('value="120"');
    expect(real.planner.build('lantern')).toEqual({ build: WITH_HOOK, revision: 1 });
  });

  it('says the problems in the form where it could not be saved', async () => {
    const answer = await ribs({ count: '2 * missing', do: 'see' });
    expect(answer.statusCode).toBe(422);
    expect(plain(answer.body)).toContain('missing');
    expect(plain(answer.body)).not.toContain('What this would do');
  });

  it('says of fewer than are made how many are made, and how many more than that needs', async () => {
    const entry = { id: 'entry-0001', kind: 'done', step: 'cut', n: 40, at: '2026-11-30T11:00:00Z' } as const;
    const glued = { ...entry, id: 'entry-0002', step: 'glue', n: 30 };
    real.planner.append('lantern', [entry, glued], 'Ana');
    await real.planner.settled();
    const fewer = plain((await ribs({ count: '24', do: 'see' })).body);
    expect(fewer).toContain('ribs: 30 made already, 6 more than this needs.');
    expect(plain((await ribs({ count: '32', do: 'see' })).body)).not.toContain('more than this needs');
  });

  it('says where nothing would be changed', async () => {
    expect(plain((await ribs({ count: '200', do: 'see' })).body)).toContain('This changes nothing.');
  });

  it('says that another browser has changed the plan meanwhile', async () => {
    const answer = await ribs({ count: '120', do: 'see', edit: '0' });
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain('value="120"');
    const said = plain(answer.body);
    expect(said).toContain('has changed the build since you opened it');
    expect(said).not.toContain('To fix:');
  });
});

describe('a form that is saved', () => {
  it('is followed by one line that says what it did, in History too', async () => {
    await ribs({ count: '120' });
    await real.planner.settled();
    const line = /ready \w{3} \d+ Dec \d\d:\d\d, [\w ]+ earlier; (under )?\d+ % to (over )?\d+ %\./;
    expect(plain(await get('/design'))).toMatch(new RegExp(`Edit 2: ${line.source}`));
    expect(plain(await get('/history'))).toMatch(new RegExp(`Effect: ${line.source}`));
    expect(plain(await get(''))).not.toContain('Edit 2: ready');
  });
});

describe('Keep as an option', () => {
  it('asks for a name first, and keeps what was typed', async () => {
    const answer = await ribs({ count: '120', do: 'keep' });
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain('name="option-name"');
    expect(answer.body).toContain('value="120"');
    const unnamed = await ribs({ count: '120', do: 'keep', 'option-name': ' ' });
    expect(unnamed.statusCode).toBe(422);
    expect(plain(unnamed.body)).toContain('The option has no name yet');
    expect(unnamed.body).toContain('value="120"');
    expect(real.planner.optionNames('lantern')).toEqual([]);
  });

  it('keeps it beside the plan, and Enter in the name does not save it', async () => {
    const asked = await ribs({ count: '120', do: 'keep' });
    expect(asked.body).toMatch(/<button[^>]*value="keep"[^>]*class="heard"/);
    const answer = await ribs({ count: '120', do: 'keep', 'option-name': 'Fewer ribs' });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/b/lantern/options#option-${numberOf()}`]);
    expect(real.planner.build('lantern')!.build).toEqual(WITH_HOOK);
    const sheet = await options();
    expect(sheet).toContain('Part ribs: how many 200 → 120');
    expect(sheet).toMatch(/Chance (over )?\d+ % [\d.]+ points more ± [\d.]+/);
    expect(sheet).toMatch(/Parts 1?\d\d to make, 0 to buy \d+ less/);
  });

  it('adds to one that is there', async () => {
    await ribs({ count: '120', do: 'keep', 'option-name': 'Fewer ribs' });
    const into = { 'option-name': '', 'option-into': numberOf() };
    await post('/hands?open=people/ana', { name: 'Ana', hours: 'daily 08:00-20:00', do: 'keep', ...into });
    expect(real.planner.optionNames('lantern')).toHaveLength(1);
    const sheet = await options();
    expect(sheet).toContain('how many 200 → 120');
    expect(sheet).toContain('daily 09:00-17:00 → daily 08:00-20:00');
  });
});

describe('the sheet of options', () => {
  it('says how to make one where there is none, and is linked from Contents and Countdown', async () => {
    expect(plain(await get('/options'))).toContain('None yet.');
    for (const path of ['', '/contents']) expect(await get(path)).toContain('href="/b/lantern/options"');
  });

  it('adopts an option as an edit and drops another', async () => {
    await ribs({ count: '120', do: 'keep', 'option-name': 'Fewer ribs' });
    const adopted = await post('/options', { adopt: numberOf() });
    expect([adopted.statusCode, adopted.headers.location]).toEqual([303, '/b/lantern/options']);
    expect(plain(await get('/history'))).toContain('Option “Fewer ribs” adopted Part ribs: how many 200 → 120');
    await ribs({ count: '110', do: 'keep', 'option-name': 'Fewer still' });
    expect((await post('/options', { drop: numberOf() })).statusCode).toBe(303);
    expect(plain(await get('/options'))).toContain('None yet.');
  });

  it('tells the second of two browsers that an option is gone or the plan another', async () => {
    await ribs({ count: '120', do: 'keep', 'option-name': 'Fewer ribs' });
    const old = await post('/options', { adopt: numberOf(), edit: '0' });
    expect(old.statusCode).toBe(409);
    expect(plain(old.body)).toContain('has changed the build since you opened it');
    const gone = await post('/options', { drop: '999' });
    expect([gone.statusCode, plain(gone.body).includes('This option has gone')]).toEqual([422, true]);
    expect(real.planner.optionNames('lantern')).toHaveLength(1);
  });

  it('says by name what an option has lost, keeps its text and offers to drop it alone', async () => {
    await post('/design?open=parts/hook', {
      name: 'Brass hook',
      source: 'make',
      count: '9',
      do: 'keep',
      'option-name': 'More hooks',
    });
    const gone = [
      { kind: 'remove', list: 'steps', key: 'cast' } as const,
      { kind: 'remove', list: 'parts', key: 'hook' } as const,
    ];
    const removed = await real.planner.edit('lantern', gone, 'maker');
    expect(removed.ok).toBe(true);
    const sheet = await options();
    expect(sheet).toContain('no longer fits the plan');
    expect(sheet).toContain('“More hooks” changes the part “Brass hook”, which is not in the plan any more.');
    expect(sheet).toContain('Part Brass hook: how many 4 → 9');
    expect(await get('/options')).not.toContain('name="adopt"');
  });
});
