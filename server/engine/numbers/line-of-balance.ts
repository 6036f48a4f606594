/** The method of line of balance on plain numbers. */
import { ceilCount } from './rounding.ts';

/** A cumulative plan of deliveries: rising times, units delivered by each, straight lines between. */
export interface DeliveryPlan {
  readonly times: readonly number[];
  readonly units: readonly number[];
}

/**
 * Units that should have passed a point of the route by `today`: the delivery plan read at today plus the time from
 * that point to delivery (US Navy, Office of Naval Material, "Line of Balance Technology", 1962). Flat before the first
 * and after the last time of the plan. A count below it threatens delivery though nothing is late yet at the end.
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

/** Takt: the minutes in which one unit must leave. Example: 10 days of 8 h at 85 % for 300 units are 13.6. */
export function taktMinutes(availableMinutes: number, units: number): number {
  return availableMinutes / units;
}

/** Stations side by side that keep the takt. Example: 38 minutes at takt 13.6 need 3. */
export function stationsForTakt(operationMinutes: number, takt: number): number {
  return ceilCount(operationMinutes / takt);
}
