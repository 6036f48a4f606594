import { describe, expect, it } from 'vitest';
import {
  isAverageWeekOver,
  type Unattended,
  type WorkSpell,
  workHoursWarnings,
} from '../../../../server/engine/10-answers/work-hours/findings.ts';
import { readWall, wallText } from '../../../../server/engine/calendar/clock.ts';
import type { WorkHoursWarning } from '../../../../server/model/index.ts';
import { HAZARDS, type Hazard } from '../../../../server/model/step.ts';

// Limits: Directive 2003/88/EC, articles 2, 3, 5, 6; dangerous work at night: HSE, HSG256 (2006).
const BERLIN = 'Europe/Berlin';
const at = (text: string) => {
  const read = readWall(text, BERLIN);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const spell = (from: string, to: string, step = 'paint', hazards: Hazard[] = []): WorkSpell => ({
  start: at(from),
  finish: at(to),
  step,
  hazards,
});
const warnings = (spells: WorkSpell[], runs: Unattended[] = []) =>
  workHoursWarnings([{ id: 'ana', spells }], runs, BERLIN);
const coded = (found: WorkHoursWarning[], code: string) => found.filter((one) => one.code === code);
/** The same hours on so many days from Monday 5 October 2026. */
const daily = (days: number, from: string, to: string) =>
  Array.from({ length: days }, (_, i) => {
    const date = `2026-10-${String(5 + i).padStart(2, '0')}`;
    return spell(`${date}T${from}`, `${date}T${to}`);
  });

describe('rest between two days', () => {
  it('warns of 9 hours from 23:00 to 08:00', () => {
    const found = coded(
      warnings([spell('2026-10-05T15:00', '2026-10-05T23:00'), spell('2026-10-06T08:00', '2026-10-06T12:00')]),
      'rest',
    );
    expect(found).toMatchObject([{ person: 'ana', minutes: 9 * 60, at: at('2026-10-06T08:00') }]);
  });

  it('counts 11 hours over the autumn night where the clock shows 10', () => {
    const night = [spell('2026-10-24T14:00', '2026-10-24T22:00'), spell('2026-10-25T08:00', '2026-10-25T12:00')];
    expect(coded(warnings(night), 'rest')).toEqual([]);
  });

  it('counts 10 hours over the spring night where the clock shows 11', () => {
    const night = [spell('2026-03-28T14:00', '2026-03-28T21:00'), spell('2026-03-29T08:00', '2026-03-29T12:00')];
    expect(coded(warnings(night), 'rest')).toMatchObject([{ minutes: 10 * 60 }]);
  });

  it('takes neither a lunch nor a free afternoon for a short night', () => {
    const split = [
      spell('2026-10-05T08:00', '2026-10-05T12:00'),
      spell('2026-10-05T13:00', '2026-10-05T15:00'),
      spell('2026-10-05T18:00', '2026-10-05T20:00'),
      spell('2026-10-06T08:00', '2026-10-06T12:00'),
    ];
    expect(coded(warnings(split), 'rest')).toEqual([]);
  });

  it('finds the short night among the lunches', () => {
    const short = [
      spell('2026-10-05T18:00', '2026-10-05T22:00'),
      spell('2026-10-06T08:00', '2026-10-06T12:00'),
      spell('2026-10-06T18:00', '2026-10-06T22:00'),
    ];
    expect(coded(warnings(short), 'rest')).toMatchObject([{ minutes: 10 * 60, at: at('2026-10-06T08:00') }]);
  });
});

describe('hours in a week', () => {
  it('warns of more than 48 hours in any seven days, not of 48', () => {
    expect(coded(warnings(daily(6, '08:00', '16:00')), 'week')).toEqual([]);
    const found = coded(warnings(daily(6, '08:00', '16:10')), 'week');
    expect(found).toMatchObject([{ minutes: 49 * 60, at: at('2026-10-05T08:00') }]);
  });

  it('sees seven days that lie across two calendar weeks', () => {
    const across = [6, 7, 8, 9, 10, 11].map((i) => daily(i + 1, '08:00', '18:00')[i]!);
    expect(coded(warnings(across), 'week')).toMatchObject([{ minutes: 60 * 60 }]);
  });

  it('takes 60, 40, 44, 48 for an average of 48, and a fifth week of 49 for more', () => {
    expect(isAverageWeekOver([60, 40, 44, 48].map((hours) => hours * 60))).toBe(false);
    expect(isAverageWeekOver([60, 40, 44, 48, 49].map((hours) => hours * 60))).toBe(true);
  });

  it('warns of an average over the weeks of a build', () => {
    const averages = (days: number) =>
      coded(warnings(daily(days, '08:00', '16:00')), 'week').filter((one) => one.weeks !== null);
    expect(averages(12)).toEqual([]);
    expect(averages(13)).toMatchObject([{ minutes: 52 * 60, at: at('2026-10-05T00:00') }]);
    expect(averages(7)).toEqual([]);
  });
});

describe('a day off', () => {
  it('is missed in seven working days', () => {
    const found = coded(warnings(daily(7, '09:00', '13:00')), 'no-day-off');
    expect(found).toMatchObject([{ minutes: 20 * 60, at: at('2026-10-05T09:00') }]);
  });

  it('is there in a week of six days with its Sunday', () => {
    const twoWeeks = daily(13, '08:00', '17:00').filter((_, i) => i !== 6);
    expect(coded(warnings(twoWeeks), 'no-day-off')).toEqual([]);
  });

  it('is missed again in the second of two such weeks', () => {
    expect(coded(warnings(daily(14, '09:00', '13:00')), 'no-day-off')).toHaveLength(2);
  });
});

describe('nights', () => {
  it('are flagged for work between midnight and five', () => {
    const found = coded(warnings([spell('2026-10-05T22:00', '2026-10-06T01:30')]), 'night');
    expect(found).toMatchObject([{ minutes: 90, at: at('2026-10-06T00:00'), strong: false }]);
    expect(coded(warnings([spell('2026-10-05T20:00', '2026-10-06T00:00')]), 'night')).toEqual([]);
    expect(coded(warnings([spell('2026-10-06T05:00', '2026-10-06T08:00')]), 'night')).toEqual([]);
  });

  it.each<Hazard>(['blades', 'height', 'mains', 'hot-work'])('weigh more with %s', (hazard) => {
    const night = [spell('2026-10-05T22:00', '2026-10-06T01:30', 'rout panels', [hazard])];
    expect(coded(warnings(night), 'night')).toMatchObject([{ strong: true }]);
    expect(coded(warnings(night), 'night')).toMatchObject([{ steps: ['rout panels'], hazards: [hazard] }]);
  });

  it('do not weigh more for a hazard met in the evening before', () => {
    const evening = [
      spell('2026-10-05T20:00', '2026-10-05T22:00', 'rout panels', ['blades']),
      spell('2026-10-05T22:00', '2026-10-06T01:00', 'sort screws'),
    ];
    expect(coded(warnings(evening), 'night')).toMatchObject([{ strong: false }]);
  });

  it('are a caution about fire, not about people, for a machine that runs alone', () => {
    const run = {
      step: 'print',
      machine: 'printer-1',
      hazards: [],
      start: at('2026-10-05T22:00'),
      finish: at('2026-10-06T09:00'),
    };
    const found = warnings([], [run]);
    expect(found).toMatchObject([{ code: 'unattended-night', person: null, minutes: 300 }]);
    expect(warnings([], [{ ...run, finish: at('2026-10-06T00:00') }])).toEqual([]);
  });

  it('are as long as they are when the clocks change', () => {
    const run = {
      step: 'print',
      machine: 'printer-1',
      hazards: [],
      start: at('2026-10-24T22:00'),
      finish: at('2026-10-25T09:00'),
    };
    expect(warnings([], [run])).toMatchObject([{ minutes: 360 }]);
  });
});

describe('alone at a dangerous step', () => {
  const ana = {
    id: 'ana',
    spells: [spell('2026-10-05T18:00', '2026-10-05T22:00', 'saw ribs', ['blades'])],
  };

  it('is said once for a step, with its minutes and its hazards', () => {
    const more = [...ana.spells, spell('2026-10-06T18:00', '2026-10-06T19:00', 'saw ribs', ['blades', 'dust'])];
    const found = coded(workHoursWarnings([{ ...ana, spells: more }], [], BERLIN), 'alone');
    expect(found).toMatchObject([{ person: 'ana', minutes: 300, at: at('2026-10-05T18:00') }]);
    expect(found).toMatchObject([{ steps: ['saw ribs'], hazards: ['blades'], strong: true }]);
  });

  it('is not said while somebody else is at work', () => {
    const ben = { id: 'ben', spells: [spell('2026-10-05T18:00', '2026-10-05T21:00', 'paint')] };
    expect(coded(workHoursWarnings([ana, ben], [], BERLIN), 'alone')).toMatchObject([
      { person: 'ana', minutes: 60, at: at('2026-10-05T21:00') },
    ]);
    const long = { ...ben, spells: [spell('2026-10-05T17:00', '2026-10-05T23:00', 'paint')] };
    expect(coded(workHoursWarnings([ana, long], [], BERLIN), 'alone')).toEqual([]);
  });

  it('is not said of dust', () => {
    expect(coded(warnings([spell('2026-10-05T18:00', '2026-10-05T22:00', 'sand', ['dust'])]), 'alone')).toEqual([]);
  });
});

it('puts the warnings of all in order of time', () => {
  const found = warnings(daily(14, '06:00', '22:00'));
  const times = found.map((one) => one.at);
  expect(times).toEqual([...times].sort((a, b) => a - b));
  expect(new Set(found.map((one) => one.code))).toEqual(new Set(['rest', 'week', 'no-day-off', 'break', 'long-shift']));
  expect(wallText(times[0]!, BERLIN)).toBe('2026-10-05T00:00');
});

describe('what is dangerous, by hazard, kind of work, hour and company', () => {
  // Common practice, no source; nights with dangerous work: HSE, HSG256 (2006), from memory.
  const UNWATCHED = [
    ...['lasers', 'hot-work', 'batteries', 'mains', 'spray', 'resins'],
    ...['moving-parts', 'pressure', 'solvent-rags', 'outdoor-mains', 'isocyanates'],
  ];
  const TIRED = [
    ...['blades', 'height', 'mains', 'hot-work'],
    ...['overhead', 'moving-parts', 'glass', 'outdoor-mains', 'driving'],
  ];
  const FINE_ALONE = ['dust', 'fumes', 'noise', 'solvent-rags', 'driving', 'public-decor'];
  const hours = { day: ['2026-10-05T10:00', '2026-10-05T11:00'], night: ['2026-10-06T00:30', '2026-10-06T01:30'] };
  const cases = HAZARDS.flatMap((hazard) =>
    (['day', 'night'] as const).flatMap((hour) =>
      (['hands', 'run', 'wait'] as const).flatMap((kind) =>
        [true, false].map((alone) => ({ hazard, hour, kind, alone })),
      ),
    ),
  );

  it.each(cases)('$hazard, $kind by $hour, alone: $alone', ({ hazard, hour, kind, alone }) => {
    const [from, to] = hours[hour] as [string, string];
    const doer = { id: 'ana', spells: kind === 'hands' ? [spell(from, to, 'it', [hazard])] : [] };
    const others = alone ? [] : [{ id: 'ben', spells: [spell(from, to, 'sweep')] }];
    const machine = kind === 'run' ? 'machine' : null;
    const unattended =
      kind === 'hands' ? [] : [{ step: 'it', machine, hazards: [hazard], start: at(from), finish: at(to) }];
    const found = workHoursWarnings([doer, ...others], unattended, BERLIN)
      .filter(({ person }) => person !== 'ben')
      .map(({ code, strong, phase }) => `${code}${phase === null ? '' : ` ${phase}`}${strong ? ', strong' : ''}`);
    const expected: string[] = [];
    if (kind === 'hands') {
      if (hour === 'night') expected.push(TIRED.includes(hazard) ? 'night, strong' : 'night');
      if (alone && !FINE_ALONE.includes(hazard)) expected.push('alone, strong');
    } else if (UNWATCHED.includes(hazard)) {
      expected.push(`unattended ${kind}, strong`);
    } else if (kind === 'run' && hour === 'night') expected.push('unattended-night');
    expect(found.sort()).toEqual(expected.sort());
  });

  it('joins what is left by itself of one step, and the nights of one machine', () => {
    const run = (day: string, hazards: Hazard[]): Unattended => ({
      step: 'cut',
      machine: 'cutter',
      hazards,
      start: at(`2026-10-0${day}T23:00`),
      finish: at(`2026-10-0${Number(day) + 1}T02:00`),
    });
    expect(warnings([], [run('5', ['lasers']), run('6', ['lasers'])])).toMatchObject([
      { code: 'unattended', minutes: 360, at: at('2026-10-05T23:00'), steps: ['cut'], machine: 'cutter' },
    ]);
    expect(warnings([], [run('5', []), run('6', [])])).toMatchObject([
      { code: 'unattended-night', minutes: 240, nights: 2, at: at('2026-10-06T00:00'), machine: 'cutter' },
    ]);
  });
});
