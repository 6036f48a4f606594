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

/**
 * The same of a machine's run that nobody attends, which keeps to its minutes, a guessed one less so (common practice,
 * no source).
 */
export const RUN_SPREAD: Readonly<Record<Origin, number>> = {
  guessed: 0.2,
  supplier: 0.05,
  handbook: 0.05,
  trial: 0.05,
  measured: 0.05,
};
