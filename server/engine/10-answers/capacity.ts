/** Hours needed against hours there, for hands and machines. */
import type { CapacityGroup } from '../../model/index.ts';
import {
  addOpenMinutes,
  calendarFrom,
  dateText,
  daysBetween,
  isInstant,
  MINUTES_PER_DAY,
  openMinutesBetween,
  subtractOpenTime,
} from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Calendar, Instant } from '../types.ts';
import { runMinutesLeft } from './lots.ts';

/**
 * The first evening's answer: minutes of hands and machines that the workshop's work needs against those there are from
 * now to the ready-by, day by day. Needs no network, so it holds while feeds are missing. A group is everybody, or a
 * set of people whom some work asks for: the work that only they may do, against all of their hours (the energy bound
 * over one window). Spares have until the event, so their minutes are none of those needed; they stand beside them.
 */
export function capacityAnswer(planned: Planned): CapacityGroup[] {
  return [...peopleGroups(planned), ...machineGroups(planned)];
}

/** Minutes of work: what the date waits for, and spares. */
interface Minutes {
  minutes: number;
  spares: number;
}

interface Need extends Minutes {
  readonly resources: readonly number[];
}

function peopleGroups(planned: Planned): CapacityGroup[] {
  const { surroundings } = planned;
  const people = [...surroundings.people.values()];
  if (people.length === 0) return [];
  const each = needsOfPeople(planned);
  const everybody = people.map((person) => person.resource);
  const asked = new Map([
    [everybody.join(), everybody],
    ...[...each].map(([key, { resources }]) => [key, resources] as const),
  ]);
  return [...asked.values()].flatMap((resources) => {
    const members = new Set(resources);
    const within = [...each.values()].filter((need) => need.resources.every((resource) => members.has(resource)));
    const needed = sumOf(within);
    if (needed.minutes + needed.spares === 0 && members.size < everybody.length) return [];
    const named = people.filter((person) => members.has(person.resource));
    const isAll = named.length === people.length && people.length > 1;
    return group(planned, {
      id: named.map((person) => person.id).join('+'),
      name: isAll ? 'all hands' : named.map((person) => person.name).join(' or '),
      kind: 'people',
      members: named.map((person) => person.id),
      needed,
      calendars: named.map((person) => person.open),
    });
  });
}

/** What each set of people is asked for, by its numbers in order. */
function needsOfPeople({ work, plans }: Planned): Map<string, Need> {
  const needs = new Map<string, Need>();
  const keys = new Map<readonly number[], string>();
  for (const lot of work.lots) {
    if (plans[lot.step]!.onSite) continue;
    for (const phase of lot.phases) {
      if ((phase.kind !== 'hands' && phase.kind !== 'run') || phase.people === 0) continue;
      const key = keys.get(phase.eligible) ?? [...phase.eligible].sort((a, b) => a - b).join();
      keys.set(phase.eligible, key);
      const need = needs.get(key) ?? { resources: phase.eligible, minutes: 0, spares: 0 };
      need[lot.spare === true ? 'spares' : 'minutes'] += phase.minutes * phase.people;
      needs.set(key, need);
    }
  }
  return needs;
}

function machineGroups(planned: Planned): CapacityGroup[] {
  const { work, surroundings, plans } = planned;
  const needs = work.resources.map((): Minutes => ({ minutes: 0, spares: 0 }));
  for (const lot of work.lots) {
    if (plans[lot.step]!.onSite) continue;
    for (const phase of lot.phases) {
      if (phase.kind !== 'run') continue;
      needs[phase.machine]![lot.spare === true ? 'spares' : 'minutes'] += runMinutesLeft(lot, phase, work.now);
    }
  }
  return [...surroundings.machines.values()].map((machine) => {
    const { out = [] } = work.resources[machine.resource]!;
    return group(planned, {
      id: machine.id,
      name: machine.name,
      kind: 'machine',
      members: [machine.id],
      needed: needs[machine.resource]!,
      calendars: calendarsOf(machine.open, machine.count, out),
    });
  });
}

function sumOf(needs: readonly Minutes[]): Minutes {
  const sum = { minutes: 0, spares: 0 };
  for (const { minutes, spares } of needs) {
    sum.minutes += minutes;
    sum.spares += spares;
  }
  return sum;
}

/** The hours of each of several alike; whichever is out of order, together they are there as long. */
export function calendarsOf(open: Calendar, count: number, out: readonly (readonly [Instant, Instant])[]): Calendar[] {
  const lost = Array.from({ length: count }, (): (readonly [Instant, Instant])[] => []);
  for (const [from, until] of out) {
    const free = lost.find((own) => own.every(([a, b]) => b <= from || until <= a));
    free?.push([from, until]);
  }
  return lost.map((own) => (own.length === 0 ? open : subtractOpenTime(open, calendarFrom(own))));
}

interface Asked {
  readonly id: string;
  readonly name: string;
  readonly kind: CapacityGroup['kind'];
  readonly members: readonly string[];
  readonly needed: Readonly<Minutes>;
  readonly calendars: readonly Calendar[];
}

/** Days that are listed: one more than any page shows. Of 200 machines over years all of them would weigh 15 MB. */
const MOST_DAYS = 101;

function group({ surroundings, now }: Planned, asked: Asked): CapacityGroup {
  const { needed, calendars, ...named } = asked;
  const alike = countedOf(calendars);
  const open = (from: Instant, to: Instant): number => offeredBy(alike, from, to);
  let cumulativeMinutes = 0;
  const { from, readyBy, zone } = surroundings;
  const until = Math.min(readyBy, from + (MOST_DAYS + 1) * MINUTES_PER_DAY);
  const first = daysBetween(from, Math.max(until, from), zone).slice(0, MOST_DAYS);
  const days = first.map(({ day, start, end }) => {
    const offeredMinutes = open(Math.max(start, from), Math.min(end, readyBy));
    cumulativeMinutes += offeredMinutes;
    return { date: dateText(day), offeredMinutes, cumulativeMinutes };
  });
  const offeredMinutes = readyBy > now ? open(from, readyBy) : 0;
  return {
    ...named,
    neededMinutes: needed.minutes,
    ...(needed.spares === 0 ? {} : { spareMinutes: needed.spares }),
    offeredMinutes,
    shortMinutes: needed.minutes - offeredMinutes,
    coveredAt: coveredAt(surroundings.from, surroundings.horizonEnd, needed.minutes, alike),
    days,
  };
}

/** Calendars, each once, with how many have it. */
type Counted = ReadonlyMap<Calendar, number>;

function countedOf(calendars: readonly Calendar[]): Counted {
  const counted = new Map<Calendar, number>();
  for (const calendar of calendars) counted.set(calendar, (counted.get(calendar) ?? 0) + 1);
  return counted;
}

function offeredBy(calendars: Counted, from: Instant, to: Instant): number {
  let minutes = 0;
  for (const [calendar, count] of calendars) minutes += count * openMinutesBetween(calendar, from, to);
  return minutes;
}

/** The first minute by which the calendars together have offered so much since `from`, found by halving. */
function coveredAt(from: Instant, horizonEnd: Instant, needed: number, calendars: Counted): Instant | null {
  if (needed <= 0) return from;
  const [[only, count]] = [...calendars] as [[Calendar, number]];
  if (calendars.size === 1 && count === 1) {
    const at = addOpenMinutes(only, from, needed);
    return isInstant(at) && at <= horizonEnd ? at : null;
  }
  if (offeredBy(calendars, from, horizonEnd) < needed) return null;
  let [low, high] = [from, horizonEnd];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (offeredBy(calendars, from, middle) >= needed) high = middle;
    else low = middle;
  }
  return high;
}
