import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import {
  type Build,
  checkBuild,
  type Forecast,
  type ForecastStep,
  type LogEntry,
  type StepLink,
} from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import {
  drivingSteps,
  type WaitLine,
  type WaitsAsked,
  waitLines,
  waitsOffTheLines,
  waitsShown,
} from '../../../views/pictures/waits-facts.ts';
import { type PlacedBox, waitsLayout } from '../../../views/pictures/waits-layout.ts';
import { waitsLoom } from '../../../views/pictures/waits-loom.ts';
import { renderFragment } from '../../../views/render.ts';
import { WaitsSheet } from '../../../views/sheets/waits.tsx';
import { waitTexts as say } from '../../../views/texts/glance/waits.ts';
import type { BuildPage } from '../../../views/types.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../../support/random-builds.ts';

const ALL = { around: null, all: true };
const BY_ITSELF = { around: null, all: false };

/** A workshop of eight steps with links of every kind forwards, and a gate that perhaps takes no time. */
const anyWorkshop = fc.record({
  people: fc.constantFrom(1, 2, 4),
  minutes: fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 8, maxLength: 8 }),
  counts: fc.array(fc.constantFrom(1, 3, 6), { minLength: 8, maxLength: 8 }),
  feeds: fc.array(
    fc.record({
      from: fc.integer({ min: 0, max: 6 }),
      over: fc.integer({ min: 1, max: 3 }),
      type: fc.constantFrom('units', 'units', 'finish-start', 'finish-start', 'start-start', 'finish-finish'),
      lag: fc.constantFrom(0, 0, 90),
    }),
    { minLength: 4, maxLength: 10 },
  ),
  gated: fc.constantFrom('no', 'with minutes', 'without'),
});
type Workshop = typeof anyWorkshop extends fc.Arbitrary<infer T> ? T : never;

function workshopOf({ people, minutes, counts, feeds, gated }: Workshop): unknown {
  return {
    id: 'stand',
    name: 'Stand',
    zone: 'Europe/Vienna',
    event: '2027-01-20T18:00',
    people: Array.from({ length: people }, (_, i) => ({ id: `p${i}`, name: `P ${i}`, hours: 'mon-sun 09:00-17:00' })),
    steps: minutes.map((each, i) => ({
      id: `s${i}`,
      name: `step ${i}`,
      count: counts[i],
      lotSize: 3,
      phases: [{ kind: 'hands', perUnit: each }],
    })),
    feeds: feeds
      .filter(({ from, over }) => from + over < 8)
      .map(({ from, over, type, lag }) => ({ from: `s${from}`, to: `s${from + over}`, type, lag })),
    gates:
      gated === 'no'
        ? []
        : [{ id: 'look', name: 'look', after: ['s1'], before: ['s5'], minutes: gated === 'without' ? 0 : 20 }],
  };
}

function randomForecasts(): Forecast[] {
  const told = fc.sample(fc.record({ any: anyBuild, workshop: anyWorkshop, log: anyLog }), { seed: 29, numRuns: 45 });
  return told.flatMap(({ any, workshop, log }) => [
    ...planned(any, entriesOf(log)),
    ...planned(workshopOf(workshop), []),
  ]);
}

function planned(build: unknown, log: readonly LogEntry[]): Forecast[] {
  const checked = checkBuild(build as Build);
  return checked.ok ? [plan(checked.value, log)] : [];
}

function plan(build: Build, log: readonly LogEntry[] = []): Forecast {
  return planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 1 } });
}

const FORECASTS = randomForecasts();

/** Steps that take no time, which the chain passes without a line of its own. */
function idleIn({ steps }: Forecast): ReadonlySet<string> {
  const minutesOf = ({ pattern }: ForecastStep) =>
    pattern.map((phase) => (phase.kind === 'lead' ? 1 : phase.fixedMinutes + phase.minutesPerUnit));
  return new Set(steps.filter((step) => minutesOf(step).every((minutes) => minutes === 0)).map(({ id }) => id));
}

const linkText = (from: string, to: string, { type, lagMinutes, given }: StepLink) =>
  `${from} ${to} ${type} ${lagMinutes} ${given}`;

describe('the lines between the steps of any build', () => {
  it('are all links of the forecast, each once, and no other', () => {
    expect(FORECASTS.length).toBeGreaterThan(40);
    let seen = 0;
    for (const forecast of FORECASTS) {
      const { lines } = waitsShown(forecast, ALL);
      const drawn = lines.flatMap(({ from, to, links }) => links.map((link) => linkText(from, to, link)));
      const known = forecast.steps.flatMap(({ id, feeds }) => feeds.map((link) => linkText(id, link.step, link)));
      expect(drawn.sort()).toEqual(known.sort());
      expect(new Set(lines.map(({ from, to }) => `${from} ${to}`)).size).toBe(lines.length);
      seen += known.length;
    }
    expect(seen).toBeGreaterThan(80);
  });

  it('are double where one step of the chain waited for another by a link, and nowhere else', () => {
    let double = 0;
    for (const forecast of FORECASTS.filter((one) => idleIn(one).size === 0)) {
      const lines = waitLines(forecast);
      const waited = (forecast.why ?? [])
        .filter(({ waited: { kind } }) => ['units', 'step', 'gate', 'supplier'].includes(kind))
        .map(({ step, waited: { step: from } }) => `${from} ${step}`);
      const linked = lines.map(({ from, to }) => `${from} ${to}`).filter((pair) => waited.includes(pair));
      expect(lines.flatMap(({ from, to, drives }) => (drives ? [`${from} ${to}`] : []))).toEqual(linked);
      double += linked.length;
    }
    expect(double).toBeGreaterThan(30);
  });

  it('lead the chain from step to step, and what no line shows is said at the box', () => {
    const found = { linked: 0, passed: 0, said: 0 };
    for (const forecast of FORECASTS) {
      const why = forecast.why ?? [];
      expect(drivingSteps(forecast)).toEqual([...new Set(why.map(({ step }) => step))]);
      const driving = waitLines(forecast).filter(({ drives }) => drives);
      const idle = idleIn(forecast);
      const isOnChain = (id: string) => idle.has(id) || why.some(({ step }) => step === id);
      for (const { from, to } of driving) expect([from, to].every(isOnChain)).toBe(true);
      for (const { step, waited } of why) {
        if (waited.step === null || waited.step === step) continue;
        const into = driving.filter(({ to }) => to === step);
        if (into.some(({ from }) => from === waited.step)) found.linked++;
        else if (waitsOffTheLines(forecast).has(step)) found.said++;
        else {
          expect(into.some(({ from }) => idle.has(from))).toBe(true);
          found.passed++;
        }
      }
    }
    expect(found.linked).toBeGreaterThan(30);
    expect(found.said).toBeGreaterThan(20);
    expect(found.passed).toBeGreaterThan(0);
  });

  it('stand in the table of the narrow sheet from their own step to what waits, each once', () => {
    for (const forecast of FORECASTS) {
      const { steps, lines } = waitsShown(forecast, ALL);
      const loom = waitsLoom(
        steps.map(({ id }) => id),
        lines,
      );
      expect([...loom.order].sort()).toEqual(steps.map(({ id }) => id).sort());
      const into = loom.rows.flatMap((row, i) =>
        row.flatMap(({ line }) => (line === null ? [] : [[line, i] as const])),
      );
      expect(into.map(([line]) => line).length).toBe(lines.length);
      for (const [line, row] of into) expect(loom.order[row]).toBe(line.to);
      for (const row of loom.rows) {
        const tracks = row.map(({ wire }) => wire.track);
        expect(new Set(tracks).size).toBe(tracks.length);
      }
    }
  });
});

describe('the boxes of the wide sheet', () => {
  const size = (id: string) => ({ id, width: 160, height: 80 });
  const layoutOf = (forecast: Forecast) => {
    const { steps, lines } = waitsShown(forecast, ALL);
    const sizes = steps.map(({ id }) => size(id));
    return waitsLayout({ sizes, lines, wordsWidths: lines.map(() => 0), columns: 3 });
  };
  const layouts = new Map(FORECASTS.map((forecast) => [forecast, layoutOf(forecast)]));
  const placed = (forecast: Forecast) => layouts.get(forecast)!;
  const isSame = (a: WaitLine, b: WaitLine) => a.from === b.from && a.to === b.to;
  const overlap = (a: PlacedBox, b: PlacedBox) =>
    a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;

  it('never lie on each other, and lie where they lay before', () => {
    for (const forecast of FORECASTS) {
      const { boxes, width, height } = placed(forecast);
      expect(layoutOf(forecast).boxes).toEqual(boxes);
      for (const [i, box] of boxes.entries()) {
        expect(box.left >= 0 && box.top >= 0 && box.left + box.width <= width && box.top + box.height <= height).toBe(
          true,
        );
        for (const other of boxes.slice(i + 1)) expect(overlap(box, other)).toBe(false);
      }
    }
  });

  it('have each line between them once, whole or in two ends with a balloon each', () => {
    let broken = 0;
    for (const forecast of FORECASTS) {
      const { lines, balloons } = placed(forecast);
      for (const line of waitsShown(forecast, ALL).lines) {
        const own = lines.filter((one) => isSame(one.line, line));
        const names = balloons.filter((one) => isSame(one.line, line)).map(({ step }) => step);
        expect([['whole'], ['first', 'last']]).toContainEqual(own.map(({ piece }) => piece));
        expect(names).toEqual(own.length === 1 ? [] : [line.to, line.from]);
        broken += own.length - 1;
      }
      expect(lines.filter(({ end }) => end !== null)).toHaveLength(waitsShown(forecast, ALL).lines.length);
    }
    expect(broken).toBeGreaterThan(10);
  });

  it('lie left of what waits for them, or in a band above, where no steps wait for each other in turns', () => {
    for (const forecast of FORECASTS) {
      const { boxes, lines, balloons } = placed(forecast);
      const broken = new Set(balloons.map(({ line }) => line));
      const left = new Map(boxes.map((box) => [box.id, box.left]));
      const top = new Map(boxes.map((box) => [box.id, box.top]));
      const { order } = waitsLoom(
        boxes.map(({ id }) => id),
        lines.map(({ line }) => line),
      );
      const isInTurns = lines.some(({ line }) => order.indexOf(line.from) > order.indexOf(line.to));
      if (isInTurns) continue;
      for (const { line } of lines) {
        const place = broken.has(line) ? top : left;
        expect(place.get(line.from)!).toBeLessThan(place.get(line.to)!);
      }
    }
  });
});

/** Steps that wait in a row, each in two minutes. */
function rowOf(count: number, also: Partial<Build> = {}): Build {
  const steps = Array.from({ length: count }, (_, i) => ({
    id: `s${i}`,
    name: `step ${i}`,
    count: 1,
    phases: [{ kind: 'hands' as const, minutes: 2 }],
  }));
  const checked = checkBuild({
    id: 'long-shelf',
    name: 'Long Shelf',
    zone: 'Europe/Vienna',
    event: '2026-12-20T18:00',
    people: [{ id: 'one', name: 'One', hours: 'mon-fri 09:00-17:00' }],
    steps,
    feeds: steps.slice(1).map(({ id }, i) => ({ from: steps[i]!.id, to: id, type: 'finish-start' as const })),
    ...also,
  });
  if (!checked.ok) throw new Error(checked.problems[0]!.message);
  return checked.value;
}

describe('what the picture shows', () => {
  it('is nothing of a build without steps, one box for a single step', () => {
    expect(waitsShown({ ...plan(rowOf(1)), steps: [] }, BY_ITSELF)).toMatchObject({ steps: [], lines: [], alone: [] });
    expect(waitsShown(plan(rowOf(1)), BY_ITSELF).alone.map(({ id }) => id)).toEqual(['s0']);
  });

  it('is a neighbourhood where there are many steps, which says how many links lead out of it', () => {
    const forecast = plan(rowOf(50));
    const around = waitsShown(forecast, { around: 's20', all: false });
    expect(around.steps.map(({ id }) => id)).toEqual(['s18', 's19', 's20', 's21', 's22']);
    expect([...around.beyond]).toEqual([
      ['s18', 1],
      ['s22', 1],
    ]);
    expect(waitsShown(forecast, ALL).steps).toHaveLength(50);
  });

  it('is the driving chain with what is around it, the first of it where it is long', () => {
    const forecast = plan(rowOf(50));
    const long = waitsShown(forecast, BY_ITSELF);
    expect(long.of).toBe('part');
    expect(long.steps.map(({ id }) => id)).toEqual(drivingSteps(forecast).slice(0, 36));
    const short = waitsShown({ ...forecast, why: forecast.why!.slice(-3) }, BY_ITSELF);
    expect(short.of).toBe('chain');
    expect(short.steps.map(({ id }) => id)).toEqual(['s46', 's47', 's48', 's49']);
    expect([...short.beyond]).toEqual([['s46', 1]]);
  });

  it('has a double line from each of a row to the next', () => {
    expect(waitLines(plan(rowOf(4))).map(({ from, to, drives }) => [from, to, drives])).toEqual([
      ['s0', 's1', true],
      ['s1', 's2', true],
      ['s2', 's3', true],
    ]);
  });

  it('has a double line through a check that takes no time', () => {
    const gates = [{ id: 'look', name: 'look', after: ['s0'], before: ['s1'], minutes: 0 }];
    const forecast = plan(rowOf(2, { feeds: [], gates }));
    expect(drivingSteps(forecast)).toEqual(['s0', 's1']);
    expect(waitLines(forecast).map(({ from, to, drives }) => [from, to, drives])).toEqual([
      ['look', 's1', true],
      ['s0', 'look', true],
    ]);
  });

  it('leaves out the link that would close a circle, as the plan does', () => {
    const build = rowOf(3);
    const forecast = plan({ ...build, feeds: [...build.feeds!, { from: 's2', to: 's0', type: 'finish-start' }] });
    expect(forecast.problems.map(({ code }) => code)).toContain('feed-circle');
    expect(waitLines(forecast).map(({ from, to }) => `${from} ${to}`)).toEqual(['s0 s1', 's1 s2']);
  });
});

describe('the sheet', () => {
  const sheetOf = (build: Build, forecast: Forecast, asked: WaitsAsked): string => {
    const [revision, entries, computedAt] = [1, 0, forecast.now];
    const state = { revision, entries, computedAt, stale: false, seen: '1', light: null };
    const page: BuildPage = { build, forecast, ...state, clock: wallClock(forecast.build.zone) };
    return renderFragment(WaitsSheet({ page, asked })).replaceAll(/[\u00a0\u202f]/g, ' ');
  };

  it('says how much of the build it shows, and where the rest is', () => {
    const build = rowOf(50);
    const forecast = plan(build);
    expect(sheetOf(build, forecast, BY_ITSELF)).toContain(say.notePart(36, 50, 50));
    expect(sheetOf(build, forecast, BY_ITSELF)).toContain('href="/b/long-shelf/waits?all=1"');
    expect(sheetOf(build, forecast, ALL)).toContain(say.noteAll(50));
    const around = sheetOf(build, forecast, { around: 's20', all: false });
    expect(around).toContain(say.noteAround('step 20', 5, 50));
    expect(around).toMatch(/href="\/b\/long-shelf\/waits\?around=s18">1 more link</);
    const short = { ...forecast, why: forecast.why!.slice(-3) };
    expect(sheetOf(build, short, BY_ITSELF)).toContain(say.noteChain(4, 50));
    const none = sheetOf(build, { ...forecast, why: [] }, BY_ITSELF);
    expect(none).toContain(say.noteOpen(36, 50));
    expect(none).toContain(say.noChain);
  });

  it('names what waits in a circle, and says that there is no step where there is none', () => {
    const build = rowOf(3);
    const circle: Build = { ...build, feeds: [...build.feeds!, { from: 's2', to: 's0', type: 'finish-start' }] };
    const forecast = plan(circle);
    const { message } = forecast.problems.find(({ code }) => code === 'feed-circle')!;
    expect(plain(sheetOf(circle, forecast, BY_ITSELF))).toContain(message);
    expect(sheetOf(build, { ...forecast, steps: [] }, BY_ITSELF)).toContain(say.noSteps);
  });

  it('says the kinds of links that are not plain, and what is waited for beside them', () => {
    const feeds = (['start-start', 'finish-finish', 'start-finish'] as const).map((type, i) => ({
      ...{ from: `s${i}`, to: `s${i + 1}`, type },
      lag: 60 * i,
    }));
    const build = rowOf(5, { feeds });
    const html = sheetOf(build, plan(build), BY_ITSELF);
    expect(html).toContain(`>${say.sign['start-start']}<`);
    expect(html).toContain(`>${say.sign['finish-finish']} +1 h<`);
    expect(html).toContain(`>${say.sign['start-finish']} +2 h<`);
    expect(html).toContain(say.from(`${say.sign['finish-finish']} +1 h`, 'step 1'));
    expect(html).toContain(say.taken.hands('One'));
    expect(html).toContain(say.alone);
  });

  it('says whose machine or place a step waits for, and that a wide picture goes on to the right', () => {
    const feeds = [0, 1, 2, 3].map((i) => ({ from: `s${i}`, to: `s${i + 1}`, type: 'start-start' as const, lag: 61 }));
    const build = rowOf(5, { feeds });
    const forecast = plan(build);
    const why = (['machine', 'station'] as const).map((kind, i) => ({
      ...forecast.why![0]!,
      step: `s${i + 1}`,
      waited: { kind, step: 's0', who: kind === 'machine' ? 'lathe' : 'bench' },
    }));
    const html = sheetOf(build, { ...forecast, why }, BY_ITSELF);
    expect(html).toContain(say.taken.machine('lathe'));
    expect(html).toContain(say.taken.station('bench'));
    expect(html).toContain(say.scroll);
  });

  it('has every link in its table, from both ends', () => {
    const build = rowOf(3);
    const table = sheetOf(build, plan(build), BY_ITSELF).split('<tbody>')[1]!;
    const cells = [...table.matchAll(/<td>(.*?)<\/td>/g)].map(([, cell]) => cell);
    const link = say.link['finish-start'];
    expect(cells.filter((_, i) => i % 5 === 0)).toEqual([say.nothing, `step 0 (${link})`, `step 1 (${link})`]);
    expect(cells.filter((_, i) => i % 5 === 1)).toEqual([`step 1 (${link})`, `step 2 (${link})`, say.nothing]);
    expect(cells.filter((_, i) => i % 5 === 4)).toEqual([say.yes, say.yes, say.yes]);
  });
});

function plain(html: string): string {
  return html.replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');
}

it('draws no more lines than can be followed, however many links there are: 140 steps, each behind all before it', () => {
  const link = { type: 'finish-start', ratio: null, lagMinutes: 0, given: 'maker' };
  const steps = Array.from({ length: 140 }, (_, n) => ({
    id: `s${n}`,
    left: 1,
    feeds: [],
    pattern: [],
    fedBy: Array.from({ length: n }, (__, m) => ({ ...link, step: `s${m}` })),
  }));
  const forecast = { steps, why: [] } as unknown as Forecast;
  for (const asked of [ALL, BY_ITSELF, { around: 's70', all: false }]) {
    const { lines, of } = waitsShown(forecast, asked);
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.length).toBeLessThan(200);
    expect(of).not.toBe('all');
  }
});
