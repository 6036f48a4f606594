/**
 * Who and what is there when: the dates of a build, its people, machines and suppliers as calendars over one horizon.
 */
import type { Build, Machine, Person, Problem, Range, Supplier } from '../../model/index.ts';
import { ASSUMED_CUT_OFF, problem, problemTexts } from '../../model/index.ts';
import { threePointMean } from '../numbers/index.ts';
import type { ArrivalTable, Calendar, Instant, Resource } from '../types.ts';
import { dayAt, isZone, type Reading, readWall } from './clock.ts';
import { endlessNight, openTimeOfHours, readHours, readWeekdays, weeklyMinutes } from './hours.ts';
import { momentText } from './labels.ts';
import { arrivalOf, arrivalTable, type SupplierDays, supplierDays } from './supplier-days.ts';
import { alwaysOpen, atLeastOpen, subtractOpenTime, totalOpenMinutes, unionOf } from './working-time.ts';

export interface PersonThere {
  readonly id: string;
  readonly name: string;
  /** Index among the resources. */
  readonly resource: number;
  readonly open: Calendar;
  readonly can: ReadonlySet<string> | null;
}

interface SettingMachine {
  readonly id: string;
  readonly name: string;
  readonly resource: number;
  readonly count: number;
  readonly open: Calendar;
  readonly unattended: boolean;
}

/** Days that deliveries took, as ratios to the working days given. */
export interface LearntLead {
  /** By which the lead times given are multiplied. */
  readonly factor: number;
  readonly deliveries: number;
  readonly mean: number;
  readonly shortest: number;
  readonly longest: number;
}

export interface SettingSupplier {
  readonly id: string;
  readonly name: string;
  readonly days: SupplierDays;
  readonly leadDays: number;
  readonly expressDays: number | null;
  readonly source: Supplier;
  /** What deliveries have said; null before the first. `leadDays` and `expressDays` hold it. */
  readonly learnt: LearntLead | null;
  /** The supplier's answers for this many working days. */
  arrivals(workingDays: number): ArrivalTable;
}

export interface Surroundings {
  readonly zone: string;
  readonly now: Instant;
  /** When work may begin: now, or the start of the build if that is ahead. */
  readonly from: Instant;
  readonly start: Instant | null;
  readonly event: Instant;
  readonly loadIn: Instant | null;
  readonly readyBy: Instant;
  readonly horizonStart: Instant;
  readonly horizonEnd: Instant;
  readonly people: ReadonlyMap<string, PersonThere>;
  readonly machines: ReadonlyMap<string, SettingMachine>;
  readonly suppliers: ReadonlyMap<string, SettingSupplier>;
  readonly resources: readonly Resource[];
  /** Minutes in which anybody works; always open when nobody is named. */
  readonly working: Calendar;
  /** From 22:00 to 06:00 on the clock of the place. */
  readonly nights: Calendar;
  /** When at least `people` of these resources are there; each question is worked out once. */
  together(people: number, resources: readonly number[]): Calendar;
  readonly problems: readonly Problem[];
}

/** How far beyond the event (or now) is looked. What cannot be placed by then is said to be beyond the horizon. */
export const HORIZON_AFTER_MINUTES = 200 * 1440;
const HORIZON_BEFORE_MINUTES = 60 * 1440;
/** Entries of the log that are older come from a clock that was wrong. */
export const OLDEST_ENTRY_MINUTES = 366 * 1440;
const EVENT_UNREADABLE_MINUTES = 30 * 1440;
/** How far from now the dates of a build may be: its calendars hold every day of it. Ten years, as a span. */
const FARTHEST_MINUTES = 3650 * 1440;

/** Time that was lost: by a machine, by a person, or by everybody where neither is named. */
export interface LostTime {
  readonly person: string | null;
  readonly machine: string | null;
  /** How many of a machine's are out of order; null: all. */
  readonly count: number | null;
  readonly from: Instant;
  readonly until: Instant;
}

/**
 * Lays a build's hours on the clock. `now` is a whole minute; `lost` time of the log is taken from the calendars of the
 * person or machine it names, or of everybody; of a machine with several alike, of as many as it says. What cannot be
 * read is a problem and is left out; an unreadable event is taken as 30 days ahead, so that the rest can be computed.
 * The calendars reach back to 60 days before now, the start of the build or `since`, when its log begins.
 */
export function surroundingsOf(
  build: Build,
  now: Instant,
  lost: readonly LostTime[] = [],
  since: Instant = now,
): Surroundings {
  const problems: Problem[] = [];
  const zone = isZone(build.zone) ? build.zone : 'UTC';
  if (zone !== build.zone) {
    problems.push(problem('unknown-zone', 'zone', build.zone, problemTexts.dates.unknownZone(build.zone)));
  }
  const dates = readDates(build, zone, now, problems);
  const begun = Math.max(since, now - OLDEST_ENTRY_MINUTES);
  const horizonStart = Math.min(now, dates.start ?? now, begun) - HORIZON_BEFORE_MINUTES;
  const horizonEnd = Math.max(now, dates.event) + HORIZON_AFTER_MINUTES;
  const span: Span = { zone, from: horizonStart, to: horizonEnd, laid: new Map(), byDay: new Map() };
  const resources: Resource[] = [];
  const people = new Map<string, PersonThere>();
  for (const person of build.people ?? []) addPerson(person, span, lost, resources, people, problems);
  const machines = new Map<string, SettingMachine>();
  for (const machine of build.machines ?? []) addMachine(machine, span, lost, resources, machines, problems);
  const suppliers = new Map<string, SettingSupplier>();
  for (const supplier of build.suppliers ?? []) addSupplier(supplier, span, suppliers, problems);
  const working =
    people.size === 0
      ? alwaysOpen(horizonStart, horizonEnd)
      : unionOf([...people.values()].map((person) => person.open));
  const from = Math.max(now, dates.start ?? now);
  return {
    zone,
    now,
    from,
    ...dates,
    horizonStart,
    horizonEnd,
    people,
    machines,
    suppliers,
    resources,
    working,
    nights: openOf(NIGHT, [], span, 'zone', problems, []) ?? alwaysOpen(0, 0),
    together: togetherOf(resources),
    problems,
  };
}

function togetherOf(resources: readonly Resource[]): Surroundings['together'] {
  const known = new Map<string, Calendar>();
  return (people, members) => {
    const key = `${people} of ${[...members].sort((a, b) => a - b).join()}`;
    const calendars = members.map((member) => resources[member]!.open);
    const open =
      known.get(key) ?? (people === 1 && members.length === 1 ? calendars[0]! : atLeastOpen(people, calendars));
    known.set(key, open);
    return open;
  };
}

/** Working days of a lead time: a number as it is, a range as its three-point mean, rounded. */
export function leadDaysOf(lead: number | Range): number {
  return typeof lead === 'number' ? lead : Math.round(threePointMean(lead));
}

/** Working days that a lead time of this supplier is planned with: those given, as its deliveries have said. */
export function plannedLead({ learnt }: Pick<SettingSupplier, 'learnt'>, lead: number | Range): number {
  return Math.round(leadDaysOf(lead) * (learnt?.factor ?? 1));
}

/** The setting with its suppliers' lead times as learnt, by supplier. */
export function withLearntLeads(surroundings: Surroundings, leads: ReadonlyMap<string, LearntLead>): Surroundings {
  if (leads.size === 0) return surroundings;
  const suppliers = [...surroundings.suppliers].map(([id, supplier]): [string, SettingSupplier] => {
    const learnt = leads.get(id) ?? null;
    const { lead, express } = supplier.source;
    const expressDays = express === undefined ? null : plannedLead({ learnt }, express.lead);
    return [id, { ...supplier, learnt, leadDays: plannedLead({ learnt }, lead), expressDays }];
  });
  return { ...surroundings, suppliers: new Map(suppliers) };
}

/** More working days than a delivery is looked for. */
const MOST_LEAD_DAYS = 120;

/**
 * The working days that an order of `from` took, received at `to`: of those that bring it on that day or the last
 * delivery day before, the ones nearest to `given`. Null for what came before it was ordered. `orderDay`: the day of
 * the order.
 */
export function workingDaysTaken(
  { arrivals }: Pick<SettingSupplier, 'arrivals'>,
  given: number,
  from: Instant,
  to: Instant,
  zone: string,
): { readonly days: number; readonly orderDay: number } | null {
  if (to < from) return null;
  const received = dayAt(to, zone);
  const arrival = (days: number): number => dayAt(arrivalOf(arrivals(days), from), zone);
  let days = Math.round(given);
  while (days > 0 && arrival(days) > received) days--;
  while (days < MOST_LEAD_DAYS && arrival(days) < received && arrival(days + 1) <= received) days++;
  return { days, orderDay: dayAt(from, zone) };
}

/**
 * A person as the log names them: by the id in the build, else by name, else by name in small or capital letters alike;
 * of several the first. Undefined where nobody is named so.
 */
export function personNamed({ people }: Pick<Surroundings, 'people'>, name: string): PersonThere | undefined {
  const all = [...people.values()];
  const small = name.toLowerCase();
  return (
    people.get(name) ??
    all.find((person) => person.name === name) ??
    all.find((person) => person.name.toLowerCase() === small)
  );
}

interface Dates {
  readonly start: Instant | null;
  readonly event: Instant;
  readonly loadIn: Instant | null;
  readonly readyBy: Instant;
}

function readDates(build: Build, zone: string, now: Instant, problems: Problem[]): Dates {
  const read = (field: 'start' | 'event' | 'loadIn' | 'readyBy'): Instant | null => {
    const text = build[field];
    if (text === undefined) return null;
    return accept(readWall(text, zone), field, problems);
  };
  const within = (field: 'start' | 'event', at: Instant | null): Instant | null => {
    if (at === null || Math.abs(at - now) <= FARTHEST_MINUTES) return at;
    problems.push(problem('order-of-dates', field, build[field], problemTexts.dates.far(field, build[field]!)));
    return null;
  };
  const start = within('start', read('start'));
  const event = within('event', read('event')) ?? now + EVENT_UNREADABLE_MINUTES;
  if (event <= now) {
    problems.push(problem('event-past', 'event', build.event, problemTexts.dates.eventPast(momentText(event, zone))));
  }
  const loadIn = read('loadIn');
  const readyBy = read('readyBy') ?? loadIn ?? event;
  if (loadIn !== null && loadIn > event) {
    problems.push(
      problem('order-of-dates', 'loadIn', build.loadIn, problemTexts.dates.lateLoadIn(momentText(event, zone))),
    );
  }
  const limit = Math.min(loadIn ?? event, event);
  if (readyBy > limit) {
    const { readyAfterLoadIn, readyAfterEvent } = problemTexts.dates;
    const says = loadIn !== null && loadIn < event ? readyAfterLoadIn : readyAfterEvent;
    problems.push(problem('order-of-dates', 'readyBy', build.readyBy, says(momentText(limit, zone))));
  }
  return { start, event, loadIn: loadIn === null ? null : Math.min(loadIn, event), readyBy: Math.min(readyBy, limit) };
}

interface Span {
  readonly zone: string;
  readonly from: Instant;
  readonly to: Instant;
  /** Hours that are laid on the clock already, by what they were laid from: whoever has the same hours shares them. */
  readonly laid: Map<string, Calendar>;
  /** The same without their nights. */
  readonly byDay: Map<Calendar, Calendar>;
}

function addPerson(
  person: Person,
  span: Span,
  lost: readonly LostTime[],
  resources: Resource[],
  people: Map<string, PersonThere>,
  problems: Problem[],
): void {
  const field = `people.${person.id}`;
  if (people.has(person.id)) return void problems.push(twice(field, person.id));
  const mine = lost.filter((time) => time.machine === null && (time.person === null || time.person === person.id));
  const open = openOf(person.hours, person.exceptions ?? [], span, field, problems, mine);
  if (open === null) return;
  const week = readHours(person.hours);
  const endless = week.ok ? endlessNight(week.value) : null;
  if (endless !== null) problems.push(problem('hours', `${field}.hours`, person.hours, endless));
  if (totalOpenMinutes(open) === 0) {
    problems.push(problem('no-hours', `${field}.hours`, person.hours, problemTexts.hours.personHasNone(person.name)));
  }
  const can = person.can === undefined ? null : new Set(person.can);
  people.set(person.id, { id: person.id, name: person.name, resource: resources.length, open, can });
  resources.push({ id: person.id, name: person.name, kind: 'person', capacity: 1, open });
}

/** A machine that may not run overnight stands between 22:00 and 06:00 (a convention of ours, said in the docs). */
const NIGHT = 'daily 22:00-06:00';

function addMachine(
  machine: Machine,
  span: Span,
  lost: readonly LostTime[],
  resources: Resource[],
  machines: Map<string, SettingMachine>,
  problems: Problem[],
): void {
  const field = `machines.${machine.id}`;
  if (machines.has(machine.id)) return void problems.push(twice(field, machine.id));
  const count = machine.count ?? 1;
  const mine = lost.filter((time) => time.machine === machine.id);
  const isWhole = (time: LostTime): boolean => time.count === null || time.count >= count;
  const whole = openOf(
    machine.hours ?? 'always',
    machine.exceptions ?? [],
    span,
    field,
    problems,
    mine.filter(isWhole),
  );
  if (whole === null) return;
  const open = machine.overnight === false ? byDay(whole, span) : whole;
  if (totalOpenMinutes(open) === 0) {
    problems.push(
      problem('no-hours', `${field}.hours`, machine.hours, problemTexts.hours.machineHasNone(machine.name)),
    );
  }
  const unattended = machine.unattended ?? true;
  machines.set(machine.id, { id: machine.id, name: machine.name, resource: resources.length, count, open, unattended });
  const out = mine.flatMap((time) =>
    isWhole(time) ? [] : Array.from({ length: time.count! }, () => [time.from, time.until] as const),
  );
  const resource: Resource = { id: machine.id, name: machine.name, kind: 'machine', capacity: count, open };
  resources.push(out.length === 0 ? resource : { ...resource, out });
}

function openOf(
  text: string,
  exceptions: Person['exceptions'] & object,
  span: Span,
  field: string,
  problems: Problem[],
  lost: readonly LostTime[],
): Calendar | null {
  const key = JSON.stringify([
    text,
    exceptions.map(({ date, hours }) => [date, hours]),
    lost.map(({ from, until }) => [from, until]),
  ]);
  const open = span.laid.get(key) ?? laidOf(text, exceptions, span, field, problems, lost);
  if (open !== null) span.laid.set(key, open);
  return open;
}

function laidOf(...[text, exceptions, span, field, problems, lost]: Parameters<typeof openOf>): Calendar | null {
  const week = accept(readHours(text), `${field}.hours`, problems);
  if (week === null) return null;
  if (weeklyMinutes(week) === 7 * 1440 && exceptions.length === 0 && lost.length === 0)
    return alwaysOpen(span.from, span.to);
  const lostSpans = lost.map(({ from, until }) => [from, until] as const);
  return accept(
    openTimeOfHours(week, span.zone, span.from, span.to, exceptions, lostSpans),
    `${field}.exceptions`,
    problems,
  );
}

/** Without the nights; what is laid once is shared by all whose hours were. */
function byDay(open: Calendar, span: Span): Calendar {
  const known = span.byDay.get(open);
  if (known !== undefined) return known;
  const night = openOf(NIGHT, [], span, 'zone', [], []);
  const days = night === null ? open : subtractOpenTime(open, night);
  span.byDay.set(open, days);
  return days;
}

function addSupplier(
  supplier: Supplier,
  span: Span,
  suppliers: Map<string, SettingSupplier>,
  problems: Problem[],
): void {
  const field = `suppliers.${supplier.id}`;
  if (suppliers.has(supplier.id)) return void problems.push(twice(field, supplier.id));
  const working = accept(readWeekdays(supplier.workingDays ?? 'mon-fri'), `${field}.workingDays`, problems);
  const delivery = accept(
    readWeekdays(supplier.deliveryDays ?? supplier.workingDays ?? 'mon-fri'),
    `${field}.deliveryDays`,
    problems,
  );
  if (working === null || delivery === null) return;
  const days = accept(
    supplierDays({
      workingWeekdays: working,
      deliveryWeekdays: delivery,
      holidays: supplier.holidays,
      cutOffMinute: minuteOf(supplier.cutOff ?? ASSUMED_CUT_OFF),
      arrivalMinute: minuteOf(supplier.deliveryTime),
    }),
    field,
    problems,
  );
  if (days === null) return;
  for (const [name, lead] of [
    ['lead', supplier.lead],
    ['express.lead', supplier.express?.lead],
  ] as const) {
    if (typeof lead === 'object' && !(0 <= lead.low && lead.low <= lead.likely && lead.likely <= lead.high)) {
      problems.push(
        problem('range', `${field}.${name}`, JSON.stringify(lead), problemTexts.amounts.leadRange(`${field}.${name}`)),
      );
    }
  }
  const tables = new Map<number, ArrivalTable>();
  const arrivals = (workingDays: number): ArrivalTable => {
    const known = tables.get(workingDays) ?? arrivalTable(days, workingDays, span.zone, span.from, span.to);
    tables.set(workingDays, known);
    return known;
  };
  const expressDays = supplier.express === undefined ? null : leadDaysOf(supplier.express.lead);
  suppliers.set(supplier.id, {
    id: supplier.id,
    name: supplier.name,
    days,
    leadDays: leadDaysOf(supplier.lead),
    expressDays,
    source: supplier,
    learnt: null,
    arrivals,
  });
}

function minuteOf(time: string | undefined): number | undefined {
  return time === undefined ? undefined : Number(time.slice(0, 2)) * 60 + Number(time.slice(3, 5));
}

function twice(field: string, id: string): Problem {
  return problem('duplicate-id', field, id, problemTexts.hours.twice(id));
}

/** The value of a reading, or null with its problem noted at the field. */
export function accept<T>(reading: Reading<T>, field: string, problems: Problem[]): T | null {
  if (reading.ok) return reading.value;
  const { code, value } = reading.problem;
  problems.push(problem(code, field, value, reading.problem));
  return null;
}
