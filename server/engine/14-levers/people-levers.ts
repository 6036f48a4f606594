/** Levers of hands: helpers, longer evenings, one more person, no nights. */
import { ALONE_HAZARDS, type HoursLimit, type Person } from '../../model/index.ts';
import {
  type Day,
  type DaySpan,
  dateText,
  dayHoursText,
  daysBetween,
  hoursText,
  readDayHours,
  readHours,
  type WeeklyHours,
  weekdayOf,
  weeklyMinutes,
} from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { FREE, type Proposed, proposed, setField } from './proposed.ts';

/** Days on which a helper is asked for by themselves. */
const MOST_HELPER_DAYS = 4;
/** A day on which somebody is there for less is no day for a helper (our choice, no source). */
const LEAST_HELPER_MINUTES = 120;
/** Hours in which a helper is asked for, and by how much evenings are made longer (our choice, no source). */
const HELPER_FROM = 8 * 60;
const HELPER_TO = 20 * 60;
const MIDNIGHT = 24 * 60;
/** Directive 2003/88/EC, articles 3 and 6, as in the warnings of working hours. */
const REST_MINUTES = 11 * 60;
const WEEK_MINUTES = 48 * 60;
/** Article 2: night time includes midnight to five. */
const NIGHT_UNTIL = 5 * 60;
const MORE_MINUTES = [60, 120];

/** What more hands, or hands for longer, or for fewer nights, would change. */
export function peopleLevers(planned: Planned): Proposed[] {
  const people = peopleOf(planned);
  if (people.length === 0) return [];
  return [
    ...helperLevers(planned, people),
    ...onePersonMore(planned, people),
    ...people.flatMap((person) => longerEvenings(planned, person)),
    ...noNights(planned, people),
  ];
}

interface Worker {
  readonly person: Person;
  readonly week: WeeklyHours;
}

function peopleOf({ build, surroundings }: Planned): Worker[] {
  return (build.people ?? []).flatMap((person) => {
    const week = readHours(person.hours);
    return week.ok && surroundings.people.has(person.id) ? [{ person, week: week.value }] : [];
  });
}

/** Free days are Saturdays and Sundays on which somebody who knows the build is there. */
function helperLevers(planned: Planned, people: readonly Worker[]): Proposed[] {
  const { build, plans, surroundings } = planned;
  const { from, readyBy, zone } = surroundings;
  const can = helperSteps(planned);
  const eases = can.filter((id) => plans.some((plan) => plan.id === id && plan.left > 0));
  const days = daysBetween(from, readyBy, zone)
    .filter(({ day, start }) => weekdayOf(day) >= 6 && start >= from)
    .map(({ day }) => ({ date: dateText(day), weekday: weekdayOf(day), spans: daytimeOf(people, day) }))
    .filter(({ spans }) => minutesOf(spans) >= LEAST_HELPER_MINUTES);
  if (days.length === 0 || eases.length === 0) return [];
  const id = newId('helper', build.people ?? []);
  const changes = (on: typeof days) => {
    const exceptions = on.map(({ date, spans }) => ({ date, hours: dayHoursText(spans) }));
    return [{ kind: 'put' as const, list: 'people' as const, key: id, thing: helper(id, exceptions, can) }];
  };
  const cost = (on: typeof days) => ({
    money: 0,
    handsMinutes: on.reduce((sum, { spans }) => sum + minutesOf(spans), 0),
  });
  const ones = days.slice(0, MOST_HELPER_DAYS).map((day) => {
    const { date, weekday, spans } = day;
    const values = { day: { date, weekday }, minutes: minutesOf(spans) };
    return proposed('helper-day', values, changes([day]), cost([day]), eases, true);
  });
  if (days.length === 1) return ones;
  const on = days.map(({ date, weekday }) => ({ date, weekday }));
  const values = { days: on, minutes: cost(days).handsMinutes };
  return [...ones, proposed('helper-days', values, changes(days), cost(days), eases, true)];
}

function helper(id: string, exceptions: readonly object[], can: readonly string[]) {
  return { id, name: 'Helper', hours: 'never', exceptions, can };
}

/** What a helper may do: what the one who may do least does now, else what is neither dangerous nor somebody's own. */
function helperSteps({ build, plans }: Planned): string[] {
  const limited = (build.people ?? []).flatMap(({ can }) => (can === undefined ? [] : [can]));
  const open = plans.filter(({ kind, step, hazards }) => {
    const isOwn = step?.pinnedTo !== undefined || step?.skill !== undefined || (step?.phases ?? []).some(hasWho);
    return kind !== 'order' && !isOwn && !hazards.some((hazard) => ALONE_HAZARDS.includes(hazard));
  });
  const [least] = limited.sort((a, b) => a.length - b.length);
  return least === undefined ? open.map(({ id }) => id) : [...least];
}

function hasWho(phase: object): boolean {
  return 'who' in phase && phase.who !== undefined;
}

/** Somebody with the hours of the one who is there most. */
function onePersonMore(planned: Planned, people: readonly Worker[]): Proposed[] {
  const { build } = planned;
  const most = people.reduce((a, b) => (weeklyMinutes(b.week) > weeklyMinutes(a.week) ? b : a));
  const { person } = most;
  const id = newId('second', build.people ?? []);
  const { note: _, ...like } = person;
  const change = {
    kind: 'put' as const,
    list: 'people' as const,
    key: id,
    thing: { ...like, id, name: 'Second person' },
  };
  const handsMinutes = addedUntilReady(planned, person, most.week, (spans) => minutesOf(spans));
  const eases = stepsOf(planned, (ids) => ids.length > 0, person);
  const cost = { money: paidFor(person, handsMinutes), handsMinutes };
  return [proposed('one-more-person', { like: person.name }, [change], cost, eases, true)];
}

/** What these minutes of somebody cost who is paid; 0 for the others. */
function paidFor({ rate = 0 }: Person, minutes: number): number {
  return (minutes / 60) * rate;
}

function longerEvenings(planned: Planned, { person, week }: Worker): Proposed[] {
  const eases = stepsOf(planned, (ids) => ids.includes(person.id), person);
  if (eases.length === 0) return [];
  const said = new Set<string>();
  return MORE_MINUTES.flatMap((minutes) => {
    const longer = lengthened(week, minutes);
    const hours = hoursText(longer.week);
    if (longer.days === 0 || said.has(hours)) return [];
    said.add(hours);
    const handsMinutes = addedUntilReady(planned, person, week, (spans, day) => {
      return Math.max(0, minutesOf(longer.week[weekdayOf(day) - 1]!) - minutesOf(spans));
    });
    if (handsMinutes === 0) return [];
    const values = { person: person.name, minutes, days: longer.days, limit: longer.limit };
    const cost = { money: paidFor(person, handsMinutes), handsMinutes };
    return [proposed('longer-evenings', values, [setField('people', person.id, 'hours', hours)], cost, eases, true)];
  });
}

/**
 * The week with the last span of each day so much longer, as far as eleven hours of rest before the next day, 48 hours
 * in the week and midnight allow; and on how many days it is longer, and what kept it from being longer still.
 */
export function lengthened(
  week: WeeklyHours,
  minutes: number,
): { readonly week: WeeklyHours; readonly days: number; readonly limit: HoursLimit | null } {
  let limit: HoursLimit | null = null;
  let days = 0;
  let left = Math.max(0, WEEK_MINUTES - weeklyMinutes(week));
  const longer = week.map((spans, weekday) => {
    const last = spans.at(-1);
    if (last === undefined || last.to > MIDNIGHT) return spans;
    const next = week[(weekday + 1) % 7]![0];
    const byRest = next === undefined ? Number.POSITIVE_INFINITY : MIDNIGHT + next.from - REST_MINUTES - last.to;
    const bounds: [HoursLimit, number][] = [
      ['rest', byRest],
      ['midnight', MIDNIGHT - last.to],
      ['week', left],
    ];
    const [tightest, most] = bounds.reduce((a, b) => (b[1] < a[1] ? b : a));
    const added = Math.max(0, Math.min(minutes, most));
    if (added < minutes) limit ??= tightest;
    if (added === 0) return spans;
    days += 1;
    left -= added;
    return [...spans.slice(0, -1), { from: last.from, to: last.to + added }];
  });
  return { week: longer, days, limit };
}

/** The plan without work between midnight and five: what that would cost. */
function noNights({ plans }: Planned, people: readonly Worker[]): Proposed[] {
  const changed = people.flatMap(({ person, week }) => {
    const days = (person.exceptions ?? []).map((day) => ({ ...day, hours: dayWithoutNight(day.hours) }));
    const hours = hoursText(week.map(withoutNight));
    const isSame = hours === hoursText(week) && days.every((day, i) => day.hours === person.exceptions![i]!.hours);
    if (isSame) return [];
    const exceptions = days.length === 0 ? [] : [setField('people', person.id, 'exceptions', days)];
    return [{ name: person.name, changes: [setField('people', person.id, 'hours', hours), ...exceptions] }];
  });
  if (changed.length === 0) return [];
  const values = { people: changed.map(({ name }) => name) };
  const changes = changed.flatMap((one) => one.changes);
  return [
    proposed(
      'no-nights',
      values,
      changes,
      FREE,
      plans.map(({ id }) => id),
      false,
    ),
  ];
}

/** Spans that reach into the following morning end at midnight; those before five begin at five. */
function withoutNight(spans: readonly DaySpan[]): readonly DaySpan[] {
  return spans
    .flatMap(({ from, to }): DaySpan[] => [
      { from: Math.max(from, NIGHT_UNTIL), to: Math.min(to, MIDNIGHT) },
      { from: MIDNIGHT + NIGHT_UNTIL, to },
    ])
    .filter(({ from, to }) => from < to && from < MIDNIGHT);
}

function dayWithoutNight(text: string): string {
  const spans = readDayHours(text);
  return spans.ok ? dayHoursText(withoutNight(spans.value)) : text;
}

/** Minutes that are added on the days from now to the ready-by on which somebody's usual week holds. */
function addedUntilReady(
  { surroundings }: Planned,
  person: Person,
  week: WeeklyHours,
  added: (spans: readonly DaySpan[], day: Day) => number,
): number {
  const { from, readyBy, zone } = surroundings;
  const others = new Set((person.exceptions ?? []).map(({ date }) => date));
  return daysBetween(from, readyBy, zone)
    .filter(({ day }) => !others.has(dateText(day)))
    .reduce((sum, { day }) => sum + added(week[weekdayOf(day) - 1]!, day), 0);
}

/** Steps with hands left that somebody with what this one may do can be at. */
function stepsOf(
  { plans, surroundings }: Planned,
  isTheirs: (eligible: readonly string[]) => boolean,
  { can }: Person,
): string[] {
  const ids = new Map([...surroundings.people.values()].map(({ id, resource }) => [resource, id]));
  return plans.flatMap(({ id, left, phases, step }) => {
    const may = can === undefined || can.includes(id) || (step?.skill !== undefined && can.includes(step.skill));
    const works = phases.some(
      (phase) =>
        (phase.kind === 'hands' || phase.kind === 'run') &&
        isTheirs(phase.eligible.flatMap((resource) => ids.get(resource) ?? [])),
    );
    return left > 0 && may && works ? [id] : [];
  });
}

/** When anybody is there in the daytime of a day. */
function daytimeOf(people: readonly Worker[], day: Day): readonly DaySpan[] {
  const spans = people.flatMap((worker) => spansOn(worker, day));
  const inside = spans
    .map(({ from, to }) => ({ from: Math.max(from, HELPER_FROM), to: Math.min(to, HELPER_TO) }))
    .filter(({ from, to }) => from < to)
    .sort((a, b) => a.from - b.from);
  const joined: DaySpan[] = [];
  for (const span of inside) {
    const last = joined.at(-1);
    if (last === undefined || last.to < span.from) joined.push(span);
    else joined[joined.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
  }
  return joined;
}

function spansOn({ person, week }: Worker, day: Day): readonly DaySpan[] {
  const other = person.exceptions?.find(({ date }) => date === dateText(day));
  if (other === undefined) return week[weekdayOf(day) - 1]!;
  const read = readDayHours(other.hours);
  return read.ok ? read.value : [];
}

function minutesOf(spans: readonly DaySpan[]): number {
  return spans.reduce((sum, { from, to }) => sum + to - from, 0);
}

/** The name as it is, or with the first number that nobody has. */
function newId(name: string, things: readonly { readonly id: string }[]): string {
  const taken = new Set(things.map(({ id }) => id));
  for (let n = 1; ; n++) {
    const id = n === 1 ? name : `${name}-${n}`;
    if (!taken.has(id)) return id;
  }
}
