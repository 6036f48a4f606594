/** Entries of one build are taken into its log within one transaction, each with a receipt. */
import {
  checkNewLogEntry,
  type Forecast,
  type LogEntry,
  type NewLogEntry,
  type Problem,
  problem,
  problemTexts,
  type Result,
} from '../../model/index.ts';
import { type Doubt, type Store, sameContent } from '../../store/index.ts';
import { closedProblem } from '../closed.ts';
import { type Answers, answersIn, doubtsOf, isAsked, openDoubts, type Standing, sinceOf } from '../doubts.ts';
import type { GroundState } from '../ground.ts';
import { type EntryContext, entryProblems, MAKER } from '../log-check.ts';
import type { Receipt, Snapshot } from '../types.ts';

export interface TakingParts {
  readonly store: Store;
  readonly now: () => number;
  readonly stamp: () => string;
}

export interface Taking {
  /**
   * Checks what one request sends; it sees what requests before it have brought. Takes entries until `isOver`, one at
   * least: fewer receipts than entries are answered then.
   */
  take(entries: readonly NewLogEntry[], who: string, isOver: () => boolean): Receipt[];
  /** Writes what was taken; until then nothing is stored. */
  write(): void;
}

/** Begins in a transaction, with the state of the build as it is in there; the last forecast may be older. */
export function beginTaking({ store, now, stamp }: TakingParts, state: GroundState, snapshot: Snapshot | null): Taking {
  const { key, version } = state;
  const forecast = snapshot?.version.revision === version.revision ? snapshot.forecast : null;
  const sent: LogEntry[] = [];
  const taken = new Map<string, LogEntry>();
  const find = (id: string): LogEntry | undefined => state.entries.get(id) ?? taken.get(id);
  const contextOf = contextIn(store, state, forecast, find, now());
  const raised: Doubt[] = [];
  let asked: readonly Doubt[] | null = null;
  const everAsked = (): readonly Doubt[] => {
    asked ??= store.log.doubts(key);
    return [...asked, ...raised];
  };
  let answers: Answers | null = null;
  const standing: Standing = {
    build: state.build,
    forecast,
    sent,
    since: sinceOf(state.since(snapshot?.version.logSeq ?? 0)),
    log: () => state.log,
    alike: state.alike,
    answers: () => answers ?? state.answers(),
  };

  const keep = (entry: NewLogEntry, doubts: readonly Doubt[]): Receipt => {
    const stored: LogEntry = { ...entry, seq: version.logSeq + sent.length + 1 };
    sent.push(stored);
    taken.set(entry.id, stored);
    raised.push(...doubts);
    if (entry.kind === 'undo' || entry.kind === 'confirmed') answers = answersIn(state.log, sent);
    return receiptOf(entry, { state: 'stored', seq: stored.seq ?? 0 }, doubts);
  };

  const takeOne = (raw: NewLogEntry, context: EntryContext): Receipt => {
    const looked = lookAt(raw, context, find);
    if (!looked.ok) return refused(raw, looked.problems);
    const { entry, there } = looked.value;
    if (there) {
      const about = everAsked().filter((one) => one.entry === entry.id);
      const log = () => [...state.log, ...sent];
      const open = openDoubts(about, { build: state.build, answers: standing.answers(), find, log });
      return receiptOf(entry, { state: 'known', seq: there.seq ?? 0 }, open);
    }
    const doubts = doubtsOf(entry, standing).filter((doubt) => !isAsked(doubt, entry, everAsked(), standing, find));
    return keep(entry, doubts);
  };

  return {
    take: (entries, who, isOver) => {
      const context = contextOf(who);
      const receipts: Receipt[] = [];
      for (const raw of entries) {
        receipts.push(takeOne(raw, context));
        if (isOver()) break;
      }
      return receipts;
    },
    write: () => {
      const entries = sent.map(({ seq: _, ...entry }) => entry);
      const appended = store.log.append(key, entries, stamp());
      if (appended.some(({ state, seq }, i) => state !== 'stored' || seq !== version.logSeq + i + 1)) {
        throw new Error(`the log of ${state.build.id} is not as it was read`);
      }
      store.log.ask(key, raised);
    },
  };
}

/**
 * What is wrong with entries of one sending, asked one after the other: nothing where an entry would be taken or is
 * known. Nothing is stored.
 */
export function rehearsal(
  { store, now }: TakingParts,
  state: GroundState,
  snapshot: Snapshot | null,
  who: string,
): (raw: NewLogEntry) => readonly Problem[] {
  const forecast = snapshot?.version.revision === state.version.revision ? snapshot.forecast : null;
  const taken = new Map<string, LogEntry>();
  const find = (id: string): LogEntry | undefined => state.entries.get(id) ?? taken.get(id);
  const context = contextIn(store, state, forecast, find, now())(who);
  return (raw) => {
    const looked = lookAt(raw, context, find);
    if (!looked.ok) return looked.problems;
    taken.set(looked.value.entry.id, looked.value.entry);
    return [];
  };
}

function contextIn(
  store: Store,
  state: GroundState,
  forecast: Forecast | null,
  entry: EntryContext['entry'],
  now: number,
): (who: string) => EntryContext {
  const orders = forecast?.steps.filter(({ kind }) => kind === 'order').map((step) => step.id) ?? [];
  const same = {
    build: state.build,
    orders: new Set(orders),
    setCount: forecast?.setCount ?? 1,
    now,
    entry,
    lastSeen: (step: string) => lastSeen(store, state, step),
    brought: false,
    closed: state.closed === null ? null : closedProblem(state.build, state.closed),
  };
  return (who) => ({ ...same, who });
}

/** A helper's entries carry the name they joined with; the maker may log for somebody else. */
function signed(entry: NewLogEntry, who: string): NewLogEntry {
  return { ...entry, who: who === MAKER ? (entry.who ?? MAKER) : who };
}

interface Looked {
  readonly entry: NewLogEntry;
  /** The entry of its id that there is already and that says the same. */
  readonly there: LogEntry | undefined;
}

function lookAt(raw: NewLogEntry, context: EntryContext, find: (id: string) => LogEntry | undefined): Result<Looked> {
  const shape = checkNewLogEntry(raw);
  if (!shape.ok) return shape;
  const entry = signed(shape.value, context.who);
  const there = find(entry.id);
  if (there && !sameContent(there, entry)) {
    const { n, kind, step, at } = there;
    const message = problemTexts.log.idTaken(entry.id, { n, kind, step, at });
    return { ok: false, problems: [problem('conflict', 'entry.id', entry.id, message)] };
  }
  const wrong = there ? [] : context.closed ? [context.closed] : entryProblems(entry, context);
  return wrong.length > 0 ? { ok: false, problems: wrong } : { ok: true, value: { entry, there } };
}

function receiptOf(
  { id }: NewLogEntry,
  stored: { readonly state: 'stored' | 'known'; readonly seq: number },
  doubts: readonly Doubt[],
): Receipt {
  return { id, ...stored, problems: [], questions: doubts.map(({ question }) => question) };
}

/** The answer to an entry that is not taken, or is none at all. */
export function refused(entry: unknown, problems: readonly Problem[]): Receipt {
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
