import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { summaryOf } from '../../server/cli/summary.ts';
import { planBuild } from '../../server/engine/plan.ts';
import {
  type Build,
  checkBuild,
  type DoubtCode,
  type Forecast,
  HAZARDS,
  keysOf,
  type LogEntry,
  type PaceNote,
  type SoundnessCode,
  stepsOfNobody,
  THING_LISTS,
  type Threat,
  type ThreatCode,
  thingsOf,
  WORK_HOURS_CODES,
} from '../../server/model/index.ts';
import { formValues } from '../../server/web/edits/form-text.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import { EditForm } from '../../views/forms/form.tsx';
import { NowSheet } from '../../views/now/now.tsx';
import { isShown, type NowTask, nowFacts } from '../../views/now/now-facts.ts';
import { renderFragment } from '../../views/render.ts';
import { BalanceSheet } from '../../views/sheets/balance.tsx';
import { BurnSheet } from '../../views/sheets/burn-down.tsx';
import { ContentsSheet } from '../../views/sheets/contents.tsx';
import { CountdownSheet } from '../../views/sheets/countdown.tsx';
import { DatesSheet } from '../../views/sheets/dates.tsx';
import { DaySheetSheet } from '../../views/sheets/day-sheet.tsx';
import { DesignSheet } from '../../views/sheets/design.tsx';
import { HandsSheet } from '../../views/sheets/hands.tsx';
import { StepsSheet } from '../../views/sheets/steps.tsx';
import { WaitsSheet } from '../../views/sheets/waits.tsx';
import { texts } from '../../views/texts/index.ts';
import type { BuildPage } from '../../views/types.ts';
import { BAD_LOGS } from '../support/bad-logs.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../support/random-builds.ts';
import { findingsIn, wordedThreats } from '../support/words.ts';
import { noteSaid } from './said-texts.ts';

const heard = noteSaid(texts);
afterAll(() => heard.restore());

const LEVELLING = { seed: 1, schedules: 1 };
const RISK = { seed: 1, futures: 20 };

/** What random builds lack and findings speak of: hazards, questions, waits, fixed hours, two of one name. */
const anyMore = fc.record({
  hazards: fc.array(fc.subarray([...HAZARDS], { maxLength: 3 }), { minLength: 4, maxLength: 4 }),
  asks: fc.boolean(),
  pinned: fc.boolean(),
  twins: fc.boolean(),
  lag: fc.constantFrom(null, '2 h', '-1 h'),
});
type More = typeof anyMore extends fc.Arbitrary<infer T> ? T : never;

function withMore(build: Build, { hazards, asks, pinned, twins, lag }: More): Build {
  const [first, second] = build.steps;
  const { id, name } = build.machines?.[0] ?? { id: 'saw', name: 'saw' };
  return {
    ...build,
    steps: build.steps.map((step, i) => ({
      ...step,
      hazards: hazards[i]!,
      ...(pinned && i === 1 ? { pins: [{ start: '2026-12-05T19:00' }] } : {}),
    })),
    ...(lag === '2 h' ? unsureOf(build) : {}),
    ...(asks ? { decisions: [{ id: 'colour', question: 'Which colour?', waits: [first!.id] }] } : {}),
    ...(twins ? { machines: [...(build.machines ?? []), { id: `${id}-2`, name }, { id: `${id}-3`, name }] } : {}),
    ...(lag === null || second === undefined
      ? {}
      : { feeds: [{ from: first!.id, to: second.id, type: 'finish-start' as const, lag }] }),
  };
}

/** A parameter that nobody knows yet, which sets a count, a limit that it breaks or may break, and units to look at. */
function unsureOf({ parts = [] }: Build): Pick<Build, 'parameters' | 'limits' | 'parts'> {
  return {
    parameters: [
      { name: 'panels', value: 3 },
      { name: 'x', range: { low: 2, likely: 3, high: 6 }, unit: 'mm' },
    ],
    limits: [
      { id: 'gap', name: 'gap', of: 'x - 4', least: 0, unit: 'mm' },
      { id: 'load', name: 'load', of: 'x * panels', most: 10 },
    ],
    parts: parts.map((part) => ({
      ...part,
      count: 'x',
      due: '2026-12-02T10:00',
      unchecked: [{ at: 'passed' as const, step: 'a', units: 2, because: 'x 3 → 4' }],
    })),
  };
}

interface Case {
  readonly build: Build;
  readonly forecast: Forecast;
}

const planned = (build: Build, log: readonly LogEntry[], now: number): Case => ({
  build,
  forecast: planBuild(build, log, now, { levelling: LEVELLING, risk: RISK }),
});

function randomCases(): Case[] {
  const told = fc.sample(fc.record({ build: anyBuild, more: anyMore, log: anyLog }), { seed: 11, numRuns: 120 });
  return told.flatMap(({ build, more, log }) => {
    const checked = checkBuild(withMore(build as unknown as Build, more));
    if (!checked.ok) return [];
    const builds = [checked.value, ...(more.twins ? inTins(checked.value) : [])];
    return builds.map((one) => planned(one, entriesOf(log), NOW));
  });
}

/** The same with what is bought by the litre; nothing where nothing is. */
function inTins(build: Build): Build[] {
  const { parts = [] } = build;
  if (parts.every(({ source }) => source !== 'buy')) return [];
  return [{ ...build, parts: parts.map((part) => (part.source === 'buy' ? { ...part, unit: 'L' } : part)) }];
}

const demoCases = [-3, 0, 6, 11, 20].map((days) => {
  const made = NOW;
  const { build, log = [] } = tideWall(made);
  return planned(build, log, made + days * 1440);
});

/** Runs through the night, and nobody to load them. */
const bareRuns: Build = {
  ...{ id: 'kiosk', name: 'Kiosk', zone: 'UTC', event: '2027-01-24T18:00' },
  people: [{ id: 'nora', name: 'Nora', hours: 'Mon-Sun 18:00-22:00' }],
  machines: [{ id: 'printer', name: 'Printer', unattended: true, overnight: true }],
  steps: ['Print cams', 'Print feet'].map((name, i) => ({
    ...{ id: `print-${i}`, name, count: 40, lotSize: 8 },
    phases: [{ kind: 'run' as const, machine: 'printer', minutes: 180 }],
  })),
};

const CASES: readonly Case[] = [
  planned(bareRuns, [], NOW),
  ...randomCases(),
  ...demoCases,
  ...BAD_LOGS.map(({ build, log }) => planned(build, log, NOW)),
];

const drawn = new Map<Case, string[]>();

/** Every sheet of a case, each drawn once. */
function pagesOf(one: Case): string[] {
  const pages = drawn.get(one) ?? drawPages(one);
  drawn.set(one, pages);
  return pages;
}

function drawPages({ build, forecast }: Case): string[] {
  const page: BuildPage = {
    build,
    revision: 1,
    forecast,
    entries: 0,
    computedAt: forecast.now,
    stale: false,
    seen: '1',
    light: null,
    clock: wallClock(forecast.build.zone),
  };
  const day = forecast.days[0];
  return [
    CountdownSheet({ page }),
    NowSheet({ page }),
    DatesSheet({ page }),
    StepsSheet({ page, open: null }),
    DesignSheet({ page, open: null }),
    HandsSheet({ page, open: null }),
    ContentsSheet({ page, open: null }),
    BurnSheet({ page }),
    BalanceSheet({ page }),
    WaitsSheet({ page, asked: { around: null, all: false } }),
    ...(day === undefined ? [] : [DaySheetSheet({ page, day, person: null })]),
  ].map(renderFragment);
}

/** The words of a page, with plain spaces. */
function plainOf(html: string): string {
  const bare = html.replaceAll(/<[^>]*>/g, '').replaceAll(/[\u00a0\u202f]/g, ' ');
  return bare.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

const keys = <Code extends string>(all: Readonly<Record<Code, true>>): readonly string[] => Object.keys(all);
const THREATS = keys<ThreatCode>({
  'slow-step': true,
  'order-late': true,
  'order-today': true,
  'late-delivery': true,
  'short-machine': true,
  scrap: true,
  decision: true,
  'idle-machine': true,
  'silent-step': true,
  nights: true,
  'no-spare': true,
  'old-plan': true,
  limit: true,
  unchecked: true,
  due: true,
});
const DOUBTS = keys<DoubtCode>({
  'nothing-logged': true,
  'wrong-clock': true,
  'log-gap': true,
  'same-name': true,
  'scrapped-parts': true,
  'passed-more': true,
  'nobody-loads': true,
  'gate-chance': true,
  'no-hours': true,
  'far-pace': true,
});
const CHECKS = keys<SoundnessCode>({
  'missing-logic': true,
  'negative-lag': true,
  'unnamed-lag': true,
  'fixed-start': true,
  'broken-path': true,
  'high-slack': true,
  'negative-slack': true,
  'path-index': true,
  'no-route': true,
  'missing-kind': true,
  'no-hands': true,
  'no-minutes': true,
  guessed: true,
  'long-lot': true,
  unsigned: true,
  totals: true,
  'invalid-date': true,
  'no-first-plan': true,
  missed: true,
  'execution-index': true,
  'no-chance': true,
  'stale-log': true,
});
const NOTES = keys<PaceNote['code']>({
  far: true,
  changed: true,
  learnt: true,
  'stands-out': true,
  'load-stands-out': true,
  untimed: true,
});

const MISSING = /undefined|\[object|\bNaN\b|Infinity|\bnull\b/;

describe('whatever the engine finds in any build', () => {
  it('is a sentence, on its page and in the terminal', () => {
    for (const { forecast } of CASES) {
      const said = findingsIn(forecast);
      for (const sentence of said) {
        expect(sentence).not.toMatch(MISSING);
        expect(sentence).toMatch(/[.?]$/);
      }
      expect(summaryOf(forecast)).not.toMatch(MISSING);
    }
  });

  it('leaves no text of a page out', () => {
    for (const one of CASES) for (const html of pagesOf(one)) expect(html.match(MISSING)).toBeNull();
  });

  it('is said whole where it threatens the date, even of a plan that lacks something', () => {
    const lacking = CASES.filter(({ forecast: { missing, threats } }) => missing!.length > 0 && threats!.length > 1);
    expect(lacking.length).toBeGreaterThan(3);
    for (const one of [...lacking, ...demoCases]) {
      const said = plainOf(pagesOf(one)[0]!);
      for (const { message } of wordedThreats(one.forecast)) expect(said).toContain(message);
      expect(said.includes(texts.lead.nothing) && one.forecast.missing!.length > 0).toBe(false);
    }
  });

  it('counts nothing in pieces that is measured', () => {
    const measured = CASES.filter(({ forecast }) => forecast.orders.some(({ measure }) => measure !== undefined));
    expect(measured.length).toBeGreaterThan(3);
    for (const one of measured) {
      const names = one.forecast.orders.flatMap(({ name, measure }) => (measure === undefined ? [] : [name]));
      const said = [...pagesOf(one), ...findingsIn(one.forecast)].join(' ').replaceAll('\u00a0', ' ');
      expect(names.flatMap((name) => said.match(new RegExp(`.{60}× ${name}.{20}`)) ?? [])).toEqual([]);
    }
  });

  it('is of nearly every code there is; the others have their own builds in the tests of their rooms', () => {
    const unseen = (all: readonly string[], of: (forecast: Forecast) => readonly { readonly code: string }[]) => {
      const seen = new Set(CASES.flatMap(({ forecast }) => of(forecast).map(({ code }) => code)));
      return all.filter((code) => !seen.has(code));
    };
    // Each of these has a build of its own in the tests of threats, paces, doubts, hours and checks.
    const elsewhere =
      'order-today idle-machine log-gap scrapped-parts passed-more totals no-first-plan changed learnt stands-out load-stands-out long-shift night-hours nights-in-a-row';
    const missing = [
      ...unseen(THREATS, ({ threats }) => threats!),
      ...unseen(DOUBTS, ({ doubts }) => doubts),
      ...unseen(WORK_HOURS_CODES, ({ workHours }) => workHours),
      ...unseen(CHECKS, ({ soundness }) => soundness!.filter(({ fine }) => !fine)),
      ...unseen(NOTES, ({ steps }) => steps.flatMap(({ pace }) => pace?.notes ?? [])),
    ];
    expect(missing.filter((code) => !elsewhere.split(' ').includes(code))).toEqual([]);
  });

  it('and every form of a build leave no text unsaid, but those that are drawn elsewhere', () => {
    const { build } = demoCases[0]!;
    for (const list of THING_LISTS) {
      const opened = [
        [null, {}] as const,
        ...keysOf(list, thingsOf(build, list)).map((key, i) => [key, thingsOf(build, list)[i]!] as const),
      ];
      for (const [key, thing] of opened) {
        const form = { list, key, values: formValues(list, thing as never), revision: 1, problems: [] };
        expect(renderFragment(EditForm({ build, form, href: '/b/any' }))).not.toMatch(MISSING);
      }
    }
    const silent = heard.all.filter((path) => !heard.said.has(path));
    expect(silent.filter((path) => !isDrawnElsewhere(path))).toEqual([]);
    const listed = Object.values(ONE_BY_ONE).flatMap((paths) => paths.split(' '));
    expect(listed.filter((path) => !heard.all.includes(path))).toEqual([]);
  });
});

/** From 18:00 to 22:00; what it leaves to dry does so from the minute in which the last one goes. */
const EVENING: Build['steps'][number] = {
  ...{ id: 'coat', name: 'coat the wall', count: 1 },
  phases: [
    { kind: 'hands', minutes: 240 },
    { kind: 'wait', minutes: 3000 },
  ],
};

function fullEvenings(): Forecast[] {
  const told = fc.sample(anyBuild, { seed: 7, numRuns: 12 });
  return told.flatMap((any) => {
    const checked = checkBuild({ ...any, steps: [EVENING, ...any.steps] } as unknown as Build);
    return checked.ok ? [planBuild(checked.value, [], NOW, { levelling: LEVELLING })] : [];
  });
}

function unloadedUntil(loadBy: number): Threat<'idle-machine'> {
  const values = { machine: 'press', units: 1, runMinutes: 60, loadBy, hazards: [], from: loadBy, until: loadBy + 600 };
  return { code: 'idle-machine', step: 'a', costMinutes: 60, since: loadBy, values };
}

const total = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0);

describe('what any forecast says of now', () => {
  const all = [...CASES.map(({ forecast }) => forecast), ...fullEvenings()].map((forecast) => ({
    forecast,
    facts: nowFacts(forecast),
    nobodys: stepsOfNobody(forecast),
  }));

  it('is never that work needs nobody which nobody may do', () => {
    expect(all.filter(({ nobodys }) => nobodys.size > 0).length).toBeGreaterThan(20);
    for (const { forecast, facts, nobodys } of all) {
      const rows = [...facts.tasks, ...facts.beforeLeaving].filter(({ step }) => nobodys.has(step));
      expect(rows.filter(({ people, after }) => people.length === 0 || after !== null)).toEqual([]);
      const run = forecast.show!.run.filter(({ step }) => nobodys.has(step));
      expect(run.filter(({ people }) => people.length === 0)).toEqual([]);
      const onSite = forecast.steps.filter(({ id, onSite: isThere }) => isThere && nobodys.has(id));
      expect(forecast.show!.notYet).toEqual(expect.arrayContaining(onSite.map(({ id }) => id)));
    }
  });

  it('has all work of the days ahead, of people of one name too', () => {
    for (const { forecast, facts } of all) {
      const spells = forecast.days
        .filter(({ start }) => start < facts.end)
        .flatMap(({ people }) => people.flatMap(({ id, spells: own }) => own.map((spell) => ({ ...spell, id }))))
        .filter(({ start, finish }) => start < facts.end && finish > forecast.now);
      const isThere = (one: (typeof spells)[number]) => (task: NowTask) =>
        task.people.includes(one.id) && task.step === one.step && task.start <= one.start && task.finish >= one.finish;
      expect(spells.filter((one) => !facts.tasks.some(isThere(one)))).toEqual([]);
    }
  });

  it('lists nothing twice', () => {
    const told = ({ people, ...task }: NowTask): string => JSON.stringify([people, { ...task, shown: [] }]);
    for (const { forecast, facts } of all) {
      for (const rows of [facts.tasks, facts.beforeLeaving]) {
        expect(new Set(rows.map(told)).size).toBe(rows.length);
      }
      for (const { step, set, after, machine } of facts.beforeLeaving) {
        const isOf = (one: Pick<NowTask, 'step' | 'set'>) => one.step === step && one.set === set;
        const rows = facts.beforeLeaving.filter((one) => isOf(one) && one.after!.kind === after!.kind);
        const same = rows.filter((one) => one.machine === machine);
        const alone = forecast.lots
          .filter(isOf)
          .flatMap(({ placements, firstUnit, lastUnit }) =>
            placements
              .filter((one) => one.kind === after!.kind && one.machine === machine && one.people.length === 0)
              .map(() => lastUnit - firstUnit + 1),
          );
        expect(total(same.map(({ units }) => units))).toBeLessThanOrEqual(total(alone));
      }
    }
  });

  it('asks to start something when something is listed, and then only', () => {
    for (const { forecast } of all) {
      const facts = nowFacts({ ...forecast, threats: [unloadedUntil(forecast.now + 90)] });
      const listed = [...facts.beforeLeaving, ...facts.unloaded];
      for (const { at, begins, empty } of facts.leaving) {
        for (const [from] of begins) expect(listed.some((one) => isShown(one, from) && from < at)).toBe(true);
        for (const [from] of empty) expect(listed.some((one) => isShown(one, from))).toBe(false);
      }
    }
  });
});

/** Texts of pages that no forecast is enough for, by the first word of their path: who draws them. */
const PAGES_ELSEWHERE: Readonly<Record<string, string>> = {
  'tests/web, over a planner':
    'levers ways options ledger lines history ripple builds errors wait atWork fresh block place screens nav skip product maker none more unsaved',
};

/** Texts that neither these builds nor these forms bring about, with the tests that draw their pages. */
const ONE_BY_ONE: Readonly<Record<string, string>> = {
  'tests/web/pages': [
    'origin.measured origin.decided contents.sheets contents.sheetNotes.wrong',
    'contents.sheetNotes.contents',
  ].join(' '),
  'tests of what is missing, of old chances and of what should have been done before the start': [
    'countdown.missing.tooManyLots countdown.missing.more countdown.earliest countdown.notReadyWhy',
    'countdown.chanceAfter countdown.unplaced countdown.oldChance countdown.since countdown.decisions',
    'countdown.orderedBeforeStart countdown.sentBeforeStart countdown.decidedBeforeStart countdown.packs',
    'countdown.leadLearnt',
  ].join(' '),
  'tests/views/parts/lead': 'lead.nothingYet lead.moreToCome',
  'tests/views/words/weekly-hours':
    'hands.said.daily hands.said.off hands.said.weekdays hands.said.weekend hands.said.mornings hands.said.afternoons hands.said.evenings',
  'tests of dates and day sheets': 'dates.previous dates.begun dates.answer dates.pinned dates.tooLate',
  'tests/engine/log': 'doubts.gap',
  'tests/engine/stages': 'doubts.passedMore',
  'tests/web/edits': [
    'edit.thing.build edit.rowOf.pins.one edit.rowOf.ways.one edit.addPhase.hands edit.addPhase.run',
    'edit.add.boxes edit.add.passages edit.add.points edit.add.strike edit.rowOf.boxParts.one',
    'edit.addPhase.wait edit.addPhase.lead edit.notSaved edit.notChosen edit.notFilled edit.toPutRight',
    'edit.stays edit.needs.waitsFor edit.needs.uses edit.needs.sentence edit.needs.change',
    'edit.conflict edit.gone edit.taken edit.quoted.path edit.quoted.label hands.delivers hands.holidays',
  ].join(' '),
  'tests of hours that wear people out': 'hours.average hours.fireWatch hours.notAtHeight hours.watch.hot-work',
  'tests/engine/03-pace': [
    'pace.shorter pace.changed pace.learnt pace.runTime.wait pace.loadStandsOut pace.emptiedLate pace.endedBefore',
    'pace.loadedLate pace.standsOut pace.weighs pace.slower pace.faster',
  ].join(' '),
  'tests/web/pictures': [
    'pictures.toAll pictures.toTicket pictures.before pictures.after pictures.lastUnit pictures.pace',
    'pictures.slower pictures.notCounted pictures.tooSoon pictures.nothingNeeded pictures.noPlan',
    'pictures.notInPlan pictures.planKept pictures.planOf pictures.anew pictures.old pictures.oldFailed',
    'pictures.allDone pictures.runsOutNow pictures.due',
  ].join(' '),
  'tests/views/words': [
    'schedule.impossible.machine schedule.window.before schedule.by.search schedule.byDelivery',
    'schedule.kept schedule.why.beyond schedule.why.waited.release schedule.why.waited.pinned',
    'schedule.why.waitedFor.units schedule.why.taken.machine schedule.why.taken.station',
    'schedule.why.after.machine schedule.why.stood.machine',
  ].join(' '),
  'tests/engine/12-soundness': 'soundness.totals soundness.noFirstPlan',
  'tests/engine/09-threats': [
    'threats.noHours threats.lateOnSite threats.likely threats.orderLateFromStart threats.orderToday',
    'threats.undecidedFromStart threats.loadWatched threats.sparesOf threats.dueNever threats.promised',
    'threats.expected threats.just threats.fullMachine threats.misses',
  ].join(' '),
  'tests of the picture of what waits': [
    'waits.noteChain waits.notePart waits.noteOpen waits.noteAround waits.scroll waits.taken.machine',
    'waits.taken.station waits.beyond waits.beyondOf waits.showAll waits.showChain',
  ].join(' '),
  'tests/web, over the sheet of a step': 'waits.ofStep',
  'tests of limits': 'ofDesign.limitUnknown ofDesign.kept ofDesign.broken ofDesign.mayBreak ofDesign.settleShort',
  'tests of the room as a wedge': [
    'load.wedge load.room load.timeLeft pictures.pens.room-was pictures.pens.room-planned pictures.pens.time-left',
  ].join(' '),
  'tests of the Now sheet': 'now.running now.sendOutMissed',
  'tests/web over a planner, and builds that are late': 'lead.wayBack lead.wayBackNote lead.allWays',
  'tests/web, over steps of every kind':
    'steps.toOrder steps.lot steps.phase.run steps.kinds.step steps.pinUnits steps.decided steps.failsBy',
};

/** What the table of fields takes when it is loaded; the forms above are drawn from it. */
const TAKEN_AT_ONCE = /^edit\.(field|hint|choice)\./;

function isDrawnElsewhere(path: string): boolean {
  const words = (lists: Readonly<Record<string, string>>) => Object.values(lists).flatMap((one) => one.split(' '));
  if (TAKEN_AT_ONCE.test(path)) return true;
  return words(PAGES_ELSEWHERE).includes(path.split('.')[0]!) || words(ONE_BY_ONE).includes(path);
}
