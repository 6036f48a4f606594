/** Taking entries into the log: each is checked, stored once, and answered with a receipt. */
import { checkNewLogEntry, type LogEntry, type NewLogEntry, type Problem, problem } from '../model/index.ts';
import { type Appended, type Doubt, type Store, sameContent } from '../store/index.ts';
import { doubtsOf, isAsked, openDoubts, type Standing } from './doubts.ts';
import type { ForecastKeeper } from './forecasts.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { type EntryContext, entryProblems, MAKER } from './log-check.ts';
import type { Receipt, Snapshot } from './types.ts';

export interface CountingParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly keeper: ForecastKeeper;
  readonly now: () => number;
  readonly stamp: () => string;
  readonly changed: (id: string) => void;
  readonly report: (error: unknown) => void;
}

export interface Counting {
  append(id: string, entries: readonly NewLogEntry[], who: string): Receipt[];
  /** Requests that arrive together share one commit; each is answered when it is on the disk. */
  appendSoon(id: string, entries: readonly NewLogEntry[], who: string): Promise<Receipt[]>;
  /** What was asked about entries of the build and has not been answered, oldest first. */
  doubts(id: string): OpenDoubt[];
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
  readonly resolve: (receipts: Receipt[]) => void;
  readonly reject: (error: unknown) => void;
}

/** Takes entries into the log of the builds in the store. */
export function createCounting(parts: CountingParts): Counting {
  const { store, ground, keeper } = parts;
  let waiting: Waiting[] = [];

  const take = (request: Request): Receipt[] => {
    const state = ground.get(request.id);
    if (!state) return request.entries.map((entry) => refused(entry, [noBuild(request.id)]));
    return takeEntries(parts, state, request);
  };

  /** One transaction around all of them. When it fails nothing was counted, and what was read inside it is forgotten. */
  const commit = (requests: readonly Request[]): Receipt[][] => {
    for (const id of new Set(requests.map((request) => request.id))) warm(id);
    let receipts: Receipt[][];
    try {
      receipts = store.together(() => requests.map(take));
    } catch (error) {
      ground.forget();
      throw error;
    }
    const moved = requests.filter((_, i) => receipts[i]!.some(({ state }) => state === 'stored'));
    for (const id of new Set(moved.map((request) => request.id))) {
      parts.changed(id);
      keeper.refresh(id);
    }
    return receipts;
  };

  /** The forecast that says what is left, computed before the transaction if there is none of this revision. */
  const warm = (id: string): void => {
    const state = ground.get(id);
    if (!state || atHand(parts, id)?.version.revision === state.version.revision) return;
    try {
      keeper.snapshot(id);
    } catch (error) {
      parts.report(error);
    }
  };

  const flush = (): void => {
    const requests = waiting;
    waiting = [];
    try {
      const receipts = commit(requests);
      for (const [i, request] of requests.entries()) request.resolve(receipts[i]!);
    } catch (error) {
      if (requests.length === 1 || isOfDisk(error)) for (const request of requests) request.reject(error);
      else for (const request of requests) alone(request);
    }
  };

  /** One request that cannot be stored must not keep out those that came with it. */
  const alone = (request: Waiting): void => {
    try {
      request.resolve(commit([request])[0]!);
    } catch (error) {
      request.reject(error);
    }
  };

  return {
    append: (id, entries, who) => commit([{ id, entries, who }])[0]!,
    appendSoon: (id, entries, who) =>
      new Promise((resolve, reject) => {
        waiting.push({ id, entries, who, resolve, reject });
        if (waiting.length === 1) setImmediate(flush);
      }),
    doubts: (id) => {
      const state = ground.get(id);
      if (!state) return [];
      return openDoubts(store.log.doubts(state.key), state.log).map(({ question, entry, other }) => ({
        question,
        entry: state.entries.get(entry)!,
        other: other === null ? null : (state.entries.get(other) ?? null),
      }));
    },
  };
}

/** What a full or locked disk refuses to one request it refuses to all of them, and each try holds up the rest. */
function isOfDisk(error: unknown): boolean {
  return /^SQLITE_(BUSY|FULL|IOERR|READONLY|CANTOPEN)/.test(String((error as { code?: unknown }).code));
}

function takeEntries(parts: CountingParts, state: GroundState, { id, entries, who }: Request): Receipt[] {
  const { store } = parts;
  const snapshot = atHand(parts, id);
  const forecast = snapshot?.version.revision === state.version.revision ? snapshot.forecast : null;
  // Entries are numbered from 1 without a gap, in the order of the log.
  const since = state.log.slice(snapshot?.version.logSeq ?? 0);
  const sent = new Map<string, LogEntry>();
  const find = (entryId: string): LogEntry | undefined => state.entries.get(entryId) ?? sent.get(entryId);
  const orders = forecast?.steps.filter(({ kind }) => kind === 'order').map((step) => step.id) ?? [];
  const context: EntryContext = {
    build: state.build,
    orders: new Set(orders),
    setCount: forecast?.setCount ?? 1,
    now: parts.now(),
    who,
    entry: find,
    lastSeen: (step) => lastSeen(store, state, step),
    brought: false,
  };
  let asked: Doubt[] | null = null;
  const everAsked = (): Doubt[] => {
    asked ??= store.log.doubts(state.key);
    return asked;
  };
  return entries.map((raw) => {
    const shape = checkNewLogEntry(raw);
    if (!shape.ok) return refused(raw, shape.problems);
    const entry = signed(shape.value, who);
    const there = find(entry.id);
    if (there)
      return receiptOf(
        entry,
        storedBefore(there, entry),
        openDoubts(everAsked(), state.log).filter((one) => one.entry === entry.id),
      );
    const wrong = entryProblems(entry, context);
    if (wrong.length > 0) return refused(entry, wrong);
    const standing: Standing = { forecast, since, log: state.log, sent: [...sent.values()] };
    const doubts = doubtsOf(entry, standing).filter((doubt) => !isAsked(doubt, entry, everAsked(), standing, find));
    const [appended] = store.log.append(state.key, [entry], parts.stamp());
    if (appended?.state === 'stored') {
      const stored: LogEntry = { ...entry, seq: appended.seq };
      sent.set(entry.id, stored);
      since.push(stored);
      if (doubts.length > 0) {
        store.log.ask(state.key, doubts);
        everAsked().push(...doubts);
      }
    }
    return receiptOf(entry, appended!, doubts);
  });
}

/** The last forecast; a forecast that fails must not keep a count out. */
function atHand({ keeper, report }: CountingParts, id: string): Snapshot | null {
  try {
    return keeper.latest(id);
  } catch (error) {
    report(error);
    return null;
  }
}

/** A helper's entries carry the name they joined with; the maker may log for somebody else. */
function signed(entry: NewLogEntry, who: string): NewLogEntry {
  return { ...entry, who: who === MAKER ? (entry.who ?? MAKER) : who };
}

function storedBefore(there: LogEntry, entry: NewLogEntry): Appended {
  const seq = there.seq ?? 0;
  return sameContent(there, entry) ? { state: 'known', seq } : { state: 'taken', seq, by: there };
}

function receiptOf(entry: NewLogEntry, appended: Appended, doubts: readonly Doubt[]): Receipt {
  if (appended.state !== 'taken') {
    const questions = doubts.map(({ question }) => question);
    return { id: entry.id, state: appended.state, seq: appended.seq, problems: [], questions };
  }
  const { kind, step, n, at } = appended.by;
  const what = [n, kind, step === undefined ? undefined : `at ${step}`].filter((word) => word !== undefined).join(' ');
  const message = `The id "${entry.id}" was used for another entry (${what}, ${at}); an entry's id is never used twice, so send this one with an id of its own.`;
  return refused(entry, [problem('conflict', 'entry.id', entry.id, message)]);
}

function refused(entry: unknown, problems: readonly Problem[]): Receipt {
  const id = (entry as { id?: unknown } | null)?.id;
  return { id: typeof id === 'string' ? id.slice(0, 64) : '', state: 'refused', seq: null, problems, questions: [] };
}

function lastSeen(store: Store, state: GroundState, step: string): number | null {
  for (let revision = state.version.revision - 1; revision >= 1; revision--) {
    const build = store.builds.document(state.key, revision);
    const ids = [...(build?.steps ?? []), ...(build?.gates ?? [])].map((one) => one.id);
    if (ids.includes(step)) return revision;
  }
  return null;
}

function noBuild(id: string): Problem {
  return problem('unknown-name', 'build', id, `There is no build "${id}".`);
}
