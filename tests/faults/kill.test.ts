import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createPlanner } from '../../server/planner/index.ts';
import { byHand } from '../planner/at-once.ts';
import { openStore, scratch } from '../store/helpers.ts';
import { countedForecast } from '../support/count-app.ts';
import { BUILD, openServers, Phone, prepare } from './servers.ts';

const KILLS = 50;
const SEED = 19_081_512;
const STEPS = ['cut', 'glue', 'cut', 'glue'];

describe('a server that is killed in the middle of taps', () => {
  it('loses no acknowledged tap and doubles none, fifty times over', { timeout: 200_000 }, async () => {
    const file = join(scratch(), 'killed.sqlite');
    prepare(file);
    const servers = await openServers(file);
    const random = seeded(SEED);
    const phones = STEPS.map((step) => new Phone(servers.address, step));
    let server = await servers.start();
    for (const phone of phones) phone.start();
    let hits = 0;
    for (let kill = 0; kill < KILLS; kill++) {
      const before = acknowledgedBy(phones);
      const taps = 1 + Math.floor(10 * random());
      while (acknowledgedBy(phones) < before + taps) await pause(1);
      await pause(12 * random());
      await server.kill();
      hits += phones.filter((phone) => phone.acknowledged.size < phone.sent.size).length;
      server = await servers.start();
    }
    await Promise.all(phones.map((phone) => phone.finish()));
    await server.kill();
    await servers.stop();

    const log = logOf(file);
    const counted = log.filter((entry) => phones.some((phone) => phone.sent.has(entry.id)));
    const acknowledged = phones.flatMap((phone) => [...phone.acknowledged.values()]);
    expect(counted.map((entry) => entry.id).sort()).toEqual(acknowledged.map((receipt) => receipt.id).sort());
    expect(counted).toHaveLength(phones.reduce((sum, phone) => sum + phone.sent.size, 0));
    const seqs = new Map(counted.map((entry) => [entry.id, entry.seq]));
    for (const receipt of acknowledged) expect(seqs.get(receipt.id)).toBe(receipt.seq);
    // The kills came while taps were under way, or the test would prove nothing.
    expect(hits).toBeGreaterThan(KILLS);
    expect(acknowledged.length).toBeGreaterThan(KILLS * 4);
  });
});

function logOf(file: string) {
  const store = openStore(file);
  const planner = createPlanner({
    store,
    now: () => 0,
    background: byHand(countedForecast),
  });
  return planner.log(BUILD);
}

function acknowledgedBy(phones: readonly Phone[]): number {
  return phones.reduce((sum, phone) => sum + phone.acknowledged.size, 0);
}

/**
 * Numbers from 0 to 1, the same for the same seed (a linear congruential generator; the constants are those of
 * Numerical Recipes, from memory).
 */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
