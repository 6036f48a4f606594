/**
 * Counting: what requests send is stored once, in one commit for those that come together, and answered with receipts.
 */
import type { LogEntry, NewLogEntry, Problem, Said } from '../../model/index.ts';
import { flatMapInTurns } from '../../turns/turns.ts';
import { openDoubts } from '../doubts.ts';
import type { GroundState } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import { noBuild } from '../refusals.ts';
import type { Receipt } from '../types.ts';
import { type CommitParts, createCommit, forecastAtHand } from './commit.ts';
import { createGathering, type Request } from './gather.ts';
import { rehearsal } from './taking.ts';

interface CountingParts extends CommitParts {
  readonly keeper: ForecastKeeper;
}

export interface Counting {
  append(id: string, entries: readonly NewLogEntry[], who: string): Receipt[];
  rehearse(id: string, entries: readonly NewLogEntry[], who: string): Promise<(readonly Problem[])[]>;
  /** Requests that arrive together share one commit; each is answered when it is on the disk. */
  appendSoon(id: string, entries: readonly NewLogEntry[], who: string): Promise<Receipt[]>;
  /** What was asked about entries of the build and has not been answered, oldest first. */
  doubts(id: string): OpenDoubt[];
  /** Whether an entry is in the log under this number; a long log that nobody has seen yet is read in turns. */
  knows(id: string, entry: string, seq: number): Promise<boolean>;
}

/** An open question with the entry, and the other one where it is about two. */
export interface OpenDoubt {
  readonly question: Said;
  readonly entry: LogEntry;
  readonly other: LogEntry | null;
}

/** Milliseconds that counts wait for the forecast of an edit at most, all of them together. */
const MOST_WAIT = 1_000;

/** Takes entries into the log of the builds in the store. */
export function createCounting(parts: CountingParts): Counting {
  const { ground } = parts;
  const commit = createCommit(parts);
  const soon = createGathering(commit, parts.store.synced);
  const waitOf = createWaits(parts);

  /** Without a forecast of this revision nothing can be asked about a count. */
  const afterForecast = (request: Request): Promise<Receipt[]> => {
    const state = ground.get(request.id);
    const isLacking = state && forecastAtHand(parts, request.id, state)?.version.revision !== state.version.revision;
    return isLacking ? waitOf(request.id, state).then(() => soon(request)) : soon(request);
  };

  return {
    rehearse: (id, entries, who) => {
      const state = ground.get(id);
      const wrongOf =
        state === null ? () => [noBuild(id)] : rehearsal(parts, state, forecastAtHand(parts, id, state), who);
      return flatMapInTurns(entries, (entry) => [wrongOf(entry)]);
    },
    append: (id, entries, who) => commit([{ id, entries, who }], () => false)[0]!,
    appendSoon: (id, entries, who) => {
      const coming = ground.fetch(id);
      if (coming !== null) return coming.then(() => afterForecast({ id, entries, who }));
      return afterForecast({ id, entries, who });
    },
    knows: async (id, entry, seq) => {
      const coming = ground.fetch(id);
      if (coming !== null) await coming;
      return ground.get(id)?.entries.get(entry)?.seq === seq;
    },
    doubts: (id) => {
      const state = ground.get(id);
      return state ? doubtsOf(parts, state) : [];
    },
  };
}

/** The wait for the forecast of an edit: counts that come while it lasts share it, and later ones wait no more. */
function createWaits({ keeper, report }: CountingParts): (id: string, state: GroundState) => Promise<unknown> {
  const waits = new Map<string, { readonly edit: string; readonly over: Promise<unknown> }>();
  return (id, { key, version }) => {
    const edit = `${key} ${version.revision}`;
    const there = waits.get(id);
    if (there?.edit === edit) return there.over;
    const over = keeper.snapshot(id, MOST_WAIT).catch(report);
    waits.set(id, { edit, over });
    return over;
  };
}

function doubtsOf({ store }: CountingParts, state: GroundState): OpenDoubt[] {
  const asking = {
    build: state.build,
    answers: state.answers(),
    find: (id: string) => state.entries.get(id),
    log: () => state.log,
  };
  return openDoubts(store.log.doubts(state.key), asking).map(({ question, entry, other }) => ({
    question,
    entry: state.entries.get(entry)!,
    other: other === null ? null : (state.entries.get(other) ?? null),
  }));
}
