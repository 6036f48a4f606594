/** After the show: estimated against real, its table, figures kept and offered to the next build by name. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Build, type LogEntry, measuredIn } from '../../../server/model/index.ts';
import { createStore, openDatabase, type Store } from '../../../server/store/index.ts';
import { afterLines } from '../../../views/after/after-facts.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const WORK = {
  parts: [{ id: 'rib', name: 'Rib', source: 'make' as const, count: 40, yield: 0.95 }],
  gates: [],
  feeds: [],
  decisions: [],
  steps: [{ id: 'sand', name: '=Sand; "ribs"', part: 'rib', phases: [{ kind: 'hands' as const, perUnit: 3 }] }],
};
const OLD: Build = lantern({ ...WORK, id: 'old-lamp', name: 'Old lamp' });
const NEW: Build = lantern({ ...WORK, id: 'new-lamp', name: 'New lamp' });

/** Twenty ribs in ninety minutes by the run clock, two of them scrapped. */
const LOG: LogEntry[] = [
  { kind: 'began' as const, minutes: -200 },
  { kind: 'done' as const, n: 18, minutes: -115 },
  { kind: 'scrapped' as const, n: 2, minutes: -110 },
  { kind: 'paused' as const, minutes: -110 },
].map(({ minutes, ...entry }, i) => {
  const at = new Date((NOON + minutes) * 60_000).toISOString();
  return { id: `entry-000${i}`, step: 'sand', at, who: 'maker', ...entry };
});

let store: Store;
let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  store = createStore(db.value);
  real = await realApp(store, NOON);
  for (const [build, log] of [
    [OLD, LOG],
    [NEW, []],
  ] as const) {
    const made = await real.planner.create(build, [...log], 'maker');
    if (!made.ok) throw new Error(made.problems[0]!.message);
  }
  await real.planner.settled();
});
afterAll(async () => {
  await real.close();
  store.close();
});

async function said(path: string): Promise<string> {
  const { body } = await real.app.inject({ url: path });
  return body
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll('&quot;', '"')
    .replaceAll(/[\s\u00a0\u202f]+/g, ' ');
}

function post(build: string, fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: `/b/${build}/after`,
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

describe('after the show', () => {
  it('lays the estimate beside what was counted, for hands and for scrap', async () => {
    const page = await said('/b/old-lamp/after');
    expect(page).toMatch(/Hands, minutes a unit.*Sand; "ribs" 3 4\.\d.*20 units/);
    expect(page).toMatch(/Scrap, share of units.*Rib 5 % 10 % 2 20 units/);
  });

  it('says how long deliveries took, which is not yet what the plan counts on', async () => {
    const hook = { id: 'hook', name: 'Hook', source: 'buy' as const, count: 8, supplier: 'shop' };
    const suppliers = [{ id: 'shop', name: 'The shop', lead: 2 }];
    const log = [
      { id: 'entry-1001', kind: 'ordered' as const, step: 'order-hook', n: 4, at: '2026-11-16T09:00:00Z' },
      { id: 'entry-1002', kind: 'received' as const, step: 'order-hook', n: 4, at: '2026-11-26T12:00:00Z' },
    ];
    await real.planner.create(lantern({ ...WORK, id: 'sent-lamp', parts: [hook], steps: [], suppliers }), log, 'maker');
    await real.planner.settled();
    const { lead } = real.planner.latest('sent-lamp')!.forecast!.orders[0]!;
    expect(lead).toMatchObject({ given: 2, taken: 8, planned: 4 });
    const page = await said('/b/sent-lamp/after');
    expect(page).toMatch(/The shop 2 8 4 1 delivery/);
    const kept = measuredIn(real.planner.latest('sent-lamp')!.forecast!, real.planner.build('sent-lamp')!.build);
    expect(kept).toEqual([{ kind: 'lead', name: 'The shop', value: 8, counted: 1 }]);
    expect(page).toContain('days that deliveries took on average. The plan counts on them and the estimate together.');
  });

  it('takes the middle load of a machine, and says how many loads it is from', () => {
    const runTime = {
      kind: 'run',
      minutes: 195,
      low: 150,
      high: 240,
      estimate: 200,
      loads: 7,
      counted: 190,
      notes: [],
    };
    const forecast = { steps: [{ id: 'print', name: 'Print', runTime }], parts: [], orders: [] };
    expect(afterLines({ build: OLD, forecast } as never)).toEqual([
      { kind: 'run', id: 'print', name: 'Print', estimated: 200, real: 190, counted: 7 },
    ]);
  });

  it('gives the same as a table in which no cell is run as a formula', async () => {
    const { body, headers } = await real.app.inject({ url: '/b/old-lamp/after.csv' });
    expect(headers['content-type']).toContain('text/csv');
    const rows = body.replace('\ufeff', '').trim().split('\r\n');
    expect(rows[0]).toBe('kind,id,name,measure,estimated,real,times,from');
    expect(rows[1]).toMatch(/^hands,sand,"'=Sand; ""ribs""","Hands, minutes a unit",3,4\.\d+,1\.\d+,20$/);
    expect(rows[2]).toBe('scrap,rib,Rib,"Scrap, share of units",0.05,0.1,2,20');
  });

  it('keeps its figures, offers them to another build by name, and takes one as an edit', async () => {
    expect(await said('/b/new-lamp/after')).toContain('No earlier build has measured anything of the same name.');
    expect((await post('old-lamp', { do: 'keep' })).statusCode).toBe(303);
    expect((await post('old-lamp', { do: 'keep' })).statusCode).toBe(303);
    expect(real.planner.figures().map(({ kind, counted, build }) => [kind, counted, build])).toEqual([
      ['pace', 20, 'old-lamp'],
      ['yield', 20, 'old-lamp'],
    ]);
    expect(await said('/b/new-lamp/after')).toMatch(/Sand; "ribs" 4\.\d min a unit, measured in Old lamp, from 20/);
    const { revision } = real.planner.build('new-lamp')!;
    const taken = await post('new-lamp', { do: 'take', list: 'steps', key: 'sand', edit: String(revision) });
    expect(taken.statusCode).toBe(303);
    const [step] = real.planner.build('new-lamp')!.build.steps;
    expect(step).toMatchObject({
      origin: 'measured',
      phases: [{ kind: 'hands', perUnit: real.planner.figures()[0]!.value }],
    });
  });

  it('refuses to take what is not offered, and changes nothing', async () => {
    const { revision } = real.planner.build('new-lamp')!;
    const refused = await post('new-lamp', { do: 'take', list: 'steps', key: 'glue', edit: String(revision) });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('“glue” is not offered any more');
    expect(real.planner.build('new-lamp')!.revision).toBe(revision);
  });
});
