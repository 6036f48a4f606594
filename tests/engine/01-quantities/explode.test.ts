import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { explodeBillOfMaterials, type Use } from '../../../server/engine/01-quantities/explode.ts';
import { ceilCount } from '../../../server/engine/numbers/rounding.ts';
import { unitsToStart } from '../../../server/engine/numbers/yield.ts';

const uses = (text: string): Use[] =>
  text.split('; ').flatMap((line) => {
    const [parent, children] = line.split(' = ') as [string, string];
    return children.split(' + ').map((child) => {
      const [, count, name] = /^(\d+)(\D.*)$/.exec(child)!;
      return { parent, child: name!, count: Number(count) };
    });
  });

describe('bill-of-materials explosion', () => {
  // Heizer & Render, "Operations Management", MRP chapter: the speaker kit (structure from memory, results recomputed).
  test('counts the speaker kit over all paths', () => {
    const { gross } = explodeBillOfMaterials({
      uses: uses('A = 2B + 3C; B = 2D + 2E; C = 2E + 2F; F = 2D + 1G'),
      demand: new Map([['A', 50]]),
    });
    expect(Object.fromEntries(gross)).toEqual({ A: 50, B: 100, C: 150, D: 800, E: 500, F: 300, G: 300 });
  });

  // A public worked answer (stool with screws at two levels), recomputed.
  test('adds a part that is used at two levels', () => {
    const { gross } = explodeBillOfMaterials({
      uses: uses('stool = 1base + 1seat + 2bolt + 1screw; base = 4leg + 4screw'),
      demand: new Map([['stool', 300]]),
    });
    expect(Object.fromEntries(gross)).toEqual({ stool: 300, base: 300, seat: 300, bolt: 600, leg: 1200, screw: 1500 });
  });

  // A textbook exercise on netting (inputs published, answers recomputed).
  test('takes stock off at every level before counting what is below', () => {
    const { gross, net } = explodeBillOfMaterials({
      uses: uses('E1 = 2L + 1C + 3K; L = 2B + 3J; C = 2G + 2B; K = 4H + 2B'),
      demand: new Map([['E1', 40]]),
      onHand: new Map(Object.entries({ L: 10, C: 15, K: 20, B: 30, J: 30, G: 5 })),
    });
    expect(['L', 'C', 'K', 'B'].map((part) => gross.get(part))).toEqual([80, 40, 120, 390]);
    expect(['L', 'C', 'K', 'B'].map((part) => net.get(part))).toEqual([70, 25, 100, 360]);
    expect(['J', 'G', 'H'].map((part) => net.get(part))).toEqual([180, 45, 400]);
  });

  test('counts children for the units begun, rejects included', () => {
    const { started, gross } = explodeBillOfMaterials({
      uses: uses('fish = 2eye'),
      demand: new Map([['fish', 300]]),
      started: (part, net) => (part === 'fish' ? unitsToStart(net, 0.95) : ceilCount(net)),
    });
    expect([started.get('fish'), gross.get('eye'), started.get('eye')]).toEqual([321, 642, 642]);
  });

  test('wants a part for itself as well as inside another', () => {
    const { gross } = explodeBillOfMaterials({
      uses: uses('panel = 24fish'),
      demand: new Map([
        ['panel', 3],
        ['fish', 2],
      ]),
    });
    expect(gross.get('fish')).toBe(74);
  });

  test('adds two lines for the same pair and keeps fractions unrounded', () => {
    const { gross } = explodeBillOfMaterials({
      uses: [
        { parent: 'sheet', child: 'paint', count: 0.25 },
        { parent: 'sheet', child: 'paint', count: 0.5 },
      ],
      demand: new Map([['sheet', 3]]),
    });
    expect(gross.get('paint')).toBe(2.25);
  });

  test('never lets stock make a need negative', () => {
    const { net, gross } = explodeBillOfMaterials({
      uses: uses('panel = 24fish'),
      demand: new Map([['panel', 3]]),
      onHand: new Map([['panel', 10]]),
    });
    expect([net.get('panel'), gross.get('fish'), net.get('fish')]).toEqual([0, 0, 0]);
  });

  test('names a circle from parent to child and counts the rest', () => {
    const { circles, unknown, gross } = explodeBillOfMaterials({
      uses: uses('frame = 2arm; arm = 1joint; joint = 1frame + 4screw; panel = 24fish'),
      demand: new Map([
        ['frame', 1],
        ['panel', 3],
      ]),
    });
    expect(circles).toEqual([['frame', 'arm', 'joint']]);
    expect(unknown).toEqual(['frame', 'arm', 'joint', 'screw']);
    expect(Object.fromEntries(gross)).toEqual({ panel: 3, fish: 72 });
  });

  test('names a part that uses itself', () => {
    expect(explodeBillOfMaterials({ uses: uses('a = 1a'), demand: new Map() }).circles).toEqual([['a']]);
  });

  test('visits a part once although 2^50 paths lead to it', () => {
    const diamond: Use[] = [];
    for (let level = 0; level < 50; level++) {
      for (const side of ['left', 'right']) {
        diamond.push({ parent: `top${level}`, child: `${side}${level}`, count: 1 });
        diamond.push({ parent: `${side}${level}`, child: `top${level + 1}`, count: 1 });
      }
    }
    const { gross, order, tooMany } = explodeBillOfMaterials({ uses: diamond, demand: new Map([['top0', 1]]) });
    expect(gross.get('top50')).toBe(2 ** 50);
    expect(order).toHaveLength(151);
    expect(tooMany).toEqual([]);
  });

  test('says when a count outgrows what a number holds exactly', () => {
    const chain = Array.from({ length: 60 }, (_, i) => ({ parent: `p${i}`, child: `p${i + 1}`, count: 2 }));
    const { tooMany } = explodeBillOfMaterials({ uses: chain, demand: new Map([['p0', 1]]) });
    expect(tooMany[0]).toBe('p53');
  });

  test('goes 100,000 levels deep', () => {
    const chain = Array.from({ length: 100_000 }, (_, i) => ({ parent: `p${i}`, child: `p${i + 1}`, count: 1 }));
    expect(explodeBillOfMaterials({ uses: chain, demand: new Map([['p0', 7]]) }).gross.get('p100000')).toBe(7);
  });

  test('equals the sum over every path of the products along it', () => {
    const bills = fc.array(
      fc.record({ parent: fc.integer({ min: 0, max: 6 }), step: fc.integer({ min: 1, max: 3 }), count: fc.nat(4) }),
      { maxLength: 14 },
    );
    fc.assert(
      fc.property(bills, (lines) => {
        const bill = lines.map(({ parent, step, count }) => ({
          parent: `p${parent}`,
          child: `p${parent + step}`,
          count,
        }));
        const overPaths = (part: string): number =>
          (part === 'p0' ? 1 : 0) +
          bill.reduce((sum, use) => sum + (use.child === part ? use.count * overPaths(use.parent) : 0), 0);
        const { gross } = explodeBillOfMaterials({ uses: bill, demand: new Map([['p0', 1]]) });
        for (const [part, count] of gross) expect(count).toBe(overPaths(part));
      }),
    );
  });
});
