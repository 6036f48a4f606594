/**
 * Show day: boxes, ways, points and jobs are edited there; a tick is an entry of the log, once, and may be taken back.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { createStore, openDatabase, type Store } from '../../../server/store/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const PACKED: Build = lantern({
  parts: [{ id: 'ribs', name: 'ribs', source: 'make', count: 3 }],
  steps: [
    { id: 'cut', name: 'cut ribs', part: 'ribs', phases: [{ kind: 'hands', perUnit: 4 }] },
    {
      id: 'hang',
      name: 'hang it',
      onSite: true,
      tools: ['<b>hook</b> & pole'],
      phases: [{ kind: 'hands', minutes: 30 }],
    },
  ],
  forPublic: true,
  boxes: [{ id: 'crate', name: '<i>Crate</i> “größer” צ 📦', weight: 31, parts: [{ part: 'ribs', count: 3 }] }],
});

let store: Store;
let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  store = createStore(db.value);
  real = await realApp(store, NOON);
  const made = await real.planner.create(PACKED, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterAll(async () => {
  await real.close();
  store.close();
});

async function show(path = '/show'): Promise<{ html: string; said: string }> {
  const { body: html } = await real.app.inject({ url: `/b/lantern${path}` });
  return { html, said: html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0\u202f]+/g, ' ') };
}

function post(path: string, fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: `/b/lantern${path}`,
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

describe('the pack list', () => {
  it('writes names as they are typed, and warns of a heavy box by how much and whose guideline it is', async () => {
    const { html, said } = await show();
    expect(html).toContain('&lt;i>Crate&lt;/i> “größer” צ 📦');
    expect(said).toContain('6 kg above the guideline of 25 kg for one person');
    expect(said).toContain('HSE, Manual handling at work, INDG143');
  });

  it('keeps a tick once however often it is sent, and takes it back', async () => {
    const { html } = await show();
    const after = /name="after" value="(\d+)"/.exec(html)![1]!;
    for (let i = 0; i < 2; i++) expect((await post('/show/packed', { box: 'crate', after })).statusCode).toBe(303);
    const ticks = real.planner.log('lantern').filter(({ kind }) => kind === 'packed');
    expect(ticks).toMatchObject([{ kind: 'packed', box: 'crate' }]);
    await real.planner.settled();
    expect((await show()).said).toContain('1 of 1 box packed');
    await post('/show/packed', { box: 'crate', after: '1', undoes: ticks[0]!.id });
    await real.planner.settled();
    expect((await show()).said).toContain('0 of 1 box packed');
  });

  it('refuses a box and an entry that are not there, and logs nothing', async () => {
    const before = real.planner.log('lantern').length;
    const gone = await post('/show/packed', { box: 'trunk', after: '0' });
    expect(gone.statusCode).toBe(422);
    expect(gone.body).toContain('“trunk” is not a box of this build');
    expect((await post('/show/packed', { box: 'crate', after: '0', undoes: 'entry-none' })).statusCode).toBe(422);
    const [receipt] = real.planner.append(
      'lantern',
      [{ id: 'packed-9999', kind: 'packed', box: 'trunk', at: new Date(NOON * 60_000).toISOString() }],
      'maker',
    );
    expect(receipt!.problems[0]!.message).toContain('There is no box "trunk" in this build (there: crate)');
    expect(real.planner.log('lantern')).toHaveLength(before);
  });
});

describe('proposals', () => {
  const edit = () => String(real.planner.build('lantern')!.revision);
  const boxes = () => real.planner.build('lantern')!.build.boxes!;

  it('say what might go into a box, and ask for the certificate of a piece for the public', async () => {
    const { html, said } = await show();
    expect(said).toContain('&lt;b>hook&lt;/b> &amp; pole, tool of hang it'.replaceAll(/<[^>]*>/g, ' '));
    expect(said).toContain('1 × ribs more: there is none to spare');
    expect(said).toContain('no certificate of how its materials burn');
    expect(html).toContain('value="crate"');
  });

  it('are taken by one tap each, one more of a part as a spare of the design', async () => {
    const tool = { code: 'tool', of: '<b>hook</b> & pole', box: 'crate', edit: edit() };
    expect((await post('/show/take', tool)).statusCode).toBe(303);
    await real.planner.settled();
    expect((await post('/show/take', { ...tool, edit: edit() })).body).toContain('is not proposed any more');
    const more = { code: 'one-more', of: 'ribs', box: '', edit: edit() };
    expect((await post('/show/take', more)).statusCode).toBe(303);
    await real.planner.settled();
    expect(boxes()).toEqual([
      { ...PACKED.boxes![0], tools: ['<b>hook</b> & pole'] },
      { id: 'box-2', name: 'Box 2', parts: [{ part: 'ribs', count: 1, spare: true }] },
    ]);
    expect(real.planner.build('lantern')!.build.parts![0]!.spares).toBe(1);
    expect((await show()).said).not.toContain('Proposed for the boxes');
  });

  it('stay away once the maker said that they are not needed, in sight and in History, until asked for again', async () => {
    const tools = [{ kind: 'set', list: 'steps', key: 'hang', field: 'tools', value: ['ladder'] }] as const;
    await real.planner.edit('lantern', tools, 'maker');
    await real.planner.settled();
    const ladder = { code: 'tool', of: 'ladder', box: 'crate' };
    const answer = async (value: string) => {
      const { statusCode, body } = await post('/show/take', { ...ladder, answer: value, edit: edit() });
      await real.planner.settled();
      return [statusCode, /“(.*?)” is (?:not proposed|no answer)/.exec(body)?.[1]];
    };
    expect(await answer('maybe')).toEqual([422, 'maybe']);
    expect(await answer('again')).toEqual([422, 'ladder']);
    expect(await answer('not-needed')).toEqual([303, undefined]);
    expect(real.planner.build('lantern')!.build.notNeeded).toEqual([{ code: 'tool', of: 'ladder' }]);
    const { said } = await show();
    expect(said).toMatch(/Not needed, as you said: 1 ladder, tool of hang it Propose it again/);
    expect(said).not.toContain('Proposed for the boxes');
    expect((await show('/history')).said).toContain('The build: not needed nothing → ladder');
    expect(await answer('not-needed')).toEqual([422, 'ladder']);
    expect(await answer('again')).toEqual([303, undefined]);
    expect(real.planner.build('lantern')!.build.notNeeded).toBeUndefined();
    expect((await show()).said).toContain('Proposed for the boxes: 1');
  });

  it('change nothing where they come from an older sheet, or name a box that is gone', async () => {
    const before = boxes();
    const steps = PACKED.steps.map((it) => (it.id === 'hang' ? { ...it, tools: ['rope'] } : it));
    await real.planner.edit(
      'lantern',
      [{ kind: 'set', list: 'steps', key: 'hang', field: 'tools', value: steps[1]!.tools }],
      'maker',
    );
    await real.planner.settled();
    const rope = { code: 'tool', of: 'rope', box: 'trunk', edit: edit() };
    expect((await post('/show/take', rope)).body).toContain('“trunk” is not a box of this build');
    const old = await post('/show/take', { ...rope, box: 'crate', edit: '1' });
    expect(old.statusCode).toBe(409);
    expect(boxes()).toEqual(before);
  });
});

describe('forms', () => {
  const revision = () => String(real.planner.build('lantern')!.revision);

  it('add a door, and refuse a van without a depth beside its field', async () => {
    const door = { name: 'Stage door', kind: 'door', width: '900', height: '2000', do: 'save', edit: revision() };
    expect((await post('/show?open=passages/new', door)).statusCode).toBe(303);
    expect(real.planner.build('lantern')!.build.passages).toEqual([
      { id: 'stage-door', name: 'Stage door', kind: 'door', width: 900, height: 2000 },
    ]);
    const van = { name: 'Van', kind: 'van', width: '1500', height: '1300', do: 'save', edit: revision() };
    const refused = await post('/show?open=passages/new', van);
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('of Van is missing');
  });

  it('refuse to take out a part that lies in a box, naming the box', async () => {
    const refused = await post('/design?open=parts/ribs', { do: 'remove', edit: revision(), name: 'ribs' });
    expect(refused.body).toContain('?open=boxes%2Fcrate');
  });
});
