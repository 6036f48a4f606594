/** From the entries of one step to timed counts: units, and the minutes of hands they took. */
import { effectOf, hear, ownerOf, type RunningClock, unitsWorked } from '../../model/log/index.ts';
import { closedWithin, isOpen, openMinutesBetween } from '../calendar/index.ts';
import type { TimedEntry } from '../log/index.ts';
import type { Calendar, Instant, Minutes } from '../types.ts';

/**
 * Units worked (good ones, and those that failed before they were counted) in minutes of the phase; `at` is when they
 * were counted.
 */
export interface TimedCount {
  readonly at: Instant;
  readonly units: number;
  readonly minutes: Minutes;
  /** Units of the step worked before these, timed or not. */
  readonly unitsBefore: number;
  /** Whose hands; '' where nobody says so, or where it is several people's. */
  readonly owner: string;
  /** Whether their hours ended before they could have made one more: it may lie there half made. */
  readonly leavesUnit: boolean;
}

export interface Readings {
  readonly counts: readonly TimedCount[];
  /** Units counted in a time that cannot be told. */
  readonly untimedUnits: number;
}

interface ReadingOptions {
  /** Minutes a unit is thought to take: what tells work from a gap. */
  readonly minutesPerUnit: number;
  /** People the step needs at once; where more clocks run than that, their minutes add up. */
  readonly people: number;
  /** Minutes that a unit waits before it has passed the step (drying): it may be counted after the next is begun. */
  readonly waitMinutes: Minutes;
  /** Only what a run clock timed is read: from count to count is more than hands' work. */
  readonly clockOnly?: boolean;
  /** When this person is there; of anybody whose name says nothing, when those who may do it are. */
  readonly openOf: (person: string) => Calendar;
}

/**
 * Longest stretch between two entries that is taken for one sitting, unless the units in it explain more (common sense,
 * no source).
 */
const LONGEST_STRETCH = 8 * 60;
/** The same without a run clock: a gap between two counts might be anything. */
const LONGEST_UNCLOCKED = 4 * 60;
/**
 * Units explain a stretch of this many times as long as they are thought to take. A shorter limit would leave out the
 * slow counts of units that take hours, and read the others as the pace (common sense, no source).
 */
const EXPLAINED = 3;
/**
 * Units scrapped in less than this share of the time that units took so far were not worked in it: they are among those
 * counted just before. Asked only of entries that do not say it themselves (common sense, no source).
 */
const TOO_SHORT = 0.5;

/**
 * Reads the timed counts of `step` from the standing entries of a log (in the order in which they happened). Time
 * counts while a run clock of the step runs, and belongs to the person whose clock it is: their next count takes it, so
 * that two people on the same step are two. Without a clock it counts from somebody's count of the step to their next
 * when they logged nothing else in between. The closed time that is wholly inside such a stretch (a lunch, a
 * night) is left out, and a stretch longer than these units can explain is not read at all: its units are untimed.
 * Counts at one instant are one count. Where units wait before they are counted, what is worked and counted without a
 * gap as long as the wait is one count. Units scrapped after they were counted are no further work: the time goes on to
 * the next count. O(entries).
 *
 * @example 12 done after 36 minutes on the clock, then 2 of them scrapped: one count of 12 units in 36 minutes.
 */
export function readingsOf(step: string, standing: readonly TimedEntry[], options: ReadingOptions): Readings {
  const reader = new Reader(options);
  const clocks = new Map<string, RunningClock>();
  for (const entry of standing) {
    const begunAgain = entry.kind === 'began' && entry.step === step;
    for (const stopped of hear(clocks, entry))
      if (stopped.clock.step === step && !begunAgain) reader.stop(stopped.owner, entry.at);
    if (entry.step !== step) reader.elsewhere(entry);
    else if (entry.kind === 'done' || entry.kind === 'scrapped') reader.count(entry, unitsWorked(entry));
    else if (entry.kind === 'began') reader.begin(entry);
    else if (entry.kind === 'paused') reader.pause(entry);
  }
  return reader.close();
}

/** One pair of hands, or all of them where several are needed together. */
interface Hands {
  readonly running: Set<string>;
  /** From when on its time has not been added up. */
  from: Instant;
  /** Added up and not counted yet; null when it cannot be told. */
  pending: Minutes | null;
  lastCount: Instant | null;
  /** Whether something else was logged since. */
  interrupted: boolean;
}

interface Open {
  at: Instant;
  units: number;
  minutes: Minutes | null;
  readonly unitsBefore: number;
}

class Reader {
  private readonly options: ReadingOptions;
  private readonly hands = new Map<string, Hands>();
  private readonly counts: TimedCount[] = [];
  private open: Open | null = null;
  private openOwner = '';
  /** For clocks that were begun again without a count: the next count of anybody takes it. */
  private left: Minutes = 0;
  private everRan = false;
  private lastStop: Instant = Number.NEGATIVE_INFINITY;
  private worked = 0;
  private untimedUnits = 0;

  constructor(options: ReadingOptions) {
    this.options = options;
  }

  elsewhere(entry: TimedEntry): void {
    if (entry.kind === 'promised' || entry.kind === 'received') return;
    const who = ownerOf(entry);
    for (const [owner, hands] of this.hands) if (who === '' || owner === '' || owner === who) hands.interrupted = true;
  }

  begin(entry: TimedEntry): void {
    const hands = this.handsOf(entry);
    if (hands.running.size > 0) this.advance(hands, entry.at, 0);
    else if (hands.pending !== null && !this.waits()) {
      this.left += hands.pending;
      hands.pending = 0;
    }
    if (this.waits() && !this.anybodyRuns() && entry.at - this.lastStop >= this.options.waitMinutes) this.flush();
    hands.running.add(ownerOf(entry));
    hands.from = entry.at;
    this.everRan = true;
  }

  /** Somebody's clock has stopped. */
  stop(who: string, at: Instant): void {
    const hands = [...this.hands.values()].find(({ running }) => running.has(who));
    if (hands === undefined) return;
    this.advance(hands, at, 0);
    hands.running.delete(who);
    this.lastStop = at;
  }

  pause({ at }: TimedEntry): void {
    this.everRan = true;
    this.lastStop = at;
  }

  count(entry: TimedEntry, units: number): void {
    if (units === 0) return;
    const owner = this.ownerOf(entry);
    const hands = this.handsOf(entry);
    const minutes = this.take(hands, entry.at, units);
    if (minutes !== null && this.isCountedBefore(entry, units, minutes)) {
      if (this.everRan && hands.pending !== null) hands.pending += minutes;
      return;
    }
    const sameAgain = this.open?.at === entry.at && (this.openOwner === owner || minutes === 0);
    const joined = this.open !== null && (sameAgain || (this.waits() && this.everRan));
    if (!joined) this.flush();
    this.open ??= { at: entry.at, units: 0, minutes: 0, unitsBefore: this.worked };
    this.openOwner = owner;
    this.open.at = entry.at;
    this.open.units += units;
    this.open.minutes = this.open.minutes === null || minutes === null ? null : this.open.minutes + minutes;
    this.worked += units;
    hands.lastCount = entry.at;
    hands.interrupted = false;
  }

  close(): Readings {
    this.flush();
    return { counts: this.counts, untimedUnits: this.untimedUnits };
  }

  /**
   * Whether units scrapped are among those counted just before, by the time that went by, where the entry does not say
   * it. What is logged at one instant was made in one time.
   */
  private isCountedBefore(entry: TimedEntry, units: number, minutes: Minutes): boolean {
    if (effectOf(entry).scrapped === 0 || entry.counted !== undefined) return false;
    if (this.worked === 0 || this.open?.at === entry.at) return false;
    const timed = [...this.counts, ...(this.open === null ? [] : [this.open])];
    const total = timed.reduce((sum, count) => sum + (count.minutes ?? 0), 0);
    const known = timed.reduce((sum, count) => sum + (count.minutes === null ? 0 : count.units), 0);
    const each = total > 0 ? total / known : this.options.minutesPerUnit;
    return minutes < units * each * TOO_SHORT;
  }

  /** The minutes that a count stands for: its own hands', or those of all whose time nobody has counted. */
  private take(own: Hands, at: Instant, units: number): Minutes | null {
    const clocked = (hands: Hands): boolean => hands.running.size > 0 || hands.pending !== 0;
    const whose = clocked(own) ? [own] : [...this.hands.values()].filter(clocked);
    let minutes: Minutes | null = this.left;
    this.left = 0;
    for (const hands of whose) {
      if (hands.running.size > 0) this.advance(hands, at, units);
      minutes = minutes === null || hands.pending === null ? null : minutes + hands.pending;
      hands.pending = 0;
    }
    if (this.options.clockOnly === true || this.everRan || own.lastCount === null || own.interrupted) return minutes;
    return this.stretch(own.lastCount, at, units, this.openOf(own), false);
  }

  private advance(hands: Hands, at: Instant, units: number): void {
    const ran = this.stretch(hands.from, at, units, this.openOf(hands), true);
    const heads = Math.max(1, hands.running.size / this.options.people);
    hands.pending = ran === null || hands.pending === null ? null : hands.pending + ran * heads;
    hands.from = at;
  }

  private stretch(from: Instant, to: Instant, units: number, open: Calendar, clocked: boolean): Minutes | null {
    const minutes = to - from - closedWithin(open, from, to);
    const expected = Math.max(1, units) * this.options.minutesPerUnit;
    const usual = clocked ? LONGEST_STRETCH : Math.max(60, Math.min(LONGEST_UNCLOCKED, 10 * expected));
    const longest = Math.max(usual, EXPLAINED * expected);
    return minutes > longest ? null : minutes;
  }

  private flush(): void {
    if (this.open === null) return;
    const { at, units, minutes, unitsBefore } = this.open;
    if (minutes !== null && minutes > 0) {
      const leavesUnit = this.leavesUnit(this.waits() && this.everRan ? this.lastStop : at);
      this.counts.push({ at, units, minutes, unitsBefore, owner: this.openOwner, leavesUnit });
    } else this.untimedUnits += units;
    this.open = null;
  }

  private leavesUnit(end: Instant): boolean {
    const open = this.options.openOf(this.openOwner);
    const unit = Math.ceil(this.options.minutesPerUnit);
    return isOpen(open, end - 1) && openMinutesBetween(open, end, end + unit) < unit;
  }

  private handsOf(entry: TimedEntry): Hands {
    const owner = this.ownerOf(entry);
    const known = this.hands.get(owner);
    if (known !== undefined) return known;
    const hands: Hands = { running: new Set(), from: entry.at, pending: 0, lastCount: null, interrupted: false };
    this.hands.set(owner, hands);
    return hands;
  }

  private ownerOf(entry: TimedEntry): string {
    return this.options.people > 1 || this.waits() ? '' : ownerOf(entry);
  }

  private openOf({ running }: Hands): Calendar {
    return this.options.openOf(running.size === 1 ? [...running][0]! : '');
  }

  private anybodyRuns(): boolean {
    return [...this.hands.values()].some(({ running }) => running.size > 0);
  }

  private waits(): boolean {
    return this.options.waitMinutes > 0;
  }
}
