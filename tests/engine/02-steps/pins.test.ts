import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { type Build, checkBuild, type Forecast, type Pin, type Step } from '../../../server/model/index.ts';

const now = Date.parse('2026-12-01T07:00Z') / 60_000;
const at = (wall: string) => Date.parse(`${wall}Z`) / 60_000;

/** Ada 8 to 16, Ben 12 to 20; 24 lamps to fold and glue, 20 minutes each way, a sign that either may paint. */
function lamps(pins: Pin[], step = 'glue', changes: Partial<Step> = {}): Build {
  const steps: Step[] = [
    { id: 'fold', name: 'fold lamps', part: 'lamp', lotSize: 6, phases: [{ kind: 'hands', perUnit: 20 }] },
    { id: 'glue', name: 'glue lamps', part: 'lamp', lotSize: 6, phases: [{ kind: 'hands', perUnit: 10 }] },
    { id: 'sign', name: 'paint the sign', phases: [{ kind: 'hands', minutes: 60 }] },
  ];
  return {
    id: 'lamps',
    name: 'Lamps',
    zone: 'UTC',
    event: '2026-12-12T18:00',
    people: [
      { id: 'ada', name: 'Ada', hours: 'daily 08:00-16:00' },
      { id: 'ben', name: 'Ben', hours: 'daily 12:00-20:00' },
    ],
    parts: [{ id: 'lamp', name: 'lamp', source: 'make', count: 24 }],
    steps: steps.map((one) => (one.id === step ? { ...one, pins, ...changes } : one)),
  };
}

const quick = (build: Build) => planBuild(build, [], now, { levelling: { seed: 1, schedules: 1 } });
const deep = (build: Build) => planBuild(build, [], now, { levelling: { seed: 1, schedules: 120 } });
const lotsOf = ({ lots }: Forecast, step: string) => lots.filter((lot) => lot.step === step);
const sentences = ({ problems }: Forecast) =>
  problems.filter(({ field }) => field.includes('.pins.')).map(({ field, message }) => `${field}: ${message}`);

describe.each([
  ['the quick answer', quick],
  ['the search', deep],
])('%s', (_, plan) => {
  it('begins a pinned lot at its time and gives it to the person named', () => {
    const forecast = plan(lamps([{ start: '2026-12-01T14:00', people: ['ada'] }], 'sign'));
    const [sign] = lotsOf(forecast, 'sign');
    expect(sign).toMatchObject({ pinned: true, levelled: { start: at('2026-12-01T14:00') } });
    expect(sign!.placements[0]!.people).toEqual(['ada']);
    expect(sentences(forecast)).toEqual([]);
  });

  it('has ready in time what a pinned lot needs', () => {
    const forecast = plan(lamps([{ from: 7, to: 12, start: '2026-12-01T13:00' }]));
    const pinned = lotsOf(forecast, 'glue').find((lot) => lot.firstUnit === 7)!;
    expect(pinned.levelled!.start).toBe(at('2026-12-01T13:00'));
    expect(sentences(forecast)).toEqual([]);
  });

  it('says what stands against a time that cannot be kept, and plans it as soon as can be', () => {
    const early = plan(lamps([{ from: 13, to: 18, start: '2026-12-01T08:00' }]));
    const start = lotsOf(early, 'glue').find((lot) => lot.firstUnit === 13)!.levelled!.start;
    expect(start).toBeGreaterThan(at('2026-12-01T08:00'));
    expect(sentences(early)).toEqual([
      expect.stringMatching(
        /^steps\.glue\.pins\.1\.start: "glue lamps" from unit 13 on is pinned to Tue 1 Dec 08:00 but can begin Tue 1 Dec \d\d:\d\d at the earliest: (it waits for "fold lamps"|(Ada|Ben) is busy with "fold lamps")\. Move the pin/,
      ),
    ]);
    const away = plan(lamps([{ start: '2026-12-02T09:00', people: ['ben'] }], 'sign'));
    expect(lotsOf(away, 'sign')[0]!.levelled!.start).toBe(at('2026-12-02T12:00'));
    expect(sentences(away)[0]).toMatch(/but can begin Wed 2 Dec 12:00 at the earliest: Ben cannot be there then\./);
    const past = plan(lamps([{ start: '2026-11-30T09:00' }], 'sign'));
    expect(sentences(past)[0]).toMatch(/that time has passed, and nothing of it is logged\./);
  });
});

it('parts lots at the ends of a pin and leaves the others free', () => {
  const lots = lotsOf(quick(lamps([{ from: 9, to: 10, people: ['ben'] }])), 'glue');
  expect(lots.map(({ firstUnit, lastUnit }) => [firstUnit, lastUnit])).toEqual([
    [1, 6],
    [7, 8],
    [9, 10],
    [11, 12],
    [13, 18],
    [19, 24],
  ]);
  expect(lots.map(({ pinned }) => pinned === true)).toEqual([false, false, true, false, false, false]);
  expect(lots[2]!.placements[0]!.people).toEqual(['ben']);
});

it('gives the time to the first lot of a pin alone, the people to all of them', () => {
  const lots = lotsOf(deep(lamps([{ from: 1, to: 12, start: '2026-12-02T09:00', people: ['ada'] }])), 'glue');
  const pinned = lots.filter((lot) => lot.pinned);
  expect(pinned.map(({ firstUnit }) => firstUnit)).toEqual([1, 7]);
  expect(pinned[0]!.levelled!.start).toBe(at('2026-12-02T09:00'));
  expect(pinned.flatMap(({ placements }) => placements[0]!.people)).toEqual(['ada', 'ada']);
});

it('counts the units within the set where one is named', () => {
  const build = {
    ...lamps([{ set: 2, from: 2, to: 3, people: ['ben'] }], 'glue', { perSet: true }),
    sets: { count: 3, name: 'arch' },
  };
  const pinned = lotsOf(quick(build), 'glue').filter((lot) => lot.pinned);
  expect(pinned.map(({ set, firstUnit, lastUnit }) => [set, firstUnit, lastUnit])).toEqual([[2, 10, 11]]);
});

it('names on the day sheet what is pinned', () => {
  const { days } = quick(lamps([{ start: '2026-12-01T14:00', people: ['ada'] }], 'sign'));
  const spells = days[0]!.people.find(({ id }) => id === 'ada')!.spells;
  expect(spells.filter(({ pinned }) => pinned).map(({ step, start }) => [step, start])).toEqual([
    ['sign', at('2026-12-01T14:00')],
  ]);
});

describe('a pin that says something wrong', () => {
  it.each<[string, Pin[], RegExp]>([
    ['nobody of the build', [{ people: ['zoe'] }], /pins\.1\.people: "zoe" is not a person of this build/],
    [
      'units the wrong way round',
      [{ from: 9, to: 3, people: ['ada'] }],
      /pins\.1\.to: .*ends at unit 3, before it begins at unit 9/,
    ],
    ['neither time nor person', [{ from: 1, to: 3 }], /pins\.1\.start: .*neither when it begins nor who does it/],
    [
      'a unit that is not there',
      [{ from: 60, people: ['ada'] }],
      /pins\.1\.from: "glue lamps" has 24 units, so unit 60/,
    ],
    [
      'a set of a step without sets',
      [{ set: 1, people: ['ada'] }],
      /pins\.1\.set: .*for the whole and not for each set/,
    ],
    [
      'units of another pin',
      [
        { from: 1, to: 6, people: ['ada'] },
        { from: 6, to: 8, people: ['ben'] },
      ],
      /pins\.2: Two pins on ".*" hold units 6 to 8;/,
    ],
    ['a time that no clock shows', [{ start: '2026-02-30T10:00' }], /pins\.1\.start: /],
  ])('is named: %s', (_, pins, sentence) => {
    const forecast = quick(lamps(pins));
    expect(sentences(forecast).join('\n')).toMatch(sentence);
    expect(
      forecast.problems.filter(({ field }) => field.includes('.pins.')).every((it) => it.severity === 'error'),
    ).toBe(true);
    expect(forecast.room.readyBy.finish).not.toBeNull();
  });

  it('is cut at the last unit where it ends beyond it, with a word', () => {
    const { problems } = quick(lamps([{ from: 19, to: 30, people: ['ada'] }]));
    expect(problems.filter(({ field }) => field.includes('.pins.'))).toEqual([
      expect.objectContaining({
        severity: 'warning',
        field: 'steps.glue.pins.1.to',
        message: '"glue lamps" has 24 units, so the pin on units 19 to 30 ends at unit 24; let it end there.',
      }),
    ]);
    expect(quick(lamps([{ from: 19, people: ['ada'] }])).problems.filter(({ code }) => code === 'pin')).toEqual([]);
  });

  it('is refused where it has the wrong shape', () => {
    const checked = checkBuild(lamps([{ set: 0, start: 'noon' } as unknown as Pin]));
    expect(checked.ok).toBe(false);
    expect(checked.ok ? [] : checked.problems.map(({ field }) => field)).toEqual(
      expect.arrayContaining([expect.stringMatching(/pins/)]),
    );
  });
});
