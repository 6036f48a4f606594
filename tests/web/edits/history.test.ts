/** What History says of an edit, and what stands in the way of taking a thing out. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Change, FILE_FORMAT, FILE_VERSION } from '../../../server/model/index.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';

let fake: FakeApp;
beforeEach(async () => {
  fake = await fakeApp();
});
afterEach(() => fake.close());

const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

function post(path: string, fields: Record<string, string>) {
  return fake.app.inject({
    method: 'POST',
    url: `/b/tide-wall${path}`,
    payload: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const revision = () => fake.planner.build('tide-wall')!.revision;
const history = async (query = '') => plain((await fake.app.inject({ url: `/b/tide-wall/history${query}` })).body);

async function edit(...changes: Change[]): Promise<void> {
  const made = await fake.planner.edit('tide-wall', changes, 'Ana');
  if (!made.ok) throw new Error(made.problems[0]!.message);
}

const set = (
  list: 'parts' | 'steps' | 'people' | 'machines' | 'gates' | 'parameters',
  key: string,
  field: string,
  value?: unknown,
) => ({ kind: 'set', list, key, field, ...(value === undefined ? {} : { value }) }) as Change;
const HANDS = (perUnit: unknown) => [{ kind: 'hands', perUnit }];

describe('History says', () => {
  it.each<[string, Change[], string]>([
    ['a count that was and is', [set('parts', 'fish', 'spares', 6)], 'Part fish: spares 4 → 6'],
    ['what was empty', [set('parts', 'screw', 'spares', 6)], 'Part screw M3 x 8: spares nothing → 6'],
    ['what is empty now', [set('parts', 'fish', 'supplier')], 'Part fish: supplier the saw yard → nothing'],
    [
      'several fields in a line',
      [set('parts', 'fish', 'spares', 6), set('parts', 'fish', 'source', 'buy')],
      'Part fish: comes from sent out → bought; spares 4 → 6',
    ],
    [
      'a tick',
      [set('machines', 'printer', 'overnight')],
      'Machine printer: may run at night (22:00 to 06:00) yes → no',
    ],
    ['a parameter by its value alone', [set('parameters', 'panels', 'value', 4)], 'Parameter panels: 3 → 4'],
    [
      'a parameter that became a range',
      [set('parameters', 'panels', 'value'), set('parameters', 'panels', 'range', { low: 2, likely: 3, high: 5 })],
      'Parameter panels: 3 → 2 to 5, likely 3',
    ],
    [
      'a renamed parameter',
      [{ kind: 'rename', list: 'parameters', key: 'panels', to: 'boards' }],
      'Parameter panels renamed boards',
    ],
    [
      'a new thing',
      [{ kind: 'put', list: 'machines', key: 'saw', thing: { id: 'saw', name: 'band saw' } }],
      'Machine band saw added',
    ],
    [
      'a thing taken out',
      [{ kind: 'remove', list: 'feeds', key: 'wire>load' }],
      'Feed wire a panel → load the van removed',
    ],
    [
      'a thing moved',
      [{ kind: 'move', list: 'steps', key: 'press', after: 'print-cranks' }],
      'Step press bushings moved, now after print cranks',
    ],
    [
      'a thing moved to the beginning',
      [{ kind: 'move', list: 'steps', key: 'press', after: null }],
      'Step press bushings moved, now first',
    ],
    [
      'a date of the build',
      [{ kind: 'set', list: 'build', field: 'readyBy', value: '2026-12-03T18:00' }],
      'The build: ready-by 2026-12-04 18:00 → 2026-12-03 18:00',
    ],
    ['people by their names', [set('gates', 'soak', 'who', ['maker', 'helper'])], 'only these nothing → Maker, Helper'],
  ])('%s', async (_, changes, words) => {
    await edit(...changes);
    expect(await history()).toContain(words);
  });

  it('one phase of a work pattern that was changed, by its field', async () => {
    await edit(set('steps', 'press', 'phases', HANDS(3)));
    await edit(set('steps', 'press', 'phases', HANDS(4)));
    expect(await history()).toContain('Step press bushings: minutes for each unit 3 → 4');
  });

  it('a phase that was added or taken out, as a whole', async () => {
    await edit(set('steps', 'press', 'phases', HANDS(3)));
    await edit(set('steps', 'press', 'phases', [...HANDS(3), { kind: 'wait', minutes: '1 h' }]));
    expect(await history()).toContain('Step press bushings: work pattern, added: wait, minutes for each lot 1 h');
    await edit(set('steps', 'press', 'phases', [{ kind: 'wait', minutes: '2 h' }]));
    const words = await history();
    expect(words).toContain('work pattern, removed: hands, minutes for each unit 3');
    expect(words).toContain('work pattern, minutes for each lot 1 h → 2 h');
  });

  it('fields that no form shows', async () => {
    const after = [{ step: 'print-cranks', note: 'one tray each' }];
    await edit(set('steps', 'press', 'after', after));
    expect(await history()).toContain('Step press bushings: fed by');
  });

  it('who, and why where it is no plain edit', async () => {
    await edit(set('parts', 'fish', 'spares', 6));
    await post('/history', { undo: '2' });
    await post('/history', { revision: '2' });
    const words = await history();
    expect(words).toContain('4 Back to edit 2 Part fish: spares 4 → 6');
    expect(words).toContain('3 Edit 2 undone Part fish: spares 6 → 4');
    expect(words).toContain('2 Part fish: spares 4 → 6 today 10:12, Ana');
    expect(words).toContain('1 The build was started');
  });

  it('a page of edits, with the way to older ones', async () => {
    for (let spares = 5; spares < 50; spares++) await edit(set('parts', 'fish', 'spares', spares));
    expect(await history()).toContain('Older edits');
    const older = await history('?before=7');
    expect(older).toContain('1 The build was started');
    expect(older).toContain('Newer edits');
    expect(older).not.toContain('Older edits');
    expect(await history('?before=x')).toContain(`${revision()} Part fish: spares 48 → 49`);
  });
});

describe('undoing from History', () => {
  it('takes one edit back and leaves the later ones', async () => {
    await edit(set('parts', 'fish', 'spares', 6));
    await edit(set('parts', 'fish', 'unitCost', 4));
    expect((await post('/history', { undo: '2' })).statusCode).toBe(303);
    expect(fake.planner.build('tide-wall')!.build.parts![1]).toMatchObject({ spares: 4, unitCost: 4 });
  });

  it('is offered for every edit but the first, also for the latest', async () => {
    await edit(set('parts', 'fish', 'spares', 6));
    const { body } = await fake.app.inject({ url: '/b/tide-wall/history' });
    expect([...body.matchAll(/name="undo" value="(\d+)"/g)].map(([, edit]) => edit)).toEqual(['2']);
    expect([...body.matchAll(/name="revision" value="(\d+)"/g)].map(([, edit]) => edit)).toEqual(['1']);
  });

  it('is refused in a sentence where the same was changed since, and changes nothing', async () => {
    await edit(set('parts', 'fish', 'spares', 6));
    await edit(set('parts', 'fish', 'spares', 7));
    const refused = await post('/history', { undo: '2' });
    expect(refused.statusCode).toBe(422);
    expect(plain(refused.body)).toContain('“fish” has been changed since. Undo the later edit first.');
    expect(revision()).toBe(3);
  });

  it.each(['1', '99', 'x', ''])('is refused for edit "%s"', async (to) => {
    expect((await post('/history', { undo: to })).statusCode).toBe(422);
    expect(revision()).toBe(1);
  });
});

describe('a parameter', () => {
  it('is renamed in its form, everywhere at once', async () => {
    const typed = { edit: '1', name: 'boards', quantity: '3', unit: 'panels', origin: 'measured' };
    const answer = await post('/design?open=parameters/panels', typed);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/tide-wall/design#parameters-boards']);
    const { build } = fake.planner.build('tide-wall')!;
    expect(build.parameters!.map((it) => it.formula ?? it.name)).toContain('boards * fish_per_panel');
    expect(build.sets?.count).toBe('boards');
  });

  it('keeps its name where another has the new one', async () => {
    const answer = await post('/design?open=parameters/panels', { edit: '1', name: 'fish', quantity: '3' });
    expect(answer.statusCode).toBe(422);
    expect(plain(answer.body)).toContain('There is already a parameter called “fish”; choose another name.');
    expect(revision()).toBe(1);
  });
});

describe('a changed file read over the plan', () => {
  const FILE = { format: FILE_FORMAT, version: FILE_VERSION };
  const upload = (text: string | null, id = 'tide-wall') => {
    const mark = 'xxMARKxx';
    const head = 'content-disposition: form-data; name="file"; filename="wall.json"\r\ncontent-type: text/plain';
    const payload = text === null ? '' : `--${mark}\r\n${head}\r\n\r\n${text}\r\n--${mark}--\r\n`;
    const headers = { 'content-type': `multipart/form-data; boundary=${mark}` };
    return fake.app.inject({ method: 'POST', url: `/b/${id}/file`, payload, headers });
  };
  const withSpares = (spares: number) => {
    const { build } = fake.planner.build('tide-wall')!;
    return { ...build, parts: build.parts!.map((part) => (part.id === 'fish' ? { ...part, spares } : part)) };
  };

  it('is one edit, which History shows and takes back; what was counted stays', async () => {
    const tap = { id: 'tap-00001', kind: 'done', step: 'press', n: 2, at: '2026-11-25T08:00:00Z' } as const;
    fake.planner.append('tide-wall', [tap], 'Ana');
    await fake.planner.settled();
    await edit(set('parts', 'screw', 'spares', 6));
    const sent = await upload(JSON.stringify({ ...FILE, build: withSpares(9), log: [] }));
    expect([sent.statusCode, sent.headers.location, revision()]).toEqual([303, '/b/tide-wall/history', 3]);
    expect(await history()).toContain('3 A file was read over the plan Part fish: spares 4 → 9');
    expect(fake.planner.log('tide-wall').map(({ id }) => id)).toEqual(['tap-00001']);
    expect((await post('/history', { undo: '3' })).statusCode).toBe(303);
    const parts = new Map(fake.planner.build('tide-wall')!.build.parts!.map(({ id, spares }) => [id, spares]));
    expect([parts.get('fish'), parts.get('screw')]).toEqual([4, 6]);
  });

  it.each<[string, () => string | null, number, string]>([
    ['that is not there', () => null, 400, 'Only part of the file arrived'],
    ['that is empty', () => '', 422, 'Choose a file first.'],
    ['that is no JSON', () => '{"format":', 422, 'The file is not JSON'],
    ['of another version', () => JSON.stringify({ ...FILE, version: 2, build: withSpares(9) }), 422, 'version 1'],
    [
      'of another build',
      () => JSON.stringify({ ...FILE, build: { ...withSpares(9), id: 'other-wall' } }),
      409,
      'The file is of the build "other-wall", not of "tide-wall".',
    ],
    ['that says the same', () => JSON.stringify({ ...FILE, build: withSpares(4) }), 422, 'nothing was changed'],
    ['that is misshapen', () => JSON.stringify({ ...FILE, build: { ...withSpares(9), event: 'soon' } }), 422, 'soon'],
  ])('is refused where it is one %s, with a sentence and the plan as it was', async (_, text, status, sentence) => {
    const answer = await upload(text());
    expect([answer.statusCode, revision()]).toEqual([status, 1]);
    expect(plain(answer.body.replaceAll('&quot;', '"'))).toContain(sentence);
  });

  it('is refused for a build that is not there', async () => {
    expect((await upload(JSON.stringify({ ...FILE, build: withSpares(9) }), 'nothing')).statusCode).toBe(404);
  });
});
