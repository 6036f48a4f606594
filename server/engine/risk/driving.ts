import type { Compiled } from '../levelling/index.ts';

/** Kinds of link as the compiled work numbers them: what they go by at their source, and what they bind at their target. */
const FROM_START = [false, true, false, true];
const TO_START = [true, true, false, false];

/**
 * A function that marks, after a pass of the generator, the steps on the driving chain: from lot `last` back, always to what let
 * it begin no earlier, be it a lot it waits for or one that had its people or its machine. `mark(step)` may be called more than once
 * for a step. O(phases) for each lot on the chain.
 */
export function drivingChainOf(compiled: Compiled): (last: number, mark: (step: number) => void) => void {
  const { forward: problem } = compiled;
  const lotOf = new Int32Array(problem.phaseKind.length);
  for (let l = 0; l < problem.lots; l++) lotOf.fill(l, problem.phaseFirst[l]!, problem.phaseFirst[l + 1]!);
  const machine = new Int32Array(problem.phaseKind.length).fill(-1);
  for (let p = 0; p < machine.length; p++) {
    if (problem.heldFrom[p]! >= 0) machine.fill(problem.heldMachine[p]!, problem.heldFrom[p]!, p + 1);
  }
  const { phaseFirst, phaseStarts, phaseFinishes, phaseCrew, heldFrom, memberFirst, members } = problem;

  const sharesPeople = (p: number, q: number): boolean => {
    const [a, b] = [phaseCrew[p]!, phaseCrew[q]!];
    if (a < 0 || b < 0) return false;
    for (let i = memberFirst[a]!; i < memberFirst[a + 1]!; i++) {
      for (let j = memberFirst[b]!; j < memberFirst[b + 1]!; j++) if (members[i] === members[j]) return true;
    }
    return false;
  };

  /** The last phase to end before `p` began that had its people or its machine, if it ended after `bound`. */
  const holderBefore = (p: number, bound: number): number => {
    const start = phaseStarts[p]!;
    let best = -1;
    let latest = bound;
    for (let q = 0; q < phaseFinishes.length; q++) {
      const finish = phaseFinishes[q]!;
      if (finish > start || finish <= latest || lotOf[q] === lotOf[p]) continue;
      const sameMachine = machine[p]! >= 0 && machine[q] === machine[p] && heldFrom[q]! >= 0;
      if (!sameMachine && !sharesPeople(p, q)) continue;
      best = q;
      latest = finish;
    }
    return best;
  };

  const feederOf = (lot: number): { from: number; bound: number } => {
    let [from, bound] = [-1, problem.earliest[lot]!];
    for (let i = problem.linkFirst[lot]!; i < problem.linkFirst[lot + 1]!; i++) {
      const source = problem.linkFrom[i]!;
      const type = problem.linkType[i]!;
      const at = FROM_START[type] ? problem.starts[source]! : problem.finishes[source]!;
      const calendar = problem.linkCalendar[i]!;
      const lag = problem.linkLag[i]!;
      let reached = calendar < 0 ? at + lag : problem.calendars.add(calendar, at, lag);
      if (!TO_START[type]) reached -= problem.finishes[lot]! - problem.starts[lot]!;
      if (reached > bound) [from, bound] = [source, reached];
    }
    return { from, bound };
  };

  return (last, mark) => {
    let lot = last;
    let phase = phaseFirst[lot + 1]! - 1;
    for (let steps = 0; lot >= 0 && steps <= lotOf.length + problem.lots; steps++) {
      mark(problem.lotStep[lot]!);
      const first = phaseFirst[lot]!;
      const { from, bound } = phase > first ? { from: -1, bound: phaseFinishes[phase - 1]! } : feederOf(lot);
      const holder = phase >= first ? holderBefore(phase, bound) : -1;
      if (holder >= 0) [lot, phase] = [lotOf[holder]!, holder];
      else if (phase > first) phase--;
      else {
        lot = from;
        if (lot >= 0) phase = phaseFirst[lot + 1]! - 1;
      }
    }
  };
}
