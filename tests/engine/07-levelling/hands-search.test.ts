import { describe, expect, it } from 'vitest';
import {
  compile,
  compileForward,
  dispatch,
  type Levelled,
  level,
  withChoices,
} from '../../../server/engine/07-levelling/index.ts';
import { FREE } from '../../../server/engine/07-levelling/instance/codes.ts';
import { alwaysOpen } from '../../../server/engine/calendar/working-time.ts';
import type { HandsPhase, Schedule, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { previousScheduleOf } from '../../support/previous-plan.ts';
import { tinyWork } from '../../support/tiny-work.ts';
import { lot, person, work } from '../_network.ts';

const open = alwaysOpen(0, 1000);

function hands(minutes: number, oneGo = false): HandsPhase {
  return { kind: 'hands', minutes, people: 1, eligible: [0], oneGo, open };
}

/**
 * Ada loads a printer, which runs for four minutes, and takes the piece from there to a laser; beside that she has five
 * minutes to saw.
 */
function printerAndSaw(): Work {
  const run = { kind: 'run', minutes: 4, machine: 1, attended: false, people: 0, eligible: [], open } as const;
  const lots = [lot('print', [hands(1), run, hands(1), { ...run, minutes: 1, machine: 2 }]), lot('saw', [hands(5)])];
  const machines = ['printer', 'laser'].map((name) => ({ ...person(name, open), kind: 'machine' as const }));
  return work({ resources: [person('ada', open), ...machines], lots });
}

function phasesOf({ placements }: Schedule): string[] {
  return placements.map(({ lot: l, start, finish, people }) => `${l} ${start}-${finish} ${people.join('+')}`);
}

describe('choices that no order of lots says', () => {
  it('let a piece wait for its way to a further machine: whole lots by turns take eleven minutes, this eight', () => {
    const given = printerAndSaw();
    const { schedule, schedules } = level(given, { seed: 1, schedules: 200 });
    expect(faultsOf(given, schedule)).toEqual([]);
    expect(phasesOf(schedule)).toEqual(['0 0-1 0', '0 1-5 ', '0 6-7 0', '0 7-8 ', '1 1-6 0']);
    expect(schedules).toBeLessThanOrEqual(200);
  });

  it('are not made where one schedule is all there is time for', () => {
    expect(level(printerAndSaw(), { seed: 1, schedules: 1 }).schedule.readyAt).toBe(11);
  });

  it('say how much of their budget is spent, from none to all, and are the same where nobody hears', () => {
    const shares: number[] = [];
    const heard = level(printerAndSaw(), { seed: 1, schedules: 200, onShare: (share) => shares.push(share) });
    expect(shares.length).toBeGreaterThan(50);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect([shares.at(0)! < 0.1, shares.at(-1)! > 0.75, shares.at(-1)! <= 1]).toEqual([true, true, true]);
    expect(phasesOf(heard.schedule)).toEqual(phasesOf(level(printerAndSaw(), { seed: 1, schedules: 200 }).schedule));
  });

  it('are not looked for when the time is up', () => {
    // A clock on which every look costs ten milliseconds.
    for (const milliseconds of [1, 5, 30, 200]) {
      let now = 0;
      const clock = () => {
        now += 10;
        return now;
      };
      const { schedule } = level(printerAndSaw(), { seed: 1, milliseconds, clock });
      expect(faultsOf(printerAndSaw(), schedule)).toEqual([]);
      expect(now).toBeLessThan(milliseconds + 200);
    }
  });

  it('stand in a re-plan that has time for one schedule', () => {
    let chosen = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const given = tinyWork(seed, 6);
      const first = level(given, { seed, schedules: 500 });
      const again = level(given, { seed, schedules: 1, previous: previousScheduleOf(given, first.schedule) });
      expect(faultsOf(given, again.schedule), `build ${seed}`).toEqual([]);
      expect(again.schedule.readyAt, `build ${seed}`).toBeLessThanOrEqual(first.schedule.readyAt);
      if (hasChoices(first)) chosen++;
    }
    expect(chosen).toBeGreaterThan(2);
  });

  it('are made in a future that goes as planned', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const given = tinyWork(seed, 6);
      const compiled = compile(given);
      const { schedule, choices } = level(given, { seed, schedules: 300 }, compiled);
      const future = compileForward({ ...given, lots: withChoices(given.lots, compiled.forward, choices) });
      dispatch(future, schedule.activityList, future.forward.phaseMinutes, future.forward);
      expect([...future.forward.starts], `build ${seed}`).toEqual([...schedule.starts]);
      expect([...future.forward.finishes], `build ${seed}`).toEqual([...schedule.finishes]);
    }
  });
});

function hasChoices({ choices }: Levelled): boolean {
  return choices.wanted.some((crew) => crew >= 0) || choices.notBefore.some((instant) => instant !== FREE);
}
