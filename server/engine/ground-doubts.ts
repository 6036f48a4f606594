/** What in a log, or in what a build says of chances, is kept and planned with, but looks as if somebody should look at it. */
import { type Build, type Problem, warning } from '../model/index.ts';
import { durationLabel, momentLabel } from './labels.ts';
import type { Tally, TimedEntry } from './log-tally.ts';
import { openMinutesBetween } from './open-time.ts';
import type { PartCount, Quantities } from './quantities.ts';
import { ceilCount } from './rounding.ts';
import type { Setting } from './setting.ts';
import type { StepPlan } from './step-plan.ts';

const DAY = 1440;
/** Clocks that differ by less say nothing. */
const CLOCKS_APART = 10;
/** A build that began so long ago, with nothing logged, is asked about. */
const QUIET_BEGIN = 2 * DAY;
/** Days between two entries, or since the last one, that are asked about. */
const LONG_GAP = 14 * DAY;
/** An entry so long before the build begins was made by a clock that is wrong. */
const LONG_BEFORE = 30 * DAY;

/**
 * A warning for a log that is empty though the build has begun, that has a gap of weeks, or whose entries lie ahead of now or long before
 * the build begins. Their counts are used; a gap is read neither as work nor as days lost.
 */
export function logDoubts({ standing }: Tally, { now, start, zone, event }: Setting): Problem[] {
  const say = (field: string, value: string, message: string): Problem => warning('log', field, value, message);
  const when = (at: number): string => momentLabel(at, zone);
  if (standing.length === 0) {
    if (start === null || now - start < QUIET_BEGIN || now > event) return [];
    const message = `Nothing is logged yet, though the build began ${when(start)}: every pace is as it was estimated and all units are taken to be left. Count what is done.`;
    return [say('log', 'nothing', message)];
  }
  const ahead = standing.filter(({ at }) => at > now + CLOCKS_APART);
  const before = start === null ? [] : standing.filter(({ at }) => at < start - LONG_BEFORE);
  const wrongClock = (entries: readonly TimedEntry[], lies: string): Problem[] => {
    const [first] = entries;
    if (first === undefined) return [];
    const many = entries.length === 1 ? 'One entry lies' : `${entries.length} entries lie`;
    const message = `${many} ${lies} (${when(first.at)}, "${first.kind}"): the clock that made it was wrong. What it counts is used, its hour tells little; take it back and log it anew to mend it.`;
    return [say(`log.${first.id}`, when(first.at), message)];
  };
  return [
    ...wrongClock(ahead, 'ahead of now'),
    ...wrongClock(before, 'more than 30 days before the build begins'),
    ...gaps(standing.filter(({ at }) => !ahead.some((entry) => entry.at === at) && !before.some((e) => e.at === at))),
  ];

  function gaps(entries: readonly TimedEntry[]): Problem[] {
    return entries.flatMap(({ at, id }, i) => {
      const next = entries[i + 1]?.at ?? Math.min(now, event);
      if (next - at < LONG_GAP) return [];
      const until = i + 1 < entries.length ? `and ${when(next)}` : 'and now';
      const message = `Nothing is logged between ${when(at)} ${until}, ${durationLabel(next - at)}: it is read neither as work nor as days lost. If days were lost, log them; if units were made, count them.`;
      return [say(`log.${id}`, durationLabel(next - at), message)];
    });
  }
}

/** A warning for people, machines or suppliers of one name: on every sheet they look like one. */
export function nameDoubts({ people = [], machines = [], suppliers = [] }: Build): Problem[] {
  return [...alike('people', people), ...alike('machines', machines), ...alike('suppliers', suppliers)];
}

function alike(list: string, things: readonly { readonly id: string; readonly name: string }[]): Problem[] {
  const byName = new Map<string, string[]>();
  for (const { id, name } of things) {
    const key = name.trim().toLowerCase();
    byName.set(key, [...(byName.get(key) ?? []), id]);
  }
  return [...byName.values()].flatMap((ids) => {
    const last = things.find(({ id }) => id === ids.at(-1))!;
    if (new Set(ids).size < 2) return [];
    const named = ids.map((id) => `"${id}"`).join(' and ');
    const message = `The ${list} ${named} are ${ids.length === 2 ? 'both' : 'all'} called "${last.name}", so no sheet tells them apart: rename one of them.`;
    return [warning('duplicate-id', `${list}.${last.id}.name`, last.name, message)];
  });
}

/**
 * A warning for each part of which more went into scrapped units than its spares make up for. A step makes its own scrap again; whether
 * what was in it is lost or can be taken out again only the maker knows, so parts are not counted anew by themselves. A part
 * that several steps take is not looked at.
 */
export function scrapDoubts(plans: readonly StepPlan[], { parts }: Quantities): Problem[] {
  return [...parts.values()].flatMap((count) => {
    const { part, spares } = count;
    const lost = takersOf(plans, count, parts).map(({ step, perUnit, planned }) => {
      const route = step.part === null ? [step] : plans.filter((plan) => plan.part === step.part);
      const scrapped = route.slice(route.indexOf(step)).reduce((sum, plan) => sum + plan.tally.scrapped, 0);
      const more = step.tally.done + step.tally.scrapped + step.left - planned;
      return { step, units: Math.max(0, Math.min(scrapped, more)), perUnit };
    });
    const asked = ceilCount(lost.reduce((sum, { units, perUnit }) => sum + units * perUnit, 0));
    const [worst] = lost.filter(({ units }) => units > 0);
    if (worst === undefined || asked <= spares) return [];
    const units = worst.units === 1 ? 'one more unit' : `${worst.units} more units`;
    const message = `"${worst.step.name}" must make ${units} than was planned, since as many were scrapped there or later, which takes ${asked} more of ${part.name}; its spares are ${spares}. If what was in the scrap is lost, make the spares ${asked}; if it could be saved, leave them.`;
    return [warning('log', `parts.${part.id}.spares`, spares, message)];
  });
}

interface Taker {
  readonly step: StepPlan;
  readonly perUnit: number;
  /** Units of the step that the part was counted for. */
  readonly planned: number;
}

function takersOf(plans: readonly StepPlan[], count: PartCount, parts: Quantities['parts']): Taker[] {
  const taker = (step: StepPlan, perUnit: number | undefined): Taker => {
    const planned = step.part === null ? step.total : (parts.get(step.part)?.toMake ?? step.total);
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

/** A warning for each gate that is said always to fail, or never. */
export function gateDoubts(build: Build): Problem[] {
  return (build.gates ?? []).flatMap(({ id, name, failChance }) => {
    if (failChance !== 0 && failChance !== 1) return [];
    const message =
      failChance === 1
        ? `"${name}" is said to fail every time (chance 1): in the futures it fails as often in a row as they allow, and the date is no use. Give the share that really fails, such as 0.2.`
        : `"${name}" is said never to fail (chance 0): no time is kept for mending and trying again. Give a small chance, such as 0.05, if it may.`;
    return [warning('range', `gates.${id}.failChance`, failChance, message)];
  });
}

/** A warning where the ready-by lies ahead, but nobody has an hour before it. */
export function hoursDoubts({ now, from, readyBy, working, people, zone }: Setting): Problem[] {
  if (people.size === 0 || readyBy <= now || openMinutesBetween(working, from, readyBy) > 0) return [];
  const message = `Nobody has a working hour between now and the ready-by (${momentLabel(readyBy, zone)}): no hands' work can be done in time. Give somebody hours, or move the ready-by.`;
  return [warning('hours', 'people', 'no hours', message)];
}
