/**
 * What a forecast said of who does what when, for the next one to compare with: lots are identified by the units they
 * hold, since their numbers change.
 */
import type { Forecast, ForecastStep } from '../../../model/index.ts';
import type { PlannedStep } from '../../02-steps/index.ts';
import type { Instant, Work } from '../../types.ts';
import type { PreviousLot, PreviousSchedule } from './stable.ts';

/** One lot of an earlier forecast. Units are counted within its set, so that other sets may grow or shrink. */
interface FormerLot {
  readonly step: string;
  readonly set: number | null;
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly start: Instant;
  /** When a sheet before had first asked for its step since the last entry; null: none had. */
  readonly asked?: Instant | null;
  /** By phase, the ids of those who do it, and when it begins. */
  readonly people: readonly (readonly string[])[];
  readonly starts: readonly Instant[];
}

export type KeptSchedule = readonly FormerLot[];

/** The plan of a forecast, small enough to be handed to another thread. */
export function keptScheduleOf({ lots, steps }: Pick<Forecast, 'lots' | 'steps'>): KeptSchedule {
  const asked = new Map(steps.map(({ id, askedSince }) => [id, askedSince ?? null]));
  const offsets = new Map<string, number>();
  for (const { id, sets } of steps) {
    let before = 0;
    for (const { set, total } of sets) {
      offsets.set(keyOf(id, set), before);
      before += total;
    }
  }
  return lots.flatMap(({ step, set, firstUnit, lastUnit, levelled, placements }): FormerLot[] => {
    if (levelled === null) return [];
    const offset = offsets.get(keyOf(step, set)) ?? 0;
    return [
      {
        step,
        set,
        firstUnit: firstUnit - offset,
        lastUnit: lastUnit - offset,
        start: levelled.start,
        asked: asked.get(step) ?? null,
        people: placements.map(({ people }) => people),
        starts: placements.map((placement) => placement.start),
      },
    ];
  });
}

/**
 * The steps, each with when a sheet first asked somebody for it since its last entry: this former one, or one before
 * it.
 */
export function withAsked(steps: readonly ForecastStep[], former: KeptSchedule, now: Instant): ForecastStep[] {
  const since = new Map(steps.map(({ id, lastLogged }) => [id, lastLogged ?? Number.NEGATIVE_INFINITY]));
  const asked = new Map<string, Instant>();
  for (const { step, start, asked: before } of former) {
    for (const at of [before ?? null, start]) {
      if (at === null || at > now || at <= (since.get(step) ?? now)) continue;
      asked.set(step, Math.min(at, asked.get(step) ?? at));
    }
  }
  return steps.map((step) => ({ ...step, askedSince: asked.get(step.id) ?? null }));
}

/**
 * The former schedule, matched to the lots of `work`: each has the start and the people of the former lot that held its
 * first unit. So a lot that a count has eaten into is still the same work, whatever its number is now. O(lots log
 * lots).
 */
export function previousScheduleIn(former: KeptSchedule, plans: readonly PlannedStep[], work: Work): PreviousSchedule {
  const byRun = new Map<string, FormerLot[]>();
  for (const lot of former) {
    const run = byRun.get(keyOf(lot.step, lot.set));
    if (run === undefined) byRun.set(keyOf(lot.step, lot.set), [lot]);
    else run.push(lot);
  }
  const offsets = new Map(
    plans.flatMap((plan) => plan.sets.map(({ set, offset }) => [keyOf(plan.id, set), offset] as const)),
  );
  const resources = new Map(work.resources.map(({ id, kind }, r) => [kind === 'person' ? id : `${kind} ${id}`, r]));
  const previous = new Map<string, PreviousLot>();
  for (const lot of work.lots) {
    if (lot.lastUnit < lot.firstUnit) continue;
    const key = keyOf(plans[lot.step]!.id, lot.set);
    const unit = lot.firstUnit - (offsets.get(key) ?? 0);
    const before = byRun.get(key)?.find(({ firstUnit, lastUnit }) => firstUnit <= unit && unit <= lastUnit);
    if (before === undefined) continue;
    const people = before.people.map((ids) => ids.flatMap((id) => resources.get(id) ?? []));
    previous.set(lot.id, { start: before.start, people, starts: before.starts });
  }
  return previous;
}

function keyOf(step: string, set: number | null): string {
  return `${step} ${set ?? ''}`;
}
