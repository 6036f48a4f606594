import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { wayKey } from '../../../views/sheets/ways.tsx';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern, openStore } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const RIBS: Build = lantern({
  event: '2026-12-20T18:00',
  suppliers: [{ id: 'mill', name: 'Mill', lead: 4 }],
  parts: [
    {
      id: 'ribs',
      name: 'ribs',
      source: 'make',
      count: 60,
      ways: [
        { id: 'here', name: 'made here', source: 'make' },
        { id: 'mill', name: 'by the mill', source: 'send-out', supplier: 'mill', unitCost: 2, onceCost: 30 },
      ],
    },
  ],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', way: 'here', lotSize: 6, phases: [{ kind: 'hands', perUnit: 20 }] },
  ],
});

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(RIBS, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

async function post(fields: Record<string, string>) {
  const answer = await real.app.inject({
    method: 'POST',
    url: '/b/lantern/ways',
    payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  return { status: answer.statusCode, said: plain(answer.body), to: answer.headers.location };
}
const get = async (path: string) => (await real.app.inject({ url: `/b/lantern${path}` })).body;
const plain = (html: string) =>
  html
    .replaceAll(/[\u00a0\u202f]/g, ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const opened = async () => {
  await get('/ways');
  await real.planner.settled();
  return plain(await get('/ways'));
};

describe('the sheet Make or send out', () => {
  it('is worked out when it is opened, and lays hours here against lead there', async () => {
    const said = await opened();
    expect(said).toContain('ribs 60 wanted');
    expect(said).toMatch(/made here as planned now Units 60 Hours here 20 h .*Lead there none: made here Paid 0/);
    expect(said).toMatch(/by the mill Units 60 Hours here .* Lead there 4 working days at Mill; here \w{3} \d+ Dec/);
    expect(said).toMatch(/Paid 150 Still possible until \w{3} \d+ Dec \d\d:\d\d/);
    expect(said).toMatch(/Money: “made here” is cheaper at any quantity|Money: “made here” is cheaper below/);
    expect(said).toMatch(/Time: by .* when “by the mill” would be here, “made here” has (\d+|all)/);
    expect(JSON.parse(await get('/ways.json')).parts[0].ways.length).toBe(2);
    expect(plain(await get('/design'))).toContain('Make or send out?');
  });

  it('keeps a way or a split as an option, and adopts one as an edit', async () => {
    await opened();
    const kept = await post({ keep: wayKey('ribs', 'mill') });
    expect(kept.to).toMatch(/\/b\/lantern\/options#option-\d+/);
    expect((await post({ split: 'keep', part: 'ribs', way: 'mill', units: '25' })).status).toBe(303);
    expect(real.planner.optionNames('lantern').map(({ name }) => name)).toEqual([
      'ribs: by the mill',
      'ribs: 35 made here, 25 by the mill',
    ]);
    expect((await post({ adopt: wayKey('ribs', 'mill') })).status).toBe(303);
    expect(real.planner.build('lantern')!.build.parts![0]!.way).toBe('mill');
    expect(plain(await get('/ways'))).toContain('The build has changed since.');
    expect(plain(await get('/dates'))).not.toContain('How long it can wait');
    const sooner = { kind: 'set', list: 'build', field: 'readyBy', value: '2026-12-02T12:00' } as const;
    expect((await real.planner.edit('lantern', [sooner], 'Bo')).ok).toBe(true);
    expect(plain(await get('/dates'))).toMatch(/How long it can wait ribs: until /);
  });

  it('refuses a split of more than there are, what is gone, and an edit that somebody made meanwhile', async () => {
    await opened();
    for (const units of ['61', '0', '-3', 'many', '2.5', '']) {
      const { status, said } = await post({ split: 'keep', part: 'ribs', way: 'mill', units });
      expect([units, status]).toEqual([units, 422]);
      expect(said).toContain('give a whole number from 1 to 60');
    }
    expect((await post({ keep: wayKey('ribs', 'smith') })).said).toContain('is not there any more');
    expect((await post({ split: 'keep', part: 'oars', way: 'mill', units: '3' })).status).toBeGreaterThanOrEqual(400);
    const change = { kind: 'set', list: 'parts', key: 'ribs', field: 'count', value: 50 } as const;
    expect((await real.planner.edit('lantern', [change], 'Bo')).ok).toBe(true);
    for (const edit of ['1', '2']) expect((await post({ adopt: wayKey('ribs', 'mill'), edit })).status).toBe(409);
    expect(real.planner.build('lantern')!.revision).toBe(2);
  });

  it('says where ways are typed when no part has any', async () => {
    const changes = [
      { kind: 'set', list: 'parts', key: 'ribs', field: 'ways' },
      { kind: 'set', list: 'steps', key: 'cut', field: 'way' },
    ] as const;
    expect((await real.planner.edit('lantern', changes, 'Bo')).ok).toBe(true);
    expect((await post({ look: 'yes' })).status).toBe(303);
    await real.planner.settled();
    expect(plain(await get('/ways'))).toContain('Add ways to a part on Design');
  });
});
