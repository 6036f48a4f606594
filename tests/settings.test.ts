import { describe, expect, it } from 'vitest';
import { readSettings, serverHelp } from '../server/settings.ts';

function settings(args: string[], env: Record<string, string> = {}) {
  const result = readSettings(args, env);
  if (!result.ok) throw new Error(result.problems.map((p) => p.message).join(' '));
  return result.value;
}

describe('the settings', () => {
  it('are this machine, port 4380 and a file in data unless said otherwise', () => {
    expect(settings([])).toEqual({
      port: 4380,
      host: '127.0.0.1',
      databaseFile: 'data/daywright.sqlite',
      tls: { kind: 'off' },
      names: [],
      askKey: false,
      newKey: false,
      help: false,
    });
  });

  it('come from the environment, and flags win over it', () => {
    const env = { PORT: '5000', DAYWRIGHT_HOST: '::1', DAYWRIGHT_DB: 'other.sqlite' };
    expect(settings([], env)).toMatchObject({ port: 5000, host: '::1', databaseFile: 'other.sqlite' });
    expect(settings(['--port', '0', '--host', 'localhost', '--db=mine.sqlite'], env)).toMatchObject({
      port: 0,
      host: 'localhost',
      databaseFile: 'mine.sqlite',
    });
  });

  it('let phones in by one word', () => {
    expect(settings(['--lan', '--name', 'bench.example', '--name', 'b'])).toMatchObject({
      host: '0.0.0.0',
      names: ['bench.example', 'b'],
    });
  });

  it('know three ways to serve', () => {
    expect(settings(['--tls']).tls).toEqual({ kind: 'self-made' });
    expect(settings(['--tls-cert', 'c.pem', '--tls-key', 'k.pem']).tls).toEqual({
      kind: 'files',
      cert: 'c.pem',
      key: 'k.pem',
    });
  });

  it.each([
    [['--port', 'eighty'], {}, /--port must be a whole number from 0 to 65535; it is "eighty"/],
    [['--port', '70000'], {}, /"70000"/],
    [['--port', '-1'], {}, /--port/],
    [[], { PORT: '80.5' }, /^PORT must be .*"80\.5"/],
    [['--tls-cert', 'c.pem'], {}, /--tls-cert needs --tls-key/],
    [['--tls-key', 'k.pem'], {}, /--tls-key needs --tls-cert/],
    [['--lan', '--host', '::1'], {}, /twice/],
    [['--speed', '9'], {}, /Unknown option '--speed'.*--help/],
    [['serve'], {}, /serve/],
  ])('refuse %j with %j in a sentence', (args, env, said) => {
    expect(() => settings(args, env)).toThrow(said);
  });

  it('are all explained on the help page', () => {
    for (const flag of [
      '--port',
      '--host',
      '--lan',
      '--name',
      '--ask-key',
      '--new-key',
      '--db',
      '--tls',
      '--tls-cert',
      '--tls-key',
      '--help',
      'PORT',
      'DAYWRIGHT_DB',
    ]) {
      expect(serverHelp()).toContain(flag);
    }
  });
});
