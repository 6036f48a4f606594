import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Build, changesBetween } from '../../../server/model/index.ts';
import { rowKey } from '../../../views/sheets/levers.tsx';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const LATE: Build = lantern({
  event: '2026-12-05T18:00',
  parts: [{ id: 'ribs', name: 'ribs', source: 'make', count: 200 }],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 9 }] },
    { id: 'glue', name: 'glue ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 8 }] },
  ],
});

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(LATE, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

function post(fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: '/b/lantern/levers',
    payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}
const get = async (path: string) => (await real.app.inject({ url: `/b/lantern${path}` })).body;
const plain = (html: string) =>
  html
    .replaceAll(/[\u00a0\u202f]/g, ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const look = async () => {
  expect((await post({ look: 'yes' })).statusCode).toBe(303);
  await real.planner.settled();
  return real.planner.levers('lantern')!.search!;
};

const COUNTED: Build = {
  ...LATE,
  parameters: [{ name: 'rib_count', value: 60 }],
  parts: [{ id: 'ribs', name: 'ribs', source: 'make', count: 'rib_count' }],
};

describe('how many', () => {
  it('shows the most with its chance, the curve and the table behind it, and refuses what is no parameter', async () => {
    const changes = changesBetween(LATE, COUNTED);
    expect((await real.planner.edit('lantern', changes, 'Bo')).ok).toBe(true);
    expect((await post({ size: 'rib_count' })).statusCode).toBe(303);
    await real.planner.settled();
    const html = await get('/levers');
    const said = plain(html);
    expect(said).toContain('The most of rib_count');
    expect(said).toMatch(/80 in 100: (at most \d+|not even)/);
    expect(html).toMatch(/<path class="curve-line" d="M[\d.,L -]+"/);
    expect(said).toMatch(/Value Chance Ready \d+/);
    const gone = await post({ size: 'nothing' });
    expect(gone.statusCode).toBeGreaterThanOrEqual(400);
    expect(plain(gone.body)).toContain('This build has no parameter “nothing” any more.');
  });
});

describe('the sheet of what buys time', () => {
  it('says that nobody has looked yet, and where to', async () => {
    expect(plain(await get('/levers'))).toContain('Look now Nobody has looked yet.');
    expect(plain(await get(''))).toContain('What would buy time');
    expect(await get('/levers.json')).toBe('null');
  });

  it('shows what was found: rows with room, chance and cost, and what it would take', async () => {
    const search = await look();
    const said = plain(await get('/levers'));
    expect(said).toMatch(/\d+ levers tried, the best in \d+ simulated runs\./);
    expect(said).toMatch(/As planned now: ready \w{3} \d+ Dec \d\d:\d\d, [\w ]+ short/);
    expect(said).toContain('The plan misses the date.');
    expect(said).toMatch(/Room, on average [\w ]+ more ± [\w ]+ Chance /);
    expect(search.rows.filter(({ verdict }) => verdict === 'gains').length).toBeGreaterThan(0);
    expect(JSON.parse(await get('/levers.json'))).toEqual(JSON.parse(JSON.stringify(search)));
    expect(plain(await get(''))).toMatch(/The way back .+ more, \d+ % /);
  });

  it('keeps a row as an option under its words', async () => {
    const { rows } = await look();
    const answer = await post({ keep: rowKey(rows[0]!) });
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toMatch(/\/b\/lantern\/options#option-\d+/);
    expect(real.planner.optionNames('lantern')).toHaveLength(1);
    expect(real.planner.build('lantern')!.revision).toBe(1);
  });

  it('makes a row an edit when it is adopted, and says that the search is of before', async () => {
    const { rows } = await look();
    expect((await post({ adopt: rowKey(rows[0]!) })).statusCode).toBe(303);
    expect(real.planner.build('lantern')!.revision).toBe(2);
    expect(plain(await get('/levers'))).toContain('The build has changed since. Look again.');
    expect(plain(await get('/history'))).toContain('adopted');
  });

  it('refuses a row that is not there, and an edit that somebody made meanwhile', async () => {
    const { rows } = await look();
    const none = await post({ adopt: '["helper-day",{}]' });
    expect(none.statusCode).toBeGreaterThanOrEqual(400);
    expect(plain(none.body)).toContain('This row has gone');
    const change = { kind: 'set', list: 'parts', key: 'ribs', field: 'count', value: 190 } as const;
    await real.planner.edit('lantern', [change], 'Bo');
    const late = await post({ adopt: rowKey(rows[0]!), edit: '1' });
    expect(late.statusCode).toBe(409);
    expect(real.planner.build('lantern')!.revision).toBe(2);
  });

  it('refuses a row that was found for an older plan, though the page knows of the newer, and loses no edit by it', async () => {
    const { rows } = await look();
    const hours = { kind: 'set', list: 'people', key: 'ana', field: 'hours', value: 'daily 10:00-16:00' } as const;
    await real.planner.edit('lantern', [hours], 'Bo');
    for (const fields of [{ adopt: rowKey(rows[0]!) }, { keep: rowKey(rows[0]!) }]) {
      expect((await post(fields)).statusCode).toBe(409);
    }
    expect(real.planner.build('lantern')!.build.people).toMatchObject([{ hours: 'daily 10:00-16:00' }]);
    const { rows: anew } = await look();
    expect((await post({ adopt: rowKey(anew[0]!) })).statusCode).toBe(303);
  });
});
