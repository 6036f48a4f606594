/** When the search lets somebody come back for what has run or dried. */
import { describe, expect, test } from 'vitest';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { LIVELY_NOW, livelyBuild } from '../../support/makers/lively-builds.ts';

describe('what somebody must come back for', () => {
  /** The rests that end their lot, each with when it begins and when whoever does it could have begun at the latest. */
  function putOff(build: Build, log: readonly LogEntry[], now: number, schedules: number) {
    const { work, schedule } = workThrough({ build, log, now, levelling: { seed: 1, schedules } }, 'schedules');
    const busy = work.resources.map((_, r) => schedule!.placements.filter(({ people }) => people.includes(r)));
    return schedule!.placements.flatMap(({ lot, phase, start, finish, people }) => {
      const { id, phases, pinnedPeople } = work.lots[lot]!;
      const before = schedule!.placements.find((one) => one.lot === lot && one.phase === phase - 1);
      const own = phases[phase]!;
      const isRest =
        before !== undefined && phase === phases.length - 1 && ['run', 'wait'].includes(phases[phase - 1]!.kind);
      if (!isRest || own.kind !== 'hands' || own.people > 1 || pinnedPeople !== null) return [];
      if (work.links.some(({ to, type }) => to === lot && type.endsWith('-finish'))) return [];
      const { opens, closes } = work.resources[people[0]!]!.open;
      // The first time after the run in which they are there for all of it, with nothing else to do.
      for (let at = before.finish; at + own.minutes <= start; at += 5) {
        const end = at + own.minutes;
        const isThere = opens.some((from, i) => from <= at && end <= closes[i]!);
        const isNight =
          work.nights !== undefined &&
          [...work.nights.opens].some((from, i) => from < end && at < work.nights!.closes[i]!);
        const isFree = busy[people[0]!]!.every((one) => one.finish <= at || end <= one.start);
        if (isThere && isFree && !isNight) return [{ id, start, late: finish - end }];
      }
      return [{ id, start, late: 0 }];
    });
  }

  /** A panel that dries and is taken down, beside what dries for longer, and work on site that comes much later. */
  const BUILD: Build = {
    id: 'rest',
    name: 'Rest',
    zone: 'UTC',
    event: '2031-05-09T18:30',
    loadIn: '2031-05-09T08:00',
    people: [
      { id: 'ada', name: 'Ada', hours: 'always' },
      { id: 'ben', name: 'Ben', hours: 'mon-fri 22:00-02:00; sat 12:00-20:00' },
    ],
    steps: [
      {
        id: 'pan',
        name: 'pan',
        phases: [
          { kind: 'wait', minutes: 240 },
          { kind: 'hands', minutes: 15 },
        ],
      },
      { id: 'dry', name: 'dry', phases: [{ kind: 'wait', minutes: 1440 }] },
      { id: 'hang', name: 'hang', onSite: true, phases: [{ kind: 'hands', minutes: 77, who: ['ben'] }] },
    ],
  };

  test('is not put off so that somebody has work for longer', () => {
    const now = Date.parse('2031-04-04T08:00Z') / 60_000;
    expect(putOff(BUILD, [], now, 300)).toEqual([{ id: 'pan/1', start: now + 240, late: 0 }]);
  });

  test('waits for the morning where it would be night, and no longer', () => {
    const now = Date.parse('2031-04-04T18:44Z') / 60_000;
    const [rest] = putOff(BUILD, [], now, 300);
    expect(rest!.start).toBeGreaterThan(now + 300);
    expect(rest!.late).toBeLessThan(10);
  });

  test('is done as soon as those who do it are free, in any build', () => {
    let rests = 0;
    for (let seed = 12; seed <= 26; seed++) {
      const { build, log } = livelyBuild(seed);
      const found = putOff(build, log, LIVELY_NOW, 1000);
      rests += found.length;
      expect(
        found.filter(({ late }) => late > 60),
        `build ${seed}`,
      ).toEqual([]);
    }
    expect(rests).toBeGreaterThan(20);
  });
});
