import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { FIRST_SCHEDULE, filing, log, paceOf, type Told } from '../_filing.ts';

const BEGIN = Date.parse('2026-12-08T09:00Z') / 60_000;

type Act = {
  readonly kind: 'began' | 'paused' | 'done';
  readonly who: string;
  readonly at: number;
  readonly step: string;
};

const entriesOf = (acts: readonly Act[]): LogEntry[] =>
  acts.map(({ kind, who, at, step }, i) => ({
    id: `entry-${String(i).padStart(5, '0')}`,
    seq: i + 1,
    kind,
    who,
    step,
    at: new Date((BEGIN + at) * 60_000).toISOString(),
    ...(kind === 'done' ? { n: 1 } : {}),
  }));

describe('a run clock that is begun again while it is on', () => {
  test('was off since the last count: the pause is no work', () => {
    // Two units in 4 min, then 5 min of something else, five times.
    const told = [0, 1, 2, 3, 4].flatMap((k): Told[] => {
      const at = (minute: number) => `09T18:${String(9 * k + minute).padStart(2, '0')}`;
      return [
        [at(0), 'began', undefined, 'ria'],
        [at(4), 'done', 2, 'ria'],
      ];
    });
    expect(paceOf(filing(2), log(...told))).toMatchObject({ units: 10, minutes: 20 });
  });

  test('was off since it was begun, where nothing was counted', () => {
    const told = log(
      ['09T18:00', 'began', undefined, 'ria'],
      ['09T18:20', 'began', undefined, 'ria'],
      ['09T18:50', 'done', 10, 'ria'],
    );
    expect(paceOf(filing(3), told)).toMatchObject({ units: 10, minutes: 30 });
  });

  test('credits the lot in hand with nothing of it', () => {
    const at = (minute: number) => new Date((BEGIN + minute) * 60_000).toISOString();
    const build: Build = {
      id: 'hooks',
      name: 'Hooks',
      zone: 'UTC',
      start: '2026-12-08T08:00',
      event: '2026-12-24T19:00',
      people: [{ id: 'ria', name: 'ria', hours: 'daily 08:00-18:00' }],
      steps: [{ id: 'file', name: 'file', phases: [{ kind: 'hands', minutes: 300 }] }],
    };
    const began = (minute: number, seq: number): LogEntry => ({
      id: `began-${seq}0000`,
      seq,
      kind: 'began',
      step: 'file',
      who: 'ria',
      at: at(minute),
    });
    const finish = (entries: LogEntry[]) => planBuild(build, entries, BEGIN + 130, FIRST_SCHEDULE).room.readyBy.finish;
    expect(finish([began(0, 1), began(120, 2)])).toBe(finish([began(120, 1)]));
  });

  const act = fc.record({
    kind: fc.constantFrom('began' as const, 'began' as const, 'done' as const, 'done' as const, 'paused' as const),
    who: fc.constantFrom('ria', 'tom'),
    step: fc.constantFrom('file', 'file', 'hang'),
    wait: fc.integer({ min: 1, max: 25 }),
  });

  test('says the same as a log in which the pause stands, whatever else is in it', () => {
    const build = filing(3);
    build.steps.push({ id: 'hang', name: 'hang', count: 90, phases: [{ kind: 'hands', perUnit: 3 }] });
    const said = (acts: readonly Act[]) => {
      const { steps, room } = planBuild(build, entriesOf(acts), BEGIN + 900, FIRST_SCHEDULE);
      return { paces: steps.map(({ pace }) => pace), finish: room.readyBy.finish };
    };
    fc.assert(
      fc.property(fc.array(act, { minLength: 2, maxLength: 14 }), (drawn) => {
        const acts: Act[] = [];
        const paused: Act[] = [];
        let minute = 0;
        for (const { wait, ...one } of drawn) {
          minute += wait;
          const own = paused.filter(({ who }) => who === one.who);
          const last = own.findLastIndex(({ kind, step }) => kind !== 'done' || step !== one.step);
          const isOn = own[last]?.kind === 'began' && own[last]?.step === one.step;
          // A pause of somebody whose clock is off stops those of all others.
          if (one.kind === 'paused' && !isOn) continue;
          // Where somebody last counted or began, before they begin again at the same step.
          if (one.kind === 'began' && isOn) paused.push({ ...one, kind: 'paused', at: own.at(-1)!.at });
          for (const list of [acts, paused]) list.push({ ...one, at: minute });
        }
        expect(said(acts)).toEqual(said(paused.sort((a, b) => a.at - b.at)));
      }),
      { numRuns: 40, seed: 5 },
    );
  });
});
