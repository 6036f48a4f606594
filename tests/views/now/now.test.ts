import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import type { Build, Forecast, LogEntry, Threat } from '../../../server/model/index.ts';
import { checkBuild } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { NowSheet } from '../../../views/now/now.tsx';
import { isShown, nowFacts } from '../../../views/now/now-facts.ts';
import { renderFragment } from '../../../views/render.ts';
import type { BuildPage } from '../../../views/types.ts';
import { anyBuild, NOW as RANDOM_NOW } from '../../support/random-builds.ts';

const minutes = (instant: string): number => Date.parse(instant) / 60_000;
/** A Tuesday evening. */
const NOW = minutes('2026-12-01T18:00Z');

const BUILD = {
  id: 'lantern',
  name: 'Lantern',
  zone: 'UTC',
  start: '2026-11-20T08:00',
  event: '2026-12-12T18:00',
  parts: [{ id: 'motor', name: 'Motor', source: 'buy', count: 3, supplier: 'shop' }],
  suppliers: [{ id: 'shop', name: 'Shop', lead: 1, cutOff: '20:00' }],
  people: [
    { id: 'ada', name: 'Ada', hours: 'daily 18:00-21:00', can: ['print', 'order-motor', 'fit'] },
    { id: 'bo', name: 'Bo', hours: 'daily 19:00-22:00', can: ['oil', 'fold'] },
  ],
  machines: [{ id: 'printer', name: 'Printer', unattended: true, overnight: true }],
  steps: [
    {
      id: 'print',
      name: 'Print hubs',
      count: 12,
      lotSize: 6,
      hazards: ['fumes'],
      phases: [
        { kind: 'hands', minutes: 10 },
        { kind: 'run', machine: 'printer', minutes: 300 },
        { kind: 'hands', minutes: 5 },
      ],
    },
    {
      id: 'oil',
      name: 'Oil slats',
      count: 6,
      lotSize: 6,
      hazards: ['spray'],
      phases: [
        { kind: 'hands', perUnit: 20 },
        { kind: 'wait', minutes: 600 },
      ],
    },
    { id: 'fold', name: 'Fold paper', count: 4, after: ['oil'], phases: [{ kind: 'hands', perUnit: 15 }] },
    { id: 'fit', name: 'Fit motors', part: 'motor', uses: ['motor'], phases: [{ kind: 'hands', perUnit: 60 }] },
  ],
} as unknown as Build;

function forecastOf(changes: Partial<Build> = {}, now = NOW, log: readonly LogEntry[] = []): Forecast {
  return planBuild({ ...BUILD, ...changes }, log, now, { levelling: { seed: 1, schedules: 1 } });
}

function sheetOf(forecast: Forecast, changes: Partial<Build> = {}): string {
  const build = { ...BUILD, ...changes };
  const page: BuildPage = {
    build,
    revision: 1,
    forecast,
    entries: 0,
    computedAt: forecast.now,
    stale: false,
    seen: '1',
    clock: wallClock(build.zone),
    light: null,
  };
  return renderFragment(NowSheet({ page }));
}

/** What a browser shows of a sheet at its own instant, without its tags. */
function seen(html: string): string {
  const shown = html.replaceAll(/<(\w+)[^>]* hidden[^>]*>.*?<\/\1>/gs, ' ');
  return shown.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');
}

describe('the Now sheet', () => {
  const forecast = forecastOf();

  it('says who is here and until when, and who comes', () => {
    const facts = nowFacts(forecast);
    const now = facts.people.filter((line) => isShown(line, NOW));
    expect(now.map(({ id, isHere, at }) => [id, isHere, at - NOW])).toEqual([
      ['ada', true, 180],
      ['bo', false, 60],
    ]);
    expect(seen(sheetOf(forecast))).toContain('Ada is here until Tue 1 Dec 21:00.');
  });

  it('lists what begins in two hours in the order of the clock, each with whose hands do it', () => {
    const shown = nowFacts(forecast).tasks.filter((task) => isShown(task, NOW));
    expect(shown.length).toBeGreaterThan(2);
    expect(shown.map(({ start }) => start)).toEqual(shown.map(({ start }) => start).sort((a, b) => a - b));
    expect(shown.every(({ start, finish }) => start < NOW + 120 && finish > NOW)).toBe(true);
    const load = shown.find(({ kind }) => kind === 'load');
    expect(load).toMatchObject({ people: ['ada'], step: 'print', after: { kind: 'run', machine: 'printer' } });
  });

  it('names before the last one leaves what prints, dries and ships over night, never a load without its words', () => {
    const facts = nowFacts(forecast);
    const rows = facts.beforeLeaving.filter((task) => isShown(task, NOW));
    const leave = facts.leaving.find(({ begins }) => isShown({ shown: begins }, NOW))!.at;
    expect(leave - NOW).toBe(240);
    expect(new Set(rows.map(({ after }) => after!.kind))).toEqual(new Set(['run', 'wait', 'lead']));
    expect(rows.every(({ after, finish }) => finish <= leave && after!.until > leave)).toBe(true);
    const html = seen(sheetOf(forecast));
    expect(html).toContain('Before you leave');
    expect(html).toMatch(/Printer then runs until \w{3} \d\d:\d\d\. Leave it running only/);
  });

  it('says until which hour something is to be ordered', () => {
    const by = forecast.orders[0]!.orderBy;
    expect(by).toBeGreaterThan(NOW);
    const when = new Date(by * 60_000).toISOString().slice(11, 16);
    expect(seen(sheetOf(forecast))).toMatch(new RegExp(`Order 3.× Motor before \\w+ \\d+ Dec ${when}`));
  });

  it('says when somebody comes while nobody is here, and what then comes first', () => {
    const morning = forecastOf({}, minutes('2026-12-02T08:00Z'));
    const html = seen(sheetOf(morning));
    expect(html).toContain('Nobody is here until Wed 2 Dec 18:00, when Ada comes.');
    expect(html).toContain('Then, in the first two hours');
    const tasks = nowFacts(morning).tasks.filter((task) => isShown(task, morning.now));
    expect(tasks.length).toBeGreaterThan(0);
    expect(tasks.every(({ start }) => start < minutes('2026-12-02T20:00Z'))).toBe(true);
  });

  it('is right two days ahead from one copy: each row is seen from two hours before it to its end', () => {
    const facts = nowFacts(forecast);
    const later = NOW + 1440 + 90;
    const then = facts.tasks.filter((task) => isShown(task, later));
    expect(then).toEqual(facts.tasks.filter(({ start, finish }) => start < later + 120 && finish > later));
    expect(facts.people.filter((line) => isShown(line, later) && line.isHere).map(({ id }) => id)).toEqual([
      'ada',
      'bo',
    ]);
  });

  it('keeps the work of two people of one name, each by themselves', () => {
    const twins = BUILD.people!.map((person) => ({ ...person, name: 'Kim' }));
    const facts = nowFacts(forecastOf({ people: twins }));
    expect(facts.tasks).toEqual(nowFacts(forecast).tasks);
    expect(new Set(facts.tasks.flatMap(({ people }) => people))).toEqual(new Set(['ada', 'bo']));
    expect(facts.idle).toEqual(nowFacts(forecast).idle);
  });

  it('names nothing on site to whoever is free before the load-in', () => {
    const people = [{ id: 'ada', name: 'Ada', hours: 'daily 18:00-21:00' }];
    const hang = { id: 'hang', name: 'Hang', onSite: true, phases: [{ kind: 'hands' as const, minutes: 200 }] };
    const site = { people, parts: [], steps: [hang], gates: [], decisions: [] };
    const insteadOf = (loadIn: string) => nowFacts(forecastOf({ ...site, loadIn })).idle.map(({ instead }) => instead);
    expect(insteadOf('2026-12-02T20:00').length).toBeGreaterThan(0);
    expect(insteadOf('2026-12-02T20:00').flat()).toEqual([]);
    expect(forecastOf({ ...site, loadIn: '2026-12-02T20:00' }).steps[0]!.readyNow).toBe(1);
  });

  it('says of work that nobody may do that somebody is missing, never that it needs nobody', () => {
    const gild = { id: 'gild', name: 'Gild rims', count: 2, phases: [{ kind: 'hands' as const, minutes: 900 }] };
    const unable = forecastOf({ steps: [...BUILD.steps, gild] });
    expect(unable.missing).toEqual([{ code: 'nobody', steps: ['gild'] }]);
    const facts = nowFacts(unable);
    expect([...facts.tasks, ...facts.beforeLeaving].filter(({ step }) => step === 'gild')).toEqual([]);
    const html = seen(sheetOf(unable));
    expect(html).toContain('Nobody has hours for “Gild rims”');
    expect(html.split('Before you leave')[1]).not.toContain('Gild rims');
  });

  it('lists what begins as the last one leaves once', () => {
    const late: Partial<Build> = {
      parts: [],
      people: [{ id: 'ada', name: 'Ada', hours: 'daily 18:00-20:00' }],
      steps: [
        {
          ...{ id: 'oil', name: 'Oil slats', count: 1 },
          phases: [
            { kind: 'hands', minutes: 120 },
            { kind: 'wait', minutes: 3000 },
          ],
        },
      ],
    };
    const rows = nowFacts(forecastOf(late)).beforeLeaving;
    expect(rows.map(({ finish }) => finish - NOW)).toEqual([120]);
  });

  it('says a date of more than six days ahead with its day and month', () => {
    const soak = {
      ...{ id: 'soak', name: 'Soak slats', count: 1 },
      phases: [
        { kind: 'hands' as const, minutes: 20 },
        { kind: 'wait' as const, minutes: 9 * 1440 },
      ],
    };
    const people = [{ id: 'ada', name: 'Ada', hours: 'daily 18:00-21:00' }];
    const html = seen(sheetOf(forecastOf({ parts: [], people, steps: [soak] })));
    expect(html).toMatch(/Then it needs nobody until \w{3} \d+ Dec \d\d:\d\d\./);
  });

  it('asks for nothing to be started where nothing is listed', () => {
    const threat: Threat<'idle-machine'> = {
      ...{ code: 'idle-machine' as const, step: 'print', costMinutes: 60, since: NOW },
      values: { machine: 'printer', units: 6, runMinutes: 300, loadBy: NOW + 90, hazards: [], from: NOW, until: NOW },
    };
    const idle = { ...forecastOf({ parts: [], steps: [{ ...BUILD.steps[2]!, after: [] }] }), threats: [threat] };
    const { leaving, unloaded } = nowFacts(idle);
    for (const at of [NOW, NOW + 89, NOW + 90, NOW + 1500]) {
      const isAsked = leaving.some(({ begins }) => isShown({ shown: begins }, at));
      expect([at - NOW, isAsked]).toEqual([at - NOW, unloaded.some((one) => isShown(one, at))]);
    }
    expect(seen(sheetOf(idle))).not.toContain('Nothing has to be started');
  });

  it('names a question whose last moment is not known', () => {
    const decisions = [{ id: 'colour', question: 'Which colour?', waits: ['fold'] }];
    const asked = forecastOf({ decisions });
    const undated = { ...asked, decisions: asked.decisions.map((one) => ({ ...one, decideBy: null })) };
    const html = seen(sheetOf({ ...undated, orders: [] }));
    expect(html).toContain('Which colour? Decide it; its last moment is not known yet.');
    expect(html).not.toContain('nothing to decide');
  });

  it('says what there is to do when nobody has hours, when all is made and when the event is over', () => {
    const nobody = { people: [{ id: 'ada', name: 'Ada', hours: 'daily none' }] };
    const none = forecastOf({ people: [] });
    expect(seen(sheetOf(none, nobody as never))).toContain('Nobody has hours from now on.');
    const made = { ...forecast, steps: forecast.steps.map((step) => ({ ...step, left: 0 })) };
    expect(seen(sheetOf(made))).toContain('Everything is made.');
    expect(seen(sheetOf({ ...forecast, now: forecast.event + 5 }))).toContain('The event was Sat 12 Dec 18:00.');
    expect(seen(sheetOf({ ...forecast, steps: [], parts: [] }))).toContain('Nothing is planned yet.');
  });
});

describe('the Now sheet of any build', () => {
  it('shows each person as here or not, and every row in its own time', () => {
    fc.assert(
      fc.property(anyBuild, fc.integer({ min: 0, max: 2880 }), (any, ahead) => {
        const checked = checkBuild(any as unknown as Build);
        fc.pre(checked.ok);
        if (!checked.ok) return;
        const forecast = planBuild(checked.value, [], RANDOM_NOW, { levelling: { seed: 1, schedules: 1 } });
        const facts = nowFacts(forecast);
        const at = Math.min(forecast.now + ahead, facts.end - 1);
        const open = forecast.days.flatMap(({ people }) =>
          people.filter((one) => one.open.some(([from, to]) => from <= at && at < to)).map(({ id }) => id),
        );
        const here = facts.people.filter((line) => line.isHere && isShown(line, at)).map(({ id }) => id);
        expect(here.sort()).toEqual(open.sort());
        expect(facts.away.some((one) => isShown(one, at))).toBe(open.length === 0);
        if (open.length === 0) return;
        const rows = facts.tasks.filter((task) => isShown(task, at));
        expect(rows).toEqual(facts.tasks.filter(({ start, finish }) => start - 120 <= at && at < finish));
      }),
      { seed: 5, numRuns: 40 },
    );
  });
});
