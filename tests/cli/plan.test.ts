import { spawnSync } from 'node:child_process';
import { truncateSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Forecast } from '../../server/model/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, tap } from '../store/helpers.ts';
import { buildFile, daywright, fileOf } from './helpers.ts';
import { programArguments } from './program.ts';

/**
 * A network of plain durations: CPM-3 of the check values (a small-business CPA tutorial), 11 weeks, path A-B-D-F-G.
 */
const TEXTBOOK = `
format: daywright-build
version: 1
build:
  id: textbook
  name: Textbook network
  zone: UTC
  start: 2026-12-01T00:00
  event: 2027-06-01T00:00
  steps:
    - { id: a, name: A, takes: 1 w }
    - { id: b, name: B, takes: 3 w, after: [a] }
    - { id: c, name: C, takes: 2 w, after: [a] }
    - { id: d, name: D, takes: 3 w, after: [b] }
    - { id: e, name: E, takes: 3 w, after: [c] }
    - { id: f, name: F, takes: 2 w, after: [d, e] }
    - { id: g, name: G, takes: 2 w, after: [f] }
`;
const WEEK = 7 * 1440;

describe('daywright plan', () => {
  it('computes a textbook network without people or machines from YAML', async () => {
    const { code, out, err } = await daywright([
      'plan',
      fileOf(TEXTBOOK, 'textbook.yaml'),
      '--json',
      '--now',
      '2026-12-01T00:00Z',
    ]);
    expect([code, err]).toEqual([0, '']);
    const forecast = JSON.parse(out) as Forecast;
    const start = forecast.now;
    const weeks = (id: string): (number | undefined)[] => {
      const dates = forecast.steps.find((step) => step.id === id)?.dates;
      return [dates?.earlyStart, dates?.earlyFinish].map((t) =>
        typeof t === 'number' ? (t - start) / WEEK : undefined,
      );
    };
    expect(['a', 'b', 'c', 'd', 'e', 'f', 'g'].map(weeks)).toEqual([
      [0, 1],
      [1, 4],
      [1, 3],
      [4, 7],
      [3, 6],
      [7, 9],
      [9, 11],
    ]);
    const slack = (id: string) => forecast.steps.find((step) => step.id === id)!.dates!;
    expect([slack('c').slackToOwnEnd! / WEEK, slack('c').freeSlackClock! / WEEK]).toEqual([1, 0]);
    expect([slack('e').slackToOwnEnd! / WEEK, slack('e').freeSlackClock! / WEEK]).toEqual([1, 1]);
    const steps = new Map(forecast.lots.map((lot) => [lot.id, lot.step]));
    expect(forecast.criticalPath.map((lot) => steps.get(lot))).toEqual(['a', 'b', 'd', 'f', 'g']);
  });

  it('tells a person when it is ready, the room, the path and what is left', async () => {
    const { code, out } = await daywright(['plan', fileOf(buildFile(lantern(), [tap('entry-0001', { n: 12 })]))]);
    expect(code).toBe(0);
    expect(out).toMatch(/^Lantern {3}\(Europe\/Berlin, now Mon 30 Nov 13:00\)\n/);
    expect(out).toMatch(/^Ready {5}\w{3} \d/m);
    expect(out).toMatch(/^Event {5}Sun 20 Dec 18:00 +room 19 days/m);
    expect(out).toMatch(/^ {2}cut ribs +28 of 40 ribs left/m);
    expect(out).toMatch(/^ {2}glue ribs +\w.* to \w/m);
    expect(out).toMatch(/^Why this date\n {2}\w{3} \d.*: can start at once/m);
    expect(out).toMatch(/[Nn]o plan can be ready before \w{3} \d|earliest possible finish is \w{3} \d/);
  });

  it('says how likely that is, what threatens it, and that it was planned anew', async () => {
    const sure = await daywright(['plan', fileOf(buildFile(lantern()))]);
    expect(sure.out).toMatch(/^over 99 % likely by the ready-by, over 99 % by the event\neven chance \w{3} \d/m);
    expect(sure.out).not.toContain('What threatens the date');
    expect(sure.out).toMatch(/Worked out from the file alone\..*\n$/);
    const late = await daywright(['plan', fileOf(buildFile(lantern({ event: '2026-11-30T15:00' })))]);
    expect(late.out).toMatch(/^under 1 % likely by the ready-by/m);
    expect(late.out).toMatch(/^What threatens the date\n {2}\w+ ribs: 40 of 40 units left/m);
  });

  it('takes now from the flag or else from the clock', async () => {
    const path = fileOf(buildFile(lantern()));
    const nowOf = async (...flags: string[]) =>
      (JSON.parse((await daywright(['plan', path, '--json', ...flags])).out) as Forecast).now;
    expect(await nowOf()).toBe(NOON);
    expect(await nowOf('--now', '2026-11-30T13:00+01:00')).toBe(NOON);
    expect(await nowOf('--now', '2026-11-30T13:00Z')).toBe(NOON + 60);
    // The lantern hangs in Berlin, an hour ahead of UTC in winter.
    expect(await nowOf('--now', '2026-11-30T13:00')).toBe(NOON);
  });

  it('searches for the seconds that it is asked to, and then says what it has found', () => {
    // Two people of unequal hours, and coats that dry in between: the bound is never met, and orders never run out.
    const file = buildFile(
      lantern({
        people: [
          { id: 'ana', name: 'Ana', hours: 'daily 18:00-22:00' },
          { id: 'ben', name: 'Ben', hours: 'sat-sun 09:00-13:00 14:00-18:00' },
        ],
        steps: ['cut', 'coat', 'fit', 'mount'].map((id, i) => ({
          id,
          name: id,
          part: 'ribs',
          lotSize: 3,
          phases: [
            { kind: 'hands', perUnit: 6 - i },
            { kind: 'wait', minutes: 100 + 30 * i },
            { kind: 'hands', perUnit: 3 },
          ],
        })),
      }),
    );
    const args = ['plan', fileOf(file), '--now', '2026-11-30T12:00Z', '--budget', '0.5', '--json'];
    // In a process of its own: a search that does not end could not be ended from here.
    const run = spawnSync(process.execPath, [...programArguments('server/cli.ts'), ...args], {
      encoding: 'utf8',
      maxBuffer: 1e8,
      timeout: 80_000,
    });
    expect([run.signal, run.stderr]).toEqual([null, '']);
    expect((JSON.parse(run.stdout) as Forecast).room.readyBy.finish).not.toBeNull();
  });

  it('shows all that can be computed of a plan with an error, and exits with 2', async () => {
    const build = lantern();
    build.steps.push({ id: 'sand', name: 'sand', count: 'no_such_name', phases: [{ kind: 'hands', perUnit: 1 }] });
    const { code, out, err } = await daywright(['plan', fileOf(buildFile(build)), '--json']);
    expect(code).toBe(2);
    expect(err).toMatch(/^error {4}steps\.sand\.count: .*no_such_name/m);
    const forecast = JSON.parse(out) as Forecast;
    expect(forecast.complete).toBe(false);
    expect(forecast.steps.find((step) => step.id === 'cut')?.left).toBe(40);
    expect(forecast.room.readyBy.finish).not.toBeNull();
  });

  it.each(['levers', 'ways'])('says under %s too what is wrong with the plan, and exits with 2', async (command) => {
    const build = lantern();
    build.steps.push({ id: 'sand', name: 'sand', count: 'no_such_name', phases: [{ kind: 'hands', perUnit: 1 }] });
    const { code, out, err } = await daywright([command, fileOf(buildFile(build)), '--json']);
    expect(code).toBe(2);
    expect(err).toMatch(/^error {4}steps\.sand\.count: .*no_such_name/m);
    expect(JSON.parse(out)).toMatchObject({ present: null, isDone: true });
  });

  it('says one chance of one file, whichever command is asked', async () => {
    const build = lantern({ event: '2026-12-01T17:00' });
    build.steps[0]!.phases = [{ kind: 'hands', perUnit: { low: 5, likely: 8, high: 16 } }];
    build.steps[1]!.phases = [{ kind: 'hands', perUnit: { low: 5, likely: 8, high: 12 } }];
    const asked = async (command: string) =>
      JSON.parse((await daywright([command, fileOf(buildFile(build)), '--json'])).out);
    const { risk, room } = (await asked('plan')) as Forecast;
    expect(risk!.readyBy.chance).toBeGreaterThan(0.1);
    expect(risk!.readyBy.chance).toBeLessThan(0.9);
    const said = { readyAt: room.readyBy.finish, chance: risk!.readyBy.chance };
    expect((await asked('levers')).present).toMatchObject(said);
  });

  it('tells no chance beside an error, which would promise what was left out', async () => {
    const build = lantern();
    build.steps[0]!.phases = [{ kind: 'hands', perUnit: { low: 9, likely: 5, high: 3 } }];
    const { code, out } = await daywright(['plan', fileOf(buildFile(build))]);
    expect(code).toBe(2);
    expect(out).toMatch(/^These dates are of what could be planned, so there is no chance yet/m);
    expect(out).not.toMatch(/likely by the ready-by/);
  });
});

describe('a file that cannot be a build', () => {
  const file = (changes: object) => fileOf({ ...buildFile(lantern()), ...changes });
  it.each<[string, () => string, RegExp]>([
    ['is not there', () => '/nowhere/build.json', /there is no such file/],
    ['is a folder', () => '/', /it is a folder; name a file/],
    ['is of another version', () => file({ version: 9 }), /^error {4}version: .*version 1 .*says 9/],
    ['is of another format', () => file({ format: 'recipes' }), /^error {4}format: .*"recipes"/],
    ['is broken JSON', () => fileOf('{"format": '), /is not JSON: /],
    ['is broken YAML', () => fileOf('a: [1, 2', 'build.yaml'), /is not YAML: .*line 1/],
    ['says a key twice in YAML', () => fileOf('a: 1\na: 2', 'build.yaml'), /is not YAML: .*unique/],
    ['is no object', () => fileOf('[1]'), /this is a list/],
    ['is no UTF-8', () => fileOf(Buffer.from([0x7b, 0xff, 0x7d])), /it is not UTF-8 text/],
    ['is nested beyond reason', () => fileOf('['.repeat(200_000), 'build.yaml'), /nested too deeply|is not YAML/],
    [
      'is nested where a name belongs',
      () => fileOf(deepFile(100)),
      /"build\.event" must be a string; it is something nested too deeply/,
    ],
    ['is nested beyond reason as JSON', () => fileOf(deepFile(100_000)), /is not JSON: it is nested too deeply/],
    ['has a key nobody knows', () => file({ build: { ...lantern(), colour: 'red' } }), /"colour"/],
    [
      'has a key that reaches for the prototype',
      () => fileOf(`{"__proto__": {"format": "daywright-build"}}`),
      /format/,
    ],
    ['has a negative time', () => file({ build: lantern({ steps: [{ id: 'x', name: 'x', stations: -1 }] }) }), /-1/],
  ])('is refused in a sentence when it %s', async (_, path, said) => {
    const { code, out, err } = await daywright(['plan', path()]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(said);
    expect(err.length).toBeLessThan(2000);
  });

  it('is refused unread when it has more than 64 MB, as on the page', async () => {
    const path = fileOf('');
    truncateSync(path, 64 * 1024 * 1024 + 1);
    const { code, err } = await daywright(['plan', path]);
    expect(code).toBe(2);
    expect(err).toMatch(/65 MB; a build file has at most 64 MB/);
  });

  it('is refused when its aliases multiply', async () => {
    const lines = ['a: &a [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]'];
    for (let i = 0; i < 9; i++) {
      const [from, to] = ['abcdefghij'[i]!, 'abcdefghij'[i + 1]!];
      lines.push(`${to}: &${to} [${Array(10).fill(`*${from}`).join(', ')}]`);
    }
    const { code, err } = await daywright(['plan', fileOf(lines.join('\n'), 'build.yaml')]);
    expect(code).toBe(2);
    expect(err).toMatch(/is not YAML: .*alias/i);
  });

  it('prints what is dangerous with who decides about it, and limits of work with their source', async () => {
    const file = `
format: daywright-build
version: 1
build:
  id: beacon
  name: Beacon
  zone: UTC
  start: 2026-12-01T18:00
  event: 2026-12-20T18:00
  people: [{ id: ada, name: Ada, hours: 'daily 18:00-01:00' }]
  machines: [{ id: cutter, name: Cutter }]
  steps:
    - { id: cut, name: cut panels, hazards: [lasers], phases: [{ kind: hands, minutes: 10 }, { kind: run, machine: cutter, minutes: 9 h }] }
    - { id: weld, name: weld frame, count: 60, hazards: [hot-work], phases: [{ kind: hands, perUnit: 60 }] }
`;
    const { out } = await daywright(['plan', fileOf(file, 'beacon.yaml'), '--now', '2026-12-01T18:00Z']);
    expect(out).toContain('To look at\n');
    expect(out).toMatch(/cut panels runs on Cutter for 9 h unattended \(lasers\), first Tue 1 Dec/);
    expect(out).toContain('A laser cutter never runs without somebody watching it.');
    expect(out).toMatch(/Dangerous work \(hot work\) belongs to rested people and daylight hours: move it\./);
    expect(out).toContain('Ada has no full day off in the seven days from Tue 1 Dec');
    expect(out).toContain('Directive 2003/88/EC, for employees in the EU');
    expect(out).toContain('your local law decides');
    expect(out).toContain('General information. Local codes, the venue and licensed people decide.');
  });

  it('prints a line for each hazard of what is left, with its steps, and who decides once', async () => {
    const file = `
format: daywright-build
version: 1
build:
  id: beacon
  name: Beacon
  zone: UTC
  start: 2026-12-01T18:00
  event: 2026-12-20T18:00
  people: [{ id: ada, name: Ada, hours: 'daily 18:00-22:00' }]
  steps:
    - { id: rip, name: rip boards, hazards: [dust, blades], phases: [{ kind: hands, minutes: 10 }] }
    - { id: round, name: round edges, hazards: [blades], phases: [{ kind: hands, minutes: 10 }] }
`;
    const plan = async (text: string) =>
      (await daywright(['plan', fileOf(text, 'rip.yaml'), '--now', '2026-12-01T18:00Z'])).out;
    const out = await plan(file);
    expect(out).toContain('Cautions for what is left\n');
    expect(out).toContain(
      '  Blades and bits (rip boards and round edges): Guard on; plug out before you change a blade.\n',
    );
    expect(out.split('Wood and board dust (rip boards): ')).toHaveLength(2);
    expect(out.split('Local codes, the venue and licensed people decide.')).toHaveLength(2);
    expect(await plan(file.replace(/hazards: \[[a-z, ]*\], /g, ''))).not.toContain('Cautions');
  });
});

describe('daywright calendar', () => {
  const calendar = (text: string, ...more: string[]) =>
    daywright(['calendar', fileOf(text, 'calendar.yaml'), '--now', '2026-12-01T00:00Z', ...more]);

  it('prints the plan as a calendar file', async () => {
    const { code, out } = await calendar(TEXTBOOK, '--alarm', '60');
    expect(code).toBe(0);
    expect(out.startsWith('BEGIN:VCALENDAR\r\n')).toBe(true);
    expect(out).toContain('DTSTART:20270601T000000Z');
    expect(out).toContain('TRIGGER:-PT60M');
  });

  it('refuses a person who is not there, an alarm that is no number, a zone that does not exist', async () => {
    const nobody = await calendar(TEXTBOOK, '--person', 'ada');
    expect([nobody.code, nobody.out]).toEqual([2, '']);
    expect(nobody.err).toContain('Nobody in this build is called "ada"');
    const soon = await calendar(TEXTBOOK, '--alarm', 'soon');
    expect([soon.code, soon.out]).toEqual([2, '']);
    const nowhere = await calendar(TEXTBOOK.replace('zone: UTC', 'zone: Europe/Atlantis'));
    expect([nowhere.code, nowhere.out]).toEqual([2, '']);
    expect(nowhere.err).toContain('Europe/Atlantis');
  });
});

function deepFile(levels: number): string {
  const text = JSON.stringify(buildFile(lantern({ event: 'HERE' })));
  return text.replace('"HERE"', `${'['.repeat(levels)}${']'.repeat(levels)}`);
}
