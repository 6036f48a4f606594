/** How heavy a box may be for the people who lift it. */
import { ceilCount } from '../numbers/index.ts';

/**
 * What one person may lift close to the body between knuckle and elbow, in kilograms: HSE, Manual handling at work
 * (INDG143) and L23, guideline figure for men, and the reference mass of ISO 11228-1 for the working population; for
 * women HSE says 16 (all from memory). A guideline below which there is little risk, no limit of the law.
 */
const ONE_LIFTS = 25;
/** Share of what each could lift alone that a team of two, or of three and more, can (HSE, L23; from memory). */
const TEAM_OF_TWO = 2 / 3;
const LARGER_TEAM = 1 / 2;

/**
 * Up to how many kilograms a guideline lets this many people lift together, rounded down to tenths.
 *
 *     liftingGuideline(1) // 25
 *     liftingGuideline(2) // 33.3
 *     liftingGuideline(4) // 50
 */
export function liftingGuideline(carriers: number): number {
  const share = carriers === 1 ? 1 : carriers === 2 ? TEAM_OF_TWO : LARGER_TEAM;
  return Math.floor(ONE_LIFTS * carriers * share * 10) / 10;
}

/**
 * Kilograms above the guideline for this many people; 0 where it is kept.
 *
 *     aboveGuideline(31, 1) // 6
 *     aboveGuideline(31, 2) // 0
 */
export function aboveGuideline(weight: number, carriers: number): number {
  return Math.max(0, upToTenths(weight - liftingGuideline(carriers)));
}

/**
 * A weight in kilograms, or a length in millimetres, rounded up to tenths: a little too much is not nothing. What is
 * added up in binary has crumbs, which do not count.
 *
 *     upToTenths(0.1 + 0.2) // 0.3
 *     upToTenths(15.04 - 15) // 0.1
 */
export function upToTenths(size: number): number {
  return ceilCount(size * 10) / 10;
}
