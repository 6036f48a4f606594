import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { type Serving, serve } from '../server/serve.ts';
import { readSettings } from '../server/settings.ts';
import { openStore, scratch } from './store/helpers.ts';

const running: Serving[] = [];

afterEach(async () => {
  for (const one of running.splice(0)) await one.close();
});

async function start(databaseFile: string, ...flags: string[]) {
  const settings = readSettings(['--port', '0', '--db', databaseFile, ...flags], {});
  if (!settings.ok) throw new Error('bad settings');
  const errors: unknown[] = [];
  const result = await serve(settings.value, { nowMilliseconds: Date.now, report: (error) => errors.push(error) });
  if (result.ok) running.push(result.value);
  return { result, errors };
}

async function started(databaseFile: string): Promise<Serving> {
  const { result } = await start(databaseFile);
  if (!result.ok) throw new Error(result.problems[0]!.message);
  return result.value;
}

describe('serving', () => {
  it('puts the demo into an empty database and shows its page', async () => {
    const { addresses, seeded } = await started(join(scratch(), 'deep', 'a.sqlite'));
    expect(seeded).toEqual(['slow-ceiling']);
    expect(addresses).toHaveLength(1);
    const page = await fetch(addresses[0]!);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('Slow Ceiling');
  });

  it('leaves a database alone that was emptied on purpose', async () => {
    const file = join(scratch(), 'a.sqlite');
    await (await started(file)).close();
    const store = openStore(file);
    expect(store.builds.list().map((build) => build.id)).toEqual(['slow-ceiling']);
    store.builds.remove('slow-ceiling', '2026-12-01T00:00:00Z');
    store.close();
    expect((await started(file)).seeded).toEqual([]);
  });

  it('ends while a page is open that listens for changes', async () => {
    const one = await started(join(scratch(), 'a.sqlite'));
    const live = await fetch(`${one.addresses[0]}b/slow-ceiling/live`, { headers: { accept: 'text/event-stream' } });
    expect(live.status).toBe(200);
    const heard = live.text();
    await running.splice(running.indexOf(one), 1)[0]!.close();
    expect(await heard).toContain('event: ');
  });

  it('says that its port is in use, and leaves nothing running', async () => {
    const first = await started(join(scratch(), 'a.sqlite'));
    const port = new URL(first.addresses[0]!).port;
    const { result, errors } = await start(join(scratch(), 'b.sqlite'), '--port', port);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(`Port ${port} is in use`);
    expect(errors).toEqual([]);
  });

  it('says that the database is of a newer version', async () => {
    const { default: Database } = await import('better-sqlite3');
    const file = join(scratch(), 'a.sqlite');
    openStore(file).close();
    const db = new Database(file);
    db.pragma('user_version = 900');
    db.close();
    const { result } = await start(file);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/newer Daywright/);
  });
});
