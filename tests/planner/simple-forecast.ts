import type { Build, Forecast, ForecastStep, LogEntry, Problem } from '../../server/model/index.ts';
import { wordedProblem } from '../../server/model/index.ts';

/** 2026-11-30T12:00Z in minutes since the epoch. */
export const NOON = 29_934_000;
/** A quarter of an hour in minutes. */
export const QUARTER = 15;

/**
 * A forecast as simple as can be and still true to its inputs: as many of each step as its part says, else 40, less
 * those done, ready when they are done at ten minutes each, the ready-by at noon and 1000 minutes; a step named
 * "broken" is an error, one named "doubtful" a warning.
 */
export function simpleForecast(build: Build, log: readonly LogEntry[], now: number): Forecast {
  const undone = new Set(log.map((e) => e.undoes));
  const steps = build.steps.map((step) => {
    const counted = log
      .filter((e) => e.step === step.id && e.kind === 'done' && !undone.has(e.id))
      .reduce((sum, e) => sum + (e.n ?? 0), 0);
    const count = build.parts?.find((part) => part.id === step.part)?.count;
    const total = typeof count === 'number' ? count : 40;
    const done = Math.min(total, counted);
    const left = total - done;
    const sets = [{ set: null, total, done, counted, left }];
    return { id: step.id, name: step.name, kind: 'step', total, done, left, sets };
  });
  const orders = (build.parts ?? [])
    .filter((p) => p.source === 'buy')
    .map((p) => ({ id: `order-${p.id}`, name: p.name, kind: 'order', total: 40, done: 0, left: 40, sets: [] }));
  const minutes = steps.reduce((sum, step) => sum + step.left * 10, 0);
  const [target, finish] = [NOON + 1000, now + minutes];
  const found = build.steps.flatMap((step): Problem[] =>
    step.name === 'broken' ? [wordedProblem('nobody', `steps.${step.id}`, step.name, 'Nobody may do it.')] : [],
  );
  return {
    build: { id: build.id, name: build.name, zone: build.zone },
    now,
    setCount: typeof build.sets?.count === 'number' ? build.sets.count : 1,
    steps: [...steps, ...orders] as unknown as ForecastStep[],
    lots: [],
    room: { readyBy: { target, finish, clock: target - finish } },
    problems: found,
    risk: null,
    complete: found.length === 0,
  } as unknown as Forecast;
}
