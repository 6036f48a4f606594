/** How wrong estimates usually are. */
import type { Origin } from '../../model/index.ts';

/**
 * Coefficient of variation of an estimate by its origin: how wrong such numbers usually are (common practice, no
 * source).
 */
export const ESTIMATE_SPREAD: Readonly<Record<Origin, number>> = {
  guessed: 0.5,
  supplier: 0.3,
  handbook: 0.3,
  trial: 0.3,
  measured: 0.2,
};
