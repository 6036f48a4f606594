/**
 * Counting: what requests send is stored once, in one commit for those that come together, and answered with receipts.
 */
import { type LogEntry, type NewLogEntry, type Problem, problem, problemTexts } from '../model/index.ts';
import { openDoubts } from './doubts.ts';
import type { GroundCache, GroundState } from './ground.ts';
import type { ForecastKeeper } from './keeper/keeper.ts';
import { beginTaking, refused, rehearsal, type Taking, type TakingParts } from './taking.ts';
import { flatMapInTurns, LONGEST_TURN } from './turns.ts';
import type { Receipt, Snapshot } from './types.ts';

interface CountingParts extends TakingParts {
  readonly ground: GroundCache;
  readonly keeper: ForecastKeeper;
  readonly changed: (id: string) => void;
  readonly report: (error: unknown) => void;
}

export interface Counting {
  append(id: string, entries: readonly NewLogEntry[], who: string): Receipt[];
  rehearse(id: string, entries: readonly NewLogEntry[], who: string): Promise<(readonly Problem[])[]>;
  /** Requests that arrive together share one commit; each is answered when it is on the disk. */
  appendSoon(id: string, entries: readonly NewLogEntry[], who: string): Promise<Receipt[]>;
  /** What was asked about entries of the build and has not been answered, oldest first. */
  doubts(id: string): OpenDoubt[];
  /** Whether an entry stands in the log under this number; a long log that nobody has seen yet is read in turns. */
  knows(id: string, entry: string, seq: number): Promise<boolean>;
}

/** An open question with the entry, and the other one where it is about two. */
export interface OpenDoubt {
  readonly question: string;
  readonly entry: LogEntry;
  readonly other: LogEntry | null;
}

interface Request {
  readonly id: string;
  readonly entries: readonly NewLogEntry[];
  readonly who: string;
}

interface Waiting extends Request {
  /** Of the first entries, those that were taken already. */
  readonly receipts: readonly Receipt[];
  readonly resolve: (receipts: Receipt[]) => void;
  readonly reject: (error: unknown) => void;
}

/** Milliseconds that counts wait for the forecast of an edit at most, all of them together. */
const MOST_WAIT = 1_000;
/** Turns of the event loop that the first of several requests waits at most for those that come close behind it. */
const MOST_TURNS = 8;

/** Takes entries into the log of the builds in the store. */
export function createCounting(parts: CountingParts): Counting {
  const { store, ground, keeper } = parts;
  let waiting: Waiting[] = [];
  const waits = new Map<string, { readonly edit: string; readonly over: Promise<unknown> }>();

  /** In the order in which they came; each build is read once, and its entries written together. */
  const takeAll = (
    requests: readonly Request[],
    atHand: ReadonlyMap<string, Snapshot | null>,
    isOver: () => boolean,
  ): Receipt[][] => {
    const takings = new Map<string, Taking | null>();
    for (const id of atHand.keys()) {
      const state = ground.get(id);
      takings.set(id, state && beginTaking(parts, state, atHand.get(id) ?? null));
    }
    const receipts = requests.map(({ id, entries, who }, i) => {
      if (i > 0 && isOver()) return [];
      return takings.get(id)?.take(entries, who, isOver) ?? entries.map((entry) => refused(entry, [noBuild(id)]));
    });
    for (const taking of takings.values()) taking?.write();
    return receipts;
  };

  /**
   * One transaction around all of them, or as many of their entries as were taken until `isOver`. When it fails nothing
   * was counted.
   */
  const commit = (requests: readonly Request[], isOver: () => boolean = () => false): Receipt[][] => {
    const states = new Map(requests.map(({ id }) => [id, ground.get(id)]));
    const atHand = new Map([...states].map(([id, state]) => [id, forecastOf(id, state)]));
    const receipts = store.together(() => takeAll(requests, atHand, isOver));
    const moved = requests.filter((_, i) => receipts[i]!.some(({ state }) => state === 'stored'));
    for (const id of new Set(moved.map((request) => request.id))) {
      parts.changed(id);
      keeper.refresh(id, states.get(id));
    }
    return receipts;
  };

  /** What says how much is left; failing, it keeps no count out. */
  const forecastOf = (id: string, state: GroundState | null): Snapshot | null => {
    try {
      return state && keeper.latest(id, state);
    } catch (error) {
      parts.report(error);
      return null;
    }
  };

  /** Without a forecast of this revision nothing can be asked about a count. */
  const lacksForecast = (id: string, state: GroundState): boolean =>
    forecastOf(id, state)?.version.revision !== state.version.revision;

  /**
   * While a turn of the event loop brings further requests, they are waited for: what is read meanwhile shares the
   * commit.
   */
  const gather = (before: number, turns: number): void => {
    if (waiting.length > before && turns < MOST_TURNS) setImmediate(gather, waiting.length, turns + 1);
    else flush();
  };

  const flush = (): void => {
    const requests = waiting;
    waiting = [];
    serve(requests);
  };

  /** What takes longer than a turn is stored in several, with others' requests between. */
  const serve = (requests: readonly Waiting[]): void => {
    const over = performance.now() + LONGEST_TURN;
    let taken: Receipt[][];
    try {
      taken = commit(requests.map(leftOf), () => performance.now() > over);
    } catch (error) {
      if (requests.length === 1 || isOfDisk(error)) for (const request of requests) request.reject(error);
      else for (const request of requests) serve([request]);
      return;
    }
    const left = requests.flatMap((request, i): Waiting[] => {
      const receipts = [...request.receipts, ...taken[i]!];
      if (receipts.length < request.entries.length) return [{ ...request, receipts }];
      request.resolve(receipts);
      return [];
    });
    if (left.length > 0) setImmediate(serve, left);
  };

  const soon = (request: Request): Promise<Receipt[]> =>
    new Promise((resolve, reject) => {
      waiting.push({ ...request, receipts: [], resolve, reject });
      if (waiting.length === 1) setImmediate(gather, 1, 1);
    });

  /** The wait for the forecast of an edit: counts that come while it lasts share it, and later ones wait no more. */
  const waitOf = (id: string, { key, version }: GroundState): Promise<unknown> => {
    const edit = `${key} ${version.revision}`;
    const there = waits.get(id);
    if (there?.edit === edit) return there.over;
    const over = keeper.snapshot(id, MOST_WAIT).catch(parts.report);
    waits.set(id, { edit, over });
    return over;
  };

  const afterForecast = (request: Request): Promise<Receipt[]> => {
    const state = ground.get(request.id);
    if (state === null || !lacksForecast(request.id, state)) return soon(request);
    return waitOf(request.id, state).then(() => soon(request));
  };

  const rehearse = (id: string, entries: readonly NewLogEntry[], who: string): Promise<(readonly Problem[])[]> => {
    const state = ground.get(id);
    const wrongOf = state === null ? () => [noBuild(id)] : rehearsal(parts, state, forecastOf(id, state), who);
    return flatMapInTurns(entries, (entry) => [wrongOf(entry)]);
  };

  return {
    rehearse,
    append: (id, entries, who) => commit([{ id, entries, who }])[0]!,
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
      if (!state) return [];
      return openDoubts(store.log.doubts(state.key), state.answers()).map(({ question, entry, other }) => ({
        question,
        entry: state.entries.get(entry)!,
        other: other === null ? null : (state.entries.get(other) ?? null),
      }));
    },
  };
}

/** What of a request was not taken yet. */
function leftOf({ id, who, entries, receipts }: Waiting): Request {
  return { id, who, entries: entries.slice(receipts.length) };
}

/** What a full or locked disk refuses to one request it refuses to all of them, and each try holds up the rest. */
function isOfDisk(error: unknown): boolean {
  return /^SQLITE_(BUSY|FULL|IOERR|READONLY|CANTOPEN)/.test(String((error as { code?: unknown }).code));
}

function noBuild(id: string): Problem {
  return problem('unknown-name', 'build', id, problemTexts.edits.noBuild(id));
}
