/** Random precedence networks: the passes against a linear program, which knows nothing of topological order. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { criticalPath } from '../../../server/engine/06-critical-path/critical-path.ts';
import { LINK_TYPES, type Link, type Work } from '../../../server/engine/types.ts';
import { highs } from '../_highs.ts';
import { link, lot, networkFor, work } from '../_network.ts';

const LOTS = 9;
const durations = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: LOTS, maxLength: LOTS });
const linkOf = fc
  .tuple(fc.nat(LOTS - 1), fc.nat(LOTS - 1), fc.constantFrom(...LINK_TYPES), fc.integer({ min: -6, max: 8 }))
  .filter(([a, b]) => a !== b)
  .map(([a, b, type, lag]) => link(Math.min(a, b), Math.max(a, b), type, lag));
const networks = fc.tuple(durations, fc.array(linkOf, { maxLength: 18 }), fc.integer({ min: 0, max: 20 }));

/** Numbers scattered, so that a lot may feed one with a lower number. */
const SCATTER = [4, 7, 1, 8, 0, 3, 6, 2, 5];

function workOf([minutes, links, release]: [number[], Link[], number]): Work {
  const lots = Array.from({ length: LOTS }, (_, i) => lot(String(i), []));
  SCATTER.forEach((at, i) => {
    lots[at] = lot(`lot ${i}`, [{ kind: 'wait', minutes: minutes[i]! }], { release: i === 2 ? release : 0 });
  });
  return work({ lots, links: links.map((one) => ({ ...one, from: SCATTER[one.from]!, to: SCATTER[one.to]! })) });
}

/**
 * Earliest starts minimise the sum of all starts; latest starts before `end` maximise it. Precedence bounds make both
 * unique.
 */
function linearProgram({ lots, links }: Work, end: number | null): number[] {
  const minutes = lots.map(minutesOf);
  const starts = lots.map((_, i) => `s${i}`);
  const rows = links.map(({ from, to, type, lagMinutes }, k) => {
    const fromMinutes = type === 'finish-start' || type === 'finish-finish' ? minutes[from]! : 0;
    const toMinutes = type === 'finish-finish' || type === 'start-finish' ? minutes[to]! : 0;
    return ` c${k}: s${to} - s${from} >= ${fromMinutes + lagMinutes - toMinutes}`;
  });
  const bounds = lots.map((one, i) =>
    end === null ? ` ${one.release} <= s${i} <= 9999` : ` -9999 <= s${i} <= ${end - minutes[i]!}`,
  );
  const sense = end === null ? 'Minimize' : 'Maximize';
  const program = [
    sense,
    ` sum: ${starts.join(' + ')}`,
    'Subject To',
    ' c: s0 >= -99999',
    ...rows,
    'Bounds',
    ...bounds,
    'End',
  ];
  const solution = highs.solve(program.join('\n'));
  if (solution.Status !== 'Optimal') throw new Error(`the linear program is ${solution.Status}`);
  return starts.map((name) => {
    const column = solution.Columns[name]!;
    if (!('Primal' in column)) throw new Error(`${name} has no value`);
    return Math.round(column.Primal) + 0;
  });
}

describe('random networks with all four link types and leads', () => {
  it('have the early dates of a linear program', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const made = workOf(network);
        expect([...criticalPath(made, networkFor(made)).earlyStart]).toEqual(linearProgram(made, null));
      }),
      { seed: 1959, numRuns: 100 },
    );
  });

  it('have the late dates of a linear program', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const made = workOf(network);
        const path = criticalPath(made, networkFor(made), 'finish');
        expect([...path.lateStart]).toEqual(linearProgram(made, path.finishAt));
      }),
      { seed: 1961, numRuns: 100 },
    );
  });

  it('have no free slack above total slack, nor any below zero', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const made = workOf(network);
        const path = criticalPath(made, networkFor(made), 'finish');
        for (let i = 0; i < LOTS; i++) {
          expect(path.freeSlack.clock[i]).toBeGreaterThanOrEqual(0);
          expect(path.totalSlack.clock[i]).toBeGreaterThanOrEqual(path.freeSlack.clock[i]!);
        }
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('have one unbroken chain without slack from its holder to the end', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const made = workOf(network);
        const path = criticalPath(made, networkFor(made), 'finish');
        const lots = path.path.map((step) => step.lot);
        expect(path.earlyFinish[lots.at(-1)!]).toBe(path.finishAt);
        path.path.forEach(({ lot: at, drivenBy }, k) => {
          expect(path.totalSlack.clock[at]).toBe(0);
          if (k === 0) {
            expect(drivenBy).toBeLessThan(0);
            expect(path.earlyStart[at]).toBe(Math.max(made.now, made.lots[at]!.release));
          } else {
            expect([made.links[drivenBy]!.from, made.links[drivenBy]!.to]).toEqual([lots[k - 1], at]);
          }
        });
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  it('never end earlier for a link more or a lot longer', () => {
    fc.assert(
      fc.property(networks, linkOf, fc.nat(LOTS - 1), fc.integer({ min: 1, max: 9 }), (network, more, grown, by) => {
        const [minutes, links, release] = network;
        const { finishAt } = pathOf(network);
        expect(pathOf([minutes, [...links, more], release]).finishAt).toBeGreaterThanOrEqual(finishAt);
        // A longer lot held by its finish starts earlier, and what hangs on its start with it: so only finish-start
        // here.
        const plain = links.filter((one) => one.type === 'finish-start');
        const longer = minutes.map((length, i) => (i === grown ? length + by : length));
        expect(pathOf([longer, plain, release]).finishAt).toBeGreaterThanOrEqual(
          pathOf([minutes, plain, release]).finishAt,
        );
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  it('add the room to a fixed event to every slack, negative when late', () => {
    fc.assert(
      fc.property(networks, fc.integer({ min: -30, max: 60 }), (network, event) => {
        const made = workOf(network);
        const own = criticalPath(made, networkFor(made), 'finish');
        const fixed = criticalPath(made, networkFor(made), event);
        const room = event - own.finishAt;
        expect([...fixed.totalSlack.clock]).toEqual(Array.from(own.totalSlack.clock, (slack) => slack + room));
        expect([...fixed.freeSlack.clock]).toEqual([...own.freeSlack.clock]);
      }),
      { seed: 6, numRuns: 200 },
    );
  });

  function pathOf(network: [number[], Link[], number]) {
    const made = workOf(network);
    return criticalPath(made, networkFor(made), 'finish');
  }
});

function minutesOf(one: Work['lots'][number]): number {
  const [phase] = one.phases;
  return phase?.kind === 'wait' ? phase.minutes : 0;
}
