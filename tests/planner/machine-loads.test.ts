import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Build, NewLogEntry, Step } from '../../server/model/index.ts';
import { lantern } from '../store/helpers.ts';
import { bench, NOON } from './helpers.ts';

const print: Step = {
  id: 'print',
  name: 'print caps',
  count: 48,
  lotSize: 12,
  phases: [
    { kind: 'hands', minutes: 5 },
    { kind: 'run', machine: 'printer', minutes: 60 },
    { kind: 'hands', minutes: 5 },
  ],
};
const feet: Step = { ...print, id: 'feet', name: 'print feet' };
/** It is emptied before it dries: what is in the machine is not what is not counted. */
const dried: Step = {
  ...print,
  id: 'dried',
  name: 'print and dry',
  phases: [...print.phases!, { kind: 'wait', minutes: 90 }],
};

const build = (printers: number): Build =>
  lantern({ machines: [{ id: 'printer', name: 'printer', count: printers }], steps: [print, feet, dried] });

let entries = 0;
function tap(
  kind: NewLogEntry['kind'],
  step: string,
  n: number,
  minute: number,
  more: Partial<NewLogEntry> = {},
): NewLogEntry {
  entries += 1;
  const at = new Date((NOON - 500 + minute) * 60_000).toISOString();
  return { id: `load-${String(entries).padStart(6, '0')}`, kind, step, n, at, ...more };
}

async function counting(printers = 1) {
  const { planner } = await bench({}, build(printers));
  const say = (entry: NewLogEntry, who = 'Ana') =>
    planner.append('lantern', [entry], who)[0]!.questions.map(({ message }) => message);
  const open = () => planner.doubts('lantern').map(({ entry }) => entry.id);
  return { say, open };
}

const ASKED =
  'Nobody has counted 12 of "print caps" out of the machine "printer" yet, and this entry loads 8: does it hold all of them, is that count missing, or is it a slip?';

describe('a load that goes in while the one before is not counted out', () => {
  it('is stored and asked about, whatever step it is of', async () => {
    const { say, open } = await counting();
    expect(say(tap('loaded', 'print', 12, 0))).toEqual([]);
    const [same, other] = [tap('loaded', 'print', 8, 90), tap('loaded', 'feet', 8, 95)];
    expect(say(same)).toEqual([ASKED]);
    expect(say({ id: 'undo-000001', kind: 'undo', undoes: same.id, at: same.at })).toEqual([]);
    expect(say(other)).toEqual([ASKED]);
    expect(open()).toEqual([other.id]);
  });

  it('is asked about with the units of one step, though another’s are in the other machine', async () => {
    const { say } = await counting(2);
    say(tap('loaded', 'print', 12, 0));
    say(tap('loaded', 'feet', 10, 5));
    expect(say(tap('loaded', 'feet', 8, 90))).toEqual([ASKED]);
  });

  it('is not asked about once the first is counted or scrapped, all of it, and no more open then', async () => {
    const { say, open } = await counting();
    say(tap('loaded', 'print', 12, 0));
    const second = tap('loaded', 'print', 8, 90);
    expect(say(second)).toEqual([ASKED]);
    say(tap('done', 'print', 10, 91));
    expect(open()).toEqual([second.id]);
    say(tap('scrapped', 'print', 2, 92));
    expect(open()).toEqual([]);
    expect(say(tap('done', 'print', 8, 180))).toEqual([]);
    expect(say(tap('loaded', 'print', 12, 181))).toEqual([]);
  });

  it('was none where the count of the first arrives later from another phone', async () => {
    const { say, open } = await counting();
    say(tap('loaded', 'print', 12, 0));
    expect(say(tap('loaded', 'print', 8, 90))).toEqual([ASKED]);
    say(tap('done', 'print', 12, 80), 'Bo');
    expect(open()).toEqual([]);
    // Nor is it one where the earlier load is what arrives last.
    say(tap('done', 'print', 8, 170));
    say(tap('loaded', 'print', 12, 200));
    expect(say(tap('loaded', 'print', 12, 175), 'Bo')).toEqual([]);
  });

  it('is fine where there is a machine for each, and in a step that is counted only when it has dried', async () => {
    const { say } = await counting(2);
    expect([say(tap('loaded', 'print', 12, 0)), say(tap('loaded', 'feet', 8, 5))]).toEqual([[], []]);
    expect(say(tap('loaded', 'print', 8, 10))).toHaveLength(1);
    const one = await counting(1);
    expect([one.say(tap('loaded', 'dried', 12, 0)), one.say(tap('loaded', 'dried', 12, 90))]).toEqual([[], []]);
  });

  it('is asked about once, and not again until it is out where somebody says that the machine takes both', async () => {
    const { say, open } = await counting();
    say(tap('loaded', 'print', 12, 0));
    const second = tap('loaded', 'print', 8, 10);
    expect(say(second)).toHaveLength(1);
    expect(say(tap('loaded', 'print', 4, 20))).toEqual([]);
    say({ id: 'right-00001', kind: 'confirmed', confirms: second.id, at: second.at });
    expect([open(), say(tap('loaded', 'print', 3, 30), 'Bo')]).toEqual([[], []]);
    say(tap('done', 'print', 27, 100));
    say(tap('loaded', 'print', 12, 110));
    expect(say(tap('loaded', 'print', 12, 120))).toHaveLength(1);
  });

  const step = fc.constantFrom('print', 'feet');
  const act = fc.record({
    kind: fc.constantFrom('loaded', 'loaded', 'done'),
    step,
    n: fc.integer({ min: 1, max: 12 }),
  });

  it('is asked about exactly where the machines are full, for any loads and counts', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(act, { maxLength: 14 }), fc.integer({ min: 1, max: 3 }), async (acts, printers) => {
        const { say } = await counting(printers);
        const inside: { step: string; left: number }[] = [];
        for (const [i, { kind, step: id, n }] of acts.entries()) {
          // Each by somebody else, so that every load is asked about by itself.
          const asked = say(tap(kind as 'loaded' | 'done', id, n, 5 * i), `P${i}`).some((text) =>
            text.includes('Nobody has counted'),
          );
          if (kind === 'loaded') {
            expect(asked).toBe(inside.filter(({ left }) => left > 0).length >= printers);
            inside.push({ step: id, left: n });
          } else {
            let out = n;
            for (const load of inside) {
              if (load.step !== id) continue;
              const taken = Math.min(out, load.left);
              load.left -= taken;
              out -= taken;
            }
          }
        }
      }),
      { numRuns: 25, seed: 3 },
    );
  });
});
