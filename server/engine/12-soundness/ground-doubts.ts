/**
 * What in a log, or in what a build says of chances, is kept and planned with, but looks as if somebody should look at
 * it.
 */
import type { Build, Doubt, DoubtValues, PhaseShape } from '../../model/index.ts';
import type { PartCount, Quantities } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { paceDoubts } from '../03-pace/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import { openMinutesBetween } from '../calendar/index.ts';
import type { Tally, TimedEntry } from '../log/index.ts';
import { ceilCount } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';

const DAY = 1440;
/** Clocks that differ by less say nothing. */
const CLOCKS_APART = 10;
/** A build that began this long ago, with nothing logged, is asked about. */
const QUIET_BEGIN = 2 * DAY;
/** Days between two entries, or since the last one, that are asked about. */
const LONG_GAP = 14 * DAY;
/** An entry so long before the build begins was made by a clock that is wrong. */
const LONG_BEFORE = 30 * DAY;

/** All doubts of a plan, in one order; of a build that is done, scrap is not asked about. Linear in log and steps. */
export function doubtsOf(planned: Planned): Doubt[] {
  const { asked, build, plans, tally, surroundings, quantities, paces } = planned;
  const isOver = plans.length > 0 && plans.every(({ left }) => left === 0);
  return [
    ...(asked.paces === undefined ? paceDoubts(paces, plans) : []),
    ...logDoubts(tally, surroundings),
    ...(isOver ? [] : scrapDoubts(plans, quantities)),
    ...passedDoubts(plans),
    ...loadingDoubts(planned),
    ...gateDoubts(build),
    ...hoursDoubts(surroundings),
    ...nameDoubts(build),
  ];
}

/**
 * A doubt for a log that is empty though the build has begun, that has a gap of weeks, or whose entries lie ahead of
 * now or long before the build begins. Their counts are used; a gap is read neither as work nor as days lost.
 */
function logDoubts({ standing }: Tally, { now, start, event }: Surroundings): Doubt[] {
  if (standing.length === 0) {
    if (start === null || now - start < QUIET_BEGIN || now > event) return [];
    return [{ code: 'nothing-logged', field: 'log', values: { start } }];
  }
  const ahead = standing.filter(({ at }) => at > now + CLOCKS_APART);
  const before = start === null ? [] : standing.filter(({ at }) => at < start - LONG_BEFORE);
  const right = standing.filter(
    ({ at }) => !ahead.some((entry) => entry.at === at) && !before.some((entry) => entry.at === at),
  );
  return [...wrongClock(ahead, 'ahead'), ...wrongClock(before, 'before'), ...gapsIn(right, Math.min(now, event))];
}

function wrongClock(entries: readonly TimedEntry[], lies: DoubtValues['wrong-clock']['lies']): Doubt[] {
  const [first] = entries;
  if (first === undefined) return [];
  const { id, at, kind } = first;
  return [{ code: 'wrong-clock', field: `log.${id}`, values: { entries: entries.length, at, kind, lies } }];
}

function gapsIn(entries: readonly TimedEntry[], end: Instant): Doubt[] {
  return entries.flatMap(({ at, id }, i): Doubt[] => {
    const to = entries[i + 1]?.at ?? null;
    const minutes = (to ?? end) - at;
    return minutes < LONG_GAP ? [] : [{ code: 'log-gap', field: `log.${id}`, values: { from: at, to, minutes } }];
  });
}

/** A doubt for people, machines or suppliers of one name: on every sheet they look like one. */
function nameDoubts({ people = [], machines = [], suppliers = [] }: Build): Doubt[] {
  return [...alike('people', people), ...alike('machines', machines), ...alike('suppliers', suppliers)];
}

function alike(
  list: DoubtValues['same-name']['list'],
  things: readonly { readonly id: string; readonly name: string }[],
): Doubt[] {
  const byName = new Map<string, string[]>();
  for (const { id, name } of things) {
    const key = name.trim().toLowerCase();
    byName.set(key, [...(byName.get(key) ?? []), id]);
  }
  return [...byName.values()].flatMap((ids): Doubt[] => {
    const last = things.find(({ id }) => id === ids.at(-1))!;
    if (new Set(ids).size < 2) return [];
    return [{ code: 'same-name', field: `${list}.${last.id}.name`, values: { list, ids, name: last.name } }];
  });
}

/**
 * A doubt for each part that lost more in scrapped units than its spares make up for. A step makes its own scrap again;
 * whether what was in it is lost or can be taken out again only the maker knows, so parts are not counted again by
 * themselves. A part that several steps take is not looked at.
 */
function scrapDoubts(plans: readonly PlannedStep[], { parts }: Quantities): Doubt[] {
  return [...parts.values()].flatMap((count): Doubt[] => {
    const { part, spares } = count;
    const lost = takersOf(plans, count, parts).map(({ step, perUnit, planned }) => {
      const route = step.part === null ? [step] : plans.filter((plan) => plan.part === step.part);
      const scrapped = route.slice(route.indexOf(step)).reduce((sum, plan) => sum + plan.tally.scrappedUnasked, 0);
      const more = step.tally.good + step.tally.scrapped + step.left - planned;
      return { step, units: Math.max(0, Math.min(scrapped, more)), perUnit };
    });
    const asked = ceilCount(lost.reduce((sum, { units, perUnit }) => sum + units * perUnit, 0));
    const [worst] = lost.filter(({ units }) => units > 0);
    if (worst === undefined || asked <= spares) return [];
    const values = { step: worst.step.id, units: worst.units, part: part.name, asked, spares };
    return [{ code: 'scrapped-parts', field: `parts.${part.id}.spares`, values }];
  });
}

/**
 * A doubt for each step with units left, where more are through a later step of its part than are counted at it: those
 * were made, and perhaps nobody counted them. A step that says itself what it comes after is not looked past.
 */
function passedDoubts(plans: readonly PlannedStep[]): Doubt[] {
  const routes = new Map<string, PlannedStep[]>();
  for (const plan of plans) {
    if (plan.kind !== 'step' || plan.part === null) continue;
    const route = routes.get(plan.part);
    if (route === undefined) routes.set(plan.part, [plan]);
    else route.push(plan);
  }
  return [...routes.values()].flatMap((route) => {
    const found: Doubt[] = [];
    let furthest: PlannedStep | null = null;
    for (const plan of route.toReversed()) {
      const { id, left, tally, step } = plan;
      const passed = furthest?.tally.good ?? 0;
      if (furthest !== null && passed > tally.good && left > 0) {
        const values = { step: id, counted: tally.good, later: furthest.id, passed };
        found.unshift({ code: 'passed-more', field: `steps.${id}`, values });
      }
      if (step?.after !== undefined) furthest = null;
      else if (tally.good >= passed) furthest = plan;
    }
    return found;
  });
}

interface Taker {
  readonly step: PlannedStep;
  readonly perUnit: number;
  /** Units of the step that the part was counted for. */
  readonly planned: number;
}

function takersOf(plans: readonly PlannedStep[], count: PartCount, parts: Quantities['parts']): Taker[] {
  const taker = (step: PlannedStep, perUnit: number | undefined): Taker => {
    const planned = step.part === null ? step.total : (parts.get(step.part)?.fedFor ?? step.total);
    return { step, perUnit: perUnit ?? count.need / Math.max(1, planned), planned };
  };
  const perUnitOf = (parent: string | null) => count.usedIn.find((use) => use.part === parent)?.count;
  const users = plans.filter((plan) => plan.step?.uses?.includes(count.part.id));
  if (users.length > 0) return users.length > 1 ? [] : users.map((step) => taker(step, perUnitOf(step.part)));
  return count.usedIn.flatMap((use) => {
    const first = plans.find((plan) => plan.part === use.part);
    return first === undefined ? [] : [taker(first, use.count)];
  });
}

/**
 * One doubt for all runs that begin as planned while nobody is there, since their steps have no hands beside a run, not
 * even of no minutes: perhaps somebody has to load them.
 */
function loadingDoubts({ build, plans, work, schedule, beyond, surroundings }: Planned): Doubt[] {
  const { working, people } = surroundings;
  if (schedule === null || people.size === 0) return [];
  const bare = new Set(build.steps.filter(({ phases = [] }) => hasBareRun(phases)).map(({ id }) => id));
  if (bare.size === 0) return [];
  const begun = schedule.placements.filter(({ lot, phase, start }) => {
    const { step, phases, begunAt } = work.lots[lot]!;
    if (begunAt !== null || beyond.has(lot) || !bare.has(plans[step]!.id)) return false;
    const run = phases[phase]!;
    return run.kind === 'run' && !run.attended && openMinutesBetween(working, start, start + 1) === 0;
  });
  if (begun.length === 0) return [];
  const steps = [...new Set(begun.map(({ lot }) => plans[work.lots[lot]!.step]!.id))];
  const first = Math.min(...begun.map(({ start }) => start));
  return [{ code: 'nobody-loads', field: `steps.${steps[0]}.phases`, values: { steps, runs: begun.length, first } }];
}

function hasBareRun(phases: readonly PhaseShape[]): boolean {
  return phases.some(
    ({ kind }, i) => kind === 'run' && phases[i - 1]?.kind !== 'hands' && phases[i + 1]?.kind !== 'hands',
  );
}

/** A doubt for each gate that is said always to fail, or never. */
function gateDoubts(build: Build): Doubt[] {
  return (build.gates ?? []).flatMap(({ id, name, failChance }): Doubt[] => {
    if (failChance !== 0 && failChance !== 1) return [];
    const fails = failChance === 1 ? 'always' : 'never';
    return [{ code: 'gate-chance', field: `gates.${id}.failChance`, values: { name, fails } }];
  });
}

/** A doubt where the ready-by is ahead, but nobody has an hour before it. */
function hoursDoubts({ now, from, readyBy, working, people }: Surroundings): Doubt[] {
  if (people.size === 0 || readyBy <= now || openMinutesBetween(working, from, readyBy) > 0) return [];
  return [{ code: 'no-hours', field: 'people', values: { readyBy } }];
}
