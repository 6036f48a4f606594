/** From the entries of one step to timed counts: so many units in so many minutes of hands. */
import type { TimedEntry } from './log-tally.ts';
import type { Instant, Minutes, OpenTime } from './types.ts';

/** Units worked (good and scrapped) in minutes of the phase; `at` is when they were counted. */
export interface TimedCount {
  readonly at: Instant;
  readonly units: number;
  readonly minutes: Minutes;
  /** Units of the step worked before these, timed or not. */
  readonly unitsBefore: number;
}

export interface Readings {
  readonly counts: readonly TimedCount[];
  /** Units counted in a time that cannot be told. */
  readonly untimedUnits: number;
}

export interface ReadingOptions {
  /** Minutes a unit is thought to take: what tells work from a gap. */
  readonly minutesPerUnit: number;
  /** People the step needs at once; where more clocks run than that, their minutes add up. */
  readonly people: number;
  /** Minutes that a unit waits before it has passed the step (drying): it may be counted after the next is begun. */
  readonly waitMinutes: Minutes;
  /** When this person is there; of anybody whose name says nothing, when those who may do it are. */
  readonly openOf: (person: string) => OpenTime;
}

/** Longest stretch between two entries that is taken for one sitting, unless the units in it explain more (common sense, no source). */
const LONGEST_STRETCH = 8 * 60;
/** The same without a run clock: a gap between two counts might be anything. */
const LONGEST_UNCLOCKED = 4 * 60;

/**
 * Reads the timed counts of `step` from the standing entries of a log (in the order in which they happened). Time counts while
 * a run clock of the step runs, and belongs to the person whose clock it is: their next count takes it, so that two people on the same step
 * are two. Without a clock it counts from somebody's count of the step to their next when they logged nothing else in between. Of
 * such a stretch the closed time that lies wholly inside it (a lunch, a night) is left out, and a stretch longer than these units can
 * explain is not read at all: its units are untimed. Counts at one instant are one count. Where units wait before they are counted,
 * what is worked and counted without a gap as long as the wait is one count. O(entries).
 */
export function readingsOf(step: string, standing: readonly TimedEntry[], options: ReadingOptions): Readings {
  const reader = new Reader(options);
  for (const entry of standing) {
    if (entry.step !== step) reader.elsewhere(entry);
    else if (entry.kind === 'done' || entry.kind === 'scrapped') reader.count(entry, entry.n ?? 1);
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
  /** Of clocks that were begun anew without a count: the next count of anybody takes it. */
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
    const who = whoOf(entry);
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
    hands.running.add(whoOf(entry));
    hands.from = entry.at;
    this.everRan = true;
  }

  /** A pause of somebody whose clock does not run stops them all. */
  pause(entry: TimedEntry): void {
    const who = whoOf(entry);
    const own = [...this.hands.values()].find(({ running }) => running.has(who));
    for (const hands of own === undefined ? this.hands.values() : [own]) {
      if (hands.running.size === 0) continue;
      this.advance(hands, entry.at, 0);
      if (own === undefined) hands.running.clear();
      else hands.running.delete(who);
    }
    this.everRan = true;
    this.lastStop = entry.at;
  }

  count(entry: TimedEntry, units: number): void {
    const owner = this.ownerOf(entry);
    const hands = this.handsOf(entry);
    const minutes = this.take(hands, entry.at, units);
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
    if (this.everRan || own.lastCount === null || own.interrupted) return minutes;
    return this.stretch(own.lastCount, at, units, this.openOf(own), false);
  }

  private advance(hands: Hands, at: Instant, units: number): void {
    const ran = this.stretch(hands.from, at, units, this.openOf(hands), true);
    const heads = Math.max(1, hands.running.size / this.options.people);
    hands.pending = ran === null || hands.pending === null ? null : hands.pending + ran * heads;
    hands.from = at;
  }

  private stretch(from: Instant, to: Instant, units: number, open: OpenTime, clocked: boolean): Minutes | null {
    const minutes = to - from - closedInside(open, from, to);
    const expected = Math.max(1, units) * this.options.minutesPerUnit;
    const longest = clocked
      ? Math.max(LONGEST_STRETCH, 3 * expected)
      : Math.max(60, Math.min(LONGEST_UNCLOCKED, 10 * expected));
    return minutes > longest ? null : minutes;
  }

  private flush(): void {
    if (this.open === null) return;
    const { at, units, minutes, unitsBefore } = this.open;
    if (minutes !== null && minutes > 0) this.counts.push({ at, units, minutes, unitsBefore });
    else this.untimedUnits += units;
    this.open = null;
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
    return this.options.people > 1 || this.waits() ? '' : whoOf(entry);
  }

  private openOf({ running }: Hands): OpenTime {
    return this.options.openOf(running.size === 1 ? [...running][0]! : '');
  }

  private anybodyRuns(): boolean {
    return [...this.hands.values()].some(({ running }) => running.size > 0);
  }

  private waits(): boolean {
    return this.options.waitMinutes > 0;
  }
}

/** A clock belongs to the person it names, or to whoever tapped. */
function whoOf(entry: TimedEntry): string {
  return entry.person ?? entry.who ?? '';
}

/** Minutes of the closed stretches that lie wholly within [from, to]: whoever works at either end of it was plainly there. */
function closedInside({ opens, closes }: OpenTime, from: Instant, to: Instant): Minutes {
  let closed = 0;
  for (let i = 1; i < opens.length; i++) {
    if (opens[i]! > to) break;
    if (closes[i - 1]! >= from) closed += opens[i]! - closes[i - 1]!;
  }
  return closed;
}
