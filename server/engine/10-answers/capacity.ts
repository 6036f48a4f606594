/** Hours needed against hours there, for hands and machines. */
import type { CapacityGroup } from '../../model/index.ts';
import {
  addOpenMinutes,
  calendarFrom,
  dateText,
  daysBetween,
  isInstant,
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
 * over one window).
 */
export function capacityAnswer(planned: Planned): CapacityGroup[] {
  return [...peopleGroups(planned), ...machineGroups(planned)];
}

interface Need {
  readonly resources: readonly number[];
  minutes: number;
}

function peopleGroups(planned: Planned): CapacityGroup[] {
  const { work, surroundings } = planned;
  const people = [...surroundings.people.values()];
  if (people.length === 0) return [];
  const needs = new Map<string, Need>();
  const everybody = people.map((person) => person.resource);
  needs.set(everybody.join(), { resources: everybody, minutes: 0 });
  const each = new Map<string, Need>();
  for (const lot of work.lots) {
    if (lot.onSite) continue;
    for (const phase of lot.phases) {
      if ((phase.kind !== 'hands' && phase.kind !== 'run') || phase.people === 0) continue;
      const key = [...phase.eligible].sort((a, b) => a - b).join();
      const need = each.get(key) ?? { resources: phase.eligible, minutes: 0 };
      need.minutes += phase.minutes * phase.people;
      each.set(key, need);
      if (!needs.has(key)) needs.set(key, { resources: phase.eligible, minutes: 0 });
    }
  }
  for (const group of needs.values()) {
    const members = new Set(group.resources);
    for (const need of each.values())
      if (need.resources.every((resource) => members.has(resource))) group.minutes += need.minutes;
  }
  return [...needs.values()]
    .filter((need) => need.minutes > 0 || need.resources.length === everybody.length)
    .map((need) => {
      const members = people.filter((person) => need.resources.includes(person.resource));
      const name =
        members.length === people.length && people.length > 1
          ? 'all hands'
          : members.map((person) => person.name).join(' or ');
      return group(planned, {
        id: members.map((person) => person.id).join('+'),
        name,
        kind: 'people',
        members: members.map((person) => person.id),
        needed: need.minutes,
        calendars: members.map((person) => person.open),
      });
    });
}

function machineGroups(planned: Planned): CapacityGroup[] {
  const { work, surroundings } = planned;
  return [...surroundings.machines.values()].map((machine) => {
    let needed = 0;
    for (const lot of work.lots) {
      if (lot.onSite) continue;
      for (const phase of lot.phases) {
        if (phase.kind !== 'run' || phase.machine !== machine.resource) continue;
        needed += runMinutesLeft(lot, phase, work.now);
      }
    }
    const { out = [] } = work.resources[machine.resource]!;
    const calendars = calendarsOf(machine.open, machine.count, out);
    return group(planned, {
      id: machine.id,
      name: machine.name,
      kind: 'machine',
      members: [machine.id],
      needed,
      calendars,
    });
  });
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
  readonly needed: number;
  readonly calendars: readonly Calendar[];
}

function group({ surroundings, now }: Planned, asked: Asked): CapacityGroup {
  const { needed, calendars, ...named } = asked;
  const open = (from: Instant, to: Instant): number =>
    calendars.reduce((total, calendar) => total + openMinutesBetween(calendar, from, to), 0);
  let cumulativeMinutes = 0;
  const days = daysBetween(surroundings.from, Math.max(surroundings.readyBy, surroundings.from), surroundings.zone).map(
    ({ day, start, end }) => {
      const offeredMinutes = open(Math.max(start, surroundings.from), Math.min(end, surroundings.readyBy));
      cumulativeMinutes += offeredMinutes;
      return { date: dateText(day), offeredMinutes, cumulativeMinutes };
    },
  );
  const offeredMinutes = surroundings.readyBy > now ? cumulativeMinutes : 0;
  return {
    ...named,
    neededMinutes: needed,
    offeredMinutes,
    shortMinutes: needed - offeredMinutes,
    coveredAt: coveredAt(surroundings.from, surroundings.horizonEnd, needed, calendars),
    days,
  };
}

/** The first minute by which the calendars together have offered so much since `from`, found by halving. */
function coveredAt(from: Instant, horizonEnd: Instant, needed: number, calendars: readonly Calendar[]): Instant | null {
  if (needed <= 0) return from;
  if (calendars.length === 1) {
    const at = addOpenMinutes(calendars[0]!, from, needed);
    return isInstant(at) && at <= horizonEnd ? at : null;
  }
  const offered = (to: Instant): number =>
    calendars.reduce((total, calendar) => total + openMinutesBetween(calendar, from, to), 0);
  if (offered(horizonEnd) < needed) return null;
  let [low, high] = [from, horizonEnd];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (offered(middle) >= needed) high = middle;
    else low = middle;
  }
  return high;
}
