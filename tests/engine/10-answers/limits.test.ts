import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, ForecastLimit, Limit, Parameter } from '../../../server/model/index.ts';
import { wordedThreats } from '../../support/words.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

/** A door in a frame, hung on points; two steps. */
function door(parameters: Parameter[], limits: Limit[], more: Partial<Build> = {}): Build {
  return {
    id: 'door',
    name: 'Door',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    parameters,
    limits,
    parts: [
      { id: 'leaf', name: 'Leaf', source: 'make', count: 2, dependsOn: ['door_width'] },
      { id: 'frame', name: 'Frame', source: 'make', count: 2, dependsOn: ['frame_width'] },
      { id: 'sign', name: 'Sign', source: 'make', count: 1 },
    ],
    steps: ['leaf', 'frame', 'sign'].map((part) => ({
      id: `saw-${part}`,
      name: `Saw ${part}`,
      part,
      phases: [{ kind: 'hands' as const, perUnit: 20 }],
    })),
    ...more,
  };
}

const GAP: Limit = { id: 'gap', name: 'Gap', of: 'door_width - frame_width', least: 0, unit: 'mm' };
const widths = (leaf: Partial<Parameter>, frame: Partial<Parameter>): Parameter[] => [
  { name: 'door_width', ...leaf },
  { name: 'frame_width', ...frame },
];
const limitsOf = (build: Build): readonly ForecastLimit[] => planBuild(build, [], NOW).limits!;
const problemsOf = (build: Build) => planBuild(build, [], NOW).problems.map(({ code, field }) => `${code} ${field}`);

describe('a limit', () => {
  test('that is kept threatens nothing, and names the parts whose drawings rest on it', () => {
    const build = door(widths({ value: 804 }, { value: 800 }), [GAP]);
    expect(limitsOf(build)).toEqual([
      {
        id: 'gap',
        name: 'Gap',
        unit: 'mm',
        value: 4,
        low: 4,
        high: 4,
        least: 0,
        most: null,
        state: 'kept',
        parts: ['leaf', 'frame'],
      },
    ]);
    expect(planBuild(build, [], NOW).threats!.map(({ code }) => code)).not.toContain('limit');
  });

  test('that is broken is planned all the same and is a threat with its value, its bound and the parts', () => {
    const build = door(widths({ value: 798.5 }, { value: 800 }), [GAP]);
    const forecast = planBuild(build, [], NOW);
    expect(forecast.complete).toBe(true);
    const [threat] = wordedThreats(forecast).filter(({ code }) => code === 'limit');
    expect(threat!.message).toBe('Gap is −1.5 mm; it must be at least 0 mm. It concerns Leaf and Frame.');
  });

  test('over what is not known yet may be broken, by the corner that breaks it', () => {
    const range = { low: 795, likely: 800, high: 803 };
    const build = door(widths({ value: 802 }, { range }), [GAP, { ...GAP, id: 'play', name: 'Play', most: 6 }]);
    expect(limitsOf(build).map(({ state, low, high }) => [state, low, high])).toEqual([
      ['may-break', -1, 7],
      ['may-break', -1, 7],
    ]);
    expect(wordedThreats(planBuild(build, [], NOW)).find(({ code }) => code === 'limit')!.message).toBe(
      'Gap may be anything from −1 mm to 7 mm; it must be at least 0 mm. Find out before you make more. It concerns Leaf and Frame.',
    );
  });

  test('of one number over formulas concerns the parts of every parameter behind it, and those it names', () => {
    const parameters: Parameter[] = [
      ...widths({ value: 804 }, { value: 800 }),
      { name: 'weight', formula: 'door_width * 0.05' },
      { name: 'load', formula: 'weight / 2' },
    ];
    const limit: Limit = { id: 'load', name: 'Load a point', of: 'load', most: 25, unit: 'kg', parts: ['sign'] };
    expect(limitsOf(door(parameters, [limit]))[0]).toMatchObject({
      value: 20.1,
      state: 'kept',
      parts: ['leaf', 'sign'],
    });
  });

  test('at which a sum of tenths arrives is kept: arithmetic noise breaks nothing', () => {
    const limit: Limit = { id: 'sum', name: 'Sum', of: '0.3 - 0.1 - 0.2', least: 0 };
    expect(0.3 - 0.1 - 0.2).toBeLessThan(0);
    expect(limitsOf(door([], [limit]))[0]!.state).toBe('kept');
  });

  test.each<[string, Partial<Limit>, string]>([
    ['with a formula of no parameter', { of: 'gone + 1', least: 0 }, 'unknown-name limits.x.of'],
    ['with a bound that divides by zero', { of: '1', most: '1 / 0' }, 'formula-value limits.x.most'],
    ['that limits nothing', { of: '1' }, 'range limits.x.least'],
    ['whose least is above its most', { of: '1', least: 3, most: 2 }, 'range limits.x.least'],
  ])('%s is an error of its field', (_, limit, problem) => {
    const build = door([], [{ id: 'x', name: 'X', ...limit } as Limit], { parts: [] });
    expect(problemsOf({ ...build, steps: [] })).toContain(problem);
  });

  test('is looked at with every edit: the threat comes and goes with the value', () => {
    const broken = (value: number) =>
      planBuild(door(widths({ value }, { value: 800 }), [GAP]), [], NOW).threats!.some(({ code }) => code === 'limit');
    expect([799, 800, 801].map(broken)).toEqual([true, false, false]);
  });
});
