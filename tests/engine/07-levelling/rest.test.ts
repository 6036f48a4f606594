import { describe, expect, it } from 'vitest';
import { choose, unchosen } from '../../../server/engine/07-levelling/generate/choices.ts';
import { compile } from '../../../server/engine/07-levelling/generate/compiled.ts';
import { generateSerial } from '../../../server/engine/07-levelling/generate/generate.ts';
import { scheduleOf } from '../../../server/engine/07-levelling/generate/schedule.ts';
import { level } from '../../../server/engine/07-levelling/index.ts';
import { alwaysOpen, calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { HandsPhase, Lot, Phase, Schedule, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { randomWork } from '../../support/random-work.ts';
import { link, lot, person, work } from '../_network.ts';

const open = alwaysOpen(0, 100_000);
const [ADA, PRINTER, LASER] = [0, 1, 2];

function hands(minutes: number): HandsPhase {
  return { kind: 'hands', minutes, people: 1, eligible: [ADA], oneGo: false, open };
}

function run(minutes: number, machine = PRINTER): Phase {
  return { kind: 'run', minutes, machine, attended: false, people: 0, eligible: [], open };
}

function print(id: string, more: Partial<Lot> = {}): Lot {
  return lot(id, [hands(1), run(4), hands(1)], more);
}

/** Ada alone beside two printers or one, and a laser. */
function workshop(
  lots: readonly Lot[],
  links: Work['links'] = [],
  printers = 1,
  out: Work['resources'][number]['out'] = [],
) {
  const machine = (name: string) => ({ ...person(name, open), kind: 'machine' as const });
  const resources = [person('ada', open), { ...machine('printer'), capacity: printers, out }, machine('laser')];
  return work({ lots, links, resources });
}

/** One pass in this order, judged. */
function passOf(given: Work, order: readonly number[], passesOver = false): Schedule {
  const compiled = compile(given);
  const activityList = Int32Array.from(order);
  choose(compiled.forward, unchosen(compiled.forward, activityList, passesOver));
  generateSerial(compiled.forward, activityList);
  const schedule = scheduleOf(compiled, compiled.forward, activityList);
  expect(faultsOf(given, schedule)).toEqual([]);
  return schedule;
}

/** Who begins what when: lot, phase, begin. */
function beginsOf({ placements }: Schedule): string[] {
  return placements
    .filter(({ people }) => people.length > 0)
    .sort((a, b) => a.start - b.start)
    .map(({ lot: l, phase, start }) => `${l}.${phase} ${start}`);
}

describe('the rest of a lot that is left alone', () => {
  it('waits until the lot in hand is finished, and comes before the next one', () => {
    const given = workshop([print('print'), lot('saw', [hands(6)]), lot('file', [hands(3)])]);
    expect(beginsOf(passOf(given, [0, 1, 2]))).toEqual(['0.0 0', '1.0 1', '0.2 7', '2.0 8']);
  });

  it('keeps the machine until then: the next lot is loaded after it', () => {
    const given = workshop([print('print/1'), lot('saw', [hands(6)]), print('print/2')]);
    expect(beginsOf(passOf(given, [0, 1, 2]))).toEqual(['0.0 0', '1.0 1', '0.2 7', '2.0 8', '2.2 13']);
  });

  it('comes at once where the next lot of the machine comes before other work, which that waits for', () => {
    const given = workshop([print('print/1'), lot('saw', [hands(6)]), print('print/2')]);
    expect(beginsOf(passOf(given, [0, 2, 1]))).toEqual(['0.0 0', '0.2 5', '2.0 6', '1.0 7', '2.2 13']);
  });

  it('that may begin before the next lot can comes at once, though that lot leaves time enough for it', () => {
    const given = workshop([print('print'), lot('late', [hands(3)], { release: 10 }), lot('saw', [hands(6)])]);
    for (const passesOver of [false, true])
      expect(beginsOf(passOf(given, [0, 1, 2], passesOver))).toEqual(['0.0 0', '0.2 5', '1.0 10', '2.0 13']);
  });

  it('gives its machine to the lots that were passed over for it one after the other, in their order', () => {
    const prints = ['print/1', 'print/2', 'print/3', 'print/4', 'print/5'].map((id) => print(id));
    const schedule = passOf(workshop(prints, [], 2), [3, 0, 4, 2, 1], true);
    const loaded = schedule.placements.filter(({ phase }) => phase === 0).sort((a, b) => a.start - b.start);
    expect(loaded.map(({ lot: l }) => l)).toEqual([3, 0, 4, 2, 1]);
  });

  it('passed over, lets other work go first all the same', () => {
    const given = workshop([print('print/1'), lot('saw', [hands(6)]), print('print/2')]);
    expect(beginsOf(passOf(given, [0, 2, 1], true))).toEqual(['0.0 0', '1.0 1', '0.2 7', '2.0 8', '2.2 13']);
  });

  it('comes first for what needs its end, and passed over that waits for it', () => {
    const given = workshop([print('print'), lot('clean', [hands(2)]), lot('saw', [hands(6)])], [link(0, 1)]);
    expect(beginsOf(passOf(given, [0, 1, 2]))).toEqual(['0.0 0', '0.2 5', '1.0 6', '2.0 8']);
    expect(beginsOf(passOf(given, [0, 1, 2], true))).toEqual(['0.0 0', '2.0 1', '0.2 7', '1.0 8']);
  });

  it('is one of several: those come first that have waited longest', () => {
    const lots = [print('print/1'), print('print/2'), lot('saw', [hands(9)]), lot('file', [hands(1)])];
    expect(beginsOf(passOf(workshop(lots, [], 2), [0, 1, 2, 3]))).toEqual([
      '0.0 0',
      '1.0 1',
      '2.0 2',
      '0.2 11',
      '1.2 12',
      '3.0 13',
    ]);
  });

  it('is what comes after glue has dried, too, and after each of two runs of a piece that is turned over', () => {
    const glued = lot('glue', [hands(1), { kind: 'wait', minutes: 3 }, hands(2)]);
    const given = workshop([glued, lot('saw', [hands(6)])]);
    expect(beginsOf(passOf(given, [0, 1]))).toEqual(['0.0 0', '1.0 1', '0.2 7']);
    const turned = lot('turn', [hands(1), run(4), hands(1), run(4), hands(1)]);
    const both = workshop([turned, lot('saw', [hands(6)]), lot('file', [hands(7)]), print('print')]);
    expect(beginsOf(passOf(both, [0, 1, 2, 3]))).toEqual([
      '0.0 0',
      '1.0 1',
      '0.2 7',
      '2.0 8',
      '0.4 15',
      '3.0 16',
      '3.2 21',
    ]);
  });

  it('is what is under way on the machine, too', () => {
    const begun = lot('print', [run(4), hands(1)], { begunAt: -1 });
    const given = workshop([begun, lot('saw', [hands(6)]), print('print/2')]);
    expect(beginsOf(passOf(given, [0, 1, 2]))).toEqual(['1.0 0', '0.1 6', '2.0 7', '2.2 12']);
  });

  it('does not wait where the machine is out of order soon: then the lot comes where all of it has room', () => {
    const given = workshop([print('print'), lot('saw', [hands(6)])], [], 1, [[6, 20]]);
    expect(beginsOf(passOf(given, [0, 1]))).toEqual(['0.0 0', '0.2 5', '1.0 6']);
  });

  it('takes nobody twice where the loading waits for the hours of the machine', () => {
    const hours = calendarFrom([0, 1].map((day): [number, number] => [day * 50 + 10, day * 50 + 40]));
    const given = workshop([print('print'), lot('saw', [hands(6)]), lot('file', [hands(8)])]);
    const inHours = {
      ...given,
      resources: given.resources.map((r) => (r.name === 'printer' ? { ...r, open: hours } : r)),
    };
    expect(beginsOf(passOf(inHours, [0, 1, 2]))).toEqual(['1.0 0', '0.0 9', '2.0 10', '0.2 18']);
  });

  it('waits only for those who would see to it', () => {
    const byBen: HandsPhase = { ...hands(3), eligible: [3] };
    const lots = [print('print'), lot('note', [byBen], { release: 20 }), lot('saw', [hands(6)])];
    const given = workshop(lots);
    const withBen = { ...given, resources: [...given.resources, person('ben', open)] };
    expect(beginsOf(passOf(withBen, [0, 1, 2]))).toEqual(['0.0 0', '2.0 1', '0.2 7', '1.0 20']);
  });

  it('never keeps two machines that wait for each other', () => {
    const there = lot('there', [hands(1), run(4), hands(1), run(4, LASER), hands(1)]);
    const back = lot('back', [hands(1), run(4, LASER), hands(1), run(4), hands(1)]);
    const given = workshop([there, back, lot('saw', [hands(6)])]);
    for (const passesOver of [false, true]) expect(passOf(given, [0, 1, 2], passesOver).readyAt).toBeLessThan(40);
  });

  it('goes on in the morning where whoever sees to it has gone home', () => {
    const days = calendarFrom([0, 1, 2].map((day): [number, number] => [day * 1440, day * 1440 + 10]));
    const given = workshop([print('print'), lot('saw', [hands(12)])]);
    const inDays = { ...given, resources: given.resources.map((r) => (r.name === 'ada' ? { ...r, open: days } : r)) };
    expect(beginsOf(passOf(inDays, [0, 1]))).toEqual(['0.0 0', '1.0 1', '0.2 1443']);
  });

  it('leaves nobody idle who has work that is ready, in a pass that passes over', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const random = new Random(seed);
      const prints = Array.from({ length: 2 + random.below(5) }, (_, i) =>
        lot(`print/${i}`, [hands(2 + random.below(6)), run(20 + random.below(60)), hands(1 + random.below(5))]),
      );
      const saws = Array.from({ length: 5 + random.below(10) }, (_, i) =>
        lot(`saw/${i}`, [hands(5 + random.below(40))]),
      );
      const given = workshop([...prints, ...saws]);
      const { placements } = passOf(given, [...given.lots.keys()], true);
      const worked = placements.filter(({ people }) => people.length > 0).sort((a, b) => a.start - b.start);
      const last = Math.max(...worked.filter((p) => p.lot >= prints.length).map((p) => p.start));
      const idle = worked.filter((p, i) => p.start <= last && p.start > (worked[i - 1]?.finish ?? 0));
      expect(idle, `seed ${seed}`).toEqual([]);
    }
  });

  it('is done, and no lot forgotten, in any order of any work, whether waiting lots are passed over or not', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = new Random(seed);
      const given = randomWork({ seed, lots: 10 + random.below(40), wide: seed % 2 === 0, begun: seed % 3 === 0 });
      const order = given.lots.map((_, l) => l);
      for (let i = order.length - 1; i > 0; i--) {
        const j = random.below(i + 1);
        [order[i], order[j]] = [order[j]!, order[i]!];
      }
      for (const passesOver of [false, true]) {
        const { placements } = passOf(given, order, passesOver);
        expect(placements.length).toBe(given.lots.reduce((sum, { phases }) => sum + phases.length, 0));
      }
    }
  });

  it('is as late as it serves the end: a search of a few schedules finds what takes no longer than the work itself', () => {
    const saws = Array.from({ length: 8 }, (_, i) => lot(`saw/${i}`, [hands(7)]));
    const prints = Array.from({ length: 4 }, (_, i) => lot(`print/${i}`, [hands(1), run(11), hands(1)]));
    const given = workshop([...saws, ...prints]);
    const { schedule, verdict } = level(given, { seed: 1, schedules: 12 });
    expect(faultsOf(given, schedule)).toEqual([]);
    expect([schedule.readyAt, verdict]).toEqual([64, 'proved-best']);
  });
});
