/** The build at several values of its uncertain parameters. */
import { type Build, type Parameter, type Range, referencesTo } from '../../model/index.ts';
import { measuredPaces } from '../03-pace/index.ts';
import type { BuildWork } from '../04-lots/index.ts';
import { betaPertQuantile, Random } from '../numbers/index.ts';
import { type Planned, type Remaining, workThrough } from '../stages/index.ts';
import type { Lot, Placement, Schedule } from '../types.ts';
import { keyOf } from './streams.ts';

/**
 * Sets of values that are tried; a batch of futures is a multiple of it, so that each set has as many as the others.
 */
const WORLDS = 10;

/** The build as it would be with other values of its uncertain parameters, and the order of work to follow in it. */
export interface ParameterWorld {
  readonly planned: Remaining;
  readonly schedule: Schedule;
}

/**
 * What the build comes to where parameters are given as low, likely and high: WORLDS sets of values. For each of them
 * counts, lots and links are made again (the same steps with more or fewer units, and all that follows from them). The
 * values of one parameter are the middles of WORLDS equally likely shares of its beta-PERT, in an order of its own, so
 * that every share of every parameter occurs once: Latin hypercube sampling (McKay, Beckman, Conover 1979). A parameter
 * of whole numbers stays whole. Lots are worked in the order of the plan; units that are new follow the others of their
 * step. Where no parameter that a formula names varies, or with some values nothing would be left to do, the plan
 * itself. O(WORLDS x the size of the build).
 */
export function parameterWorlds(planned: Planned, schedule: Schedule, seed: number): ParameterWorld[] {
  const uncertain = (planned.build.parameters ?? []).flatMap(({ name, range }: Parameter) => {
    const varies = range !== undefined && range.high > range.low && !planned.asked.overrides?.has(name);
    return varies && isUsed(planned.asked.build, name) ? [{ name, range }] : [];
  });
  if (uncertain.length === 0) return [{ planned, schedule }];
  const values = uncertain.map(({ name, range }) => ({ name, drawn: sharesOf(name, range, seed) }));
  const made = new Map<string, ParameterWorld>();
  const worlds = Array.from({ length: WORLDS }, (_, world) => {
    const drawnHere = new Map(values.map(({ name, drawn }) => [name, drawn[world]!]));
    const known = made.get([...drawnHere.values()].join());
    if (known !== undefined) return known;
    const other = withParameters(planned, drawnHere);
    const onSheet = {
      activityList: orderIn(other, planned, schedule),
      placements: placementsIn(other, planned, schedule),
    };
    const one = { planned: other, schedule: { ...schedule, ...onSheet } };
    made.set([...drawnHere.values()].join(), one);
    return one;
  });
  return worlds.every((world) => world.planned.work.lots.length > 0) ? worlds : [{ planned, schedule }];
}

/** Whether any formula names it; a drawing that depends on it counts nothing. */
function isUsed(build: Build, name: string): boolean {
  return referencesTo(build, 'parameters', name).some(({ field }) => field !== 'dependsOn');
}

function sharesOf(name: string, { low, likely, high }: Range, seed: number): number[] {
  const random = new Random(seed ^ keyOf(name));
  const isWhole = [low, likely, high].every(Number.isInteger);
  const values = Array.from({ length: WORLDS }, (_, i) => {
    const value = betaPertQuantile((i + 0.5) / WORLDS, { low, likely, high });
    return isWhole ? Math.round(value) : value;
  });
  for (let i = WORLDS - 1; i > 0; i--) {
    const j = random.below(i + 1);
    [values[i], values[j]] = [values[j]!, values[i]!];
  }
  return values;
}

/** The plan's case with other values: what remains then, at the paces that are known. */
function withParameters(plan: Planned, drawn: ReadonlyMap<string, number>): Remaining {
  const { asked, paces } = plan;
  const overrides = new Map([...(asked.overrides ?? []), ...drawn]);
  const other = workThrough({ ...asked, overrides, paces: asked.paces ?? measuredPaces(paces) }, 'work', plan);
  return { ...other, work: chosenAs(plan.work, other.work) };
}

/** Lots that the plan has too are done by those who were to do them in it, and wait as they were to wait. */
function chosenAs(plan: BuildWork, work: BuildWork): BuildWork {
  const known = new Map(plan.lots.map((lot) => [lot.id, lot]));
  const lots = work.lots.map((lot): Lot => {
    const { phases, formerPeople, chosen } = known.get(lot.id) ?? lot;
    if (phases.length !== lot.phases.length) return lot;
    return { ...lot, ...(formerPeople && { formerPeople }), ...(chosen && { chosen }) };
  });
  return { ...work, lots };
}

/** The order of the plan for the lots that are in it; a lot that is new comes behind the last of its step. */
function orderIn({ work, plans }: Remaining, plan: Planned, { activityList }: Schedule): Int32Array {
  const places = new Map<string, number>();
  const lastOfStep = new Map<string, number>();
  activityList.forEach((lot, place) => {
    const { id, step } = plan.work.lots[lot]!;
    places.set(id, place);
    lastOfStep.set(plan.plans[step]!.id, place);
  });
  const placeOf = (lot: number) => {
    const { id, step } = work.lots[lot]!;
    return places.get(id) ?? lastOfStep.get(plans[step]!.id) ?? activityList.length;
  };
  return Int32Array.from([...work.lots.keys()].sort((a, b) => placeOf(a) - placeOf(b) || a - b));
}

/** What the sheet of the plan says of the lots that are here too, with the same phases. */
function placementsIn({ work }: Remaining, plan: Planned, { placements }: Schedule): Placement[] {
  const here = new Map(work.lots.map((lot, i) => [lot.id, i]));
  return placements.flatMap((placement): Placement[] => {
    const before = plan.work.lots[placement.lot]!;
    const lot = here.get(before.id);
    if (lot === undefined || work.lots[lot]!.phases.length !== before.phases.length) return [];
    return [{ ...placement, lot }];
  });
}
