import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { LIVELY_NOW, livelyBuild } from '../../support/makers/lively-builds.ts';

const at = (text: string) => Date.parse(`${text}Z`) / 60_000;
const NOW = at('2026-12-01T17:00');

/** Rails that are on their way, hung one after the other by one person, and a paper that is wanted on site. */
const BUILD: Build = {
  id: 'rails',
  name: 'rails',
  zone: 'UTC',
  event: '2026-12-13T18:00',
  loadIn: '2026-12-12T09:00',
  readyBy: '2026-12-10T22:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' }],
  suppliers: [{ id: 'shop', name: 'Shop', lead: 3 }],
  parts: [{ id: 'rail', name: 'rail', source: 'buy', supplier: 'shop', count: 4 }],
  steps: [
    {
      id: 'hang',
      name: 'hang',
      count: 4,
      lotSize: 1,
      after: ['order-rail'],
      phases: [{ kind: 'hands', perUnit: 200 }],
    },
    {
      id: 'paper',
      name: 'paper',
      phases: [
        { kind: 'hands', minutes: 10 },
        { kind: 'lead', supplier: 'shop' },
      ],
    },
    { id: 'unload', name: 'unload', onSite: true, after: ['paper', 'hang'], phases: [{ kind: 'hands', minutes: 30 }] },
  ],
};
const ORDERED: LogEntry[] = [
  { id: 'ordered-001', kind: 'ordered', step: 'order-rail', n: 4, at: '2026-12-01T10:00:00Z' },
];

describe('what is on its way is needed', () => {
  it('when the hands that take it must begin, on its step as on its order', () => {
    const { steps, orders, lots } = planBuild(BUILD, ORDERED, NOW);
    const first = Math.min(...lots.flatMap((lot) => (lot.step === 'hang' ? [lot.levelled!.lastStart!] : [])));
    // Four evenings of work, so the first of them is Monday the 7th and not Thursday the 10th.
    expect(first).toBe(at('2026-12-07T20:40'));
    expect(steps.find(({ id }) => id === 'order-rail')!.levelled!.lastFinish).toBe(first);
    expect(orders.find(({ step }) => step === 'order-rail')!.neededBy).toBe(first);
  });

  it('by the ready-by at the latest, even if nobody takes it before the load-in', () => {
    const { orders } = planBuild(BUILD, [], NOW);
    expect(orders.find(({ step }) => step === 'paper')!.neededBy).toBe(at('2026-12-10T22:00'));
  });
});

it('no lot may end, in any build, after the last begin of what waits for its end', () => {
  let compared = 0;
  for (let seed = 1; seed <= 25; seed++) {
    const { build, log } = livelyBuild(seed);
    const { work } = workThrough({ build, log, now: LIVELY_NOW }, 'work');
    const forecast = planBuild(build, log, LIVELY_NOW);
    const levelled = new Map(forecast.lots.map((lot) => [lot.id, lot]));
    for (const { from, to, type, lagMinutes, reason } of work.links) {
      if (type !== 'finish-start' || lagMinutes < 0 || reason === 'order') continue;
      const [source, taker] = [levelled.get(work.lots[from]!.id), levelled.get(work.lots[to]!.id)];
      if (source?.levelled?.lastFinish == null || taker?.levelled?.lastStart == null || taker.begun) continue;
      if (forecast.room.readyBy.clock! < 0) continue;
      compared++;
      expect([seed, source.id, taker.id, source.levelled.lastFinish <= taker.levelled.lastStart]).toEqual([
        seed,
        source.id,
        taker.id,
        true,
      ]);
    }
  }
  expect(compared).toBeGreaterThan(300);
});
