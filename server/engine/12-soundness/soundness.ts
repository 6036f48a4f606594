/** Is the plan sound as a plan? The published schedule checks, read for a small build. */
import type { SoundnessCheck } from '../../model/index.ts';
import { LOGIC_CHECKS } from './soundness-logic.ts';
import type { SoundnessSources } from './soundness-parts.ts';
import { PROGRESS_CHECKS } from './soundness-progress.ts';
import { SAFETY_CHECKS } from './soundness-safety.ts';
import { WORK_CHECKS } from './soundness-work.ts';

/**
 * The checks that apply, in one order, those that are fine too. Read after the ten practices of GAO-16-89G (2015) and
 * the 14 metrics of the DCMA (R. Winter 2011; DCMA-EA PAM 200.1, 2012). For a small build: loose ends and negative lags
 * 0 instead of 5 %; a lag may be, but says what for; slack is high above half of the time left and a lot long above
 * five working days, instead of 44 days. Metric 4 (share of finish-start links) is left out: lots that overlap need the
 * others. Metric 12 (a critical step made longer moves the end as far) is a test of the engine, not of a build. One
 * check is of neither: that somebody competent signs for what hangs above people and for mains. Linear in lots.
 */
export function soundnessOf(sources: SoundnessSources): SoundnessCheck[] {
  return [...LOGIC_CHECKS, ...WORK_CHECKS, ...SAFETY_CHECKS, ...PROGRESS_CHECKS].flatMap(
    (check) => check(sources) ?? [],
  );
}
