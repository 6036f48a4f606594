/**
 * Keeps the ledger of room: each row of history gets its parts, worked out elsewhere once nothing more urgent runs. What is
 * wanted stands in the store, so that a stop loses none of it.
 */

import type { LedgerSpan } from '../engine/index.ts';
import { type FormerPlan, formerPlanOf } from '../engine/index.ts';
import type { Forecast, LedgerPart, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { documentOf, logOf, minuteOf } from './history.ts';

/** Where the room went, in a worker. */
export type AttributeRoom = (span: LedgerSpan) => Promise<LedgerPart[]>;

export interface LedgerParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly attribute: AttributeRoom | null;
  /** What has to be settled before the rows of a build are looked at. */
  readonly prepare: (id: string) => Promise<void>;
  /** When no forecast is being computed any more: whoever waits for one comes first. */
  readonly quiet: () => Promise<void>;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

export interface Ledger {
  /** Works out the parts that are still wanted of the rows of a build. Does not wait for them. */
  workOff(id: string): void;
  /** When no parts are being worked out any more. */
  settled(): Promise<void>;
}

/** One row after the other. A row whose parts cannot be worked out keeps its cause alone until the next start. */
export function createLedger({ store, ground, attribute, prepare, quiet, report, changed }: LedgerParts): Ledger {
  let last: Promise<void> = Promise.resolve();
  /** By build key. */
  const failed = new Map<number, number[]>();

  const work = async (id: string): Promise<void> => {
    await prepare(id).catch(report);
    for (; attribute !== null; ) {
      await quiet();
      const state = ground.get(id);
      const except = (state && failed.get(state.key)) ?? [];
      const row = state && store.forecasts.pending(state.key, except);
      if (!row) return;
      try {
        const parts = await attribute(spanOf(store, state, row.number, row.former));
        // Rows may have been put before it meanwhile.
        const there = store.forecasts.pending(state.key, except);
        if (there?.former !== row.former) continue;
        store.forecasts.attribute(state.key, there.number, parts);
        changed(id);
      } catch (error) {
        failed.set(state.key, [...except, row.number]);
        report(error);
      }
    }
  };

  return {
    workOff: (id) => {
      last = last.then(() => work(id)).catch(report);
    },
    settled: async () => {
      for (let waited: unknown; waited !== last; ) {
        waited = last;
        await last;
      }
    },
  };
}

/** What stood before a row, as it is kept with it; null where there is no room to compare. */
export function formerText(before: Pick<Forecast, 'lots' | 'steps'>, rooms: readonly (number | null)[]): string | null {
  return rooms.includes(null) ? null : JSON.stringify(formerPlanOf(before));
}

function spanOf(store: Store, state: GroundState, number: number, former: string): LedgerSpan {
  const [from, turn] = [store.forecasts.turn(state.key, number - 1), store.forecasts.turn(state.key, number)];
  const build = from && documentOf(store, state, from.revision);
  if (!from || !turn || !build) throw new Error(`row ${number} of the ledger of ${state.build.id} has none before it`);
  const upTo = (seq: number) => state.log.filter((entry) => (entry.seq ?? 0) <= seq);
  const edits = store.builds
    .revisions(state.key)
    .filter(({ revision }) => revision > from.revision && revision <= turn.revision)
    .map(({ revision, cause, who, savedAt }) => ({
      build: documentOf(store, state, revision) ?? build,
      log: upTo(Math.min(turn.logSeq, Math.max(from.logSeq, arrivedBy(state.log, savedAt)))),
      now: Math.min(turn.computedAt, Math.max(from.computedAt, minuteOf(savedAt) ?? 0)),
      cause,
      who,
    }));
  return {
    before: { build, log: logOf(state.log, from), now: from.computedAt, room: from.roomMinutes! },
    edits,
    after: { log: logOf(state.log, turn), now: turn.computedAt, room: turn.roomMinutes! },
    former: JSON.parse(former) as FormerPlan,
  };
}

/** Number of the last entry that had arrived at an instant. */
function arrivedBy(log: readonly LogEntry[], instant: string): number {
  const then = minuteOf(instant) ?? 0;
  return log.findLast(({ at, arrived }) => (minuteOf(arrived ?? at) ?? 0) <= then)?.seq ?? 0;
}
