import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { checkBuildFile } from '../../server/model/index.ts';
import { NOON } from '../planner/simple-forecast.ts';
import { lantern, openStore, SAVED, scratch, tap } from '../store/helpers.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { buildFile, daywright, fileOf } from './helpers.ts';
import { programArguments } from './program.ts';

describe('export and import', () => {
  it.each([['JSON'], ['YAML']])('give back the same build and log as %s', async (form) => {
    const flags = form === 'YAML' ? ['--yaml'] : [];
    const db = join(scratch(), 'a.sqlite');
    const demo = tideWall(NOON);
    expect(await daywright(['import', fileOf(demo), '--db', db])).toMatchObject({ code: 0 });
    const first = await daywright(['export', demo.build.id, '--db', db, ...flags]);
    const other = join(scratch(), 'b.sqlite');
    const path = fileOf(first.out, `out.${form.toLowerCase()}`);
    expect(await daywright(['import', path, '--db', other])).toMatchObject({ code: 0 });
    const second = await daywright(['export', demo.build.id, '--db', other, ...flags]);
    expect(second.out).toBe(first.out);
    const value: unknown = form === 'YAML' ? parse(first.out) : JSON.parse(first.out);
    expect(value).toEqual(demo);
    expect(checkBuildFile(value).ok).toBe(true);
  });

  it('give back a log that is larger than a build may be', { timeout: 90_000 }, async () => {
    const log = Array.from({ length: 5_000 }, (_, i) => ({
      ...tap(`entry-${String(i).padStart(6, '0')}`, { n: 1, at: '2026-11-29T12:00:00Z', note: 'sanded, '.repeat(230) }),
      arrived: '2026-11-29T12:00:05.000Z',
      seq: i + 1,
    }));
    const [db, other] = [join(scratch(), 'a.sqlite'), join(scratch(), 'b.sqlite')];
    expect(await daywright(['import', fileOf(buildFile(lantern(), log)), '--db', db])).toMatchObject({ code: 0 });
    const first = await daywright(['export', 'lantern', '--db', db]);
    expect(first.out.length).toBeGreaterThan(8 * 1024 * 1024);
    expect(await daywright(['import', fileOf(first.out), '--db', other])).toMatchObject({ code: 0 });
    expect((await daywright(['export', 'lantern', '--db', other])).out).toBe(first.out);
    const yaml = await daywright(['export', 'lantern', '--db', db, '--yaml']);
    expect([yaml.code, yaml.out]).toEqual([2, '']);
    expect(yaml.err).toMatch(/5000 log entries .* as JSON it can be/);
  });

  it('find the database by the environment too', async () => {
    const env = { DAYWRIGHT_DB: join(scratch(), 'a.sqlite') };
    const { code, out } = await daywright(['import', fileOf(buildFile(lantern(), [tap('entry-0001')]))], env);
    expect([code, out]).toEqual([0, 'Taken in: Lantern (lantern), 1 log entry.\n']);
    expect((await daywright(['export', 'lantern'], env)).code).toBe(0);
  });

  it('refuse what is there already or has an error, and change nothing', async () => {
    const db = join(scratch(), 'a.sqlite');
    const path = fileOf(buildFile(lantern()));
    await daywright(['import', path, '--db', db]);
    const again = await daywright(['import', path, '--db', db]);
    expect([again.code, again.out]).toEqual([2, '']);
    expect(again.err).toMatch(/^error {4}id: .*"lantern" already/);
    const circle = lantern({ id: 'ring', parameters: [{ name: 'a', formula: 'a + 1' }] });
    const refused = await daywright(['import', fileOf(buildFile(circle)), '--db', db]);
    expect(refused.code).toBe(2);
    expect(refused.err).toMatch(/^error .*parameters\.a/m);
    const late = await daywright([
      'import',
      fileOf(buildFile(lantern({ id: 'late', event: '2026-11-01T10:00' }))),
      '--db',
      db,
    ]);
    expect(late.code).toBe(2);
    expect(late.err).toMatch(/^error .*event/m);
    expect(
      openStore(db)
        .builds.list()
        .map((build) => build.id),
    ).toEqual(['lantern']);
  });

  it('close a build after its show, and reopen it, and say why they do not', async () => {
    const db = join(scratch(), 'a.sqlite');
    const past = lantern({ id: 'past', event: '2026-11-20T10:00' });
    for (const build of [past, lantern()]) openStore(db).builds.create(build, SAVED);
    const run = async (...words: string[]) => {
      const { code, out, err } = await daywright([...words, '--db', db]);
      return `${code} ${out}${err}`;
    };
    expect(await run('close', 'lantern')).toMatch(/^2 error .*its event is still to come/);
    expect(await run('reopen', 'past')).toMatch(/^2 error .*"past" is not closed/);
    expect(await run('close', 'past')).toBe('0 Closed: Lantern (past).\n');
    expect(await run('close', 'past')).toMatch(/^2 error .*closed by maker/);
    expect(await run('reopen', 'past')).toBe('0 Reopened: Lantern (past).\n');
    expect(await run('close', 'past')).toMatch(/^0 /);
    expect(await run('close', 'ring')).toMatch(/^2 error .*There is no build "ring"; there is .*past/);
  });

  it('say which builds there are when one is asked for that is not', async () => {
    const db = join(scratch(), 'a.sqlite');
    await daywright(['import', fileOf(buildFile(lantern())), '--db', db]);
    const { code, err } = await daywright(['export', 'arch', '--db', db]);
    expect(code).toBe(2);
    expect(err).toMatch(/no build "arch"; there is lantern/);
  });
});

describe('backup and restore', () => {
  it('bring back what was there', async () => {
    const folder = scratch();
    const [db, copy] = [join(folder, 'a.sqlite'), join(folder, 'copy.sqlite')];
    await daywright(['import', fileOf(buildFile(lantern())), '--db', db]);
    expect((await daywright(['backup', copy, '--db', db])).code).toBe(0);
    await daywright(['import', fileOf(buildFile(lantern({ id: 'arch' }))), '--db', db]);
    const restored = await daywright(['restore', copy, '--db', db]);
    expect([restored.code, restored.err]).toEqual([0, '']);
    expect((await daywright(['export', 'arch', '--db', db])).code).toBe(2);
    expect((await daywright(['export', 'lantern', '--db', db])).code).toBe(0);
    expect(existsSync(`${db}.before-restore`)).toBe(true);
  });

  it('say what cannot be written or read', async () => {
    const db = join(scratch(), 'a.sqlite');
    const backup = await daywright(['backup', join(fileOf('a file, no folder'), 'copy.sqlite'), '--db', db]);
    expect([backup.code, backup.err]).toEqual([2, expect.stringMatching(/could not be written/)]);
    expect((await daywright(['restore', '/nowhere', '--db', db])).err).toMatch(/no file "\/nowhere"/);
  });
});

describe('the command line', () => {
  it('prints the schema and nothing else', async () => {
    const { code, out, err } = await daywright(['schema']);
    expect([code, err]).toEqual([0, '']);
    expect(JSON.parse(out)).toMatchObject({ $schema: expect.any(String), properties: { build: {}, log: {} } });
  });

  it('prints the description of the API with `openapi`', async () => {
    const { code, out } = await daywright(['openapi']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ openapi: '3.1.0', paths: { '/b/{id}/steps.json': {} } });
  });

  it('explains itself', async () => {
    for (const args of [['--help'], ['-h'], ['help'], ['plan', '--help']]) {
      const { code, out } = await daywright(args);
      expect(code).toBe(0);
      for (const command of ['plan', 'schema', 'import', 'export', 'backup', 'restore']) {
        expect(out).toMatch(new RegExp(`^ {2}daywright ${command}`, 'm'));
      }
    }
  });

  it.each([
    [[], /A command is missing: one of plan, levers, ways, formulas, schema, openapi, calendar/],
    [['bake'], /"bake" is no command/],
    [['constructor'], /"constructor" is no command/],
    [['plan'], /plan needs a FILE/],
    [['export'], /export needs a BUILD/],
    [['plan', 'a', 'b'], /"b" is one word too many/],
    [['schema', 'x'], /"x" is one word too many/],
    [['plan', 'a', '--yaml'], /--yaml does not go with plan/],
    [['plan', 'a', '--fast'], /Unknown option '--fast'/],
    [['plan', 'a', '--now'], /--now/],
    [['plan', 'a', '--now', 'tomorrow'], /--now: "tomorrow" is not a date/],
    [
      ['plan', 'a', '--now', 'tomorrow'],
      /where the event is, such as 2026-12-03T14:00, or an instant .*2026-12-03T14:00Z/,
    ],
    [['plan', 'a', '--budget', '0'], /--budget: .*more than 0 and at most 3600; it is "0"/],
    [['plan', 'a', '--budget', 'long'], /--budget: .*it is "long"/],
    [['plan', 'a', '--budget', '-3'], /--budget: .*more than 0 and at most 3600; it is "-3"/],
    [['plan', 'a', '--seed', '-1'], /--seed|argument/],
    [['plan', 'a', '--seed', '1.5'], /--seed: .*whole number.*it is "1.5"/],
    [['schema', '--budget', '3'], /--budget does not go with schema/],
    [['plan', 'a', '--now', '2026-02-30T18:00Z'], /--now: .*28 days/],
  ])('refuses %j in a sentence', async (args, said) => {
    const { code, out, err } = await daywright(args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(said);
  });

  it('runs as a program of its own', () => {
    const run = (...args: string[]) =>
      spawnSync(process.execPath, [...programArguments('server/cli.ts'), ...args], { encoding: 'utf8' });
    const good = run('plan', fileOf(buildFile(lantern())), '--now', '2026-11-30T12:00Z', '--json');
    expect([good.status, good.stderr]).toEqual([0, '']);
    expect(JSON.parse(good.stdout)).toMatchObject({ build: { id: 'lantern' }, now: NOON });
    const bad = run('plan', '/nowhere/build.json');
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    expect(bad.stderr).toBe('error    file: /nowhere/build.json cannot be read: there is no such file.\n');
  });
});
