import { describe, expect, it } from 'vitest';
import { dependencyOrderOf } from '../../../server/engine/07-levelling/generate/orders.ts';
import { scheduleOf } from '../../../server/engine/07-levelling/generate/schedule.ts';
import {
  choose,
  compile,
  compileForward,
  dispatch,
  level,
  waysOf,
  withChoices,
} from '../../../server/engine/07-levelling/index.ts';
import { machinesFirst } from '../../../server/engine/07-levelling/replan/ways.ts';
import { alwaysOpen } from '../../../server/engine/calendar/working-time.ts';
import type { HandsPhase, Lot, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { tinyWork } from '../../support/tiny-work.ts';
import { link, lot, person, work } from '../_network.ts';

const open = alwaysOpen(0, 1000);
const hands = (minutes: number): HandsPhase => ({
  kind: 'hands',
  minutes,
  people: 1,
  eligible: [0],
  oneGo: false,
  open,
});
const run = { kind: 'run', minutes: 4, machine: 1, attended: false, people: 0, eligible: [], open } as const;

/** Ada saws (0) and files (1) what she then mills (2); she prints (3, 4) and paints (5) beside that. */
function workshop(more: Partial<Lot> = {}): Work {
  const machine = [hands(1), run, hands(1)];
  const lots = [
    lot('saw', [hands(5)]),
    lot('file', [hands(5)]),
    lot('mill', machine),
    lot('print/1', machine),
    lot('print/2', machine),
    lot('paint', [hands(3)], more),
  ];
  const links = [link(0, 1), link(1, 2), link(3, 4, 'start-start')];
  return work({ lots, links, resources: [person('ada', open), { ...person('machine', open), kind: 'machine' }] });
}

describe('a future with machines first', () => {
  it('has what runs alone right behind what it waits for, and all else as it stood', () => {
    const given = Int32Array.of(0, 5, 1, 3, 2, 4);
    expect([...machinesFirst(compileForward(workshop()), given)]).toEqual([3, 4, 0, 5, 1, 2]);
  });

  it('leaves in front what the maker has pinned to a time', () => {
    const compiled = compileForward(workshop({ pinnedStart: 0 }));
    expect([...machinesFirst(compiled, Int32Array.of(0, 1, 2, 3, 4, 5))]).toEqual([5, 3, 4, 0, 1, 2]);
  });

  it('knows nothing of lots under way that are linked to nothing', () => {
    const compiled = compileForward(workshop({ begunAt: 0 }));
    expect([...machinesFirst(compiled, Int32Array.of(4, 0, 1, 2, 3))]).toEqual([3, 4, 0, 1, 2]);
  });
});

describe('the ways that a future may go', () => {
  it('are one where nothing was chosen and no machine runs alone', () => {
    const compiled = compileForward(work({ lots: [lot('saw', [hands(5)])], resources: [person('ada', open)] }));
    expect(new Set(waysOf(compiled, { activityList: Int32Array.of(0), placements: [] })).size).toBe(1);
  });

  it('are the same for the same sheet, whatever the search chose to come to it', () => {
    let chosen = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const given = tinyWork(seed, 6);
      const compiled = compile(given);
      const { schedule, choices } = level(given, { seed, schedules: 100 }, compiled);
      const lots = withChoices(given.lots, compiled.forward, choices);
      chosen += lots.filter((one) => one.chosen !== undefined).length;
      const [told, untold] = [{ ...given, lots }, given].map((one) => waysOf(compileForward(one), schedule));
      expect(told, `build ${seed}`).toEqual(untold);
    }
    expect(chosen).toBeGreaterThan(5);
  });

  it('are all schedules that the hands and machines can do, the first of them the plan', () => {
    let differing = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const given = tinyWork(seed, 6);
      const compiled = compile(given);
      const { schedule, choices } = level(given, { seed, schedules: 100 }, compiled);
      const future = compileForward({ ...given, lots: withChoices(given.lots, compiled.forward, choices) });
      const { forward } = future;
      const ways = waysOf(future, schedule);
      for (const [i, way] of ways.entries()) {
        choose(forward, way);
        dispatch(future, way.activityList, forward.phaseMinutes, forward);
        expect(faultsOf(given, scheduleOf(future, forward, way.activityList)), `build ${seed}, way ${i}`).toEqual([]);
        if (i === 0) expect(Math.max(...forward.finishes), `build ${seed}`).toBe(schedule.finishAt);
        expect(way.activityList.slice().sort(), `build ${seed}`).toEqual(dependencyOrderOf(forward).sort());
      }
      differing += new Set(ways).size - 1;
    }
    expect(differing).toBeGreaterThan(10);
  });
});
