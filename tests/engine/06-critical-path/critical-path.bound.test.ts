import fc from 'fast-check';
import { expect, it } from 'vitest';
import { criticalPath } from '../../../server/engine/06-critical-path/critical-path.ts';
import { level } from '../../../server/engine/07-levelling/index.ts';
import { atLeastOpen, calendarFrom, unionOf } from '../../../server/engine/calendar/working-time.ts';
import { type Calendar, LINK_TYPES, type Phase, type Work } from '../../../server/engine/types.ts';
import { link, lot, networkFor, person, work } from '../_network.ts';

const calendar = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 10, max: 60 })), { minLength: 4, maxLength: 12 })
  .map((pairs) =>
    calendarFrom([...pairs.map(([from, length]): [number, number] => [from, from + length]), [500, 20_000]]),
  );
const shape = fc.tuple(fc.nat(6), fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 30 }));
const linkOf = fc
  .tuple(fc.nat(8), fc.nat(8), fc.constantFrom(...LINK_TYPES), fc.integer({ min: -5, max: 10 }))
  .filter(([from, to]) => from < to);

function hands(minutes: number, eligible: number[], open: Calendar, people = 1, oneGo = false): Phase {
  return { kind: 'hands', minutes, people, eligible, oneGo, open };
}

/** Ana is 0, Ben is 1, the machine is 2. */
function phasesOf(
  [kind, minutes, clock]: [number, number, number],
  ana: Calendar,
  ben: Calendar,
  its: Calendar,
): Phase[] {
  const either = unionOf([ana, ben]);
  const both = atLeastOpen(2, [ana, ben]);
  const run = { kind: 'run', machine: 2, attended: false, people: 0, eligible: [], open: its } as const;
  const attended = { ...run, attended: true, people: 1, eligible: [0], open: atLeastOpen(2, [ana, its]) };
  const shapes: Phase[][] = [
    [{ kind: 'wait', minutes }],
    [hands(minutes, [0, 1], either)],
    [hands(3, [0], ana), { ...run, minutes: clock }, hands(2, [0, 1], either)],
    [hands(minutes, [0, 1], both, 2)],
    [hands(Math.min(minutes, 9), [1], ben, 1, true), { kind: 'wait', minutes: clock }],
    [hands(4, [0, 1], either), { ...attended, minutes: Math.min(clock, 9) }],
    [],
  ];
  return shapes[kind]!;
}

const works = fc
  .tuple(
    calendar,
    calendar,
    calendar,
    fc.array(shape, { minLength: 3, maxLength: 9 }),
    fc.array(linkOf, { maxLength: 8 }),
  )
  .map(([ana, ben, its, shapes, links]): Work => {
    const lots = shapes.map((one, i) =>
      lot(`lot ${i}`, phasesOf(one, ana, ben, its), { release: 0, deadline: 15_000 }),
    );
    const machine = { id: 'machine', name: 'machine', kind: 'machine', capacity: 1, open: its } as const;
    return work({
      readyBy: 15_000,
      event: 15_000,
      resources: [person('ana', ana), person('ben', ben), machine],
      lots,
      links: links.filter(([, to]) => to < lots.length).map(([from, to, type, lag]) => link(from, to, type, lag)),
    });
  });

it('lets no schedule of these hands and machines beat the critical path', () => {
  let busier = 0;
  fc.assert(
    fc.property(works, (made) => {
      const path = criticalPath(made, networkFor(made));
      const { schedule } = level(made, { seed: 1, schedules: 20 });
      for (let i = 0; i < made.lots.length; i++) {
        expect(schedule.finishes[i]).toBeGreaterThanOrEqual(path.earlyFinish[i]!);
      }
      if (schedule.readyAt > path.readyAt) busier++;
    }),
    { seed: 5, numRuns: 300 },
  );
  // Where hands are short the schedule is really longer, so the comparison is not one of equals.
  expect(busier).toBeGreaterThan(100);
});
