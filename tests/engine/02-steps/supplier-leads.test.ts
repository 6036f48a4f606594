import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { ASSUMED_CUT_OFF, type Build, type LogEntry } from '../../../server/model/index.ts';
import { texts } from '../../../views/texts/index.ts';

const NOW = Date.parse('2026-12-10T12:00Z') / 60_000;

/**
 * Rods that came, and bearings of the same supplier that are still to be ordered: three working days, Monday to Friday.
 */
const build: Build = {
  id: 'ceiling',
  name: 'Ceiling',
  zone: 'UTC',
  event: '2027-02-20T19:00',
  people: [{ id: 'me', name: 'Me', hours: 'daily 08:00-22:00' }],
  suppliers: [{ id: 'mill', name: 'Mill', lead: 3, deliveryTime: '12:00' }],
  parts: [
    { id: 'rod', name: 'Rod', source: 'buy', count: 8, supplier: 'mill' },
    { id: 'bearing', name: 'Bearing', source: 'buy', count: 8, supplier: 'mill' },
  ],
  steps: [{ id: 'fit', name: 'fit', after: ['order-rod', 'order-bearing'], phases: [{ kind: 'hands', minutes: 20 }] }],
};

function delivery(ordered: string, received: string, n = 8): LogEntry[] {
  const base = { step: 'order-rod', n };
  return [
    { id: `entry-ordered-${ordered}`, kind: 'ordered', ...base, at: `2026-12-${ordered}:00Z` },
    { id: `entry-received-${received}`, kind: 'received', ...base, at: `2026-12-${received}:00Z` },
  ];
}

function bearings(log: readonly LogEntry[]) {
  const { orders } = planBuild(build, log, NOW);
  return orders.find(({ step }) => step === 'order-bearing')!;
}

describe("a supplier's lead time is learnt from what came", () => {
  test('seven working days instead of three move the next order by one', () => {
    const before = bearings([]);
    // Tue 1 to Thu 10 December: seven working days, the weekend left out; (2 + 7 / 3) / 3 x 3 = 4.33.
    const after = bearings(delivery('01T10:00', '10T11:00'));
    expect(after.lead).toEqual({ given: 3, taken: 7, planned: 4, deliveries: 1, origin: 'measured' });
    expect(before.lead).toBeUndefined();
    // Thu 10 December and three working days are Tue 15, four are Wed 16.
    expect([before.arrives, after.arrives].map((at) => new Date(at * 60_000).toISOString().slice(0, 16))).toEqual([
      '2026-12-15T12:00',
      '2026-12-16T12:00',
    ]);
    expect(after.orderBy).toBeLessThanOrEqual(before.orderBy);
  });

  test('what came in time moves nothing, on whatever day it was ordered', () => {
    const plain = bearings([]);
    const { lead, ...rest } = bearings(delivery('04T10:00', '09T15:00'));
    expect(lead).toMatchObject({ given: 3, planned: 3, deliveries: 1 });
    expect(rest).toEqual(plain);
  });

  test('what is under way, or came without an order, says nothing', () => {
    const [ordered, received] = delivery('01T10:00', '10T11:00');
    expect(bearings([ordered!]).lead).toBeUndefined();
    expect(bearings([received!]).lead).toBeUndefined();
  });

  test('two boxes of one order are one delivery, which took as long as the last', () => {
    const [ordered, received] = delivery('01T10:00', '10T11:00');
    const half = { ...received!, id: 'entry-half', n: 4, at: '2026-12-04T11:00:00Z' };
    expect(bearings([ordered!, half, { ...received!, n: 4 }]).lead).toMatchObject({ planned: 4, deliveries: 1 });
  });

  test('the later it came, the later the next is expected', () => {
    const day = fc.integer({ min: 4, max: 10 });
    fc.assert(
      fc.property(day, day, (one, other) => {
        const text = (n: number) => `${String(n).padStart(2, '0')}T11:00`;
        const [sooner, later] = [Math.min(one, other), Math.max(one, other)];
        const planned = (n: number) => bearings(delivery('01T10:00', text(n))).lead!.planned;
        expect(planned(later)).toBeGreaterThanOrEqual(planned(sooner));
      }),
      { numRuns: 12, seed: 5 },
    );
  });

  test('the futures of the next orders are later too', () => {
    const drawn = (log: readonly LogEntry[]) => planBuild(build, log, NOW, { risk: { seed: 1, futures: 300 } });
    const inTime = drawn(delivery('01T10:00', '04T11:00')).risk!.readyAt;
    const late = drawn(delivery('01T10:00', '10T11:00')).risk!.readyAt;
    expect(late.p50).toBeGreaterThan(inTime.p50);
    expect(late.p95).toBeGreaterThan(inTime.p95);
  });
});

describe('a supplier of whom nobody has said until when an order counts', () => {
  const arrivesFrom = (now: string, cutOff?: string) => {
    const suppliers = build.suppliers!.map((one) => ({ ...one, ...(cutOff === undefined ? {} : { cutOff }) }));
    const { orders } = planBuild({ ...build, suppliers }, [], Date.parse(`2026-12-${now}Z`) / 60_000);
    return new Date(orders[0]!.arrives * 60_000).toISOString().slice(0, 16);
  };

  test('is thought to read an order of the evening on the next morning', () => {
    // Wed 9 December: three working days are Mon 14, or Tue 15 where the order counts from Thursday on.
    expect(arrivesFrom('09T16:00')).toBe('2026-12-14T12:00');
    expect(arrivesFrom('09T20:00')).toBe('2026-12-15T12:00');
    expect(arrivesFrom('09T20:00', '23:59')).toBe('2026-12-14T12:00');
    expect(texts.edit.hint.cutOff).toContain(ASSUMED_CUT_OFF);
  });
});
