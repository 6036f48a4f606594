/** Quick lines on their page: read, seen first, added as one edit that can be taken back. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { planBuild } from '../../server/engine/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { type RealApp, realApp } from '../support/changes/real-app.ts';

let real: RealApp;
beforeEach(async () => {
  real = await realApp(openStore(), NOON);
  const made = await real.planner.create(lantern({ event: '2026-12-08T18:00' }), [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterEach(() => real.close());

function post(fields: Record<string, string>) {
  return real.app.inject({
    method: 'POST',
    url: '/b/lantern/lines',
    payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll('&quot;', '"')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const LINES = '40 hooks, bend 3 min each, dry 2 h\nwobble\npack 1 h';

it('shows what was understood, assumed and not understood, and what it would do, and saves nothing', async () => {
  const before = real.planner.build('lantern')!;
  const answer = await post({ lines: LINES, action: 'read' });
  const said = plain(answer.body);
  expect(answer.statusCode).toBe(200);
  expect(said).toContain('40 × Hooks Bend hooks: 3 min each Bend hooks then waits 2 h');
  expect(said).toContain('Bend hooks: Daywright chooses the lot size');
  expect(said).toContain('Not understood: “wobble”. This line is not added.');
  expect(said).toContain('Pack comes after');
  const inside = plain((await post({ lines: '5 rails\n3 hooks per rail', action: 'read' })).body);
  expect(inside).toContain('3 × Hooks in each of the Rails');
  expect(said).toContain('Add 2 lines to the build');
  expect(said).toContain('What this would do');
  expect(real.planner.build('lantern')).toEqual(before);
});

it('adds what was understood as one edit, keeps the rest in the field, and is taken back as one', async () => {
  const before = real.planner.build('lantern')!;
  const answer = await post({ lines: LINES, action: 'add' });
  const after = real.planner.build('lantern')!;
  expect(plain(answer.body)).toContain('2 lines are in the build. 1 line was not added and is still here.');
  expect(answer.body).toMatch(/<textarea[^>]*>\s*wobble\s*<\/textarea>/);
  expect(after.revision).toBe(before.revision + 1);
  expect(after.build.steps.slice(-2).map(({ name }) => name)).toEqual(['Bend hooks', 'Pack']);
  expect(plain((await post({ lines: '40 hooks, bend 3 min each, dry 2 h', action: 'add' })).body)).toContain(
    'All of this is in the build already.',
  );
  expect(real.planner.build('lantern')!.revision).toBe(after.revision);
  expect((await real.planner.undo('lantern', after.revision, 'maker')).ok).toBe(true);
  expect(real.planner.build('lantern')!.build).toEqual(before.build);
});

it('adds the lines beside one that the plan does not take, and says at that one why', async () => {
  const lines = '40 hooks, bend 3 min each\nhoist 2 h with 9 people';
  const looked = plain((await post({ lines, action: 'read' })).body);
  expect(looked).toContain('This line does not fit the build: "Hoist" needs 9 people together');
  expect(looked).toContain('Add 1 line to the build');
  const added = await post({ lines, action: 'add' });
  expect(plain(added.body)).toContain('1 line is in the build. 1 line was not added and is still here.');
  expect(added.body).toMatch(/<textarea[^>]*>\s*hoist 2 h with 9 people\s*<\/textarea>/);
  expect(real.planner.build('lantern')!.build.steps.map(({ name }) => name)).toContain('Bend hooks');
});

it('refuses what is too much, what says nothing and what another browser has changed, and loses no text', async () => {
  const long = await post({ lines: `5 hooks\n${'x'.repeat(501)}`, action: 'add' });
  expect([long.statusCode, plain(long.body)]).toEqual([422, expect.stringContaining('Line 2 is longer than 500')]);
  const many = await post({ lines: '5 hooks\n'.repeat(401), action: 'add' });
  expect([many.statusCode, plain(many.body)]).toEqual([413, expect.stringContaining('At most 400 lines at once')]);
  const none = await post({ lines: 'wobble', action: 'add' });
  expect([none.statusCode, plain(none.body)]).toEqual([422, expect.stringContaining('No line was understood')]);
  const late = await post({ lines: '5 hooks, bend 1 min', action: 'add', edit: '0' });
  expect(late.statusCode).toBe(409);
  expect(late.body).toMatch(/<textarea[^>]*>\s*5 hooks, bend 1 min\s*<\/textarea>/);
  expect(real.planner.build('lantern')!.revision).toBe(1);
});

it('asks who helps, where nobody does, in one sentence with the way there, and keeps the lines', async () => {
  const { people, ...alone } = lantern({ id: 'alone', event: '2026-12-08T18:00', steps: [] });
  expect(people).toBeDefined();
  expect((await real.planner.create(alone, [], 'maker')).ok).toBe(true);
  const answer = await real.app.inject({
    method: 'POST',
    url: '/b/alone/lines',
    payload: new URLSearchParams({ edit: '1', lines: LINES, action: 'add' }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  expect(answer.statusCode).toBe(422);
  expect(plain(answer.body)).toContain('Nobody helps yet, and this work needs somebody.');
  expect(answer.body).toContain('href="/b/alone/hands?open=people/new"');
  expect(answer.body).toContain(`${LINES}</textarea>`);
  expect(plain(answer.body)).not.toContain('needs somebody, but nobody here may do it');
  expect(real.planner.build('alone')!.revision).toBe(1);
});

it('marks hazards that it guessed until somebody says that they are right, or changes them', async () => {
  await post({ lines: LINES, action: 'add' });
  const step = (id: string) => real.planner.build('lantern')!.build.steps.find((one) => one.id === id)!;
  const ticket = async (id: string) => (await real.app.inject({ url: `/b/lantern/steps/${id}` })).body;
  expect(step('pack')).toMatchObject({ hazards: ['lifting'], hazardsGuessed: true });
  expect(plain(await ticket('pack'))).toContain('Nobody has looked at them yet.');
  const answer = (fields: Record<string, string>) =>
    real.app.inject({
      method: 'POST',
      url: '/b/lantern/steps?open=steps/pack',
      payload: new URLSearchParams({ edit: String(real.planner.build('lantern')!.revision), ...fields }).toString(),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
  expect((await answer({ do: 'hazards', hazards: 'lifting' })).statusCode).toBe(303);
  expect(step('pack').hazards).toEqual(['lifting']);
  expect(step('pack').hazardsGuessed).toBeUndefined();
  expect(plain(await ticket('pack'))).not.toContain('Nobody has looked at them yet.');
  expect(plain((await real.app.inject({ url: '/b/lantern/history' })).body)).toContain(
    'Pack: hazards guessed ≈ → nothing',
  );
});

it('fills in a line that the build lacks behind what is typed, by a tap, and saves nothing', async () => {
  const before = real.planner.build('lantern')!;
  const shown = await real.app.inject({ url: '/b/lantern/lines' });
  expect(plain(shown.body)).toContain('What builds forget');
  expect(shown.body).toContain('value="fill:pack 3 h"');
  const answer = await post({ lines: '40 hooks, bend 3 min each', action: 'fill:pack 3 h' });
  expect(answer.body).toMatch(/<textarea[^>]*>\s*40 hooks, bend 3 min each\npack 3 h\s*<\/textarea>/);
  expect(real.planner.build('lantern')).toEqual(before);
});

/** The lists whose things lines make, with the sheets on which their forms open. */
const FORMS = [
  ['suppliers', 'hands'],
  ['machines', 'hands'],
  ['parts', 'design'],
  ['steps', 'steps'],
  ['gates', 'steps'],
  ['strike', 'show'],
] as const;

it('comes to the same forecast as the same build typed into the forms, field by field', async () => {
  const bare = {
    ...{ zone: 'America/New_York', event: '2026-12-18T18:00', loadIn: '2026-12-18T08:00', steps: [] },
    people: [{ id: 'me', name: 'Me', hours: 'Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00' }],
  };
  for (const id of ['by-lines', 'by-forms']) await real.planner.create({ id, name: 'Drum tree', ...bare }, [], 'maker');
  const lines = [
    '5 boughs',
    '18 drums per bough, glue 6 min each in lots of 6, dry 12 h; paint 2 coats 3 min each in lots of 18, dry 4 h',
    '1 shell per drum, shell turner, 4 days',
    '2 heads per drum, cut 18 in 45 min in lots of 12, 95 % good',
    '1 striker per drum, on a plate of 6, 3 h 20 at night',
    '1 motor per bough, bought from the drive maker, 3 to 7 days, 1 spare',
    '5 boughs, mount 40 min in lots of 1, wire 2 h 30 each in lots of 1',
    'test 40 min, may fail 20 %, 3 back to mount',
    'pack 3 h',
    'load in 2 h',
    'strike 2 h with 2 people',
  ];
  const added = await postTo('by-lines', 'lines', { lines: lines.join('\n'), action: 'add' });
  expect(plain(added.body)).toContain(`${lines.length} lines are in the build.`);
  const typed = real.planner.build('by-lines')!.build;
  expect([typed.parts!.length, typed.steps.length, typed.gates!.length, typed.strike!.length]).toEqual([6, 8, 1, 1]);
  // What names something that is not there yet waits for the next round, as whoever types would have it.
  let open = FORMS.flatMap(([list, sheet]) => (typed[list] ?? []).map(({ id }) => ({ list, sheet, id })));
  for (let round = 0; open.length > 0 && round < 3; round++) {
    const refused: typeof open = [];
    for (const thing of open) {
      const { list, sheet, id } = thing;
      const form = await real.app.inject({ url: `/b/by-lines/${sheet}?open=${list}/${id}` });
      const saved = await postTo('by-forms', `${sheet}?open=${list}/new`, { ...fieldsOf(form.body), id });
      if (saved.statusCode !== 303) refused.push(thing);
    }
    open = refused;
  }
  expect(open).toEqual([]);
  const planned = (id: string) =>
    planBuild({ ...real.planner.build(id)!.build, id: 'tree', name: 'Drum tree' }, [], NOON);
  const [byLines, byForms] = [planned('by-lines'), planned('by-forms')];
  expect(byLines.room.readyBy.finish).not.toBe(null);
  expect(byForms).toEqual(byLines);
}, 90_000);

function postTo(build: string, path: string, fields: Readonly<Record<string, string | readonly string[]>>) {
  const body = new URLSearchParams({ edit: String(real.planner.build(build)!.revision) });
  for (const [name, value] of Object.entries(fields)) for (const one of [value].flat()) body.append(name, one);
  return real.app.inject({
    method: 'POST',
    url: `/b/${build}/${path}`,
    payload: body.toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

/** What a browser would send of the form that is open on a page. */
function fieldsOf(html: string): Record<string, string[]> {
  const form = /<form class="edit"[\s\S]*?<\/form>/.exec(html)![0];
  const fields: Record<string, string[]> = {};
  const add = (name: string, value: string): void => {
    if (name !== 'edit' && name !== 'place') fields[name] = [...(fields[name] ?? []), unescaped(value)];
  };
  const attribute = (tag: string, name: string): string => new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? '';
  for (const [tag] of form.matchAll(/<input[^>]*>/g)) {
    const isOff = attribute(tag, 'type') === 'checkbox' && !/\schecked/.test(tag);
    if (!isOff) add(attribute(tag, 'name'), attribute(tag, 'value'));
  }
  for (const [, tag, text] of form.matchAll(/<textarea([^>]*)>([^<]*)</g)) add(attribute(tag!, 'name'), text!);
  for (const [, tag, options] of form.matchAll(/<select([^>]*)>([\s\S]*?)<\/select>/g)) {
    const chosen = [...options!.matchAll(/<option[^>]*>/g)].find(([option]) => /\sselected/.test(option));
    add(attribute(tag!, 'name'), chosen === undefined ? '' : attribute(chosen[0], 'value'));
  }
  return fields;
}

const unescaped = (text: string): string =>
  text.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&amp;', '&');
