/**
 * Units that were sent back: they are done again before whatever rests on them, also where the steps in between are
 * done.
 */

import type { PlannedSet, PlannedStep } from '../02-steps/index.ts';
import type { SetTally } from '../log/index.ts';
import type { Link, Lot } from '../types.ts';
import type { LotRun } from './lot-run.ts';
import type { StepFeed } from './step-feeds.ts';
import { unitsNeeded } from './unit-needs.ts';

/** The lots of all steps with the links that their feeds make. */
interface Linked {
  readonly plans: readonly PlannedStep[];
  readonly feeds: readonly StepFeed[];
  readonly runs: readonly (readonly LotRun[])[];
  readonly lots: readonly Lot[];
  readonly links: readonly Link[];
}

/** This many units of a step, in one set or in the whole, that are to be done again. */
interface Return {
  readonly step: number;
  readonly set: number | null;
  readonly units: number;
}

/**
 * Links from the lots that do again what was sent back, to the first open lots behind steps that are done already
 * (these have no lots that could pass the waiting on), and to the next try of a gate that sends units of the step back.
 * None where it would close a circle. O(returns x links); a build in which nothing was sent back has none.
 */
export function linksOfReturns(work: Linked): Link[] {
  const made: Link[] = [];
  for (const back of returnsOf(work.plans)) {
    const sources = lotsOf(work, back);
    const before = reaching(sources, [...work.links, ...made]);
    for (const to of new Set([...behindDoneSteps(work, back), ...nextTries(work, back)])) {
      if (before.has(to)) continue;
      for (const from of sources)
        made.push({ from, to, type: 'finish-start', lagMinutes: 0, lagOpen: null, reason: 'feed' });
    }
  }
  return made;
}

/** Units sent back and not done again: what is counted after that is taken to be theirs. O(counts). */
function unitsSentBack({ counts }: Pick<SetTally, 'counts'>): number {
  return counts.reduce((units, [, change]) => Math.max(0, units - change), 0);
}

function returnsOf(plans: readonly PlannedStep[]): Return[] {
  return plans.flatMap((plan, step) => {
    if (plan.left === 0 || plan.kind === 'gate') return [];
    const units = plan.perSet ? unitsBySet(plan) : [Math.min(plan.left, unitsSentBack(plan.tally))];
    return plan.sets.flatMap(({ set }, i) => (units[i]! > 0 ? [{ step, set, units: units[i]! }] : []));
  });
}

/** What was sent back without a set was taken from the last sets first: see `countUnits`. */
function unitsBySet({ sets, tally }: PlannedStep): number[] {
  const named = sets.map(({ set, left }) => Math.min(left, unitsSentBack(tally.sets.get(set!) ?? { counts: [] })));
  let unnamed = unitsSentBack(tally) - named.reduce((sum, units) => sum + units, 0);
  for (let i = sets.length - 1; i >= 0 && unnamed > 0; i--) {
    const more = Math.min(unnamed, sets[i]!.left - named[i]!);
    named[i] = named[i]! + more;
    unnamed -= more;
  }
  return named;
}

/** The lots that cover the first units left. */
function lotsOf({ plans, runs, lots }: Linked, { step, set, units }: Return): number[] {
  const { offset, done } = setOf(plans[step]!, set);
  return runOf(runs, step, set).lots.filter((lot) => lots[lot]!.firstUnit <= offset + done + units);
}

/**
 * The first open lots that follow the step through steps with nothing left, as long as these rest on what was sent
 * back.
 */
function behindDoneSteps(work: Linked, back: Return): number[] {
  const found: number[] = [];
  const seen = new Set<string>();
  const visit = (step: number, set: number | null): void => {
    for (const feed of work.feeds) {
      if (feed.from !== work.plans[step]!.id || (feed.type !== 'units' && feed.type !== 'finish-start')) continue;
      const to = work.plans.findIndex(({ id }) => id === feed.to);
      for (const run of runsFed(work, step, set, to)) {
        const first = firstOpen(work, run);
        const isNext = step === back.step && set === back.set;
        if (run.lots.length > 0 && !isNext && first !== undefined) found.push(first);
        if (run.lots.length > 0 || seen.has(`${to} ${run.set}`)) continue;
        if (isNext && !restsOn(work, feed, back, to, run.set)) continue;
        seen.add(`${to} ${run.set}`);
        visit(to, run.set);
      }
    }
  };
  visit(back.step, back.set);
  return found;
}

/** Whether a done step has used more of the units than there still are. */
function restsOn({ plans }: Linked, feed: StepFeed, { step, set }: Return, to: number, toSet: number | null): boolean {
  if (feed.type !== 'units') return true;
  const [from, follower] = [plans[step]!, plans[to]!];
  if (!from.perSet || !follower.perSet) {
    const passed = from.total - from.left;
    return unitsNeeded(feed, follower.total, passed, feed.inStock) > passed;
  }
  const { done } = setOf(from, set);
  return unitsNeeded(feed, setOf(follower, toSet).total, done, feed.inStock / from.sets.length) > done;
}

/** The gates that failed and send units of this step back: their next tries. */
function nextTries(work: Linked, back: Return): number[] {
  const id = work.plans[back.step]!.id;
  return work.plans.flatMap(({ gate, tally }, step) => {
    if (!gate?.sendsBack?.some((sent) => sent.step === id) || tally.failures === 0) return [];
    return runsFed(work, back.step, back.set, step).flatMap((run) => {
      const hasFailed = run.set === null || (tally.sets.get(run.set)?.failures ?? tally.failures) > 0;
      return hasFailed ? (firstOpen(work, run) ?? []) : [];
    });
  });
}

/** Per-set steps feed within their set; otherwise all of the one waits for all of the other. */
function runsFed({ plans, runs }: Linked, from: number, set: number | null, to: number): readonly LotRun[] {
  const withinSet = set !== null && plans[from]!.perSet && plans[to]!.perSet;
  return runs[to]!.filter((run) => !withinSet || run.set === set);
}

function firstOpen({ lots }: Linked, run: LotRun): number | undefined {
  return run.lots.find((lot) => lots[lot]!.begunAt === null);
}

/** All lots that one of these waits for, and they themselves. */
function reaching(targets: readonly number[], links: readonly Link[]): ReadonlySet<number> {
  const sources = new Map<number, number[]>();
  for (const { from, to } of links) {
    const known = sources.get(to);
    if (known === undefined) sources.set(to, [from]);
    else known.push(from);
  }
  const found = new Set(targets);
  for (const lot of found) for (const source of sources.get(lot) ?? []) found.add(source);
  return found;
}

function runOf(runs: Linked['runs'], step: number, set: number | null): LotRun {
  return runs[step]!.find((run) => run.set === set)!;
}

function setOf({ sets }: PlannedStep, set: number | null): PlannedSet {
  return sets.find((one) => one.set === set)!;
}
