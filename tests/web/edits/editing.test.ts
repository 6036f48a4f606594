import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FIELDS } from '../../../views/forms/fields.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';

let fake: FakeApp;
beforeEach(async () => {
  fake = await fakeApp();
});
afterEach(() => fake.close());

type Fields = Record<string, string | string[]>;

function post(path: string, fields: Fields, headers: Record<string, string> = {}) {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    for (const one of Array.isArray(value) ? value : [value]) body.append(name, one);
  }
  return fake.app.inject({
    method: 'POST',
    url: `/b/tide-wall${path}`,
    payload: body.toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
  });
}

const build = () => fake.planner.build('tide-wall')!.build;
const revision = () => String(fake.planner.build('tide-wall')!.revision);
const plain = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

/** The step as its form sends it. */
const PRESS: Fields = {
  name: 'press bushings',
  part: 'fish',
  lotSize: '12',
  'phases.0.kind': 'hands',
  'phases.0.perUnit': '1.5',
  'after.0.step': 'paint-fish',
};

describe('a form that is saved', () => {
  it('changes the parameter, says so in the history and goes back to the page', async () => {
    const answer = await post('/design?open=parameters/panels', {
      edit: revision(),
      quantity: '4',
      unit: 'panels',
    });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/tide-wall/design#parameters-panels']);
    expect(build().parameters?.[0]).toEqual({ name: 'panels', value: 4, unit: 'panels' });
    const { body } = await fake.app.inject({ url: '/b/tide-wall/history' });
    expect(plain(body)).toContain('Parameter panels: 3 → 4; where the number comes from measured → nothing');
  });

  it('takes names as people write them, and renames a parameter everywhere as one edit', async () => {
    const before = Number(revision());
    const uses = JSON.stringify(build()).match(/panels/g)!.length;
    const made = await post('/design?open=parameters/panels', {
      edit: revision(),
      name: 'panels per wall',
      quantity: '4',
      unit: 'panels',
    });
    expect([made.statusCode, made.headers.location]).toEqual([303, '/b/tide-wall/design#parameters-panels_per_wall']);
    expect(Number(revision())).toBe(before + 1);
    expect(JSON.stringify(build()).match(/panels_per_wall/g)!.length).toBe(uses - 1);
    await post('/design?open=parameters/new', { edit: revision(), name: 'posts', quantity: '2 * Panels per wall + 1' });
    expect(build().parameters?.at(-1)).toEqual({ name: 'posts', formula: '2 * panels_per_wall + 1' });
  });

  it('adds a step with its work pattern under a short name made from its name', async () => {
    const answer = await post('/steps?open=steps/new', {
      edit: revision(),
      name: 'Sand the edges',
      part: 'fish',
      'phases.0.kind': 'hands',
      'phases.0.perUnit': '18 units in 45 min',
      'phases.0.who': ['maker', 'helper'],
      'after.0.step': 'paint-fish',
      hazards: 'dust',
      origin: 'trial',
    });
    expect(answer.statusCode).toBe(303);
    expect(build().steps.at(-1)).toEqual({
      id: 'sand-the-edges',
      name: 'Sand the edges',
      part: 'fish',
      phases: [{ kind: 'hands', perUnit: { units: 18, minutes: 45 }, who: ['maker', 'helper'] }],
      after: ['paint-fish'],
      hazards: ['dust'],
      origin: 'trial',
    });
  });

  it.each([
    ['/design?open=parts/new', { name: 'post', source: 'make', count: '2 * fish', revision: '' }, 'parts'],
    ['/hands?open=people/new', { name: 'Third hand', hours: 'sat 09:00-13:00' }, 'people'],
    ['/hands?open=machines/new', { name: 'saw', count: '1', overnight: 'yes' }, 'machines'],
    ['/hands?open=suppliers/new', { name: 'paint shop', lead: '2 to 5, likely 3' }, 'suppliers'],
    ['/steps?open=feeds/new', { from: 'press', to: 'wire', type: 'start-start', lag: '-30' }, 'feeds'],
    ['/steps?open=gates/new', { name: 'sample', after: 'paint-fish', minutes: '20', proveFirst: 'yes' }, 'gates'],
    ['/steps?open=decisions/new', { question: 'How loud?', waits: ['wire'] }, 'decisions'],
  ] as const)('adds by %s', async (path, fields, list) => {
    const before = build()[list]?.length ?? 0;
    const answer = await post(path, { edit: revision(), ...(fields as Fields) });
    expect([answer.statusCode, plain(answer.body).slice(0, 0)]).toEqual([303, '']);
    expect(build()[list]?.length).toBe(before + 1);
  });

  it('keeps the revision of a drawing apart from the edit the form was opened on', async () => {
    const page = await fake.app.inject({ url: '/b/tide-wall/design?open=parts/fish' });
    const named = [...page.body.matchAll(/ name="([^"]+)"/g)].map(([, name]) => name);
    expect(named.filter((name) => name === 'revision')).toHaveLength(1);
    const typed = { edit: revision(), name: 'fish', source: 'send-out', count: '72', revision: 'C' };
    expect((await post('/design?open=parts/fish', typed)).statusCode).toBe(303);
    expect(build().parts?.find(({ id }) => id === 'fish')?.revision).toBe('C');
  });

  it('has no field called as what a form itself sends', () => {
    const keys = Object.values(FIELDS).flatMap((fields) => fields.map(({ key }) => key));
    expect(keys.filter((key) => ['edit', 'do'].includes(key))).toEqual([]);
  });

  it('changes dates of the build and leaves its lists alone', async () => {
    const { steps, parts } = build();
    const answer = await post('/contents?open=build', {
      edit: revision(),
      name: 'Tide Wall',
      zone: 'Europe/Amsterdam',
      event: '2026-12-06T19:00',
    });
    expect(answer.statusCode).toBe(303);
    expect(build()).toMatchObject({ event: '2026-12-06T19:00', steps, parts });
    expect(build().readyBy).toBeUndefined();
  });

  it('adds a day off and keeps the others', async () => {
    await post('/hands?open=people/maker', {
      edit: revision(),
      name: 'Maker',
      hours: 'mon-fri 09:00-17:00',
      'exceptions.0.date': '2026-11-27',
      'exceptions.0.hours': 'off',
      'exceptions.1.date': '2026-11-28',
      'exceptions.1.hours': '10:00-18:00',
    });
    expect(build().people?.[0]?.exceptions).toEqual([
      { date: '2026-11-27', hours: 'off' },
      { date: '2026-11-28', hours: '10:00-18:00' },
    ]);
  });
});

describe('a pin', () => {
  const asked = '/steps?open=steps/paint-fish&pin=2,5,12,2026-11-28T10:00,maker';

  it('stands in the form of its step when a day sheet asks for it, and changes nothing yet', async () => {
    const before = revision();
    const { statusCode, body } = await fake.app.inject({ url: `/b/tide-wall${asked}` });
    expect(statusCode).toBe(200);
    const cells = { set: '2', from: '5', to: '12', start: '2026-11-28T10:00' };
    for (const [name, value] of Object.entries(cells))
      expect(body).toMatch(new RegExp(`<input[^>]*name="pins\\.0\\.${name}"[^>]*value="${value}"`));
    expect(body).toMatch(/<details class="rare" open/);
    expect(revision()).toBe(before);
  });

  it('is kept when the form is saved, and named on the ticket', async () => {
    const answer = await post('/steps?open=steps/paint-fish', {
      edit: revision(),
      name: 'paint fish',
      'pins.0.set': '2',
      'pins.0.from': '5',
      'pins.0.to': '12',
      'pins.0.start': '2026-11-28T10:00',
      'pins.0.people': ['maker'],
    });
    expect(answer.statusCode).toBe(303);
    expect(build().steps.find(({ id }) => id === 'paint-fish')?.pins).toEqual([
      { set: 2, from: 5, to: 12, start: '2026-11-28T10:00', people: ['maker'] },
    ]);
    const { body } = await fake.app.inject({ url: '/b/tide-wall/steps' });
    expect(body).toMatch(/fixed: units 5 to 12, panel 2, starts 2026-11-28 10:00, /);
  });

  it('is refused beside its field where it says nonsense', async () => {
    const before = revision();
    const answer = await post('/steps?open=steps/paint-fish', {
      edit: before,
      name: 'paint fish',
      'pins.0.from': 'five',
      'pins.0.start': 'noon',
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toMatch(/pins/);
    expect(answer.body).toContain('value="five"');
    expect(revision()).toBe(before);
  });
});

describe('other buttons of a form', () => {
  it('take a thing out', async () => {
    const answer = await post('/steps?open=feeds/0', { edit: revision(), do: 'remove' });
    expect(answer.statusCode).toBe(303);
    expect(build().feeds).toEqual([]);
  });

  it('move a step before another, or to the end, with the press that saves it', async () => {
    const order = () => build().steps.map(({ id }) => id);
    const [first] = order();
    const { body } = await fake.app.inject({ url: '/b/tide-wall/steps?open=steps/press' });
    expect(body).toContain(`<option value="${first}">before `);
    const place = async (to: string) => post('/steps?open=steps/press', { ...PRESS, edit: revision(), place: to });
    expect((await place(first!)).statusCode).toBe(303);
    expect(order().indexOf('press')).toBe(0);
    expect((await place('@end')).statusCode).toBe(303);
    expect(order().at(-1)).toBe('press');
    const refused = await place('nowhere');
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('This list has no “nowhere”');
    expect(order().at(-1)).toBe('press');
  });

  it('put a phase into the form without touching the build', async () => {
    const before = revision();
    const fields = { edit: before, do: 'add:phases:lead', name: 'typed and kept', 'phases.0.kind': 'hands' };
    const answer = await post('/steps?open=steps/press', fields);
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain('value="typed and kept"');
    expect(answer.body).toContain('name="phases.1.supplier"');
    expect(answer.body).toMatch(/<fieldset class="row phase-lead"[^>]* autofocus/);
    expect(revision()).toBe(before);
  });
});

describe('a form that is refused', () => {
  it('says what is wrong beside the field, keeps what was typed and changes nothing', async () => {
    const before = revision();
    const answer = await post(
      '/hands?open=machines/printer',
      { edit: before, name: 'my printer', count: 'two', hours: 'always' },
      { 'hx-request-type': 'partial' },
    );
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toMatch(/^<main id="sheet"/);
    expect(answer.body).toContain('value="my printer"');
    expect(answer.body).toMatch(/id="f-count-wrong" role="alert">.*“How many alike” must be a whole number/);
    expect(answer.body).toMatch(/<div class="refusal"[^>]* autofocus.*<a href="#f-count-wrong">How many alike<\/a>/);
    expect(answer.body).toMatch(/<input name="count" id="f-count"[^>]*aria-invalid="true"/);
    expect(revision()).toBe(before);
  });

  it('shows the holidays of a supplier as people write days', async () => {
    const typed = { edit: revision(), name: 'the kiln', lead: '3', holidays: '2026-12-24\n2026-12-25' };
    expect((await post('/hands?open=suppliers/new', typed)).statusCode).toBe(303);
    const { body } = await fake.app.inject({ url: '/b/tide-wall/hands' });
    expect(plain(body)).toContain('closed Thu 24 Dec 2026, Fri 25 Dec 2026');
  });

  it('says beside what a part goes into at which step that is', async () => {
    const given = build();
    const [step] = given.steps.filter(({ part }) =>
      given.parts?.some(({ id, source }) => id === part && source === 'make'),
    );
    const form = (part: string) =>
      post('/design?open=parts/new', { edit: revision(), 'usedIn.0.part': part, name: '' });
    expect((await form(step!.part!)).body).toContain(
      `used at the first step of that part: “${step!.name}”; to change that`,
    );
    expect((await form('screw')).body).toContain('used at the first step of that part; to change that');
  });

  it('says beside the number of a part that it is added to what it goes into, before anybody has typed both', async () => {
    const { body } = await fake.app.inject({ url: '/b/tide-wall/design?open=parts/new' });
    const hint = /<input name="count" id="f-count"[^>]*aria-describedby="([^" ]+)/.exec(body)?.[1];
    const said = plain(new RegExp(`id="${hint}"[^>]*>([^]*?)</`).exec(body)?.[1] ?? '');
    expect(said).toContain('added to what “Goes into” needs; empty if it only goes into other parts');
  });

  it('asks for each thing that is missing beside its own field', async () => {
    const { body } = await post('/design?open=parts/new', { edit: revision(), name: '', source: '' });
    expect(body).toContain('“Name” is empty; fill it in.');
    expect(body).toMatch(/id="f-source-wrong".*“Comes from” is not chosen yet/);
    const run = {
      edit: revision(),
      name: 'press',
      'phases.0.kind': 'hands',
      'phases.0.perUnit': '2',
      'phases.1.kind': 'run',
    };
    const { body: pattern } = await post('/steps?open=steps/press', run);
    expect([...pattern.matchAll(/class="wrong" id="([^"]+)"/g)].map(([, id]) => id)).toEqual([
      'f-phases.1.machine-wrong',
    ]);
  });

  it('names the row of the pattern that is wrong', async () => {
    const answer = await post('/steps?open=steps/press', {
      edit: revision(),
      name: 'press',
      'phases.0.kind': 'hands',
      'phases.0.minutes': '5',
      'phases.1.kind': 'hands',
      'phases.1.people': '-1',
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toMatch(/name="phases\.1\.people"[^>]*aria-invalid="true"/);
    expect(answer.body).not.toMatch(/name="phases\.0\.people"[^>]*aria-invalid/);
  });

  it('refuses a short name that is taken', async () => {
    const answer = await post('/design?open=parts/new', { edit: revision(), id: 'fish', name: 'x', source: 'buy' });
    expect(answer.statusCode).toBe(422);
    expect(plain(answer.body)).toContain('There is already a part called “fish”');
  });

  it('says that somebody else has changed the plan, and saves when asked again', async () => {
    const opened = revision();
    await post('/design?open=parameters/panels', { edit: opened, quantity: '5' });
    const late = await post('/design?open=parameters/panels', { edit: opened, quantity: '6' });
    expect(late.statusCode).toBe(409);
    expect(late.body).toContain('value="6"');
    expect(build().parameters?.[0]?.value).toBe(5);
    const again = /name="edit" value="(\d+)"/.exec(late.body)![1]!;
    expect((await post('/design?open=parameters/panels', { edit: again, quantity: '6' })).statusCode).toBe(303);
    expect(build().parameters?.[0]?.value).toBe(6);
  });

  it('answers a body that is no form with 4xx and a sentence', async () => {
    const json = await fake.app.inject({
      method: 'POST',
      url: '/b/tide-wall/steps?open=steps/press',
      payload: '{',
      headers: { 'content-type': 'application/json' },
    });
    expect(json.statusCode).toBe(400);
    expect(json.body).toContain('neither a form nor a file that Daywright can read');
    const large = await post('/steps?open=steps/press', { note: 'x'.repeat(600_000) });
    expect(large.statusCode).toBe(413);
    expect(plain(large.body)).toContain('at most 512 kB');
  });
});

describe('history', () => {
  it('puts the plan back to an earlier edit, as a new edit', async () => {
    const first = revision();
    await post('/design?open=parameters/panels', { edit: first, quantity: '5' });
    const answer = await post('/history', { revision: first });
    expect(answer.statusCode).toBe(303);
    expect(build().parameters?.[0]?.value).toBe(3);
    expect(Number(revision())).toBe(Number(first) + 2);
  });

  it.each(['999', 'abc', ''])('refuses to go back to edit "%s"', async (to) => {
    const before = revision();
    expect((await post('/history', { revision: to })).statusCode).toBe(422);
    expect(revision()).toBe(before);
  });
});

describe('ways and answers in their forms', () => {
  it('are typed as rows, the ways with short names made from their names, and nothing of them is lost', async () => {
    const part = build().parts!.find(({ source }) => source === 'make')!;
    const fields = {
      edit: revision(),
      name: part.name,
      source: 'make',
      count: '4',
      due: '2026-12-01T12:00',
      failures: '2',
      'ways.0.name': 'Made here',
      'ways.0.source': 'make',
      'ways.1.name': 'By the joiner',
      'ways.1.source': 'send-out',
      'ways.1.unitCost': '6.5',
      'ways.1.units': '1',
    };
    const answer = await post(`/design?open=parts/${part.id}`, fields);
    expect(answer.statusCode).toBe(303);
    const saved = build().parts!.find(({ id }) => id === part.id);
    expect(saved).toMatchObject({
      due: '2026-12-01T12:00',
      failures: 2,
      ways: [
        { id: 'made-here', name: 'Made here', source: 'make' },
        { id: 'by-the-joiner', name: 'By the joiner', source: 'send-out', unitCost: 6.5, units: 1 },
      ],
    });
    const form = await fake.app.inject({ url: `/b/tide-wall/design?open=parts/${part.id}` });
    expect(form.body).toContain('By the joiner');
    const again = await post(`/design?open=parts/${part.id}`, {
      ...fields,
      edit: revision(),
      'ways.1.unitCost': 'cheap',
    });
    expect(again.statusCode).toBeGreaterThanOrEqual(400);
    expect(plain(again.body)).toContain('cheap');
    expect(again.body).toContain('By the joiner');
  });

  it('make what the answer carries when the decision falls, and refuse one that fits nothing', async () => {
    const [first] = build().steps;
    const fields = {
      edit: revision(),
      question: 'How many panels?',
      waits: first!.id,
      'answers.0.name': 'Three',
      'answers.1.name': 'Five',
      'answers.1.changes': 'panels = 5',
    };
    const wrong = await post('/steps?open=decisions/new', { ...fields, 'answers.1.changes': 'pillars = 5' });
    expect(wrong.statusCode).toBeGreaterThanOrEqual(400);
    expect(plain(wrong.body)).toContain('pillars');
    expect((await post('/steps?open=decisions/new', fields)).statusCode).toBe(303);
    expect(build().decisions!.at(-1)!.answers).toEqual([
      'Three',
      { name: 'Five', changes: [{ list: 'parameters', key: 'panels', field: 'value', value: 5 }] },
    ]);
    const { id } = build().decisions!.at(-1)!;
    const decided = { ...fields, edit: revision(), decided: 'Five' };
    expect((await post(`/steps?open=decisions/${id}`, decided)).statusCode).toBe(303);
    expect(build().parameters![0]).toMatchObject({ name: 'panels', value: 5 });
  });
});

describe('hazards that a step probably has', () => {
  const ticket = async (id: string) => {
    const { body } = await fake.app.inject({ url: '/b/tide-wall/steps' });
    const from = body.indexOf(`id="steps-${id}"`);
    return plain(body.slice(from, body.indexOf('</li><li id="steps-', from + 1)));
  };
  const unsaid = () => post('/steps?open=steps/paint-fish', { edit: revision(), do: 'hazards' });

  it('are marked with one button, as an edit that can be undone', async () => {
    await unsaid();
    expect(build().steps.find(({ id }) => id === 'paint-fish')?.hazards).toEqual([]);
    const before = revision();
    const answer = await post('/steps?open=steps/paint-fish', {
      edit: before,
      do: 'hazards',
      hazards: ['spray', 'dust'],
    });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/tide-wall/steps#steps-paint-fish']);
    expect(build().steps.find(({ id }) => id === 'paint-fish')?.hazards).toEqual(['spray', 'dust']);
    expect(await ticket('paint-fish')).toContain('The mist burns');
  });

  it('are refused where there is no such hazard, or the thing can have none', async () => {
    const before = revision();
    const wrong = await post('/steps?open=steps/paint-fish', { edit: before, do: 'hazards', hazards: 'dragons' });
    expect(wrong.statusCode).toBe(422);
    const decision = await post('/design?open=parts/fish', { edit: before, do: 'hazards', hazards: 'dust' });
    expect(decision.statusCode).toBe(422);
    expect(revision()).toBe(before);
  });

  it('stay denied when the form of the step is saved without any', async () => {
    await post('/steps?open=steps/paint-fish', { edit: revision(), do: 'no-hazards' });
    const { body } = await fake.app.inject({ url: '/b/tide-wall/steps?open=steps/paint-fish' });
    const name = /name="name"[^>]*value="([^"]*)"/.exec(body)?.[1] ?? '';
    const saved = await post('/steps?open=steps/paint-fish', {
      edit: revision(),
      name: `${name} twice`,
      part: 'fish',
      'phases.0.kind': 'hands',
      'phases.0.minutes': '35',
    });
    expect(saved.statusCode).toBe(303);
    const step = build().steps.find(({ id }) => id === 'paint-fish');
    expect([step?.name, step?.hazards]).toEqual([`${name} twice`, []]);
  });
});

describe('a hazard', () => {
  it('shows its facts, on what they rest and who publishes on them, and once who decides', async () => {
    const { body } = await fake.app.inject({ url: '/b/tide-wall/steps' });
    const text = plain(body);
    expect(text).toContain('mains electricity');
    expect(text).toContain(
      'A residual current device (RCD, GFCI) belongs in front of everything that people can touch.',
    );
    expect(text).toContain('(IEC 60364, NFPA 70; from memory)');
    expect(text).toContain('Who publishes on it: IEC 60364;');
    expect(text.split('Local codes, the venue and licensed people decide.')).toHaveLength(2);
  });

  it('is asked in the open, of steps and of gates, with who signs', async () => {
    const rare = (list: 'steps' | 'gates', key: string) =>
      FIELDS[list].find((field) => field.key === key)?.rare ?? false;
    expect([rare('steps', 'hazards'), rare('gates', 'hazards'), rare('gates', 'signedBy')]).toEqual([
      false,
      false,
      false,
    ]);
    const gate = build().gates![0]!;
    const { body } = await fake.app.inject({ url: `/b/tide-wall/steps?open=gates/${gate.id}` });
    expect(body).toContain('name="signedBy"');
    expect(body).toContain('value="moving-parts"');
  });
});
