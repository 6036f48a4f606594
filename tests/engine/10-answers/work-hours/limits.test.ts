/**
 * Each limit of work and rest has a situation just inside it and one just outside, and the one outside gives its
 * warning and no other. Articles of Directive 2003/88/EC: 3, 4, 5, 6 and 8 from an official summary, 2 from memory; HSE
 * guidance HSG256 (2006), its limits from memory. Article 7, of paid leave, is no matter of a plan.
 */
import { describe, expect, it } from 'vitest';
import { type WorkSpell, workHoursWarnings } from '../../../../server/engine/10-answers/work-hours/findings.ts';
import { readWall } from '../../../../server/engine/calendar/clock.ts';
import { planBuild } from '../../../../server/engine/index.ts';
import type { Build } from '../../../../server/model/index.ts';
import { wallClock } from '../../../../server/web/wall-clock.ts';
import { workHoursFooters, workHoursText } from '../../../../views/words/hours-words.ts';

const BERLIN = 'Europe/Berlin';
const at = (text: string): number => {
  const read = readWall(text, BERLIN);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
/** `05T08:00-12:00`, of October 2026, and with two days where it ends on the next: `05T22:00-06T02:00`. */
function spells(...texts: string[]): WorkSpell[] {
  return texts.map((text) => {
    const [, day, from, next, to] = /^(\d\d)T(\d\d:\d\d)-(?:(\d\d)T)?(\d\d:\d\d)$/.exec(text)!;
    const start = at(`2026-10-${day}T${from}`);
    return { start, finish: at(`2026-10-${next ?? day}T${to}`), step: 'paint', hazards: [] };
  });
}
const codes = (own: WorkSpell[]) =>
  new Set(workHoursWarnings([{ id: 'ana', spells: own }], [], BERLIN).map(({ code }) => code));
const days = (from: number, to: number, hours: (day: string, next: string) => string[]) =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i).flatMap((day) =>
    hours(String(day).padStart(2, '0'), String(day + 1).padStart(2, '0')),
  );

/** A day with a lunch, and a night shift with a pause. */
const LUNCH = (day: string) => [`${day}T08:00-12:00`, `${day}T12:30-16:30`];
const NIGHT = (day: string, next: string) => [`${day}T20:00-${next}T00:00`, `${next}T00:30-${next}T04:30`];

describe('the limit of', () => {
  it.each<[string, string, string[], string[]]>([
    [
      'article 3: 11 h of rest in 24 h',
      'rest',
      ['05T15:00-21:00', '06T08:00-12:00'],
      ['05T17:00-23:00', '06T08:00-12:00'],
    ],
    [
      'article 3, in the autumn night of 11 h where the clock shows 10',
      'rest',
      ['24T18:00-22:00', '25T08:00-12:00'],
      ['24T18:00-22:00', '25T07:50-12:00'],
    ],
    ['article 4: a break where the day is longer than 6 h', 'break', ['05T08:00-14:00'], ['05T08:00-14:10']],
    [
      'article 4: a pause of a quarter of an hour is none',
      'break',
      ['05T08:00-13:00', '05T13:20-16:00'],
      ['05T08:00-13:00', '05T13:15-16:00'],
    ],
    [
      'article 5: 24 h of rest and 11 h in seven days',
      'no-day-off',
      days(5, 10, LUNCH),
      days(5, 11, (day) => [`${day}T09:00-13:00`]),
    ],
    [
      'article 6: 48 h in seven days',
      'week',
      days(5, 10, LUNCH),
      days(5, 10, (day) => [...LUNCH(day), `${day}T17:00-17:10`]),
    ],
    [
      'article 8: 8 h for who works at night',
      'night-hours',
      NIGHT('05', '06'),
      ['05T19:30-06T00:00', '06T00:30-06T04:30'],
    ],
    [
      'article 8, on average',
      'night-hours',
      ['05T19:30-06T00:00', '06T00:30-06T04:30', '08T20:30-09T00:00', '09T00:30-09T04:30'],
      ['05T19:30-06T00:00', '06T00:30-06T04:30', '08T20:00-09T00:00', '09T00:30-09T04:30'],
    ],
    [
      'HSG256: a shift of 12 h, overtime included',
      'long-shift',
      ['05T06:00-12:00', '05T13:00-19:00'],
      ['05T06:00-12:00', '05T13:00-18:00', '05T18:30-19:40'],
    ],
    ['HSG256: three nights in a row', 'nights-in-a-row', days(5, 7, NIGHT), days(5, 8, NIGHT)],
    ['article 2: no work from midnight to five', 'night', ['05T20:00-06T00:00'], ['05T20:00-06T00:10']],
  ])('%s', (_, code, inside, outside) => {
    const [within, beyond] = [codes(spells(...inside)), codes(spells(...outside))];
    expect([...within]).not.toContain(code);
    within.add(code as never);
    expect(beyond).toEqual(within);
  });
});

it('is said once for a person, with the worst, and where its source is named', () => {
  const own = spells('05T08:00-14:30', '06T08:00-15:00', '07T08:00-12:00');
  expect(workHoursWarnings([{ id: 'ana', spells: own }], [], BERLIN)).toMatchObject([
    { code: 'break', person: 'ana', at: at('2026-10-05T08:00'), minutes: 7 * 60, strong: false },
  ]);
});

it('is asked of a whole plan: somebody there for fourteen hours on end, and what it says rests on its source', () => {
  const build: Build = {
    ...{ id: 'arch', name: 'Arch', zone: 'UTC', event: '2026-12-12T19:00' },
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 07:00-21:00' }],
    steps: [{ id: 'paint', name: 'paint', phases: [{ kind: 'hands', minutes: '13 h' }] }],
  };
  const forecast = planBuild(build, [], Date.parse('2026-12-01T06:00Z') / 60_000);
  const said = forecast.workHours.map((one) =>
    workHoursText(forecast, wallClock('UTC'), one).replaceAll('\u00a0', ' '),
  );
  expect(said).toEqual([
    expect.stringMatching(/^Ria works up to 13 h without a break of 20 min, first from .* EU minimum for employees/),
    expect.stringMatching(/^Ria works up to 13 h in one shift, first from .* HSE guidance: 12 h at most/),
  ]);
  expect(workHoursFooters(forecast)).toEqual([
    expect.stringMatching(/Directive 2003\/88\/EC.*a guide; your local law decides/),
  ]);
});

it('says of hot work that goes on by itself that somebody stays with it', () => {
  const build: Build = {
    ...{ id: 'arch', name: 'Arch', zone: 'UTC', event: '2026-12-12T19:00' },
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    steps: [{ id: 'bake', name: 'bake', hazards: ['hot-work'], phases: [{ kind: 'wait', minutes: 60 }] }],
  };
  const forecast = planBuild(build, [], Date.parse('2026-12-01T09:00Z') / 60_000);
  const said = forecast.workHours.map((one) => workHoursText(forecast, wallClock('UTC'), one));
  expect(said).toEqual([expect.stringContaining('Stay with hot work, and watch the place after the last spark.')]);
});
