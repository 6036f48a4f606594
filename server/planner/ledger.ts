/**
 * Keeps the ledger of room: each row of history gets its parts, worked out in the background. What is wanted is in the
 * store, so that a stop loses none of it.
 */

import type { LogEntry } from '../model/index.ts';
import type { PendingTurn, Store } from '../store/index.ts';
import { othersTurn } from '../turns/turns.ts';
import type { WrittenSchedule } from './background/former.ts';
import type { Jobs } from './background/jobs.ts';
import type { Background, WrittenSpan } from './background/tasks.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { documentOf, logOf, minuteOf } from './history.ts';

interface LedgerParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly attribute: Background['attribute'];
  /** What has to be there before the rows of a build are looked at. */
  readonly prepare: (state: GroundState) => Promise<void>;
  /** Puts rows before the first one where they are missing; resolves when they are there. */
  readonly rebuild: (id: string) => Promise<void>;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

interface Ledger {
  /** Works out the parts that are still wanted of the rows of a build. Does not wait for them. */
  workOff(id: string): void;
  /** When no parts are being worked out any more. */
  settled(): Promise<void>;
}

/**
 * One row of a build after the other. A row whose parts cannot be worked out keeps its cause alone until the next
 * start.
 */
export function createLedger(ledger: LedgerParts): Ledger {
  const { ground, prepare, rebuild, report } = ledger;
  const workRow = createRowWork(ledger);
  const working = new Map<string, Promise<void>>();
  const again = new Set<string>();

  const work = async (id: string): Promise<void> => {
    do {
      again.delete(id);
      await othersTurn();
      await ground.fetch(id);
      const state = ground.get(id);
      if (!state) return;
      await prepare(state).catch(report);
      await othersTurn();
      while (await workRow(id));
      await othersTurn();
      await rebuild(id).catch(report);
      while (await workRow(id));
    } while (again.has(id));
  };

  return {
    workOff: (id) => {
      again.add(id);
      if (working.has(id)) return;
      working.set(
        id,
        work(id)
          .catch(report)
          .finally(() => working.delete(id)),
      );
    },
    settled: async () => {
      while (working.size > 0) await Promise.all(working.values());
    },
  };
}

/** Works out the parts of the next row that waits; false: none does, or it was stopped, and then others wait too. */
function createRowWork({ store, ground, jobs, attribute, report, changed }: LedgerParts) {
  /** The plans before rows that failed or were stopped, by build key. */
  const failed = new Map<number, number[]>();

  return async (id: string): Promise<boolean> => {
    const state = ground.get(id);
    const except = (state && failed.get(state.key)) ?? [];
    const row = state && store.forecasts.pending(state.key, except);
    if (!row) return false;
    const giveUp = () => failed.set(state.key, [...except, row.former]);
    try {
      const parts = await jobs.ask({
        kind: 'ledger',
        build: id,
        version: state.version,
        lasting: true,
        run: async (hand) => attribute(await spanOf(store, state, row), hand),
      });
      // Rows may have been put before it meanwhile.
      const there = store.forecasts.pending(state.key, except);
      if (there?.former !== row.former) return true;
      if (parts === null) {
        giveUp();
        return false;
      }
      store.forecasts.attribute(state.key, there.number, parts);
      changed(id);
    } catch (error) {
      giveUp();
      report(error);
    }
    return true;
  };
}

/** The plan that stood before a row, as it is kept with it; null where there is no room to compare. */
export function formerText(before: WrittenSchedule, rooms: readonly (number | null)[]): string | null {
  return rooms.includes(null) ? null : before.text;
}

async function spanOf(store: Store, state: GroundState, row: PendingTurn): Promise<WrittenSpan> {
  const { number } = row;
  const former = store.forecasts.former(row.former);
  await othersTurn();
  const [from, turn] = [store.forecasts.turn(state.key, number - 1), store.forecasts.turn(state.key, number)];
  const build = from && documentOf(store, state, from.revision);
  if (!from || !turn || !build || former === null)
    throw new Error(`row ${number} of the ledger of ${state.build.id} has none before it`);
  const upTo = (seq: number) => state.log.filter((entry) => (entry.seq ?? 0) <= seq);
  const edits = store.builds
    .revisions(state.key)
    .filter(({ revision }) => revision > from.revision && revision <= turn.revision)
    .map(({ revision, who, savedAt }) => ({
      build: documentOf(store, state, revision) ?? build,
      log: upTo(Math.min(turn.logSeq, Math.max(from.logSeq, arrivedBy(state.log, savedAt)))),
      now: Math.min(turn.computedAt, Math.max(from.computedAt, minuteOf(savedAt) ?? 0)),
      edit: revision,
      who,
    }));
  return {
    before: { build, log: await logOf(state.log, from), now: from.computedAt, room: from.roomMinutes! },
    edits,
    after: { log: await logOf(state.log, turn), now: turn.computedAt, room: turn.roomMinutes! },
    former: { text: former },
  };
}

/** Number of the last entry that had arrived at an instant. */
function arrivedBy(log: readonly LogEntry[], instant: string): number {
  const then = minuteOf(instant) ?? 0;
  return log.findLast(({ at, arrived }) => (minuteOf(arrived ?? at) ?? 0) <= then)?.seq ?? 0;
}
