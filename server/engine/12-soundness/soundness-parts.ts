/** What the checks of the plan are put together from. */
import type { Forecast, SoundnessCheck, SoundnessCode, SoundnessValues } from '../../model/index.ts';
import type { Planned } from '../stages/index.ts';

/** What the checks read: the plan in its stages, and the answers made of it. */
export interface SoundnessSources {
  readonly planned: Planned;
  readonly forecast: Omit<Forecast, 'soundness'>;
}

/** One check; null where it does not apply to this build at this hour. */
export type Check = (sources: SoundnessSources) => SoundnessCheck | null;

interface Found<Code extends SoundnessCode> {
  readonly code: Code;
  readonly value: number;
  readonly of?: number;
  /** Left out: none may be found. */
  readonly limit?: number;
  readonly steps?: readonly string[];
  readonly saidElsewhere?: boolean;
  readonly values: SoundnessValues[Code];
}

/** A check that is fine while at most the share `limit` of `of` (0 to 1) is found. */
export function countCheck<Code extends SoundnessCode>({ limit = 0, of, ...found }: Found<Code>): SoundnessCheck {
  return checkOf(found, of ?? null, limit, found.value <= limit * (of ?? 0));
}

/** A check that is fine while an index is at least `limit`. */
export function indexCheck<Code extends SoundnessCode>({ limit = 0, ...found }: Found<Code>): SoundnessCheck {
  return checkOf(found, null, limit, found.value >= limit);
}

function checkOf<Code extends SoundnessCode>(
  found: Omit<Found<Code>, 'of' | 'limit'>,
  of: number | null,
  limit: number,
  fine: boolean,
): SoundnessCheck {
  const { code, value, steps = [], saidElsewhere = false, values } = found;
  const check: Readonly<Record<keyof SoundnessCheck, unknown>> = {
    code,
    fine,
    value,
    of,
    limit,
    steps: fine ? [] : steps,
    saidElsewhere: !fine && saidElsewhere,
    values: fine ? null : values,
  };
  // The values are those of the code: `Found` ties them together.
  return check as SoundnessCheck;
}
