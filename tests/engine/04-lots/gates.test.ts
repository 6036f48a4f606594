import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, Gate, LogEntry } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;

function entry(id: string, kind: LogEntry['kind'], more: Partial<LogEntry> = {}): LogEntry {
  return { id: `entry-${id}`, kind, at: `2026-12-01T1${id.slice(0, 1)}:00:00Z`, ...more };
}

/** Two frames of eight drops each: hung, wired, tested, packed; the test sends three drops back. */
function frames(gate: Partial<Gate> = {}, more: Partial<Build> = {}): Build {
  return {
    id: 'rain',
    name: 'Rain ceiling',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    loadIn: '2026-12-20T08:00',
    people: [{ id: 'ada', name: 'Ada', hours: 'daily 09:00-22:00' }],
    sets: { count: 2, name: 'frame' },
    steps: [
      { id: 'hang', name: 'hang drops', count: 8, perSet: true, lotSize: 4, phases: [{ kind: 'hands', perUnit: 15 }] },
      { id: 'wire', name: 'wire frame', perSet: true, after: ['hang'], phases: [{ kind: 'hands', minutes: 60 }] },
      { id: 'pack', name: 'pack frame', perSet: true, phases: [{ kind: 'hands', minutes: 40 }] },
    ],
    gates: [
      {
        id: 'trial',
        name: 'frame test',
        perSet: true,
        after: ['wire'],
        before: ['pack'],
        minutes: 30,
        sendsBack: [{ step: 'hang', units: 3 }],
        ...gate,
      },
    ],
    ...more,
  };
}

const FAILED = [
  entry('1a', 'done', { step: 'hang', set: 1, n: 8 }),
  entry('2a', 'done', { step: 'wire', set: 1 }),
  entry('3a', 'failed', { step: 'trial', set: 1 }),
  entry('4a', 'sent-back', { step: 'hang', set: 1, n: 3 }),
];

function spanOf(forecast: Forecast, step: string, set: number | null) {
  const lots = forecast.lots.filter((lot) => lot.step === step && lot.set === set);
  return {
    start: Math.min(...lots.map(({ levelled }) => levelled!.start)),
    finish: Math.max(...lots.map(({ levelled }) => levelled!.finish)),
  };
}

describe('what a failed gate sent back', () => {
  test('is done again before the next try and before all that follows, though the step between is done', () => {
    const forecast = planBuild(frames(), FAILED, NOW);
    const [again, trial, pack] = ['hang', 'trial', 'pack'].map((step) => spanOf(forecast, step, 1));
    expect(again!.start).toBeGreaterThanOrEqual(NOW);
    expect(trial!.start).toBeGreaterThanOrEqual(again!.finish);
    expect(pack!.start).toBeGreaterThanOrEqual(trial!.finish);
  });

  test('moves the date by what there is to do again', () => {
    const before = planBuild(frames(), FAILED.slice(0, 3), NOW);
    const after = planBuild(frames(), FAILED, NOW);
    expect(after.room.readyBy.finish! - before.room.readyBy.finish!).toBe(3 * 15);
  });

  test('holds up what follows where somebody sent it back after the gate had passed', () => {
    const passed = [...FAILED.slice(0, 2), entry('3b', 'passed', { step: 'trial', set: 1 }), FAILED[3]!];
    const { lots } = planBuild(frames(), passed, NOW);
    const [again, pack] = ['hang/1/1', 'pack/1/1'].map((id) => lots.find((lot) => lot.id === id)!.dates);
    expect(pack!.earlyStart).toBe(again!.earlyFinish);
  });

  test('is done again before the next try where no feed leads from the step to the gate', () => {
    const build = frames({ after: ['look'] });
    const forecast = planBuild(
      { ...build, steps: [...build.steps, { id: 'look', name: 'look', perSet: true, phases: [] }] },
      [...FAILED, entry('5a', 'done', { step: 'look', set: 1 })],
      NOW,
    );
    expect(spanOf(forecast, 'trial', 1).start).toBeGreaterThanOrEqual(spanOf(forecast, 'hang', 1).finish);
  });

  test('closes no circle where the gate itself comes before the step', () => {
    const forecast = planBuild(
      frames({ sendsBack: [{ step: 'pack', units: 1 }] }),
      [
        ...FAILED.slice(0, 3),
        entry('3c', 'done', { step: 'pack', set: 1 }),
        entry('4c', 'sent-back', { step: 'pack', set: 1, n: 1 }),
      ],
      NOW,
    );
    expect(forecast.problems.filter(({ code }) => code === 'feed-circle')).toEqual([]);
    expect(spanOf(forecast, 'pack', 1).start).toBeGreaterThanOrEqual(spanOf(forecast, 'trial', 1).finish);
  });

  test('is hung again before the demo’s panel is tried again', () => {
    const { build, log = [] } = tideWall(NOW);
    const forecast = planBuild(
      build,
      [
        ...log,
        entry('1d', 'done', { step: 'mount-fish', set: 1, n: 24 }),
        entry('1e', 'done', { step: 'wire-panel', set: 1 }),
        entry('2d', 'failed', { step: 'panel-swims', set: 1 }),
        entry('2e', 'sent-back', { step: 'mount-fish', set: 1, n: 4 }),
      ],
      NOW,
    );
    const again = spanOf(forecast, 'mount-fish', 1).finish;
    expect(spanOf(forecast, 'panel-swims', 1).start).toBeGreaterThanOrEqual(again);
  });

  test('comes before the next try, and that before the steps behind it, in every random build with failed gates', () => {
    fc.assert(
      fc.property(scene, ({ build, log }) => {
        const forecast = planBuild(build, log, NOW);
        expect(triedTooEarly(build, log, forecast)).toEqual([]);
      }),
      { seed: 5, numRuns: 150 },
    );
  });
});

describe('a gate', () => {
  const onSite: Partial<Build> = {
    steps: [
      { id: 'load-in', name: 'load in', onSite: true, phases: [{ kind: 'hands', minutes: 60 }] },
      { id: 'paint', name: 'paint', phases: [{ kind: 'hands', minutes: 120 }] },
      { id: 'rehearse', name: 'rehearse', onSite: true, phases: [{ kind: 'hands', minutes: 30 }] },
    ],
    gates: [
      { id: 'power-on', name: 'power on', after: ['load-in'], before: ['rehearse'], minutes: 30 },
      { id: 'signed', name: 'signed off', after: ['power-on'], minutes: 10 },
    ],
  };

  test('that comes after work on site is made there, and is no work of the workshop', () => {
    const forecast = planBuild(frames({}, onSite), [], NOW);
    const loadIn = Date.parse('2026-12-20T08:00Z') / 60_000;
    expect(forecast.steps.filter((step) => step.onSite).map(({ id }) => id)).toEqual([
      'load-in',
      'rehearse',
      'power-on',
      'signed',
    ]);
    expect(forecast.room.readyBy.finish).toBe(NOW + 120);
    expect(spanOf(forecast, 'power-on', null).start).toBeGreaterThanOrEqual(loadIn);
    expect(forecast.lowerBound!.verdict).not.toBe('impossible');
  });

  test('is made on site where it says so, though what it comes after is not', () => {
    const build = frames(
      {},
      { ...onSite, gates: [{ id: 'look', name: 'look', after: ['paint'], minutes: 5, onSite: true }] },
    );
    expect(planBuild(build, [], NOW).steps.find(({ id }) => id === 'look')!.onSite).toBe(true);
  });
});

const STEPS = ['a', 'b', 'c', 'd'];

/**
 * A route of three or four steps of a set (a job or counted units), a gate behind one of them that failed and sent
 * units back, and steps behind it.
 */
const scene = fc
  .record({
    sets: fc.integer({ min: 1, max: 3 }),
    counts: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 4, maxLength: 4 }),
    perSet: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
    lotSize: fc.integer({ min: 1, max: 5 }),
    gateAt: fc.integer({ min: 1, max: 3 }),
    backTo: fc.integer({ min: 0, max: 2 }),
    backUnits: fc.integer({ min: 1, max: 5 }),
    types: fc.array(fc.constantFrom('units' as const, 'finish-start' as const), { minLength: 3, maxLength: 3 }),
    failedSet: fc.integer({ min: 1, max: 3 }),
    tries: fc.integer({ min: 1, max: 2 }),
    repaired: fc.integer({ min: 0, max: 3 }),
  })
  .map((drawn) => {
    const { counts, perSet, gateAt, types } = drawn;
    const backTo = Math.min(drawn.backTo, gateAt - 1);
    const steps: Build['steps'] = STEPS.map((id, i) => ({
      id,
      name: id,
      count: counts[i]!,
      perSet: perSet[i]!,
      lotSize: drawn.lotSize,
      phases: [{ kind: 'hands', perUnit: 10 }],
      ...(i === 0 || i === gateAt ? {} : { after: [{ step: STEPS[i - 1]!, type: types[i - 1]! }] }),
    }));
    const gate: Gate = {
      id: 'gate',
      name: 'gate',
      perSet: perSet[4]!,
      after: [STEPS[gateAt - 1]!],
      before: [STEPS[gateAt]!],
      minutes: 25,
      sendsBack: [{ step: STEPS[backTo]!, units: drawn.backUnits }],
    };
    const build = frames({}, { sets: { count: drawn.sets, name: 'set' }, steps, gates: [gate] });
    const set = Math.min(drawn.failedSet, drawn.sets);
    const ofSet = (isPerSet: boolean) => (isPerSet ? { set } : {});
    const log = steps
      .slice(0, gateAt)
      .flatMap(({ id, count, perSet: own }, i) =>
        Array.from({ length: own ? drawn.sets : 1 }, (_, s) =>
          entry(`1${i}${s}`, 'done', { step: id, n: Number(count), ...(own ? { set: s + 1 } : {}) }),
        ),
      );
    const back = { step: STEPS[backTo]!, ...ofSet(perSet[backTo]!) };
    for (let t = 0; t < drawn.tries; t++) {
      log.push(entry(`2${t}a`, 'failed', { step: 'gate', ...ofSet(perSet[4]!) }));
      log.push(entry(`2${t}b`, 'sent-back', { ...back, n: drawn.backUnits }));
    }
    if (drawn.repaired > 0) log.push(entry('3a', 'done', { ...back, n: drawn.repaired }));
    return { build, log };
  });

/** Independent of the engine's links: by the log alone, who must be done before whom. */
function triedTooEarly(build: Build, log: readonly LogEntry[], forecast: Forecast): string[] {
  const { lots } = forecast;
  const gate = build.gates![0]!;
  const faults: string[] = [];
  for (const set of new Set(log.filter(({ kind }) => kind === 'sent-back').map((sent) => sent.set))) {
    const id = gate.sendsBack![0]!.step;
    let owed = 0;
    for (const { kind, step, n, set: own } of log) {
      if (step !== id || own !== set) continue;
      if (kind === 'sent-back') owed += Math.min(n!, Number(build.steps.find((one) => one.id === id)!.count) - owed);
      else if (owed > 0) owed = Math.max(0, owed - n!);
    }
    const own = lots
      .filter((lot) => lot.step === id && lot.set === (set ?? null))
      .sort((x, y) => x.firstUnit - y.firstUnit);
    const first = own[0]?.firstUnit ?? 0;
    const again = own.filter((lot) => owed > 0 && lot.firstUnit < first + owed);
    const failed = log.find(({ kind }) => kind === 'failed')!;
    const tries = lots.filter((lot) => lot.step === 'gate' && lot.set === (failed.set ?? null));
    for (const lot of again)
      for (const next of tries)
        if (next.levelled!.start < lot.levelled!.finish)
          faults.push(`${next.id} is tried before ${lot.id} is done again`);
    for (const behind of lots.filter(
      (lot) => lot.step === gate.before![0] && (lot.set === failed.set || failed.set === undefined || lot.set === null),
    ))
      for (const next of tries)
        if (behind.levelled!.start < next.levelled!.finish) faults.push(`${behind.id} begins before ${next.id}`);
  }
  return faults;
}
