/** The futures that a page shows, and whether they are still true. */
import type { ForecastRisk } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { soonText } from './wording.ts';

interface ShownFutures {
  readonly risk: ForecastRisk;
  /** Words for futures that were drawn for an earlier state; null while they are true. */
  readonly old: string | null;
}

/** Null where none were drawn. */
export function futuresOf({ forecast, stale, failedAt, clock, computedAt }: BuildPage): ShownFutures | null {
  const { risk, riskFrom, now } = forecast;
  if (risk === undefined || risk === null) return null;
  if (riskFrom === undefined && !stale) return { risk, old: null };
  const when = soonText(clock, riskFrom?.computedAt ?? computedAt, now);
  return { risk, old: failedAt === undefined ? texts.pictures.old(when) : texts.pictures.oldFailed(when) };
}
