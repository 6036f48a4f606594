/** Changes tried out on the plan as it is, with the same random numbers as the plan itself, in the background. */
import { besideKnown, compareEnds } from '../../engine/index.ts';
import type { Build, Forecast, NewLogEntry } from '../../model/index.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Background, Tried } from '../background/tasks.ts';
import type { GroundState } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import type { JobKind, WhatIf } from '../types.ts';

interface WhatIfParts {
  readonly keeper: Pick<ForecastKeeper, 'beside' | 'latest' | 'known'>;
  readonly jobs: Jobs;
  readonly tryOut: Background['tryOut'];
  readonly now: () => number;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

/** A build that is tried out, or was. */
export interface Trial {
  /** Null: not yet, or not at all. */
  readonly tried: Tried | null;
  readonly failed: boolean;
  /** Answered when it has been tried out, or has failed. */
  readonly done: Promise<void>;
}

export interface WhatIfs {
  /** The trial of a build beside that of the state; begun where there is none yet. Nobody waits for it. */
  trial(state: GroundState, build: Build): Trial;
  /** The same, while somebody waits: before any search. `entries` are added to the log of what is tried. */
  now(state: GroundState, build: Build, entries?: readonly NewLogEntry[]): Promise<WhatIf>;
  /** Lets go of a build that is gone. */
  letGo(id: string): void;
}

/** What is tried out: a build, and entries that its log does not hold. */
interface Tested {
  readonly build: Build;
  readonly entries: readonly NewLogEntry[];
}

/** The most builds whose trials are kept. */
const MOST_BUILDS = 8;
/** Trials kept of one state of a build. */
const MOST_TRIALS = 24;

interface Batch {
  readonly stamp: string;
  readonly at: number;
  readonly trials: Map<string, Trial>;
}

/** Trials of what builds would be; those of a state are kept until it is another. */
export function createWhatIfs({ keeper, jobs, tryOut, now, report, changed }: WhatIfParts): WhatIfs {
  const batches = new Map<string, Batch>();

  /** The trials of one state, one settled plan and one quarter of an hour: only these compare. */
  const batchOf = (state: GroundState): Batch => {
    const { id } = state.build;
    const stamp = stampOf(state, keeper.latest(id));
    const there = batches.get(id);
    if (there?.stamp === stamp) return there;
    const begun = { stamp, at: now(), trials: new Map() };
    batches.delete(id);
    batches.set(id, begun);
    for (const old of [...batches.keys()].slice(0, -MOST_BUILDS)) batches.delete(old);
    return begun;
  };

  const begin = (state: GroundState, batch: Batch, { build, entries }: Tested, kind: JobKind): Trial => {
    const { id } = state.build;
    const trial = { tried: null as Tried | null, failed: false, done: Promise.resolve() };
    const isWanted = (): boolean => kind === 'see-first' || batches.get(id) === batch;
    const asked = jobs.ask({
      kind,
      build: id,
      version: state.version,
      lasting: true,
      isWanted,
      run: (hand) =>
        tryOut(
          { build, log: [...state.log, ...entries], now: batch.at, depth: 'quick', ...keeper.beside(state) },
          hand,
        ),
    });
    trial.done = asked
      .then((tried) => Object.assign(trial, { tried, failed: tried === null }))
      .catch((error) => {
        trial.failed = true;
        report(error);
      })
      .then(() => {
        if (kind === 'what-if' && batches.get(id) === batch) changed(id);
      });
    return trial;
  };

  const trialOf = (state: GroundState, build: Build, kind: JobKind, entries: Tested['entries'] = []): Trial => {
    const batch = batchOf(state);
    const same = build === state.build ? '' : JSON.stringify(build);
    const key = entries.length === 0 ? same : `${same} ${JSON.stringify(entries.map(({ id: _, ...it }) => it))}`;
    const there = batch.trials.get(key);
    if (there !== undefined && (there.tried !== null || kind === 'what-if')) return there;
    const trial = begin(state, batch, { build, entries }, kind);
    batch.trials.set(key, trial);
    for (const old of [...batch.trials.keys()].slice(0, -MOST_TRIALS)) batch.trials.delete(old);
    return trial;
  };

  return {
    trial: (state, build) => trialOf(state, build, 'what-if'),
    now: async (state, build, entries = []) => {
      const both = [trialOf(state, state.build, 'see-first'), trialOf(state, build, 'see-first', entries)];
      await Promise.all(both.map(({ done }) => done));
      const [present, after] = both.map(({ tried }) => tried);
      if (!present || !after) throw new Error(`what was to be seen first of ${state.build.id} could not be worked out`);
      return besides(present, after, keeper.known(state));
    },
    letGo: (id) => void batches.delete(id),
  };
}

/**
 * Two trials of one state beside each other, their chances beside what is known of the plan as it is, so that this has
 * one chance on all sheets.
 */
export function besides(present: Tried, after: Tried, known: Forecast | null): WhatIf {
  const compares = present.ends !== null && after.ends !== null && enough(present) && enough(after);
  const shown = (tried: Tried): Forecast => (known === null ? tried.forecast : besideKnown(known, present, tried));
  return {
    present: shown(present),
    forecast: shown(after),
    compared: compares ? compareEnds(present.ends, after.ends) : null,
  };
}

function enough({ ends }: Tried): boolean {
  return (ends?.readyAt.length ?? 0) >= 2;
}

function stampOf({ key, version }: GroundState, latest: ReturnType<ForecastKeeper['latest']>): string {
  const shown = latest === null ? [] : [latest.computedAt, latest.settled];
  return [key, version.revision, version.logSeq, ...shown].join('.');
}
