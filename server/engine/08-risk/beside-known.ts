/** What few futures of a changed plan say, beside the many that are known of the plan as it is. */
import type { Chance, Difference, Forecast, ForecastRisk, Quantiles } from '../../model/index.ts';
import { compareEnds, type FutureEnds } from './compare-futures.ts';
import { levelOfSorted, QUANTILES, quantileOfSorted } from './statistics.ts';

/** A plan with its chances, and how the futures ended that those come from. */
export interface Drawn {
  readonly forecast: Forecast;
  readonly ends: FutureEnds | null;
}

/**
 * The forecast of a changed plan, its chances and finishes corrected by what many futures know of the plan as it is
 * (`known`) and the few that both were drawn with miss of it (`present`). A chance is the known one plus the
 * difference of the two: a control variate of coefficient 1 (Law, "Simulation Modeling and Analysis", 11.4, from
 * memory). A finish not passed with chance p is the changed plan's own at the level at which the few futures of the
 * plan as it is have the known finish (Hsu and Nelson, "Control variates for quantile estimation", 1990, from memory).
 * So the plan as it is has one chance wherever it is shown, and a change that changes nothing shows that. The forecast
 * as it is where the known one is of another plan or of no more futures, or one of the three has none. O(futures log
 * futures).
 */
export function besideKnown(known: Forecast, present: Drawn, after: Drawn): Forecast {
  const { risk } = after.forecast;
  const [many, few] = [known.risk, present.forecast.risk];
  if (!risk || !many || !few || !present.ends || !after.ends || !isSamePlan(known, present.forecast)) {
    return after.forecast;
  }
  if (many.futures <= few.futures) return after.forecast;
  const [before, ends] = [present.ends, after.ends];
  const futures = Math.min(before.readyAt.length, ends.readyAt.length);
  if (futures < 2) return after.forecast;
  const { readyBy, event } = compareEnds(before, ends);
  const quantiles = (column: 'readyAt' | 'finishAt') =>
    corrected(many[column], sorted(before[column], futures), sorted(ends[column], futures));
  const corrections = {
    readyBy: moved(many.readyBy, risk.readyBy, readyBy),
    event: moved(many.event, risk.event, event),
    loadIn: many.loadIn && few.loadIn && risk.loadIn && moved(many.loadIn, risk.loadIn, apart(few.loadIn, risk.loadIn)),
    ...duesBeside(many, few, risk),
    readyAt: quantiles('readyAt'),
    finishAt: quantiles('finishAt'),
  };
  return { ...after.forecast, risk: { ...risk, ...corrections } };
}

/** Whether two forecasts plan the same: then the futures of one say what those of the other would. */
function isSamePlan(one: Forecast, other: Forecast): boolean {
  const ends = ({ room }: Forecast) => [room.readyBy.finish, room.readyBy.target, room.event.finish, room.event.target];
  return String(ends(one)) === String(ends(other));
}

/** A chance that is known, moved by what a change moves the same of fewer futures. */
function moved(known: Chance, after: Chance, { mean, error }: Difference): Chance {
  const chance = Math.min(1, Math.max(0, known.chance + mean));
  return { target: after.target, chance, error: Math.hypot(known.error, error) };
}

/** The difference of two chances; its error is at most that of two that have no luck in common. */
function apart(before: Chance, after: Chance): Difference {
  return { mean: after.chance - before.chance, error: Math.hypot(before.error, after.error) };
}

function duesBeside(known: ForecastRisk, few: ForecastRisk, risk: ForecastRisk): Pick<ForecastRisk, 'dues'> {
  if (risk.dues === undefined) return {};
  const of = ({ dues = [] }: ForecastRisk, { list, id }: { list: string; id: string }) =>
    dues.find((due) => due.list === list && due.id === id);
  const dues = risk.dues.map((due) => {
    const [many, before] = [of(known, due), of(few, due)];
    return many && before ? { ...due, ...moved(many, due, apart(before, due)) } : due;
  });
  return { dues };
}

function sorted(ends: Int32Array, futures: number): Int32Array {
  return ends.slice(0, futures).sort();
}

function corrected(known: Quantiles, present: Int32Array, after: Int32Array): Quantiles {
  const at = (name: keyof Quantiles) =>
    Math.round(quantileOfSorted(after, levelOfSorted(present, known[name], QUANTILES[name])));
  return { p10: at('p10'), p50: at('p50'), p80: at('p80'), p90: at('p90'), p95: at('p95') };
}
