/** Which lots drive the end of one future. */
import type { CompiledForward } from '../07-levelling/index.ts';

/**
 * Kinds of link as the compiled work numbers them: what they go by at their source, and what they bind at their target.
 */
const FROM_START = [false, true, false, true];
const TO_START = [true, true, false, false];

/** The driving chains of the last pass of the generator. */
export class DrivingChains {
  /** The steps of the lots on the chain that was followed last, one after the other; a step may be there more often. */
  readonly steps: Int32Array;
  private readonly occupants: Occupants;
  private readonly problem: CompiledForward['forward'];
  /** What `seekFeeder` found: the lot that lets another begin no earlier than `bound`, -1 for none. */
  private feeder = -1;
  private bound = 0;

  constructor(compiled: CompiledForward) {
    this.problem = compiled.forward;
    this.occupants = new Occupants(compiled);
    this.steps = new Int32Array(this.problem.phaseFinishes.length + this.problem.lots + 1);
  }

  /**
   * Follows the chain that ends with lot `last` back, always to what let it begin no earlier, be it a lot it waits for
   * or one that had its people or its machine. Returns how many `steps` it has. O(phases) the first time after a pass,
   * then a look or two for each lot on the chain.
   */
  follow(last: number): number {
    const { problem, occupants, steps } = this;
    const { phaseFirst, phaseFinishes, lotStep } = problem;
    occupants.see();
    let lot = last;
    let phase = phaseFirst[lot + 1]! - 1;
    let count = 0;
    while (lot >= 0 && count < steps.length) {
      steps[count++] = lotStep[lot]!;
      const first = phaseFirst[lot]!;
      if (phase > first) this.bound = phaseFinishes[phase - 1]!;
      else this.seekFeeder(lot);
      const occupant = phase >= first ? occupants.before(phase, this.bound) : -1;
      if (occupant >= 0) {
        lot = occupants.lotOf[occupant]!;
        phase = occupant;
      } else if (phase > first) phase--;
      else {
        lot = this.feeder;
        if (lot >= 0) phase = phaseFirst[lot + 1]! - 1;
      }
    }
    return count;
  }

  private seekFeeder(lot: number): void {
    const { linkFirst, linkFrom, linkType, linkCalendar, linkLag, starts, finishes, calendars } = this.problem;
    let from = -1;
    let bound = this.problem.earliest[lot]!;
    for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) {
      const source = linkFrom[i]!;
      const type = linkType[i]!;
      const at = FROM_START[type] ? starts[source]! : finishes[source]!;
      const calendar = linkCalendar[i]!;
      let reached = calendar < 0 ? at + linkLag[i]! : calendars.add(calendar, at, linkLag[i]!);
      if (!TO_START[type]) reached -= finishes[lot]! - starts[lot]!;
      if (reached <= bound) continue;
      from = source;
      bound = reached;
    }
    this.feeder = from;
    this.bound = bound;
  }
}

/** A bucket of time is 256 minutes. */
const BITS = 8;

/** Who had what until when in the last pass: for each person and machine, the phases in buckets by their finish. */
class Occupants {
  readonly lotOf: Int32Array;
  private readonly machine: Int32Array;
  private readonly from: number;
  private readonly buckets: number;
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly phase: Int32Array;
  private count = 0;
  private pass = -1;

  constructor(private readonly compiled: CompiledForward) {
    const { work, forward } = compiled;
    const phases = forward.phaseKind.length;
    this.lotOf = new Int32Array(phases);
    for (let l = 0; l < forward.lots; l++) this.lotOf.fill(l, forward.phaseFirst[l]!, forward.phaseFirst[l + 1]!);
    this.machine = new Int32Array(phases).fill(-1);
    for (let p = 0; p < phases; p++) {
      if (forward.occupiedFrom[p]! >= 0)
        this.machine.fill(forward.occupiedMachine[p]!, forward.occupiedFrom[p]!, p + 1);
    }
    this.from = work.now;
    this.buckets = Math.max(1, ((forward.calendars.horizon - this.from) >> BITS) + 1);
    this.head = new Int32Array(work.resources.length * this.buckets);
    let entries = 0;
    for (let p = 0; p < phases; p++) entries += 1 + mostPeople(forward.crewRange, forward.memberFirst, p);
    this.next = new Int32Array(entries);
    this.phase = new Int32Array(entries);
  }

  /** Takes the last pass in, if it has not been yet. */
  see(): void {
    const { forward } = this.compiled;
    if (this.pass === forward.pass) return;
    this.pass = forward.pass;
    this.count = 0;
    this.head.fill(-1);
    const { phaseCrew, phaseFinishes, memberFirst, members, occupiedFrom, occupiedMachine } = forward;
    const { buckets } = this;
    for (let p = 0; p < phaseCrew.length; p++) {
      const crew = phaseCrew[p]!;
      if (crew < 0 && occupiedFrom[p]! < 0) continue;
      const bucket = this.bucket(phaseFinishes[p]!);
      const end = crew < 0 ? 0 : memberFirst[crew + 1]!;
      for (let m = crew < 0 ? 0 : memberFirst[crew]!; m < end; m++) this.put(members[m]! * buckets + bucket, p);
      if (occupiedFrom[p]! >= 0) this.put(occupiedMachine[p]! * buckets + bucket, p);
    }
  }

  private put(cell: number, p: number): void {
    this.phase[this.count] = p;
    this.next[this.count] = this.head[cell]!;
    this.head[cell] = this.count++;
  }

  private bucket(t: number): number {
    const b = (t - this.from) >> BITS;
    return b < 0 ? 0 : b < this.buckets ? b : this.buckets - 1;
  }

  /** The last phase to end before `p` began that had its people or its machine, if it ended after `bound`; else -1. */
  before(p: number, bound: number): number {
    const { phaseCrew, memberFirst, members, phaseFinishes } = this.compiled.forward;
    const crew = phaseCrew[p]!;
    let best = -1;
    if (crew >= 0) {
      for (let m = memberFirst[crew]!; m < memberFirst[crew + 1]!; m++) {
        best = this.later(best, members[m]!, p, best < 0 ? bound : phaseFinishes[best]!);
      }
    }
    if (this.machine[p]! >= 0) best = this.later(best, this.machine[p]!, p, best < 0 ? bound : phaseFinishes[best]!);
    return best;
  }

  private later(best: number, resource: number, p: number, bound: number): number {
    const { phaseStarts, phaseFinishes } = this.compiled.forward;
    const start = phaseStarts[p]!;
    const lowest = this.bucket(bound);
    let found = best;
    let latest = bound;
    for (let b = this.bucket(start); b >= lowest && found === best; b--) {
      for (let i = this.head[resource * this.buckets + b]!; i >= 0; i = this.next[i]!) {
        const q = this.phase[i]!;
        const finish = phaseFinishes[q]!;
        if (finish > start || finish <= latest || this.lotOf[q] === this.lotOf[p]) continue;
        found = q;
        latest = finish;
      }
    }
    return found;
  }
}

function mostPeople(crewRange: Int32Array, memberFirst: Int32Array, p: number): number {
  let most = 0;
  for (let crew = crewRange[2 * p]!; crew < crewRange[2 * p + 1]!; crew++) {
    most = Math.max(most, memberFirst[crew + 1]! - memberFirst[crew]!);
  }
  return most;
}
