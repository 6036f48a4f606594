/** Keeps the ledger of room: each row of history gets its parts, worked out elsewhere once nothing more urgent runs. */
import { readWall } from '../engine/clock.ts';
import { formerPlanOf } from '../engine/former-plan.ts';
import type { LedgerSpan } from '../engine/ledger/index.ts';
import type { Build, LedgerPart, LogEntry } from '../model/index.ts';
import type { KeptForecast, Store, Turn } from '../store/index.ts';
import type { GroundState } from './ground.ts';

/** Where the room went, in a worker. */
export type AttributeRoom = (span: LedgerSpan) => Promise<LedgerPart[]>;

export interface LedgerParts {
  readonly store: Store;
  readonly attribute: AttributeRoom | null;
  /** When no forecast is being computed any more: whoever waits for one comes first. */
  readonly quiet: () => Promise<void>;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

export interface Ledger {
  /** Works out the parts of the last row of history; `before` is the forecast that stood until then. Does not wait for them. */
  enter(state: GroundState, before: KeptForecast | null): void;
  /** When no parts are being worked out any more. */
  settled(): Promise<void>;
}

/** One row after the other. A row whose parts cannot be worked out keeps its cause alone. */
export function createLedger({ store, attribute, quiet, report, changed }: LedgerParts): Ledger {
  let last: Promise<void> = Promise.resolve();

  const work = async (state: GroundState, span: LedgerSpan, number: number): Promise<void> => {
    await quiet();
    const parts = await attribute!(span);
    store.forecasts.attribute(state.key, number, parts);
    changed(state.build.id);
  };

  return {
    enter: (state, before) => {
      if (attribute === null || before === null) return;
      const turn = store.forecasts.lastTurn(state.key);
      const from = turn === null ? undefined : store.forecasts.turn(state.key, turn.number - 1);
      const span = turn && from ? spanOf(store, state, from, turn, before) : null;
      if (span !== null) last = last.then(() => work(state, span, turn!.number)).catch(report);
    },
    settled: async () => {
      for (let waited: unknown; waited !== last; ) {
        waited = last;
        await last;
      }
    },
  };
}

/** Null where the room of one of the two is not known. */
function spanOf(store: Store, state: GroundState, from: Turn, turn: Turn, before: KeptForecast): LedgerSpan | null {
  const build = documentOf(store, state, from.revision);
  if (from.roomMinutes === null || turn.roomMinutes === null || build === null) return null;
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
    before: { build, log: upTo(from.logSeq), now: from.computedAt, room: from.roomMinutes },
    edits,
    after: { log: upTo(turn.logSeq), now: turn.computedAt, room: turn.roomMinutes },
    former: formerPlanOf(before.forecast),
  };
}

/** Number of the last entry that had arrived at an instant. */
function arrivedBy(log: readonly LogEntry[], instant: string): number {
  const then = minuteOf(instant) ?? 0;
  return log.findLast(({ at, arrived }) => (minuteOf(arrived ?? at) ?? 0) <= then)?.seq ?? 0;
}

function minuteOf(instant: string): number | null {
  const read = readWall(instant, 'UTC');
  return read.ok ? read.value : null;
}

function documentOf(store: Store, { key, version, build }: GroundState, revision: number): Build | null {
  return revision === version.revision ? build : store.builds.document(key, revision);
}
