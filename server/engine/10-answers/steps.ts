/** Steps with their counts, minutes, links, state and dates. */

import type {
  Dates,
  ForecastPace,
  ForecastPhase,
  ForecastStep,
  LevelledDates,
  StepLink,
  StepUnits,
  UnderWay,
} from '../../model/index.ts';
import { hazardGuesses } from '../../model/index.ts';
import type { PlannedPhase, PlannedStep } from '../02-steps/index.ts';
import { dryUnits, failChanceOf, nextUnitMinutes, phaseBegun, triesOf, unitsOfLot } from '../02-steps/index.ts';
import {
  backAtOf,
  borrowedBySet,
  handsMinutesOf,
  lotsOfStep,
  phaseMinutes,
  phasesOfLot,
  type StepFeed,
  unitsFedBy,
} from '../04-lots/index.ts';
import { isInstant } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { levelledOfLot } from './last-moments.ts';
import { datesOfLot, runMinutesLeft } from './lots.ts';
import { partsFinder } from './parts-in.ts';

/**
 * Every step, gate and implied order: counts, minutes, links, state and dates. A step's slack is the least of its
 * lots'.
 */
export function stepsAnswer(planned: Planned): ForecastStep[] {
  const found = { byId: new Map(planned.plans.map((plan) => [plan.id, plan])), partsIn: partsFinder(planned) };
  return planned.plans.map((plan, index) => stepAnswer(planned, plan, index, found));
}

/** What is looked up for every step. */
interface Found {
  readonly byId: ReadonlyMap<string, PlannedStep>;
  readonly partsIn: (plan: PlannedStep) => StepUnits[];
}

function stepAnswer(planned: Planned, plan: PlannedStep, index: number, { byId, partsIn }: Found): ForecastStep {
  const { feeds, work } = planned;
  const lots = lotsOfStep(work, index);
  const { readyNow, waitsFor } = availability(planned, plan, byId);
  const hands = plan.phases.filter((phase) => phase.kind === 'hands');
  const machine = plan.phases.find((phase) => phase.kind === 'run');
  const lead = plan.phases.find((phase) => phase.kind === 'lead');
  const people = [...new Set(plan.phases.flatMap((phase) => ('eligible' in phase ? phase.eligible : [])))];
  const underWay = underWayOf(planned, plan);
  return {
    id: plan.id,
    name: plan.name,
    kind: plan.kind,
    part: plan.part,
    unit: unitOf(planned, plan),
    state: plan.left === 0 ? 'done' : plan.tally.firstAt !== null ? 'under-way' : 'not-begun',
    sets: plan.sets.map(({ set, total, done, counted, scrapped, left }) => ({
      set,
      total,
      done,
      counted,
      scrapped,
      left,
    })),
    total: plan.total,
    done: plan.total - plan.left,
    scrapped: plan.tally.scrapped,
    left: plan.left,
    lotSize: unitsOfLot(plan),
    ...(plan.gate === null ? {} : { gate: { failChance: failChanceOf(plan), ...triesOf(plan) } }),
    isLotAssumed: plan.isLotAssumed && plan.counted && plan.total > 1,
    handsMinutesPerUnit: hands.length === 0 ? null : nextUnitMinutes(plan),
    runMinutesPerLot: machine === undefined ? null : phaseMinutes(machine, plan, 1, unitsOfLot(plan)),
    waitMinutesPerLot: waitMinutes(plan),
    origin: plan.origin,
    handsMinutesLeft: minutesLeft(planned, lots, 'hands'),
    machineMinutesLeft: minutesLeft(planned, lots, 'run'),
    pattern: plan.phases.map(phaseAnswer),
    machine: machine === undefined ? null : work.resources[machine.machine]!.id,
    supplier: lead === undefined ? null : lead.supplier,
    people: people.map((resource) => work.resources[resource]!.id),
    peopleAtOnce: Math.max(0, ...plan.phases.map((phase) => ('people' in phase ? phase.people : 0))),
    hazards: plan.hazards,
    ...perhaps(planned, plan),
    onSite: plan.onSite,
    fedBy: feeds.filter((feed) => feed.to === plan.id).map((feed) => linkAnswer(feed, feed.from)),
    feeds: feeds.filter((feed) => feed.from === plan.id).map((feed) => linkAnswer(feed, feed.to)),
    readyNow,
    waitsFor,
    underWay,
    middleWaitMinutes: middleWaitMinutes(planned, plan),
    partsIn: partsIn(plan),
    sendsBack: sendsBackOf(planned, plan),
    lots: lots.length,
    dates: joinDates(
      lots.filter((lot) => isInstant(planned.dates.earlyFinish[lot]!)).map((lot) => datesOfLot(planned, lot)),
    ),
    levelled: joinLevelled(planned, lots),
    lastLogged: plan.tally.lastAt,
    pace: paceAnswer(planned, plan),
    ...runTimeAnswer(planned, plan),
  };
}

/** What is guessed of the hazards of a step that people do here, while nobody has named or denied any. */
function perhaps({ work }: Planned, { kind, name, step, phases, left }: PlannedStep): Pick<ForecastStep, 'perhaps'> {
  if (kind !== 'step' || step?.hazards !== undefined || left === 0) return {};
  const machines = phases.flatMap((phase) => (phase.kind === 'run' ? [work.resources[phase.machine]!.name] : []));
  const guesses = hazardGuesses(name, machines);
  return guesses.length === 0 ? {} : { perhaps: guesses };
}

function middleWaitMinutes({ surroundings }: Planned, plan: PlannedStep): number | null {
  const phases = phasesOfLot(plan, 1, unitsOfLot(plan), false, surroundings);
  const begun = phases[phaseBegun(phases, { kind: 'loaded' })];
  return begun?.kind === 'wait' ? begun.minutes : null;
}

/** What a failure of a gate sends back; a formula that cannot be read counts one, and has its own problem. */
function sendsBackOf({ quantities }: Planned, { id, gate }: PlannedStep): StepUnits[] {
  return (gate?.sendsBack ?? []).map(({ step, units }) => ({
    step,
    units: quantities.evaluator.count(units, `gates.${id}.sendsBack`) ?? 1,
  }));
}

function paceAnswer({ paces }: Planned, plan: PlannedStep): ForecastPace | null {
  const pace = paces.get(plan.id);
  if (pace === undefined) return null;
  const { minutesPerUnit, low, high, units, minutes, origin, estimate, notes, learningRate = 1 } = pace;
  return { minutesPerUnit, low, high, units, minutes, origin, estimate, notes, learningRate };
}

function runTimeAnswer({ runTimes }: Planned, plan: PlannedStep): Pick<ForecastStep, 'runTime'> {
  const time = runTimes.get(plan.id);
  if (time === undefined) return {};
  const { kind, minutes, low, high, estimate, loads, counted, notes } = time;
  return { runTime: { kind, minutes, low, high, estimate, loads, counted, notes } };
}

function waitMinutes(plan: PlannedStep): number | null {
  const waits = plan.phases.filter((phase) => phase.kind === 'wait');
  return waits.length === 0 ? null : waits.reduce((total, phase) => total + phase.fixedMinutes, 0);
}

function minutesLeft({ work }: Planned, lots: readonly number[], kind: 'hands' | 'run'): number {
  return lots.reduce((minutes, l) => {
    const lot = work.lots[l]!;
    if (kind === 'hands') return minutes + handsMinutesOf(lot);
    return lot.phases.reduce(
      (sum, phase) => sum + (phase.kind === 'run' ? runMinutesLeft(lot, phase, work.now) : 0),
      minutes,
    );
  }, 0);
}

function phaseAnswer(phase: PlannedPhase): ForecastPhase {
  if (phase.kind === 'lead') return { kind: 'lead', supplier: phase.supplier, workingDays: phase.workingDays };
  const minutesPerUnit = phase.kind === 'hands' ? phase.firstUnitMinutes : phase.minutesPerUnit;
  return { kind: phase.kind, fixedMinutes: phase.fixedMinutes, minutesPerUnit };
}

function linkAnswer(feed: StepFeed, step: string): StepLink {
  const ratio = feed.type === 'units' ? feed.ratio : null;
  const each = feed.each === undefined ? {} : { each: feed.each };
  return { step, type: feed.type, ratio, ...each, lagMinutes: feed.lagMinutes, given: feed.origin };
}

function unitOf({ build }: Planned, plan: PlannedStep): string {
  if (plan.kind === 'gate') return 'check';
  if (plan.part === null) return plan.counted ? 'unit' : plan.perSet ? (build.sets?.name ?? 'job') : 'job';
  return build.parts?.find((part) => part.id === plan.part)?.name ?? 'unit';
}

/** Units that can be worked on with what is here and dry now, and the first step that holds up the rest. */
function availability(
  { feeds, now }: Planned,
  plan: PlannedStep,
  byId: Found['byId'],
): { readyNow: number | null; waitsFor: string | null } {
  const underWay = plan.tally.starts.reduce((units, start) => units + start.open, 0);
  let ready = Math.max(0, plan.left - underWay);
  let waitsFor: string | null = null;
  for (const feed of feeds) {
    const from = byId.get(feed.from);
    if (feed.to !== plan.id || from === undefined) continue;
    const dry = dryUnits(from, from.tally, from.total - from.left, now);
    const bySets = plan.perSet && from.perSet;
    let allowed = plan.left;
    if (from.left === 0 && dry >= from.total) continue;
    if (feed.type === 'units') {
      allowed =
        (bySets ? reachInSets(feed, from, plan, now) : unitsFedBy(feed, dry, feed.inStock) - (plan.total - plan.left)) -
        underWay;
    } else if (feed.type === 'finish-start') {
      allowed = bySets ? unitsBehindDoneSets(from, plan) : 0;
    }
    if (allowed < ready) {
      ready = Math.max(0, allowed);
      waitsFor = from.id;
    }
  }
  return { readyNow: ready, waitsFor };
}

/** A set has what is here of its own share, and of what it borrows from others; of a stock each has an equal part. */
function reachInSets(feed: StepFeed, from: PlannedStep, to: PlannedStep, now: number): number {
  const stock = feed.inStock / to.sets.length;
  const dry = from.sets.map(({ set, done }) => dryUnits(from, from.tally.sets.get(set!) ?? from.tally, done, now));
  const borrowed = borrowedBySet(feed, from, to);
  return to.sets.reduce((units, { done, left }, i) => {
    const lent = borrowed[i]!.filter(({ giver, unit }) => unit <= dry[giver]!).length;
    const isAllHere = dry[i]! >= from.sets[i]!.total && lent === borrowed[i]!.length;
    const reach = isAllHere ? left : unitsFedBy(feed, dry[i]! + lent, stock) - done;
    return units + Math.max(0, Math.min(left, reach));
  }, 0);
}

function unitsBehindDoneSets(from: PlannedStep, to: PlannedStep): number {
  return to.sets.reduce((units, set, i) => units + (from.sets[i]?.left === 0 ? set.left : 0), 0);
}

function underWayOf({ surroundings }: Planned, plan: PlannedStep): UnderWay[] {
  const bySet = plan.sets.flatMap((set) => set.starts.map((start) => ({ set: set.set, start })));
  const named = new Set(bySet.map(({ start }) => start.entry));
  const rest = plan.tally.starts.filter((start) => !named.has(start.entry)).map((start) => ({ set: null, start }));
  return [...bySet, ...rest].map(({ set, start }) => {
    const phases = phasesOfLot(plan, 1, Math.max(1, start.open), false, surroundings);
    const begun = phases[phaseBegun(phases, start)];
    return {
      kind: start.kind,
      entry: start.entry,
      set,
      units: start.open,
      since: start.at,
      backAt: backAtOf(start, begun),
      promised: start.promisedAt !== null,
      machine: start.machine,
    };
  });
}

type DateName = Exclude<keyof Dates, 'critical'>;

function joinDates(dates: readonly Dates[]): Dates | null {
  if (dates.length === 0) return null;
  const least = (key: DateName) =>
    known(
      dates.map((date) => date[key]),
      Math.min,
    );
  const most = (key: DateName) =>
    known(
      dates.map((date) => date[key]),
      Math.max,
    );
  return {
    earlyStart: least('earlyStart'),
    earlyFinish: most('earlyFinish'),
    lateStart: least('lateStart'),
    lateFinish: most('lateFinish'),
    totalSlackClock: least('totalSlackClock'),
    totalSlackWorking: least('totalSlackWorking'),
    freeSlackClock: least('freeSlackClock'),
    freeSlackWorking: least('freeSlackWorking'),
    slackToOwnEnd: least('slackToOwnEnd'),
    slackToEvent: least('slackToEvent'),
    critical: dates.some((date) => date.critical),
  };
}

function joinLevelled(planned: Planned, indices: readonly number[]): LevelledDates | null {
  const placed = indices.flatMap((lot) => {
    const levelled = levelledOfLot(planned, lot);
    return levelled === null ? [] : [{ ...levelled, isSpare: planned.work.lots[lot]!.spare === true }];
  });
  if (placed.length === 0) return null;
  return {
    start: Math.min(...placed.map((lot) => lot.start)),
    finish: Math.max(...placed.map((lot) => lot.finish)),
    lastStart: known(
      placed.map((lot) => lot.lastStart),
      Math.min,
    ),
    lastFinish: lastFinishOf(placed),
    room: known(
      placed.map((lot) => lot.room ?? null),
      Math.min,
    ),
  };
}

/**
 * The last moment of what is planned last: a load that runs now may come off days later than the loads after it may.
 * Spares have until the event, so they say nothing of when the step must be finished, unless nothing else is left.
 */
function lastFinishOf(lots: readonly (LevelledDates & { readonly isSpare: boolean })[]): number | null {
  const known = lots.flatMap(({ finish, lastFinish, isSpare }) =>
    lastFinish === null ? [] : [{ finish, lastFinish, isSpare }],
  );
  const needed = known.filter(({ isSpare }) => !isSpare);
  const [last] = (needed.length > 0 ? needed : known).sort(
    (a, b) => b.finish - a.finish || a.lastFinish - b.lastFinish,
  );
  return last?.lastFinish ?? null;
}

/** The known number that `pick` picks; null for none. */
function known(values: readonly (number | null)[], pick: (...numbers: number[]) => number): number | null {
  const numbers = values.filter((value) => value !== null);
  return numbers.length === 0 ? null : pick(...numbers);
}
