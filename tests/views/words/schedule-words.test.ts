import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, LowerBound, WhyLine } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { renderFragment } from '../../../views/render.ts';
import { CountdownSheet } from '../../../views/sheets/countdown.tsx';
import { DatesSheet } from '../../../views/sheets/dates.tsx';
import { boundWords, keptOrderText, packsText, whyWords } from '../../../views/words/schedule-words.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { FAKE_NOW, fakeForecast, minutes } from '../../support/fake-forecast.ts';
import { wordedThreats } from '../../support/words.ts';

const clock = wallClock('Europe/Amsterdam');
const plain = (text: string | undefined | null) => text?.replace(/[\u00a0\u202f]/g, ' ');

/** Ready Thu 3 Dec 13:40 unless said; the ready-by is Fri 4 Dec 18:00. */
function proved(bound: Partial<LowerBound>, changes: Partial<Forecast> = {}) {
  const forecast = fakeForecast();
  const given = { ...forecast, ...changes, lowerBound: { ...forecast.lowerBound!, shortMinutes: 0, ...bound } };
  const words = boundWords(given, clock);
  return [plain(words?.text), words?.isThreat];
}

describe('runs whose work found no hours before the calendars end', () => {
  const proofOf = (beyond: number) => {
    const forecast = fakeForecast();
    const page = {
      ...{
        build: fakeBuild(),
        revision: 1,
        entries: 0,
        computedAt: FAKE_NOW,
        stale: false,
        seen: '1',
        light: null,
        clock,
      },
      forecast: { ...forecast, risk: { ...forecast.risk!, beyond } },
    };
    return plain(renderFragment(CountdownSheet({ page, since: null })).replace(/<[^>]*>/g, ' '))!;
  };

  it('are counted on the Countdown, where there are any', () => {
    expect(proofOf(36)).toMatch(/In 36 of the [\d ]+ runs there were not enough hours for all the work/);
    expect(proofOf(0)).not.toContain('there were not enough hours');
  });
});

describe('what is proved of the date', () => {
  it('is that no plan is better, and by what', () => {
    const readyAt = minutes('2026-12-03T12:40Z');
    expect(proved({ verdict: 'proved-best', readyAt, by: 'critical-path' })).toEqual([
      'No plan can be ready before Thu 3 Dec 13:40: this one is the best there is. The longest chain of steps takes that long, however many people help.',
      false,
    ]);
    expect(proved({ verdict: 'proved-best', readyAt, by: 'search' })[0]).toMatch(
      /The search ruled out every other plan\.$/,
    );
  });

  it('is how far the proof reaches, beside this schedule, where there is a gap', () => {
    const readyAt = minutes('2026-12-03T08:00Z');
    expect(proved({ verdict: 'gap', readyAt, by: 'hands', resource: 'Ada or Ben' })).toEqual([
      'This plan is ready Thu 3 Dec 13:40. If everything takes as long as planned, the earliest possible finish is Thu 3 Dec 09:00. The hours of Ada or Ben allow nothing earlier.',
      false,
    ]);
  });

  it('names who is short, by how much and before when, where it cannot be done', () => {
    const impossible = {
      verdict: 'impossible',
      by: 'hands',
      resource: 'Ada or Ben',
      shortMinutes: 14 * 60,
      readyAt: minutes('2026-12-06T09:00Z'),
      windowStart: FAKE_NOW,
      windowEnd: minutes('2026-12-04T17:00Z'),
    } as const;
    expect(proved(impossible)).toEqual([
      'Not enough hands: Ada or Ben would need 14 h more before Fri 4 Dec 18:00. No plan can be ready before Sun 6 Dec 10:00.',
      true,
    ]);
    expect(proved({ ...impossible, windowStart: minutes('2026-12-01T08:00Z') })[0]).toMatch(
      /Ada or Ben would need 14 h more between Tue 1 Dec 09:00 and Fri 4 Dec 18:00\./,
    );
    expect(proved({ ...impossible, windowStart: FAKE_NOW - 60, windowEnd: FAKE_NOW })[0]).toBe(
      'Not possible in time: no plan can be ready before Sun 6 Dec 10:00. The longest chain of steps takes that long, however many people help.',
    );
    expect(proved({ ...impossible, by: 'machine', resource: 'lathe' })[0]).toMatch(
      /^Not enough machine hours: the lathe would need 14 h more before Fri 4 Dec 18:00\./,
    );
  });

  it('blames nobody where the chain itself is too long, or the ready-by has passed', () => {
    const late = { verdict: 'impossible', readyAt: minutes('2026-12-06T09:00Z'), by: 'critical-path' } as const;
    const chain = 'The longest chain of steps takes that long, however many people help.';
    expect(proved({ ...late, resource: null })[0]).toBe(
      `Not possible in time: no plan can be ready before Sun 6 Dec 10:00. ${chain}`,
    );
    const now = minutes('2026-12-05T09:00Z');
    expect(proved({ ...late, resource: null }, { now })[0]).toBe(
      `The ready-by has passed; no plan can be ready before Sun 6 Dec 10:00. ${chain}`,
    );
  });

  it('is not said of what is finished', () => {
    const steps = fakeForecast().steps.map((step) => ({ ...step, left: 0 }));
    expect(proved({}, { steps })).toEqual([undefined, undefined]);
  });
});

it('says what another order of work would gain where the sheet was left alone', () => {
  expect(plain(keptOrderText({ ...fakeForecast(), keptOrder: { minutes: 20, upsets: 2 } }))).toBe(
    'Plan kept as it is: another sequence would save 20 min, but move 2 lots in the next 24 h.',
  );
  expect(keptOrderText({ ...fakeForecast(), keptOrder: null })).toBeNull();
});

describe('a link of the chain', () => {
  const line: WhyLine = {
    step: 'paint-fish',
    set: null,
    lots: 7,
    firstUnit: 13,
    lastUnit: 72,
    start: minutes('2026-11-26T08:00Z'),
    finish: minutes('2026-11-27T16:00Z'),
    people: ['Ada'],
    machine: null,
    supplier: null,
    waited: { kind: 'units', step: 'press', who: null },
    stood: null,
  };
  const cause = (changes: Partial<WhyLine>) => whyWords(fakeForecast(), clock, { ...line, ...changes }).cause;

  it('says units, lots and hands in one line', () => {
    expect(whyWords(fakeForecast(), clock, line)).toMatchObject({ what: 'units 13 to 72, in 7 lots, by Ada' });
  });

  it('names what was waited for', () => {
    const press = fakeForecast().steps.find((step) => step.id === 'press')!.name;
    expect(cause({})).toBe(`waits for units of ${press}`);
    expect(cause({ waited: { kind: 'hands', step: 'press', who: 'Ada' } })).toBe(`waits for Ada, busy with ${press}`);
    expect(cause({ waited: { kind: 'machine', step: 'press', who: 'lathe' } })).toBe(
      `waits for the lathe, busy with ${press}`,
    );
    expect(cause({ waited: { kind: 'supplier', step: 'press', who: null } })).toBe(`waits for the supplier: ${press}`);
    const stood = { from: minutes('2026-11-25T19:30Z'), to: line.start };
    expect(cause({ stood })).toBe(`waits for units of ${press}, then waits until tomorrow 09:00`);
    expect(cause({ stood: { from: minutes('2026-11-26T19:30Z'), to: minutes('2026-11-27T17:00Z') } })).toBe(
      `waits for units of ${press}; nobody is there from tomorrow 20:30 until Fri 27 Nov 18:00`,
    );
  });
});

describe('the chain on the Countdown', () => {
  const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
  const { build, log = [] } = tideWall(now);
  const sheet = (given: Build, counted = log) => {
    const forecast = planBuild(given, counted, now, { levelling: { seed: 1, schedules: 20 } });
    const page = {
      build: given,
      revision: 1,
      forecast,
      entries: 0,
      computedAt: now,
      stale: false,
      seen: '1',
      light: null,
    };
    return { forecast, html: renderFragment(CountdownSheet({ page: { ...page, clock: wallClock('UTC') } })) };
  };

  it('runs from what is under way to the ready finish at its foot', () => {
    const { forecast, html } = sheet(build);
    const why = forecast.why!;
    expect(why.at(-1)!.finish).toBe(forecast.room.readyBy.finish);
    for (let i = 1; i < why.length; i++) expect(why[i]!.start).toBeGreaterThanOrEqual(why[i - 1]!.start);
    expect(['begun', 'now', 'release', 'pinned']).toContain(why[0]!.waited.kind);
    expect(html).toContain('Why this date');
    expect(html.indexOf('chain-foot')).toBeGreaterThan(
      html.indexOf(why.at(-1)!.step === 'pack-wall' ? 'pack the wall' : '?'),
    );
  });

  it('is folded where it is long, as before anything is made', () => {
    const { html } = sheet(build, []);
    expect(html.match(/class="chain-fold"/g)?.length).toBe(1);
    expect(html).toMatch(/\d+ more links/);
  });
});

describe('an order in whole packs', () => {
  const build: Build = {
    id: 'frame',
    name: 'Frame',
    zone: 'UTC',
    event: '2026-12-18T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-22:00' }],
    suppliers: [{ id: 'shop', name: 'the shop', lead: 2, workingDays: 'mon-fri' }],
    parts: [{ id: 'motor', name: 'motor', source: 'buy', count: 13, packSize: 4, supplier: 'shop' }],
    steps: [{ id: 'fit', name: 'fit motors', part: 'motor', phases: [{ kind: 'hands', perUnit: 5 }] }],
  };
  const forecast = planBuild(build, [], minutes('2026-12-01T09:00Z'));
  const [order] = forecast.orders;

  it('says how many of them are needed', () => {
    expect(order).toMatchObject({ units: 16 });
    expect(packsText(build, forecast, order!)).toBe('13 still needed, in packs of 4');
  });

  it('says nothing where as many are needed, or it is on its way', () => {
    const exact: Build = { ...build, parts: [{ ...build.parts![0]!, count: 12 }] };
    const plan = planBuild(exact, [], minutes('2026-12-01T09:00Z'));
    expect(packsText(exact, plan, plan.orders[0]!)).toBeNull();
    expect(packsText(build, forecast, { ...order!, state: 'ordered' })).toBeNull();
  });
});

describe('a last moment before the build began', () => {
  const build: Build = {
    id: 'frame',
    name: 'Frame',
    zone: 'UTC',
    start: '2026-12-01T09:00',
    event: '2026-12-04T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-13:00' }],
    suppliers: [{ id: 'shop', name: 'the shop', lead: 9, workingDays: 'mon-fri' }],
    parts: [{ id: 'motor', name: 'motor', source: 'buy', count: 13, supplier: 'shop' }],
    steps: [
      { id: 'fit', name: 'fit motors', part: 'motor', phases: [{ kind: 'hands', perUnit: 5 }] },
      { id: 'carve', name: 'carve', count: 90, phases: [{ kind: 'hands', perUnit: 60 }] },
    ],
    decisions: [{ id: 'wood', question: 'Which wood?', waits: ['carve'] }],
  };
  const now = minutes('2026-12-01T10:00Z');
  const forecast = planBuild(build, [], now);
  const page = {
    build,
    revision: 1,
    forecast,
    entries: 0,
    computedAt: now,
    stale: false,
    seen: '1',
    light: null,
    clock: wallClock('UTC'),
  };
  const words = (html: string) => plain(html.replace(/<[^>]*>/g, ' '))!.replace(/\s+/g, ' ');

  it('is said to be too late, and by how much, on the Countdown, on Dates and in the threat', () => {
    const [countdown, dates] = [CountdownSheet({ page }), DatesSheet({ page })].map((it) => words(renderFragment(it)));
    const threat = (code: string) => wordedThreats(forecast).find((one) => one.code === code)!.message;
    expect(countdown).toMatch(/13 × motor should have been ordered before the build started: too late by \d+ days/);
    expect(countdown).toMatch(
      /Which wood\? This should have been decided before the build started: too late by \d+ days/,
    );
    expect(dates).toMatch(/before the build started, too late by \d+ days( \d+ h)? decide Which wood\?/);
    expect(dates).toMatch(/before the build started, too late by \d+ days( \d+ h)? order 13 × motor/);
    expect(threat('order-late')).toMatch(
      /13 × motor should have been ordered before the build started \(\d+ days( \d+ h)? late\)/,
    );
    expect(threat('decision')).toMatch(
      /This should have been decided before the build started \(\d+ days( \d+ h)? late\)/,
    );
  });

  it('is compared with a ready-by that has passed as such, not as none to come', () => {
    const at = forecast.readyBy + 60;
    const late = DatesSheet({ page: { ...page, forecast: planBuild(build, [], at), computedAt: at } });
    expect(words(renderFragment(DatesSheet({ page })))).toContain('days 2 h; the ready-by is in 3 days');
    expect(words(renderFragment(late))).toMatch(/days \d+ h; the ready-by has passed/);
  });
});
