/** The method of line of balance on plain numbers. */
import { ceilCount } from './rounding.ts';

/**
 * The arithmetic of repeated work: units as sections or panels, one kind of work after the other on each. Times and rates are in whatever unit the
 * caller chooses (days and units a day), the same throughout.
 */

/** A gang for one kind of work at a wanted rate. */
export interface Gang {
  /** People that the rate asks for, a fraction. */
  readonly theoreticalPeople: number;
  /** Rounded to the nearest whole number of teams, at least one. */
  readonly people: number;
  readonly unitsPerWeek: number;
  /** Working days that one team spends on one unit. */
  readonly daysPerUnit: number;
  /** Working days from the first unit's start to the last unit's. */
  readonly daysFirstToLastStart: number;
}

/**
 * Gang and rate (Harris & McCaffer, "Modern Construction Management", line of balance): people = rate x hours a unit / hours a week, made up of
 * whole teams. Hours a unit are person-hours. Throws RangeError for a team of nobody.
 */
export function gangForRate(work: {
  readonly units: number;
  readonly unitsPerWeek: number;
  readonly personHoursPerUnit: number;
  readonly teamPeople: number;
  readonly daysPerWeek: number;
  readonly hoursPerDay: number;
}): Gang {
  const { units, personHoursPerUnit, teamPeople, daysPerWeek, hoursPerDay } = work;
  if (!(teamPeople > 0)) throw new RangeError(`teamPeople is ${teamPeople}; it must be more than 0`);
  const hoursPerWeek = daysPerWeek * hoursPerDay;
  const theoreticalPeople = (work.unitsPerWeek * personHoursPerUnit) / hoursPerWeek;
  const people = Math.max(1, Math.round(theoreticalPeople / teamPeople)) * teamPeople;
  const unitsPerWeek = (people * hoursPerWeek) / personHoursPerUnit;
  return {
    theoreticalPeople,
    people,
    unitsPerWeek,
    daysPerUnit: personHoursPerUnit / (hoursPerDay * teamPeople),
    daysFirstToLastStart: ((units - 1) * daysPerWeek) / unitsPerWeek,
  };
}

/**
 * The rate that a deadline asks of a kind of work, and the crews that keep it: (n - 1) / (deadline - one unit's path + the work's float), crews
 * = days a unit x rate, rounded up (repetitive-project scheduling, CPM-LOB). Null when no time is left.
 */
export function rateForDeadline(work: {
  readonly units: number;
  readonly deadline: number;
  readonly oneUnitPath: number;
  readonly float: number;
  readonly timePerUnit: number;
}): { rate: number; crews: number; actualRate: number } | null {
  const time = work.deadline - work.oneUnitPath + work.float;
  if (!(time > 0)) return null;
  const rate = (work.units - 1) / time;
  const crews = Math.max(1, ceilCount(work.timePerUnit * rate));
  return { rate, crews, actualRate: crews / work.timePerUnit };
}

/** One kind of work that passes over the units one after the other at an even rate. */
export interface Stage {
  readonly timePerUnit: number;
  readonly crews: number;
}

export interface StageLine {
  readonly rate: number;
  readonly firstStart: number;
  readonly firstDone: number;
  readonly lastStart: number;
  readonly lastDone: number;
}

/**
 * Unbroken lines: each stage runs without a pause at crews / time, and stays `buffer` behind the stage before at every unit. A follower that is
 * faster is tied at the last unit, a slower one at the first.
 */
export function continuousLines(stages: readonly Stage[], units: number, buffer: number): StageLine[] {
  const lines: StageLine[] = [];
  for (const { timePerUnit, crews } of stages) {
    const rate = crews / timePerUnit;
    const before = lines.at(-1);
    const tiedAtFirst = before ? before.firstDone + buffer : 0;
    const tiedAtLast = before ? before.lastDone + buffer - (units - 1) / rate : 0;
    const firstStart = Math.max(tiedAtFirst, tiedAtLast);
    const lastStart = firstStart + (units - 1) / rate;
    lines.push({ rate, firstStart, firstDone: firstStart + timePerUnit, lastStart, lastDone: lastStart + timePerUnit });
  }
  return lines;
}

/**
 * When the last unit is done if every unit moves on as soon as it has waited `buffer` and a crew of the next stage is free (work may pause).
 */
export function earliestDone(stages: readonly Stage[], units: number, buffer = 0): number {
  let ready = new Float64Array(units);
  let done = ready;
  for (const { timePerUnit, crews } of stages) {
    const next = new Float64Array(units);
    for (let u = 0; u < units; u++) {
      const crewFree = u >= crews ? next[u - crews]! : 0;
      next[u] = Math.max(ready[u]!, crewFree) + timePerUnit;
    }
    done = next;
    ready = next.map((time) => time + buffer);
  }
  return done.at(-1) ?? 0;
}

/** When the last unit is done if each stage is finished for all units before the next begins. */
export function stageByStageDone(stages: readonly Stage[], units: number): number {
  return stages.reduce((time, { timePerUnit, crews }) => time + Math.ceil(units / crews) * timePerUnit, 0);
}

/** A cumulative plan of deliveries: rising times, units delivered by each, straight lines between. */
export interface DeliveryPlan {
  readonly times: readonly number[];
  readonly units: readonly number[];
}

/**
 * Units that should have passed a point of the route by `today`: the delivery plan read at today plus the time from that point to delivery (US Navy,
 * Office of Naval Material, "Line of Balance Technology", 1962). Flat before the first and after the last time of the plan.
 * A count below it threatens delivery though nothing is late yet at the end.
 */
export function unitsThatShouldHavePassed(plan: DeliveryPlan, today: number, timeToDelivery: number): number {
  const { times, units } = plan;
  const at = today + timeToDelivery;
  const after = times.findIndex((time) => time >= at);
  if (after === 0) return units[0]!;
  if (after < 0) return units.at(-1) ?? 0;
  const [from, to] = [times[after - 1]!, times[after]!];
  return units[after - 1]! + ((at - from) / (to - from)) * (units[after]! - units[after - 1]!);
}

/**
 * When the last lot leaves the last stage if `units` move in lots of `lotSize` (the last may be smaller) through stages of these minutes a
 * unit, one worker or machine a stage, no setup. Lower limit with single units: sum of all minutes + (units - 1) x the greatest.
 */
export function transferLotsDone(minutesPerUnit: readonly number[], units: number, lotSize: number): number {
  if (!(lotSize > 0)) throw new RangeError(`lotSize is ${lotSize}; it must be more than 0`);
  const stageFree = minutesPerUnit.map(() => 0);
  for (let begun = 0; begun < units; begun += lotSize) {
    const lot = Math.min(lotSize, units - begun);
    let arrived = 0;
    minutesPerUnit.forEach((minutes, stage) => {
      arrived = Math.max(arrived, stageFree[stage]!) + lot * minutes;
      stageFree[stage] = arrived;
    });
  }
  return stageFree.at(-1) ?? 0;
}

/** Takt: the minutes in which one unit must leave. Example: 10 days of 8 h at 85 % for 300 units are 13.6. */
export function taktMinutes(availableMinutes: number, units: number): number {
  return availableMinutes / units;
}

/** Stations side by side that keep the takt. Example: 38 minutes at takt 13.6 need 3. */
export function stationsForTakt(operationMinutes: number, takt: number): number {
  return ceilCount(operationMinutes / takt);
}
