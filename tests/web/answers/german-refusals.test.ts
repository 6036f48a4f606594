/**
 * What is refused to somebody who reads German: no sentence of ours is English, whichever way the bad input comes
 * (forms, quick lines, tables, files, counts of phones and programs) and wherever it was found (in the page, the
 * planner, the engine, a forecast that is kept).
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { createStore, openDatabase } from '../../../server/store/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { SAVED } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';
import { BUILD, countApp } from '../../support/count-app.ts';
import { type EnglishLeft, englishLeft } from './english-left.ts';

const GERMAN = { 'accept-language': 'de-DE,de;q=0.9' };

/** A lampion with something wrong in nearly every list: a forecast keeps what the engine found. */
const FLAWED: Build = {
  id: 'lampion',
  name: 'Lampion',
  zone: 'Europe/Berlin',
  event: '2026-12-20T18:00',
  loadIn: '2026-12-21T08:00',
  readyBy: '2026-12-22T08:00',
  strikeFrom: '2026-12-19T08:00',
  sets: { count: 2, name: 'Satz' },
  parameters: [
    { name: 'a', formula: 'b + 1' },
    { name: 'b', formula: 'a + 1' },
    { name: 'c', formula: '2 / 0' },
    { name: 'd', formula: 'c + 1' },
    { name: 'e', formula: '3 +' },
    { name: 'f', formula: 'fehlt * 2' },
    { name: 'g', formula: 'sqrt(0 - 1)' },
    { name: 'h', range: { low: 5, likely: 2, high: 1 } },
  ],
  limits: [
    { id: 'tor', name: 'Tor', of: '3' },
    { id: 'eng', name: 'Eng', of: '3', least: 5, most: 2 },
  ],
  parts: [
    { id: 'rippe', name: 'Rippe', source: 'make', count: 40 },
    { id: 'rippe', name: 'Rippe zwei', source: 'make', count: 4 },
    { id: 'leer', name: 'Leer', source: 'make' },
    { id: 'haken', name: 'Haken', source: 'buy', count: -3, supplier: 'niemand', due: '2027-01-20T10:00' },
    { id: 'draht', name: 'Draht', source: 'buy', count: 5 },
    { id: 'ring', name: 'Ring', source: 'make', usedIn: [{ part: 'ring', count: 1 }] },
    { id: 'kette', name: 'Kette', source: 'make', usedIn: [{ part: 'fort', count: 2 }], way: 'gibtsnicht' },
  ],
  suppliers: [{ id: 'zu', name: 'Zu', lead: { low: 5, likely: 3, high: 1 }, workingDays: 'wann' }],
  people: [
    { id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' },
    { id: 'ben', name: 'Ben', hours: 'never' },
    { id: 'cem', name: 'Cem', hours: 'mon 22:30-18:30' },
    { id: 'eva', name: 'Eva', hours: 'mon 10-25' },
  ],
  machines: [{ id: 'ofen', name: 'Ofen', hours: 'never' }],
  steps: [
    {
      id: 'biegen',
      name: 'Biegen',
      part: 'rippe',
      phases: [{ kind: 'hands', perUnit: { low: 9, likely: 4, high: 1 } }],
    },
    { id: 'kleben', name: 'Kleben', part: 'rippe', phases: [{ kind: 'hands', perUnit: 6, who: ['ben', 'dora'] }] },
    { id: 'brennen', name: 'Brennen', part: 'fort', phases: [{ kind: 'run', machine: 'kiln', minutes: '5 h' }] },
    { id: 'warten', name: 'Warten', takes: '-3 h', after: ['warten', 'nirgends'] },
    { id: 'lange', name: 'Lange', phases: [{ kind: 'hands', minutes: 900, oneGo: true, people: 3 }] },
    {
      id: 'malen',
      name: 'Malen',
      count: 5,
      phases: [{ kind: 'hands', perUnit: 3 }],
      pins: [
        { from: 4, to: 2 },
        { set: 9, people: ['ben'] },
        { from: 90, start: '2026-11-20T10:00' },
      ],
    },
  ],
  feeds: [
    { from: 'malen', to: 'lange', type: 'units' },
    { from: 'kleben', to: 'malen', type: 'finish-start' },
    { from: 'malen', to: 'kleben', type: 'finish-start' },
  ],
  boxes: [{ id: 'kiste', name: 'Kiste', parts: [{ part: 'fort', count: 1 }], opensAt: 'nie' }],
  points: [{ id: 'oben', name: 'Oben', load: 4, limit: 10, gate: 'keine' }],
  strike: [{ id: 'ab', name: 'Abbauen', minutes: 60, who: ['dora'] }],
};

const GOOD: Build = {
  id: 'laterne',
  name: 'Laterne',
  zone: 'Europe/Berlin',
  event: '2026-12-20T18:00',
  parts: [{ id: 'rippe', name: 'Rippe', source: 'make', count: 40 }],
  people: [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' }],
  machines: [{ id: 'ofen', name: 'Ofen' }],
  steps: [
    { id: 'biegen', name: 'Biegen', part: 'rippe', phases: [{ kind: 'hands', perUnit: 4 }] },
    { id: 'kleben', name: 'Kleben', part: 'rippe', phases: [{ kind: 'hands', perUnit: 6 }] },
  ],
  gates: [{ id: 'probe', name: 'Probe', after: ['kleben'], minutes: 10 }],
};

let real: RealApp;
let english: EnglishLeft;

beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  const store = createStore(db.value);
  // No edit would let it in: an older Daywright did.
  store.builds.create(FLAWED, SAVED);
  real = await realApp(store, NOON);
  const made = await real.planner.create(GOOD, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.snapshot(FLAWED.id);
  await real.planner.settled();
  english = await englishLeft();
});
afterAll(() => real.close());

const form = (fields: Readonly<Record<string, string>>) => ({
  payload: new URLSearchParams(fields).toString(),
  headers: { ...GERMAN, 'content-type': 'application/x-www-form-urlencoded' },
});
const post = (url: string, fields: Readonly<Record<string, string>>) =>
  real.app.inject({ method: 'POST', url, ...form(fields) });
const edit = () => String(real.planner.build('laterne')!.revision);

/** Holds that an answer says in German what is wrong. */
function expectGerman(answer: Awaited<ReturnType<typeof post>>, least = 400): void {
  expect(answer.statusCode).toBeGreaterThanOrEqual(least);
  expect(answer.headers['content-language']).toBe('de');
  expect(answer.headers.vary).toContain('accept-language');
  expect(english.in(answer.body)).toEqual([]);
}

describe('a form in German', () => {
  it.each<readonly [string, Readonly<Record<string, string>>]>([
    ['/design?open=parameters/new', { name: 'Anzahl', quantity: '2 *' }],
    ['/design?open=parameters/new', { name: 'Anzahl', quantity: '5 to 2, likely 9' }],
    ['/design?open=parameters/new', { name: 'Anzahl', quantity: '1 / 0' }],
    ['/design?open=parameters/new', { name: 'Anzahl', quantity: '2,5,7 * x' }],
    ['/design?open=limits/new', { name: 'Tor', of: '3', least: '5', most: '2' }],
    ['/design?open=parts/new', { name: '', source: 'make' }],
    ['/design?open=parts/new', { name: 'Stab', source: 'make', count: '-2' }],
    ['/design?open=parts/new', { name: 'Stab', source: 'make', count: '2 * fehlt' }],
    [
      '/design?open=parts/new',
      { name: 'Stab', source: 'buy', count: '2', packSize: '1.5', waste: '0.2', onHand: '2.5' },
    ],
    ['/design?open=parts/new', { name: 'Stab', source: 'make', count: '2', yield: '3' }],
    ['/design?open=parts/new', { name: 'Stab', id: 'Groß Falsch', source: 'make', count: '2' }],
    ['/hands?open=people/new', { name: 'Dora', hours: 'montags 9-17' }],
    ['/hands?open=people/new', { name: 'Dora', hours: 'mon 9' }],
    ['/hands?open=people/new', { name: 'Dora', hours: 'mon 22:30-18:30' }],
    [
      '/hands?open=people/new',
      { name: 'Dora', hours: 'daily 9-17', 'exceptions.0.date': 'x', 'exceptions.0.hours': 'x' },
    ],
    ['/hands?open=machines/new', { name: 'Säge', count: '0' }],
    ['/hands?open=suppliers/new', { name: 'Lack', lead: '9 to 2' }],
    ['/hands?open=suppliers/new', { name: 'Lack', lead: '3', cutOff: '25:99', holidays: '2026-13-40' }],
    ['/steps?open=steps/new', { name: 'Feilen', 'phases.0.kind': 'hands', 'phases.0.perUnit': '-4' }],
    ['/steps?open=steps/new', { name: 'Feilen', 'phases.0.kind': 'run', 'phases.0.minutes': '30' }],
    ['/steps?open=steps/biegen', { name: 'Biegen', 'pins.0.from': 'fünf', 'pins.0.start': 'mittags' }],
    ['/steps?open=gates/new', { name: 'Sichten', minutes: 'lang', failChance: '3' }],
    ['/steps?open=feeds/new', { from: 'biegen', to: 'biegen', type: 'units', ratio: '0' }],
    ['/contents?open=build', { name: 'Laterne', zone: 'Europa/Berlin', event: '2026-12-20T18:00' }],
    [
      '/contents?open=build',
      { name: 'Laterne', zone: 'Europe/Berlin', event: '2026-12-20T18:00', readyBy: '2027-01-01T10:00' },
    ],
    ['/contents?open=build', { name: 'Laterne', zone: 'Europe/Berlin', event: '2056-12-20T18:00' }],
    ['/contents?open=build', { name: 'Laterne', zone: 'Europe/Berlin', event: '2026-11-31T18:00' }],
    ['/show?open=boxes/new', { name: 'Kiste', width: '600' }],
    ['/show?open=passages/new', { name: 'Bus', kind: 'van', width: '900', height: '900' }],
    ['/design?open=parts/rippe', { name: 'Rippe', source: 'make', count: '40', do: 'remove' }],
  ])('to %s says what is wrong with %j', async (path, fields) => {
    expectGerman(await post(`/b/laterne${path}`, { edit: edit(), ...fields }));
  });

  it('begun on an older edit says who has changed the build since', async () => {
    expectGerman(
      await post('/b/laterne/design?open=parts/rippe', { edit: '0', name: 'Rippe', source: 'make', count: '3' }),
    );
  });

  it('names the field as it is named above its input', async () => {
    const { body } = await post('/b/laterne/design?open=parts/new', {
      edit: edit(),
      name: 'Stab',
      source: 'make',
      count: '-2',
    });
    expect(body).toContain('„Wie viele“ muss mindestens 0 sein; hier steht -2.');
  });

  it.each([
    [{ name: '', zone: '', event: '' }],
    [{ name: 'Tor', zone: 'Nirgends/Hier', event: 'bald' }],
    [{ name: 'Tor', zone: 'Europe/Berlin', event: '2020-01-01T10:00' }],
    [{ name: 'Tor', zone: 'Europe/Berlin', event: '2026-12-20T18:00', who: 'Ana', hours: 'montags' }],
    [{ name: 'Tor', zone: 'Europe/Berlin', event: '2026-12-20T18:00', who: 'Ana', hours: '' }],
    [{ name: 'Tor', zone: 'Europe/Berlin', event: '2026-12-20T18:00', others: 'Bo: mon 25-99', machines: '2 x' }],
  ])('that begins a build says what is wrong with %j', async (fields) => {
    expectGerman(await post('/builds', fields));
  });
});

describe('other pages in German', () => {
  it.each<readonly [string, Readonly<Record<string, string>>]>([
    ['/lines', { lines: '', action: 'add' }],
    ['/lines', { lines: `40 hooks, ${'x'.repeat(3000)}`, action: 'read' }],
    ['/history', { undo: '99' }],
    ['/history', { undo: '1' }],
    ['/options', { do: 'adopt', option: '7' }],
    ['/tables', { list: 'parts', text: '', do: 'look' }],
    ['/tables', { list: 'parts', text: 'Name;Wie viele\nStab;viele', do: 'look' }],
    ['/tables', { list: 'log', text: 'id,kind,step,n,at\nno 1,done,weg,1,2026-11-24 10:05', do: 'look' }],
    ['/tables', { list: 'log', text: 'kind,step,n,at\ndone,probe,0,morgen', do: 'look' }],
    ['/close', {}],
    ['/orders', { step: 'nichts', units: '5' }],
    ['/show/packed', { box: 'nichts' }],
    ['/show/take', { code: 'x', of: 'y' }],
    ['/levers', { adopt: 'x', edit: '1' }],
    ['/ways', { part: 'x', way: 'y', edit: '1' }],
    ['/wrong', { kind: 'lost' }],
    ['/after', { keep: 'x' }],
    ['/calendar', { person: 'x', alarm: '-4' }],
  ])('refuse at %s %j', async (path, fields) => {
    expectGerman(await post(`/b/laterne${path}`, { edit: edit(), ...fields }));
  });

  it('show what the engine found wrong with a build, as it is kept with the forecast', async () => {
    const found = real.planner.latest('lampion')!.forecast.problems;
    expect(found.length).toBeGreaterThan(30);
    for (const path of ['', '/steps', '/design', '/waits', '/hands', '/show', '/now', '/paper']) {
      const answer = await real.app.inject({ url: `/b/lampion${path}`, headers: GERMAN });
      expect([path, answer.statusCode, english.in(answer.body)]).toEqual([path, 200, []]);
    }
    const { body, headers } = await real.app.inject({ url: '/b/lampion/forecast.json', headers: GERMAN });
    expect(headers['content-language']).toBe('de');
    const { problems } = JSON.parse(body) as { problems: { message: string; sentence?: unknown }[] };
    expect(problems).toHaveLength(found.length);
    for (const one of problems) expect([english.in(one.message), one.sentence]).toEqual([[], undefined]);
  });

  it('say in English what they say to readers of English', async () => {
    const answer = await real.app.inject({ url: '/b/lampion/forecast.json' });
    expect(answer.headers['content-language']).toBe('en');
    const { problems } = answer.json<{ problems: { message: string }[] }>();
    const found = real.planner.latest('lampion')!.forecast.problems;
    expect(problems.map(({ message }) => message)).toEqual(found.map(({ message }) => message));
  });
});

describe('a file in German', () => {
  it.each([
    ['kaputt.json', '{'],
    ['kaputt.yaml', 'a: [1'],
    ['zweimal.yaml', 'a: 1\na: 2'],
    ['liste.json', '[]'],
    ['fremd.json', '{"format":"x"}'],
    ['neu.json', '{"format":"daywright-build","version":9}'],
    ['leer.json', '{"format":"daywright-build","version":1,"build":{}}'],
    [
      'falsch.json',
      JSON.stringify({
        format: 'daywright-build',
        version: 1,
        build: {
          ...{ id: 'Groß', name: 3, zone: '', event: 'bald', colour: 1, askedChance: 4 },
          parts: [{ id: 'a', name: 'A', source: 'grow', count: {} }],
          steps: [{ id: 'b', name: 'B', phases: [{ kind: 'dream' }, { kind: 'hands', people: 0 }] }],
          people: [{ id: 'c', name: 'C', hours: 7 }],
        },
        log: [{ id: 'x' }],
      }),
    ],
    ['fehler.json', JSON.stringify({ format: 'daywright-build', version: 1, build: { ...FLAWED, id: 'neu' } })],
    ['da.json', JSON.stringify({ format: 'daywright-build', version: 1, build: GOOD })],
    ['', ''],
  ])('%s says why it cannot be taken in', async (name, text) => {
    const edge = 'kante';
    const head = `--${edge}\r\nContent-Disposition: form-data; name="file"; filename="${name}"\r\n\r\n`;
    const payload = `${head}${text}\r\n--${edge}--\r\n`;
    const headers = { ...GERMAN, 'content-type': `multipart/form-data; boundary=${edge}` };
    for (const url of ['/builds/file', '/b/laterne/history/file']) {
      const answer = await real.app.inject({ method: 'POST', url, headers, payload });
      if (answer.statusCode !== 404) expectGerman(answer);
    }
  });
});

describe('a count in German', () => {
  const at = '2026-11-30T10:00:00Z';
  const send = (payload: object, headers: Record<string, string> = GERMAN) =>
    real.app.inject({ method: 'POST', url: '/b/laterne/entries', payload, headers });

  it('that cannot be taken says why, for each entry', async () => {
    const whole = { id: 'eintrag-0', kind: 'done', step: 'biegen', n: 1, at };
    const wrong = [
      { id: 'x' },
      { kind: 'done', step: 'biegen', at },
      { kind: 'done', step: 'weg', n: 1, at },
      { kind: 'passed', step: 'biegen', at },
      { kind: 'done', step: 'probe', n: 1, at },
      { kind: 'received', step: 'biegen', n: 2, at },
      { kind: 'loaded', step: 'biegen', n: 2, at, machine: 'kiln' },
      { kind: 'done', step: 'biegen', n: 1, at: '2031-01-01T00:00:00Z' },
      { kind: 'done', step: 'biegen', n: 1, at: '2019-01-01T00:00:00Z' },
      { kind: 'done', step: 'biegen', n: 1, at: '2024-01-01T00:00:00Z' },
      { kind: 'undo', undoes: 'nicht-da-1', at },
      { kind: 'undo', at },
      { kind: 'confirmed', confirms: 'nicht-da-1', at },
      { kind: 'lost', person: 'ana', machine: 'ofen', until: '2026-11-30T09:00:00Z', at },
      { kind: 'lost', person: 'ana', n: 2, until: '2026-11-30T11:00:00Z', at },
      { kind: 'packed', box: 'nicht-da', at },
      { kind: 'done', step: 'biegen', set: 7, n: 1, at },
      { kind: 'done', step: 'biegen', n: 1, counted: true, undoes: 'a-b-c-d-e', confirms: 'a-b-c-d-e', box: 'x', at },
      { kind: 'träumt', at },
      7,
    ].map((entry, i) => (typeof entry === 'object' ? { id: `eintrag-${i + 1}`, ...entry } : entry));
    const answer = await send({ entries: [whole, ...wrong, { ...whole, n: 5 }] });
    expect([answer.statusCode, answer.headers['content-language']]).toEqual([200, 'de']);
    const { receipts } = answer.json<{ receipts: { state: string; problems: { message: string }[] }[] }>();
    expect(receipts.map(({ state }) => state).filter((state) => state === 'refused')).toHaveLength(wrong.length + 1);
    expect(english.in(answer.body)).toEqual([]);
    expect(answer.body).not.toContain('"sentence"');
  });

  it('that is doubted is asked about, also after it was kept', async () => {
    const entry = { id: 'viele-12345', kind: 'done', step: 'kleben', n: 400, at };
    const answer = await send({ entries: [entry] });
    const { receipts } = answer.json<{ receipts: { questions: string[] }[] }>();
    expect(receipts[0]!.questions[0]).toMatch(/^„Kleben“ hat noch 40 übrig, dieser Eintrag sagt 400: Sind es mehr/);
    const now = await real.app.inject({ url: '/b/laterne/count/now', headers: GERMAN });
    expect(now.body).toContain('Sind es mehr als geplant');
    const inEnglish = await real.app.inject({ url: '/b/laterne/count/now' });
    expect(inEnglish.body).toContain('are there more than planned, or is it a slip?');
  });

  it('that is no list of entries is refused in German, and in English to a program that asks for nothing', async () => {
    for (const payload of [{}, { entries: 5 }, { entries: Array.from({ length: 501 }, () => 1) }]) {
      expectGerman(await send(payload));
    }
    const answer = await send({}, { accept: 'application/json' });
    expect([answer.headers['content-language'], answer.body]).toEqual(['en', expect.stringMatching(/"problem":"/)]);
  });
});

describe('every route in German', () => {
  it('refuses strangers, and a build that is not there, without a word of English', async () => {
    const bench = await countApp();
    const cookie = bench.makerCookie();
    for (const route of bench.routes) {
      const [method, path] = route.split(' ') as ['GET' | 'POST', string];
      const to = (id: string) => path.replace(':id', id).replace(/:\w+|\*/g, 'x');
      const headers = { ...GERMAN, accept: 'application/json' };
      for (const [url, own] of [
        [to(BUILD), headers],
        [to('gibts-nicht'), { ...headers, cookie }],
      ] as const) {
        if (/live|leave|assets|language|light/.test(url)) continue;
        const answer = await bench.app.inject({ method, url, headers: own });
        expect([route, answer.statusCode < 400 ? [] : english.in(answer.body)]).toEqual([route, []]);
      }
    }
    await bench.close();
  });
});
