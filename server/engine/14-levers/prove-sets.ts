/** One set through to its gate before the others, or step by step over all, where the gate may fail. */

import type { Difference, Gate, SetsCompared, SetsWay, SetsWays } from '../../model/index.ts';
import { failChanceOf, nextUnitMinutes, type PlannedStep } from '../02-steps/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { drawEnds, type FutureEnds } from '../08-risk/index.ts';
import { gammaCdf } from '../numbers/index.ts';
import { type Case, type Planned, workThrough } from '../stages/index.ts';

interface SetsAsked {
  readonly seed: number;
  readonly futures: number;
}

/** A gate fails this often in a row at most, as in the futures. */
const MOST_FAILURES = 5;

/**
 * For each gate by sets with two or more that have not passed: the build with `proveFirst` and without, by the same
 * futures. `onOne`: each set fails by itself, as the futures draw it. `onAll`: the fault is one of the design; the gate
 * fails once, with its chance, and what it sends back is done again in every set that is made by then: in the first
 * alone where that goes ahead, in all where they go step by step. Each way is then the mean of its futures with and
 * without the failure, weighed by the chance, so that the chance itself adds no noise. Uncertain parameters are at
 * their planned values. O(gates) times four plans with their futures.
 */
export function proveSets(asked: Case, options: SetsAsked): SetsCompared[] {
  return (asked.build.gates ?? []).flatMap((gate) => {
    const [first, along] = [planBy(asked, gate, true), planBy(asked, gate, undefined)];
    const plan = first.plans.find(({ id }) => id === gate.id);
    const sets = (plan?.sets ?? []).filter(({ left }) => left > 0).length;
    if (gate.perSet !== true || plan === undefined || sets < 2) return [];
    const failChance = failChanceOf(plan);
    const onAll = waysOf(onAllOf(first, gate, failChance, 1, options), onAllOf(along, gate, failChance, sets, options));
    const onOne = waysOf(
      onOneOf(first, gate, failChance, sets, options),
      onOneOf(along, gate, failChance, sets, options),
    );
    return onAll === null || onOne === null ? [] : [{ gate: gate.id, name: gate.name, sets, failChance, onAll, onOne }];
  });
}

/** The build with its proof one way or the other, and uncertain parameters as planned. */
function planBy(asked: Case, gate: Gate, proveFirst: true | undefined): Planned {
  const { proveFirst: _, ...bare } = gate;
  const other = proveFirst ? { ...bare, proveFirst } : bare;
  const gates = asked.build.gates!.map((one) => (one.id === gate.id ? other : one));
  const planned = workThrough({ ...asked, build: { ...asked.build, gates } }, 'work');
  const values = planned.quantities.values;
  const asPlanned = new Map(
    (asked.build.parameters ?? []).flatMap(({ name, range }) => {
      const value = range === undefined ? undefined : values.get(name);
      return value === undefined ? [] : [[name, value] as const];
    }),
  );
  const all = new Map([...asPlanned, ...(asked.overrides ?? [])]);
  return workThrough({ ...asked, overrides: all, build: { ...asked.build, gates } }, 'schedules');
}

/** By future the end, which may be a mean, and whether it is in time. */
interface Drawn {
  readonly ends: Float64Array;
  readonly inTime: Float64Array;
  readonly reworkMinutes: number;
}

function onOneOf(planned: Planned, gate: Gate, chance: number, sets: number, options: SetsAsked): Drawn | null {
  const ends = drawEnds(planned, options.seed, options.futures)?.upTo(options.futures);
  if (ends === undefined) return null;
  let failures = 0;
  for (let k = 1; k <= MOST_FAILURES; k++) failures += chance ** k;
  return mixed(ends, ends, chance, failures * sets * reworkOf(planned, gate).minutes);
}

/** The futures with the gate's failure in its first `sets` sets, and those without any. */
function onAllOf(planned: Planned, gate: Gate, chance: number, sets: number, options: SetsAsked): Drawn | null {
  const sure = neverFailing(planned, gate);
  const rework = reworkOf(planned, gate);
  const failed = withRework(sure, gate, rework.minutes + rework.again, sets);
  const [pass, fail] = [sure, failed].map((one) => drawEnds(one, options.seed, options.futures)?.upTo(options.futures));
  return pass === undefined || fail === undefined ? null : mixed(pass, fail, chance, chance * sets * rework.minutes);
}

function mixed(pass: FutureEnds, fail: FutureEnds, chance: number, reworkMinutes: number): Drawn {
  const mean = (a: number, b: number) => (1 - chance) * a + chance * b;
  const by = (at: number) => Number(at <= pass.readyBy);
  return {
    ends: Float64Array.from(pass.readyAt, (at, n) => mean(at, fail.readyAt[n]!)),
    inTime: Float64Array.from(pass.readyAt, (at, n) => mean(by(at), by(fail.readyAt[n]!))),
    reworkMinutes,
  };
}

/** Minutes of hands that one failure sends back of one set, and those of the gate itself. */
function reworkOf({ plans, quantities }: Planned, gate: Gate): { readonly minutes: number; readonly again: number } {
  const minutes = (gate.sendsBack ?? []).reduce((sum, { step, units }) => {
    const plan = plans.find(({ id }) => id === step);
    const count = plan === undefined ? null : quantities.evaluator.count(units, `gates.${gate.id}.sendsBack`);
    return count === null ? sum : sum + count * nextUnitMinutes(plan!);
  }, 0);
  const own = plans.find(({ id }) => id === gate.id)?.phases.find((phase) => phase.kind === 'hands');
  return { minutes, again: own?.kind === 'hands' ? own.fixedMinutes : 0 };
}

function neverFailing(planned: Planned, gate: Gate): Planned {
  const plans = planned.plans.map((plan): PlannedStep => {
    if (plan.id !== gate.id) return plan;
    return { ...plan, gate: { ...gate, failChance: 0 }, tally: { ...plan.tally, failures: 0, counts: [] } };
  });
  return { ...planned, plans };
}

/** The first `sets` of the gate's lots take this many minutes longer. */
function withRework(planned: Planned, gate: Gate, minutes: number, sets: number): Planned {
  const step = planned.plans.findIndex(({ id }) => id === gate.id);
  const longer = new Set(lotsOfStep(planned.work, step).slice(0, sets));
  const lots = planned.work.lots.map((lot, index) => {
    if (!longer.has(index)) return lot;
    const hands = lot.phases.findIndex((phase) => phase.kind === 'hands');
    const phases = lot.phases.map((phase, i) =>
      i === hands && phase.kind === 'hands' ? { ...phase, minutes: phase.minutes + Math.round(minutes) } : phase,
    );
    return { ...lot, phases };
  });
  return { ...planned, work: { ...planned.work, lots } };
}

function waysOf(first: Drawn | null, along: Drawn | null): SetsWays | null {
  if (first === null || along === null) return null;
  const later = differenceOf(first.ends, along.ends);
  return { first: wayOf(first), along: wayOf(along), later, sure: sureness(later) };
}

function wayOf({ ends, inTime, reworkMinutes }: Drawn): SetsWay {
  return { readyAt: Math.round(meanOf(ends)), chance: meanOf(inTime), reworkMinutes };
}

function differenceOf(before: Float64Array, after: Float64Array): Difference {
  const differences = after.map((at, n) => at - before[n]!);
  const mean = meanOf(differences);
  const squares = differences.reduce((sum, d) => sum + (d - mean) ** 2, 0);
  const n = differences.length;
  return { mean, error: Math.sqrt(squares / (n * Math.max(1, n - 1))) };
}

/** The chance that the sign of a mean with this error is right: the normal distribution's, by its gamma form. */
function sureness({ mean, error }: Difference): number {
  if (error === 0) return mean === 0 ? 0.5 : 1;
  return 0.5 + 0.5 * gammaCdf((mean / error) ** 2 / 2, 0.5, 1);
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
