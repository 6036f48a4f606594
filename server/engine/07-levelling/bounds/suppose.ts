/** Destructive bounds: suppose an end, and look for a contradiction. */
import { addOpenMinutes, LONG_AGO, subtractOpenMinutes } from '../../calendar/index.ts';
import type { Instant } from '../../types.ts';
import type { Compiled } from '../generate/compiled.ts';
import { dependencyOrderOf } from '../generate/orders.ts';
import { FREE } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { ownTimes } from '../instance/own-times.ts';
import { type Group, type Job, type Limits, tightestWindow } from './energy.ts';
import { reachHere, reachOf } from './reach.ts';

/** Lots of a work whose pairs are looked at, at most: some tens of milliseconds. */
const MOST_LOTS = 60;
const TIMES = ['starts', 'finishes', 'phaseStarts', 'phaseFinishes'] as const;
/** Times that limits are drawn closer and passed on through the links, at most. */
const ROUNDS = 6;

/** What follows from supposing that the workshop is ready by an instant. */
export class Supposed {
  private readonly known = new Map<Instant, Limits>();
  private readonly oneByOne: readonly Group[];
  /** Earliest starts by phase, which hang on no end, and the order in which the mirror is walked. */
  private readonly early: Float64Array;
  private readonly backwards: Int32Array;
  private readonly onSite: Int32Array;
  /** The mirror with times and begins of its own, written again for each end that is supposed. */
  private readonly mirror: Instance;

  constructor(
    private readonly compiled: Compiled,
    private readonly groups: readonly Group[],
  ) {
    const { forward, mirrored } = compiled;
    this.early = timesOf(forward, reachOf(forward).phaseStarts);
    this.onSite = Int32Array.from(compiled.work.lots, (lot) => (lot.onSite ? 1 : 0));
    this.backwards = dependencyOrderOf(mirrored).filter((lot) => this.onSite[lot] === 0);
    this.mirror = {
      ...mirrored,
      earliest: new Int32Array(mirrored.lots),
      ...ownTimes(mirrored.times.slice()),
      phaseStarts: mirrored.phaseStarts.slice(),
      phaseFinishes: mirrored.phaseFinishes.slice(),
    };
    const isSmall = compiled.work.lots.length <= MOST_LOTS;
    this.oneByOne = groups.filter(({ oneByOne, jobs }) => isSmall && oneByOne !== null && jobs.length > 1);
  }

  /**
   * Earliest starts, and the latest ends backwards through the calendars from there; worked out once for each instant.
   */
  limits(readyAt: Instant): Limits {
    let limits = this.known.get(readyAt);
    if (limits === undefined) {
      limits = this.closer(readyAt, null, null);
      this.known.set(readyAt, limits);
    }
    return limits;
  }

  /**
   * The group in which it shows that this end cannot be; null where nothing shows it. For two jobs that must be done
   * one after the other, neither order may fit: then it cannot be; or only one: then the limits of both are drawn
   * closer, and with them those of all that hangs on them (disjunctive pairs: J. Carlier and E. Pinson, Management
   * Science 35, 1989, from memory).
   */
  clash(readyAt: Instant): Group | null {
    if (this.oneByOne.length === 0) return null;
    const { forward, mirrored } = this.compiled;
    const notBefore = new Int32Array(forward.phaseStarts.length).fill(FREE);
    const notAfter = new Int32Array(mirrored.phaseStarts.length).fill(FREE);
    let limits = this.limits(readyAt);
    for (let round = 0; round < ROUNDS; round++) {
      let isCloser = false;
      const keep = (job: Job, start: Instant | null, end: Instant | null) => {
        if (start !== null && start > limits.early[job.first]!) {
          notBefore[job.first] = Math.max(notBefore[job.first]!, Math.ceil((start - forward.origin) / forward.tick));
          isCloser = true;
        }
        if (end !== null && end < limits.late[job.last]!) {
          notAfter[job.last] = Math.max(notAfter[job.last]!, Math.ceil((-end - mirrored.origin) / mirrored.tick));
          isCloser = true;
        }
      };
      for (const group of this.oneByOne) if (!orderPairs(group, limits, keep)) return group;
      if (!isCloser) return null;
      limits = this.closer(readyAt, notBefore, notAfter);
      for (const group of this.groups) {
        const window = tightestWindow(group, limits);
        if (window !== null && window.neededMinutes > window.offeredMinutes) return group;
      }
    }
    return null;
  }

  /** Work on site is left out: where it finds no hour at all, the workshop is ready all the same. */
  private closer(readyAt: Instant, notBefore: Int32Array | null, notAfter: Int32Array | null): Limits {
    const { mirror } = this;
    const { forward, mirrored } = this.compiled;
    mirror.earliest.fill(Math.floor((-readyAt - mirrored.origin) / mirrored.tick));
    // What is under way is known from the times of the last pass alone.
    for (const times of TIMES) mirror[times].set(mirrored[times]);
    reachHere(mirror, notAfter, this.backwards);
    return {
      early: notBefore === null ? this.early : timesOf(forward, reachOf(forward, notBefore).phaseStarts),
      late: timesOf(mirrored, mirror.phaseStarts),
    };
  }
}

/** Times of an instance as instants. */
function timesOf(instance: Instance, times: Int32Array): Float64Array {
  const { origin, tick } = instance;
  const sign = instance.mirrored ? -1 : 1;
  const found = new Float64Array(times.length);
  for (let i = 0; i < times.length; i++) found[i] = sign * (origin + times[i]! * tick);
  return found;
}

/** Tells `keep` what follows for each pair of jobs that can go in one order only; false where neither can. */
function orderPairs(
  { jobs, oneByOne }: Group,
  { early, late }: Limits,
  keep: (job: Job, start: Instant | null, end: Instant | null) => void,
): boolean {
  const open = oneByOne!;
  const ended = (from: Instant, { minutes }: Job) =>
    open === 'always' ? from + minutes : addOpenMinutes(open, from, minutes);
  const begun = (end: Instant, { minutes }: Job) =>
    open === 'always' ? end - minutes : subtractOpenMinutes(open, end, minutes);
  for (const [i, a] of jobs.entries()) {
    for (const b of jobs.slice(i + 1)) {
      const endOfA = ended(early[a.first]!, a);
      const endOfB = ended(early[b.first]!, b);
      const aFirst = ended(Math.max(endOfA, early[b.first]!), b) <= late[b.last]!;
      const bFirst = ended(Math.max(endOfB, early[a.first]!), a) <= late[a.last]!;
      if (!aFirst && !bFirst) return false;
      if (aFirst && bFirst) continue;
      const [first, second, end] = aFirst ? [a, b, endOfA] : [b, a, endOfB];
      const start = begun(late[second.last]!, second);
      keep(first, null, start === LONG_AGO ? null : start);
      keep(second, end, null);
    }
  }
  return true;
}
