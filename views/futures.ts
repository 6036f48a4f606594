/** The futures that a page shows, and whether they are still true. */
import type { ForecastRisk } from '../server/model/index.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import { soonText } from './wording.ts';

export interface ShownFutures {
  readonly risk: ForecastRisk;
  /** Words for futures that were drawn for an earlier state; null while they are true. */
  readonly old: string | null;
}

/** Null where none were drawn. */
export function futuresOf({ forecast, stale, clock, computedAt }: BuildPage): ShownFutures | null {
  const { risk, riskFrom, now } = forecast;
  if (risk === undefined || risk === null) return null;
  if (riskFrom === undefined && !stale) return { risk, old: null };
  return { risk, old: texts.pictures.old(soonText(clock, riskFrom?.computedAt ?? computedAt, now)) };
}
