/** Whether a forecast is a further row of history: it is where the answer has changed, with who and what changed it. */
import type { KeptForecast, NewTurn, Store } from '../store/index.ts';
import { causeOf } from './causes.ts';
import type { GroundState } from './ground.ts';
import type { Version } from './types.ts';

/** Time alone makes a row of history only when the answer has moved by this much since the last row. */
const DRIFT_MINUTES = 30;

/**
 * The row of history that a settled forecast makes; null where it changed nothing. `before` is what stood until then.
 */
export function turnOf(store: Store, state: GroundState, one: KeptForecast, before: Version | null): NewTurn | null {
  const { finish, clock } = one.forecast.room.readyBy;
  const turn = {
    computedAt: one.computedAt,
    revision: one.revision,
    logSeq: one.logSeq,
    readyAt: finish,
    roomMinutes: clock,
    chance: one.forecast.riskFrom === undefined ? (one.forecast.risk?.readyBy.chance ?? null) : null,
  };
  const last = store.forecasts.lastTurn(state.key);
  if (last && last.readyAt === finish && last.roomMinutes === clock) return null;
  // The first row is the making of the build; what had been logged by then came with it.
  const since = before ?? { revision: 0, logSeq: one.logSeq };
  const edits = store.builds.revisions(state.key).filter((row) => within(row.revision, since.revision, one.revision));
  const entries = state.log.filter(({ seq }) => within(seq ?? 0, since.logSeq, one.logSeq));
  const cause = causeOf(
    edits.map(({ revision }) => revision),
    entries,
    { steps: one.forecast.steps, people: [...(state.build.people ?? []), ...(state.build.machines ?? [])] },
  );
  if (cause.length === 0 && last && !drifted(last, finish, clock)) return null;
  const names = new Set([...edits, ...entries].flatMap(({ who }) => who ?? []));
  return { ...turn, cause, who: names.size === 0 ? null : [...names].join(', ') };
}

function within(value: number, after: number, upTo: number): boolean {
  return value > after && value <= upTo;
}

/** Whether the answer is another than that of a row by more than the time that goes by between two looks. */
export function drifted(
  last: Pick<NewTurn, 'readyAt' | 'roomMinutes'>,
  readyAt: number | null,
  roomMinutes: number | null,
): boolean {
  if (last.readyAt === null || readyAt === null || last.roomMinutes === null || roomMinutes === null) return true;
  const moved = Math.max(Math.abs(last.readyAt - readyAt), Math.abs(last.roomMinutes - roomMinutes));
  return moved >= DRIFT_MINUTES;
}
