import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { newId } from '../../views/client/outbox/outbox.ts';
import { openDb, scratch } from '../store/helpers.ts';
import { openServers, prepare, send } from './servers.ts';

const KILOBYTES = 400;
const MOST_SENDINGS = 200;

describe('a disk that takes no more', () => {
  it('keeps every acknowledged count, says so of the others, and stores those once when there is room', async () => {
    const file = join(scratch(), 'full.sqlite');
    prepare(file);
    const servers = await openServers(file);
    const limited = await servers.startLimited(KILOBYTES);
    const acknowledged: string[] = [];
    const refused = [];
    for (let n = 0; n < MOST_SENDINGS && refused.length < 3; n++) {
      const entries = Array.from({ length: 5 }, tap);
      const answer = await send(servers.address, entries).catch((error: Error) => error);
      if (answer instanceof Error) {
        expect(answer.message).toMatch(/^503: .*the phone keeps it/);
        refused.push(entries);
      } else acknowledged.push(...answer.receipts.map(({ id }) => id));
    }
    await limited.kill();
    expect(refused).toHaveLength(3);
    expect(idsIn(file)).toEqual(acknowledged);

    const roomy = await servers.start();
    for (const entries of refused) {
      const { receipts } = await send(servers.address, entries);
      expect(receipts.every(({ state }) => state === 'stored')).toBe(true);
    }
    await roomy.kill();
    await servers.stop();
    expect(idsIn(file)).toEqual([...acknowledged, ...refused.flat().map(({ id }) => id)]);
  });
});

function tap() {
  return { id: newId(), kind: 'done' as const, step: 'cut', n: 1, at: new Date().toISOString() };
}

function idsIn(file: string): string[] {
  return openDb(file).prepare('select id from log order by seq').pluck().all() as string[];
}
