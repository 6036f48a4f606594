/** Levelling from end to end: order, proof, hands, settlement; forwards and backwards. */
import { Random } from '../numbers/index.ts';
import type { Schedule, Work } from '../types.ts';
import { type Bound, boundOf } from './bounds/bounds.ts';
import { MOST_LOTS } from './bounds/exact.ts';
import { type Choices, choose, chooseNothing, unchosen } from './generate/choices.ts';
import { type Compiled, compile } from './generate/compiled.ts';
import { generateSerial } from './generate/generate.ts';
import { dependencyOrderOf, keepLinks, pinnedFirst, Sorter, unlimitedTimes } from './generate/orders.ts';
import { instants, lotsBeyond, scheduleOf } from './generate/schedule.ts';
import { proofOf, sharpened, textbookOf } from './proof.ts';
import {
  bestOf,
  type PreviousSchedule,
  previousOrder,
  type Settled,
  settle,
  withFormerPeople,
} from './replan/stable.ts';
import { machinesFirst, orderOfSheet } from './replan/ways.ts';
import { searchHands } from './search/hands-search.ts';
import { search } from './search/search.ts';

/** Passes of the generator where nobody says how many. */
const SCHEDULES = 1000;
/** Nodes of the exact search where nobody says how many: some hundredths of a second. */
const NODES = 2000;
/** Share of the time budget for the search where an exact search follows. */
const SEARCH_SHARE = 0.3;
/** Share of a build's budget for the search over activity lists; the rest is for the choices of hands. */
const ORDERS_SHARE = 0.75;
/** Backward orders tried at most, and at least where the time for them is over: it is this share of the budget. */
const BACKWARD = { most: 60, least: 20, share: 0.1 };

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
  readonly previous?: PreviousSchedule;
  /**
   * Passes of a quicker answer that was given before this one, by the same seed: what they find is weighed too, so that
   * no longer search ends with a schedule that is worth less than what was shown.
   */
  readonly quickly?: number;
  /** Hears of each better schedule as it comes; the last one heard of is not yet weighed against the previous plan. */
  readonly onBetter?: (schedule: Schedule, schedules: number) => void;
  /** Hears between passes what share of the budget is spent, 0 to 1; never falls. */
  readonly onShare?: (share: number) => void;
}

type Verdict = 'proved-best' | 'gap' | 'impossible';

export interface Levelled {
  readonly schedule: Schedule;
  /** The order of work that gave it, with what was chosen for its phases. */
  readonly choices: Choices;
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
  /** Whether the order of work before is kept, what that forgoes, and how its people stay: see `Settled`. */
  readonly keptPrevious: boolean;
  readonly forgone: Settled['forgone'];
  readonly graceMinutes: Settled['graceMinutes'];
}

/**
 * One schedule that the hands and machines there are can really do, as good as the budget allows by the criteria of
 * `objective.ts`, with a bound that no order of work can beat. Deterministic for a seed and a budget of schedules. O(1)
 * in memory beyond the compiled work and a population of at most 400 orders.
 */
export function level(
  work: Work,
  options: LevelOptions,
  compiled: Compiled = compile(remembered(work, options.previous)),
): Levelled {
  const { forward } = compiled;
  forward.graceMinutes = 0;
  chooseNothing(forward);
  const { previous, clock = null, onShare } = options;
  const milliseconds = clock === null ? Number.POSITIVE_INFINITY : (options.milliseconds ?? Number.POSITIVE_INFINITY);
  const schedules =
    options.schedules ?? (milliseconds === Number.POSITIVE_INFINITY ? SCHEDULES : Number.POSITIVE_INFINITY);
  const began = clock === null ? 0 : clock();
  const first = [pinnedFirst(work, forward, latestFinishOrder(compiled))];
  if (forward.lotLeft.includes(1)) first.push(...ordersAsReady(compiled, first[0]!));
  if (previous !== undefined) first.unshift(previousOrder(compiled, previous));
  // A textbook work has one end: it is not asked where there is work on site, which counts to another.
  const textbook = forward.isTextbook && !work.lots.some((lot) => lot.onSite) ? textbookOf(compiled) : null;
  let bound = textbook === null ? boundOf(compiled) : sharpened(compiled, textbook, boundOf(compiled));
  const exact = textbook !== null && textbook.lots <= MOST_LOTS && options.nodes !== 0;
  const ordersShare = forward.isTextbook ? 1 : ORDERS_SHARE;
  const found = search(
    compiled,
    new Random(options.seed),
    {
      schedules: forward.isTextbook ? schedules : Math.ceil(schedules * ORDERS_SHARE),
      // Where an exact search follows, it has the greater part of the time.
      milliseconds: milliseconds * (exact ? SEARCH_SHARE : ordersShare),
      clock,
      bound: (bound.readyAt - forward.origin) / forward.tick,
      ...(onShare && { onShare: (share) => onShare(share * ordersShare) }),
    },
    first,
    (passes) => options.onBetter?.(scheduleOf(compiled, forward, passes.bestOrder), passes.spent),
  );
  let activityList = found.activityList;
  if (exact) {
    const outOfTime = () => clock !== null && clock() - began >= milliseconds;
    ({ bound, activityList } = proofOf(compiled, textbook, bound, found, { nodes: options.nodes ?? NODES, outOfTime }));
  }
  const left = {
    schedules: schedules - found.schedules,
    milliseconds: clock === null ? milliseconds : milliseconds - (clock() - began),
    clock,
    bound: bound.readyAt,
    ...(onShare && { onShare: (share: number) => onShare(ordersShare + share * (1 - ordersShare)) }),
  };
  const isDone = forward.isTextbook || left.schedules < 2 || left.milliseconds <= 0 || found.cost <= bound.readyAt;
  const hands = isDone
    ? null
    : searchHands(compiled, new Random(options.seed), left, activityList, (better, spent) =>
        options.onBetter?.(scheduleOf(compiled, forward, better.activityList), found.schedules + spent),
      );
  const choices = [hands ?? unchosen(forward, activityList)];
  const { quickly } = options;
  if (quickly !== undefined && !forward.isTextbook) {
    choices.push(choicesQuickly(compiled, { seed: options.seed, schedules: quickly }, first, bound));
  }
  const settled = previous === undefined ? untouched(compiled, choices) : settle(compiled, choices, previous);
  const { schedule } = settled;
  const verdict =
    bound.readyAt > work.readyBy ? 'impossible' : bound.readyAt >= schedule.readyAt ? 'proved-best' : 'gap';
  return {
    ...settled,
    schedules: found.schedules + (hands?.schedules ?? 0),
    beyond: lotsBeyond(forward),
    bound,
    verdict,
  };
}

/**
 * Orders in which nobody waits for what runs or dries alone: as the lots begin where what waits for its rest is passed
 * over, by this order, and with machines first.
 */
function ordersAsReady(compiled: Compiled, order: Int32Array): Int32Array[] {
  const { forward } = compiled;
  return [order, machinesFirst(compiled, order)].map((activityList) => {
    choose(forward, unchosen(forward, activityList, true));
    generateSerial(forward, activityList);
    chooseNothing(forward);
    return orderOfSheet(compiled, { starts: forward.starts, activityList });
  });
}

/** The work as a re-plan sees it: lots of the coming day remember who was to do them. */
export function remembered<W extends Work>(work: W, previous: PreviousSchedule | undefined): W {
  return previous === undefined ? work : { ...work, lots: withFormerPeople(work.lots, work.now, previous) };
}

/** What a search of so few passes finds that time does not count. */
function choicesQuickly(
  compiled: Compiled,
  { seed, schedules }: Required<Pick<LevelOptions, 'seed' | 'schedules'>>,
  first: readonly Int32Array[],
  bound: Bound,
): Choices {
  const { forward } = compiled;
  const time = { milliseconds: Number.POSITIVE_INFINITY, clock: null };
  chooseNothing(forward);
  const found = search(
    compiled,
    new Random(seed),
    { schedules: Math.ceil(schedules * ORDERS_SHARE), ...time, bound: bound.readyAt },
    first,
  );
  const left = { schedules: schedules - found.schedules, ...time, bound: bound.readyAt };
  if (left.schedules < 2 || found.cost <= bound.readyAt) return unchosen(forward, found.activityList);
  return searchHands(compiled, new Random(seed), left, found.activityList, () => {});
}

/** The first of the best of these. */
function untouched(compiled: Compiled, found: readonly Choices[]): Settled {
  const choices = found.length === 1 ? found[0]! : bestOf(compiled, found);
  choose(compiled.forward, choices);
  generateSerial(compiled.forward, choices.activityList);
  const schedule = scheduleOf(compiled, compiled.forward, choices.activityList);
  return { schedule, choices, graceMinutes: 0, keptPrevious: false, forgone: null };
}

function latestOf(finishes: Int32Array): number {
  let latest = -2147483648;
  for (const finish of finishes) if (finish > latest) latest = finish;
  return latest;
}

/**
 * Every lot's last moment under hands and machines: a schedule in mirrored time from the deadlines. The first one tried
 * is `forwards` moved to the right; the best leaves the tightest lot of the workshop most room after its planned start,
 * and then begins the whole build as late as was found. Lots in `beyond` would have had to begin before now.
 * Deterministic for a seed.
 */
export function levelBackwards(
  work: Work,
  options: LevelOptions,
  compiled: Compiled = compile(work),
  forwards: Pick<Levelled, 'schedule' | 'bound'> | null = null,
): Levelled {
  const { schedule, activityList, tries } = backwardsSchedule(work, options, compiled, forwards?.schedule ?? null);
  const bound = forwards?.bound ?? boundOf(compiled);
  return {
    schedule,
    schedules: tries,
    beyond: lotsBeyond(compiled.mirrored),
    bound,
    verdict: bound.readyAt > work.readyBy ? 'impossible' : 'gap',
    choices: unchosen(compiled.mirrored, activityList),
    keptPrevious: false,
    forgone: null,
    graceMinutes: 0,
  };
}

/** The schedule of `levelBackwards` alone, without a bound, which costs as much as many passes. */
export function latestSchedule(work: Work, options: LevelOptions): Schedule {
  return backwardsSchedule(work, options, compile(work), null).schedule;
}

function backwardsSchedule(
  work: Work,
  options: LevelOptions,
  compiled: Compiled,
  forwards: Schedule | null,
): { readonly schedule: Schedule; readonly activityList: Int32Array; readonly tries: number } {
  const { mirrored } = compiled;
  const tries = Math.max(1, Math.min(BACKWARD.most, options.schedules ?? SCHEDULES));
  const isOver = backwardTimer(options);
  let tried = 0;
  let best = {
    activityList: dependencyOrderOf(mirrored),
    room: Number.NEGATIVE_INFINITY,
    latest: Number.POSITIVE_INFINITY,
  };
  for (const activityList of backwardOrders(compiled, options.seed, tries, forwards)) {
    const latest = generateSerial(mirrored, activityList);
    const room = forwards === null ? 0 : leastRoom(compiled, forwards);
    if (room > best.room || (room === best.room && latest < best.latest)) best = { activityList, room, latest };
    if (++tried >= BACKWARD.least && isOver()) break;
  }
  generateSerial(mirrored, best.activityList);
  const schedule = scheduleOf(compiled, mirrored, best.activityList.slice().reverse());
  return {
    schedule: mirrored.isTextbook ? upToDeadline(work, schedule) : schedule,
    activityList: best.activityList,
    tries: tried,
  };
}

/** Whether the time for the mirror is over, counted from now; never without a clock. */
function backwardTimer({ clock, milliseconds = Number.POSITIVE_INFINITY }: LevelOptions): () => boolean {
  if (clock === undefined) return () => false;
  const began = clock();
  return () => clock() - began >= BACKWARD.share * milliseconds;
}

/**
 * A textbook mirror ends now, whatever the deadlines: without calendars it is the same schedule when it ends at the
 * first of them.
 */
function upToDeadline(work: Work, schedule: Schedule): Schedule {
  const later = work.lots.reduce((least, lot) => Math.min(least, lot.deadline), Number.POSITIVE_INFINITY) - work.now;
  if (!Number.isFinite(later)) return schedule;
  return {
    ...schedule,
    starts: schedule.starts.map((at) => at + later),
    finishes: schedule.finishes.map((at) => at + later),
    placements: schedule.placements.map((one) => ({ ...one, start: one.start + later, finish: one.finish + later })),
    readyAt: schedule.readyAt + later,
    finishAt: schedule.finishAt + later,
  };
}

/**
 * Orders for the mirror: the schedule forwards from its end, then late first by the unlimited pass, a little shaken
 * each time.
 */
function* backwardOrders(
  { forward, mirrored }: Compiled,
  seed: number,
  tries: number,
  forwards: Schedule | null,
): Generator<Int32Array> {
  const sorter = new Sorter(forward.lots);
  const random = new Random(seed);
  const early = unlimitedTimes(forward).finishes;
  const span = Math.max(1, latestOf(early) - early.reduce((a, b) => Math.min(a, b), 2147483647));
  const falling = (keys: Int32Array) => {
    const activityList = dependencyOrderOf(mirrored);
    sorter.falling(activityList, keys);
    return keepLinks(mirrored, activityList);
  };
  if (forwards !== null) yield falling(forwards.finishes);
  yield falling(early);
  for (let i = 1; i < tries; i++) yield falling(early.map((at) => at + Math.round(span * 0.2 * random.unit())));
}

/**
 * The least time from a lot's start in `forwards` to its start in the mirror's last pass, over lots that are not under
 * way.
 */
function leastRoom({ work, mirrored }: Compiled, forwards: Schedule): number {
  const time = instants(mirrored);
  let least = Number.POSITIVE_INFINITY;
  work.lots.forEach((lot, l) => {
    if (lot.begunAt !== null || lot.phases.length === 0 || lot.onSite) return;
    least = Math.min(least, time(mirrored.finishes[l]!) - forwards.starts[l]!);
  });
  return least;
}

function latestFinishOrder({ forward, mirrored }: Compiled): Int32Array {
  const activityList = dependencyOrderOf(forward);
  new Sorter(forward.lots).falling(activityList, unlimitedTimes(mirrored).starts);
  return keepLinks(forward, activityList);
}
