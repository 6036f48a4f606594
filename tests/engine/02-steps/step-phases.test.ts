import { describe, expect, test } from 'vitest';
import { quantitiesOf } from '../../../server/engine/01-quantities/quantities.ts';
import { pacedPhase, plannedStepsOf, withPaces } from '../../../server/engine/02-steps/planned-steps.ts';
import { surroundingsOf } from '../../../server/engine/calendar/surroundings.ts';
import { tallyLog } from '../../../server/engine/log/log-tally.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Step } from '../../../server/model/index.ts';
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
