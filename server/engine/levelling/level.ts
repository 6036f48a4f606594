import { Random } from '../random.ts';
import type { Instant, Schedule, Work } from '../types.ts';
import { type Bound, boundOf } from './bounds.ts';
import { type Compiled, compile } from './compiled.ts';
import { MOST_LOTS } from './exact.ts';
import { generateSerial } from './generate.ts';
import { compareCriteria, Objective } from './objective.ts';
import { dependencyOrderOf, keepLinks, Sorter, unlimitedTimes } from './orders.ts';
import { proofOf, sharpened, textbookOf } from './proof.ts';
import { lotsBeyond, scheduleOf } from './schedule.ts';
import { search } from './search.ts';
import { keptSchedule, MINUTES_PER_UPSET, type PreviousPlan, previousOrder, upsetsOf } from './stable.ts';

/** Passes of the generator where nobody says how many. */
const SCHEDULES = 1000;
/** Nodes of the exact search where nobody says how many: some hundredths of a second. */
const NODES = 2000;
/** Of the time, what the search has where an exact search follows. */
const SEARCH_SHARE = 0.3;
/** Backward orders tried at most. */
const BACKWARD_SCHEDULES = 60;

export interface LevelOptions {
  readonly seed: number;
  /** Passes of the generator at most; 1,000 unless given, no limit of their own where `milliseconds` are. */
  readonly schedules?: number;
  /** Time at most, counted by `clock`; without a clock only schedules count. */
  readonly milliseconds?: number;
  readonly clock?: () => number;
  /** Nodes of the exact search at most (textbook works of up to 53 lots only). */
  readonly nodes?: number;
  /** What stood on the sheets before: kept unless changing it gains real time. */
  readonly previous?: PreviousPlan;
  /** Hears of each better schedule as it comes; the last one heard of is not yet weighed against the previous plan. */
  readonly onBetter?: (schedule: Schedule, schedules: number) => void;
}

export type Verdict = 'proved-best' | 'gap' | 'impossible';

export interface Levelled {
  readonly schedule: Schedule;
  /** Passes of the generator spent. */
  readonly schedules: number;
  /** Lots for which the calendars had no room: they lie beyond them in the schedule. */
  readonly beyond: readonly number[];
  readonly bound: Bound;
  /**
   * 'impossible': no order of work is ready by the ready-by, and the bound says why. Otherwise 'proved-best' where the
   * schedule meets the bound, and 'gap' where a shorter one is neither found nor ruled out.
   */
  readonly verdict: Verdict;
  /** True when a better order of work was known but not worth the upset. */
  readonly keptPrevious: boolean;
}

/**
 * One schedule that the hands and machines there are can really do, as good as the budget allows by the criteria of
 * `objective.ts`, with a bound that no order of work can beat. Deterministic for a seed and a budget of schedules. O(1) in
 * memory beyond the compiled work and a population of at most 400 orders.
 */
export function level(work: Work, options: LevelOptions, compiled: Compiled = compile(work)): Levelled {
  const { forward } = compiled;
  const { previous, clock = null } = options;
  const milliseconds = clock === null ? Number.POSITIVE_INFINITY : (options.milliseconds ?? Number.POSITIVE_INFINITY);
  const schedules =
    options.schedules ?? (milliseconds === Number.POSITIVE_INFINITY ? SCHEDULES : Number.POSITIVE_INFINITY);
  const began = clock === null ? 0 : clock();
  const first = [latestFinishOrder(compiled)];
  if (previous !== undefined) first.unshift(previousOrder(compiled, previous));
  const textbook = forward.plain ? textbookOf(compiled) : null;
  let bound = textbook === null ? boundOf(compiled) : sharpened(compiled, textbook, boundOf(compiled));
  const exact = textbook !== null && textbook.lots <= MOST_LOTS && options.nodes !== 0;
  const found = search(
    compiled,
    new Random(options.seed),
    {
      schedules,
      // Where an exact search follows, it has the greater part of the time.
      milliseconds: exact ? milliseconds * SEARCH_SHARE : milliseconds,
      clock,
      bound: (bound.readyAt - forward.origin) / forward.tick,
    },
    first,
    (passes) => options.onBetter?.(scheduleOf(compiled, forward, passes.bestOrder), passes.spent),
  );
  let order = found.order;
  if (exact) {
    const outOfTime = () => clock !== null && clock() - began >= milliseconds;
    ({ bound, order } = proofOf(compiled, textbook, bound, found, { nodes: options.nodes ?? NODES, outOfTime }));
  }
  generateSerial(forward, order);
  const best = scheduleOf(compiled, forward, order);
  const kept = previous === undefined ? null : weigh(compiled, best, previous);
  const schedule = kept ?? best;
  if (kept !== null) generateSerial(forward, kept.order);
  const verdict =
    bound.readyAt > work.readyBy ? 'impossible' : bound.readyAt >= schedule.readyAt ? 'proved-best' : 'gap';
  return {
    schedule,
    schedules: found.schedules,
    beyond: lotsBeyond(forward),
    bound,
    verdict,
    keptPrevious: kept !== null,
  };
}

/** The schedule of the previous order where the better one does not gain enough for what it upsets; null where it does. */
function weigh(compiled: Compiled, best: Schedule, previous: PreviousPlan): Schedule | null {
  const { work, forward } = compiled;
  const objective = new Objective(work, forward);
  generateSerial(forward, best.order);
  const bestCriteria = objective.criteria(latestOf(forward.finishes));
  const kept = keptSchedule(compiled, previous);
  const keptCriteria = objective.criteria(latestOf(forward.finishes));
  const upsets = upsetsOf(work, kept, best);
  if (upsets === 0) return compareCriteria(bestCriteria, keptCriteria) < 0 ? null : kept;
  const gained = [0, 1, 2].reduce((sum, i) => sum + keptCriteria[i]! - bestCriteria[i]!, 0) * forward.tick;
  return gained > MINUTES_PER_UPSET * upsets ? null : kept;
}

function latestOf(finishes: Int32Array): number {
  let latest = -2147483648;
  for (const finish of finishes) if (finish > latest) latest = finish;
  return latest;
}

/**
 * Every lot's last moment under hands and machines: a schedule in mirrored time from the deadlines, in which the whole
 * build begins as late as was found. Lots in `beyond` would have had to begin before now. Deterministic for a seed.
 */
export function levelBackwards(work: Work, options: LevelOptions, compiled: Compiled = compile(work)): Levelled {
  const { forward, mirrored } = compiled;
  const sorter = new Sorter(work.lots.length);
  const early = unlimitedTimes(forward).finishes;
  const random = new Random(options.seed);
  const span = Math.max(1, latestOf(early) - early.reduce((a, b) => Math.min(a, b), 2147483647));
  const tries = Math.max(1, Math.min(BACKWARD_SCHEDULES, options.schedules ?? SCHEDULES));
  let order = dependencyOrderOf(mirrored);
  let best = Number.POSITIVE_INFINITY;
  const keys = early.slice();
  for (let i = 0; i < tries; i++) {
    const tried = dependencyOrderOf(mirrored);
    if (i > 0) for (let l = 0; l < keys.length; l++) keys[l] = early[l]! + Math.round(span * 0.2 * random.unit());
    sorter.falling(tried, keys);
    const kept = keepLinks(mirrored, tried);
    const latest = generateSerial(mirrored, kept);
    if (latest >= best) continue;
    best = latest;
    order = kept;
  }
  generateSerial(mirrored, order);
  const schedule = scheduleOf(compiled, mirrored, order.slice().reverse());
  const bound = boundOf(compiled);
  generateSerial(mirrored, order);
  return {
    schedule,
    schedules: tries,
    beyond: lotsBeyond(mirrored),
    bound,
    verdict: bound.readyAt > work.readyBy ? 'impossible' : 'gap',
    keptPrevious: false,
  };
}

/** How long each lot can still wait under hands and machines: its last moment less its start, in clock minutes. */
export function roomOf(forwards: Schedule, backwards: Schedule): Int32Array {
  return forwards.starts.map((start: Instant, l) => backwards.starts[l]! - start);
}

function latestFinishOrder({ forward, mirrored }: Compiled): Int32Array {
  const order = dependencyOrderOf(forward);
  new Sorter(forward.lots).falling(order, unlimitedTimes(mirrored).starts);
  return keepLinks(forward, order);
}
