import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { isZone } from '../../server/engine/index.ts';
import { CITIES } from '../../server/web/places/cities.ts';
import { zoneOf } from '../../server/web/places/zones.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { fakeBuild } from '../support/fake-build.ts';

let fake: FakeApp;
beforeEach(async () => {
  fake = await fakeApp({ empty: true });
});
afterEach(() => fake.close());

const file = { format: 'daywright-build', version: 1, build: fakeBuild() };

function upload(text: string, name = 'wall.json') {
  const edge = 'edge-of-a-part';
  const head = `--${edge}\r\nContent-Disposition: form-data; name="file"; filename="${name}"\r\n\r\n`;
  return fake.app.inject({
    method: 'POST',
    url: '/builds/file',
    headers: { 'content-type': `multipart/form-data; boundary=${edge}` },
    payload: `${head}${text}\r\n--${edge}--\r\n`,
  });
}

function begin(fields: Record<string, string>) {
  return fake.app.inject({
    method: 'POST',
    url: '/builds',
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams(fields).toString(),
  });
}

describe('the list of builds', () => {
  it('shows each build with its event on its own clock', async () => {
    await fake.planner.create(fakeBuild(), [], 'maker');
    const { body } = await fake.app.inject('/');
    expect(body).toContain('<a href="/b/tide-wall">Tide Wall</a>');
    expect(body).toContain('event Sat 5 Dec 19:00');
  });

  it('says how to begin where there is none', async () => {
    expect((await fake.app.inject('/')).body).toContain('No build yet');
  });
});

describe('beginning a build', () => {
  it('makes it from a name, a zone and an event, and asks for hands next', async () => {
    const answer = await begin({ name: 'Lantern Gate', zone: 'Europe/Amsterdam', event: '2026-12-20T18:00' });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/lantern-gate/hands?open=people/new']);
    expect(fake.planner.build('lantern-gate')?.build.event).toBe('2026-12-20T18:00');
  });

  it('takes another short name where one is taken', async () => {
    const fields = { name: 'Lantern Gate', zone: 'Europe/Amsterdam', event: '2026-12-20T18:00' };
    await begin(fields);
    expect((await begin(fields)).headers.location).toBe('/b/lantern-gate-2/hands?open=people/new');
  });

  const GATE = { name: 'Lantern Gate', zone: 'Europe/Amsterdam', event: '2026-12-20T18:00' };

  it('takes who helps and the machines with it, and asks for the work next', async () => {
    const answer = await begin({
      ...GATE,
      who: 'Ada',
      hours: 'evenings and weekend days',
      others: 'Bo: sat 9-17\r\nCy, mon 18-20',
      machines: 'Printer alone at night, 2 x Saw',
    });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/lantern-gate/lines']);
    const { people, machines } = fake.planner.build('lantern-gate')!.build;
    expect(people).toEqual([
      { id: 'ada', name: 'Ada', hours: 'Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00' },
      { id: 'bo', name: 'Bo', hours: 'sat 9-17' },
      { id: 'cy', name: 'Cy', hours: 'mon 18-20' },
    ]);
    expect(machines).toEqual([
      { id: 'printer', name: 'Printer', unattended: true, overnight: true },
      { id: 'saw', name: 'Saw', count: 2 },
    ]);
  });

  it('fills in the hours that are picked, keeps all else that was typed, and makes nothing yet', async () => {
    const { statusCode, body } = await begin({ ...GATE, who: 'Ada', machines: 'Saw', do: 'week:evenings' });
    expect(statusCode).toBe(200);
    for (const kept of ['Mon to Fri 18:00 to 22:00', 'Lantern Gate', '2026-12-20T18:00', 'Ada', 'Saw']) {
      expect(body).toContain(`value="${kept}"`);
    }
    expect(fake.planner.builds()).toEqual([]);
  });

  it.each([
    ['hours', { who: 'Ada', hours: 'mon 18-25' }, '&quot;18-25&quot; is not on the clock'],
    ['hours', { who: 'Ada' }, '“Hours” is empty, but “Who helps” is &quot;Ada&quot;.'],
    ['who', { hours: 'evenings' }, '“Who helps” is empty, but there are hours'],
    [
      'others',
      { who: 'Me', others: 'Bo: sat 9-17\nsometimes' },
      'Line 2, &quot;sometimes&quot;, is not a name with hours',
    ],
    ['others', { who: 'Me', others: 'Bo: sat 9-25' }, 'Line 1: &quot;9-25&quot; is not on the clock'],
    ['machines', { who: 'Me', machines: 'Saw, 3' }, '&quot;3&quot; has no name'],
    ['machines', { who: 'Me', machines: '900 Saw' }, 'must be at most 100; it is 900'],
  ])('refuses what is wrong at “%s” there, with the rest kept: %j', async (field, typed, sentence) => {
    const { statusCode, body } = await begin({ ...GATE, ...typed });
    expect(statusCode).toBe(422);
    const label = body.slice(body.indexOf(`<label for="${field}"`));
    expect(label.slice(0, label.indexOf('</p>'))).toContain(sentence);
    expect(body).toContain('value="Lantern Gate"');
    expect(fake.planner.builds()).toEqual([]);
  });

  it('refuses an event that is no date, beside the field, and keeps what was typed', async () => {
    const answer = await begin({ name: 'Lantern Gate', zone: 'Europe/Amsterdam', event: 'soon' });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('value="Lantern Gate"');
    expect(answer.body).toMatch(/“Event” must be a date and time such as 2026-12-05T19:00; it is &quot;soon&quot;/);
    expect(fake.planner.builds()).toEqual([]);
  });

  it('says in the words of the form what is not filled in', async () => {
    const { body } = await begin({ name: '', zone: '', event: '' });
    expect(body).toContain('“Name” must be filled in; it is empty.');
    expect(body).toContain('“Time zone of the place” must be filled in; it is empty.');
    expect(body).toContain('“Event” must be a date and time such as 2026-12-05T19:00; it is empty.');
  });

  it('proposes no zone of its own: the browser does, and what was typed stays', async () => {
    const { body } = await fake.app.inject('/');
    expect(body).toMatch(/<input id="zone" name="zone" value list="zones" data-own-zone="[^"]+"/);
    expect((await begin({ name: '', zone: 'new york', event: '' })).body).toContain(
      'name="zone" value="America/New_York"',
    );
  });

  it.each([{}, { name: '' }, { name: 'x' }])('refuses %j', async (fields) => {
    expect((await begin(fields as Record<string, string>)).statusCode).toBe(422);
    expect(fake.planner.builds()).toEqual([]);
  });
});

describe('reading in a file', () => {
  it.each([
    ['JSON', JSON.stringify(file)],
    ['YAML', stringify(file)],
  ])('takes %s', async (_kind, text) => {
    const answer = await upload(text);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/b/tide-wall']);
    expect(fake.planner.build('tide-wall')?.build).toEqual(fakeBuild());
  });

  it.each([
    ['of another version', JSON.stringify({ ...file, version: 2 }), 'version 1'],
    ['of another format', '{"format":"other"}', 'format'],
    ['that is cut off', '{"format":', 'The file is not JSON'],
    ['that is no list of names', 'just words', 'A build file is an object'],
    ['with a name that is not known', JSON.stringify({ ...file, extra: 1 }), 'extra'],
    ['that is empty', '', 'Choose a file first'],
  ])('refuses one %s with a sentence and keeps nothing', async (_kind, text, sentence) => {
    const answer = await upload(text);
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain(sentence);
    expect(fake.planner.builds()).toEqual([]);
  });

  it('refuses one whose build is too large, whatever its log', async () => {
    const answer = await upload(
      JSON.stringify({ ...file, build: { ...file.build, note: 'x'.repeat(9 * 1024 * 1024) } }),
    );
    expect(answer.statusCode).toBe(413);
    expect(answer.body).toContain('at most 8 MB');
  });

  it('refuses what is no upload', async () => {
    const answer = await fake.app.inject({ method: 'POST', url: '/builds/file', payload: 'file=1' });
    expect(answer.statusCode).toBeGreaterThanOrEqual(400);
    expect(answer.statusCode).toBeLessThan(500);
  });
});

describe('a place', () => {
  it.each([
    ['new york', 'America/New_York'],
    ['Auckland', 'Pacific/Auckland'],
    ['europe/lisbon', 'Europe/Lisbon'],
    [' são  PAULO', 'America/Sao_Paulo'],
    ['St Johns', 'America/St_Johns'],
    ['München, Germany', 'Europe/Berlin'],
    ['munich', 'Europe/Berlin'],
    ['Koeln', 'Europe/Berlin'],
    ['København', 'Europe/Copenhagen'],
    ['Łódź', 'Europe/Warsaw'],
    ['San Francisco', 'America/Los_Angeles'],
    ['Mumbai', 'Asia/Kolkata'],
    ['Nowhere', 'Nowhere'],
  ])('%s is in the zone %s', (typed, zone) => {
    expect(zoneOf(typed)).toBe(zone);
  });

  it('has a zone that exists, and one only, for each further city', () => {
    const cities = Object.values(CITIES).flatMap((names) => names.split(' '));
    expect(cities.length).toBeGreaterThan(250);
    expect(new Set(cities).size).toBe(cities.length);
    expect(Object.keys(CITIES).filter((zone) => !isZone(zone))).toEqual([]);
  });
});

describe('beginning', () => {
  it('asks for ready-by and load-in at once, and takes a city for its zone', async () => {
    const fields = { name: 'Arch', zone: 'new york', event: '2026-12-20T18:00', loadIn: '2026-12-20T08:00' };
    await begin({ ...fields, readyBy: '2026-12-18T18:00' });
    expect(fake.planner.build('arch')?.build).toMatchObject({
      zone: 'America/New_York',
      readyBy: '2026-12-18T18:00',
      loadIn: '2026-12-20T08:00',
    });
  });
});
