import { describe, expect, test } from 'vitest';
import { quantitiesOf } from '../../../server/engine/01-quantities/quantities.ts';
import { pacedPhase, plannedStepsOf, withPaces } from '../../../server/engine/02-steps/planned-steps.ts';
import { surroundingsOf } from '../../../server/engine/calendar/surroundings.ts';
import { tallyLog } from '../../../server/engine/log/log-tally.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';
import { filing, NOW } from '../_filing.ts';

const TRIAL = { units: 10, minutes: 100 };

function stepOf(build: Build) {
  const step = planBuild(build, [], NOW).steps[0]!;
  return { left: step.handsMinutesLeft, run: step.runMinutesPerLot, pattern: step.pattern };
}

describe('a trial of units that are learnt', () => {
  const learnt: Partial<Step> = { learning: 0.8, lotSize: 10, count: 10 };

  test('comes to its own minutes for its own units of hands', () => {
    expect(stepOf(filing(TRIAL, learnt)).left).toBe(100);
  });

  test('does not make a machine slower, which learns nothing', () => {
    const run = { kind: 'run' as const, machine: 'press', perUnit: TRIAL };
    const build = { ...filing(1, { ...learnt, phases: [run] }), machines: [{ id: 'press', name: 'press' }] };
    expect(stepOf(build).run).toBe(100);
  });

  test('has its first unit take as long where nobody can do it as if somebody might', () => {
    const nobody = { ...filing(TRIAL, learnt), people: [] };
    expect(stepOf(nobody).pattern).toEqual([
      { kind: 'wait', fixedMinutes: 0, minutesPerUnit: expect.closeTo(15.8, 1) },
    ]);
  });
});

describe('work for two who are together on one day alone', () => {
  const at = (text: string) => Date.parse(`${text}Z`) / 60_000;
  const build: Build = {
    id: 'arch',
    name: 'arch',
    zone: 'UTC',
    start: '2026-12-01T08:00',
    event: '2026-12-05T18:00',
    people: [
      {
        id: 'ada',
        name: 'Ada',
        hours: 'daily 18:00-22:00',
        exceptions: [{ date: '2026-12-05', hours: '08:00-18:00' }],
      },
      { id: 'ben', name: 'Ben', hours: 'daily 08:00-12:00' },
    ],
    steps: [{ id: 'put-up', name: 'put up', phases: [{ kind: 'hands', minutes: 180, people: 2 }] }],
    gates: [{ id: 'power', name: 'power on', after: ['put-up'], minutes: 20, people: 2 }],
  };
  const log: LogEntry[] = [
    { id: 'entry-0001', kind: 'began', step: 'put-up', person: 'ada', at: '2026-12-05T08:00:00Z' },
    { id: 'entry-0002', kind: 'done', step: 'put-up', n: 1, person: 'ada', at: '2026-12-05T10:52:00Z' },
    { id: 'entry-0003', kind: 'passed', step: 'power', at: '2026-12-05T11:30:00Z' },
  ];

  test('is still hands, with its pace, when it is done and that day is over, and nobody is missed for it', () => {
    const { steps, problems } = planBuild(build, log, at('2026-12-06T12:00'));
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(steps[0]).toMatchObject({ left: 0, pattern: [{ kind: 'hands' }], pace: { units: 1, minutes: 172 } });
    expect(steps[0]!.runTime).toBeUndefined();
  });

  test('is a problem when that day is over and it is not done', () => {
    const { problems } = planBuild(build, log.slice(0, 1), at('2026-12-06T12:00'));
    expect(problems.filter(({ code }) => code === 'nobody').map(({ field }) => field)).toEqual([
      'steps.put-up.phases.1',
      'steps.power.phases.1',
    ]);
  });

  test('is no wait that was timed when somebody who did it is gone', () => {
    const alone = { ...build, people: build.people!.slice(0, 1) };
    expect(planBuild(alone, log, at('2026-12-06T12:00')).steps[0]!.runTime).toBeUndefined();
  });
});

describe('steps at other paces', () => {
  const build = filing({ low: 2, likely: 3, high: 10 }, { learning: 0.9 });
  const surroundings = surroundingsOf(build, NOW);
  const { steps } = plannedStepsOf(build, surroundings, quantitiesOf(build), tallyLog([]));

  test('are the same steps where no pace is given', () => {
    expect(withPaces(steps, new Map())).toBe(steps);
    expect(withPaces(steps, new Map([['gone', { firstUnitMinutes: 9, origin: 'measured' }]]))).toEqual(steps);
  });

  test('take minutes, origin and learning of the pace, and keep what they rested on', () => {
    const [file, oil] = withPaces(
      steps,
      new Map([['file', { firstUnitMinutes: 7, origin: 'measured', learningRate: 1 }]]),
    );
    expect(file).toMatchObject({ origin: 'measured', learningRate: 1, lotSize: 20 });
    expect(pacedPhase(file!)).toMatchObject({ firstUnitMinutes: 7, estimate: { kind: 'range' } });
    expect(oil).toBe(steps[1]);
  });

  test('keep the learning rate as given where the pace names none', () => {
    const [file] = withPaces(steps, new Map([['file', { firstUnitMinutes: 7, origin: 'measured' }]]));
    expect(file!.learningRate).toBe(0.9);
  });
});
