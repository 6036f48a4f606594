/** What the checks of the plan are put together from. */
import type { Forecast, SoundnessCheck } from '../model/index.ts';
import type { Planned } from './answers/planned.ts';

/** What the checks read: the plan in its stages, and the answers made of it. */
export interface SoundnessGiven {
  readonly planned: Planned;
  readonly forecast: Omit<Forecast, 'soundness'>;
}

/** One check; null where it does not apply to this build at this hour. */
export type Check = (given: SoundnessGiven) => SoundnessCheck | null;

const MOST_NAMED = 3;

interface Found {
  readonly code: SoundnessCheck['code'];
  readonly value: number;
  readonly of?: number;
  /** Left out: none may be found. */
  readonly limit?: number;
  readonly steps?: readonly string[];
  readonly saidElsewhere?: boolean;
  readonly message: string;
}

/** A check that is fine while at most the share `limit` of `of` (0 to 1) is found. */
export function countCheck({ limit = 0, of, ...found }: Found): SoundnessCheck {
  return worded(found, of ?? null, limit, found.value <= limit * (of ?? 0));
}

/** A check that is fine while an index is at least `limit`. */
export function indexCheck({ limit = 0, ...found }: Found): SoundnessCheck {
  return worded(found, null, limit, found.value >= limit);
}

function worded(found: Found, of: number | null, limit: number, fine: boolean): SoundnessCheck {
  const { code, value, steps = [], saidElsewhere = false, message } = found;
  return {
    code,
    fine,
    value,
    of,
    limit,
    steps: fine ? [] : steps,
    saidElsewhere: !fine && saidElsewhere,
    message: fine ? null : message,
  };
}

/** The first names, and how many more there are. */
export function namesOf(names: readonly string[]): string {
  const more = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : '';
  return `${names.slice(0, MOST_NAMED).join(', ')}${more}`;
}

/** `1 step is`, `3 steps are`. */
export function countWords(n: number, one: string, verb: keyof typeof VERBS, many = `${one}s`): string {
  return n === 1 ? `1 ${one} ${VERBS[verb][0]}` : `${n} ${many} ${VERBS[verb][1]}`;
}

const VERBS = { be: ['is', 'are'], have: ['has', 'have'], do: ['does', 'do'], rest: ['rests', 'rest'] } as const;
