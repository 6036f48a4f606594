/** What goes wrong, as the maker logs it in a form of two taps: the entries and the changes that it comes to. */
import { troubleTexts as say } from '../../../views/texts/troubles.ts';
import type { FormValues } from '../../../views/types.ts';
import { isOnItsWay } from '../../../views/words/marks.tsx';
import {
  dateText,
  dayAt,
  dayNumber,
  exceptionsWithout,
  instantOfWall,
  readWall,
  wallText,
} from '../../engine/index.ts';
import {
  type Build,
  type Change,
  type Forecast,
  freeId,
  type NewLogEntry,
  type Part,
  type Result,
  type Step,
  wordedProblem,
} from '../../model/index.ts';

export const TROUBLES = ['delivery', 'evening', 'machine', 'absent', 'load-in', 'more'] as const;
export type TroubleKind = (typeof TROUBLES)[number];

/** What a trouble comes to: entries of the log for what has happened, changes of the plan for what is to come. */
export interface Trouble {
  readonly changes: readonly Change[];
  /** Without their ids, which whoever tells them gives. */
  readonly entries: readonly Omit<NewLogEntry, 'id'>[];
}

interface TroubleSources {
  readonly build: Build;
  readonly forecast: Forecast;
  /** Minutes since the epoch. */
  readonly now: number;
}

/**
 * Reads the form of one trouble. What began by now is an entry of the log; hours of days to come are days that differ,
 * and the rest are changes like those of any form. Refused with the field, what is there, and what would be right.
 */
export function readTrouble(kind: TroubleKind, values: FormValues, sources: TroubleSources): Result<Trouble> {
  return READERS[kind]((name) => textOf(values[name]), sources);
}

type Typed = (name: string) => string;

const READERS: Readonly<Record<TroubleKind, (typed: Typed, sources: TroubleSources) => Result<Trouble>>> = {
  delivery: readDelivery,
  evening: readEvening,
  machine: readMachine,
  absent: readAbsent,
  'load-in': readLoadIn,
  more: readMore,
};

/** The least that is typed for each kind, so that one more tap is enough. */
export function troubleDefaults(kind: TroubleKind, { build, forecast, now }: TroubleSources): FormValues {
  const { zone } = forecast.build;
  const wall = (instant: number) => wallText(instant, zone).slice(0, 16);
  const tomorrow = dateText(dayAt(now, zone) + 1);
  switch (kind) {
    case 'delivery': {
      const order = forecast.orders.find(({ step }) => isOnItsWay(forecast, step));
      return order === undefined ? {} : { step: order.step, until: wall(Math.max(order.arrives, now) + 1440) };
    }
    case 'evening': {
      const { from, day } = nextHours(build, build.people ?? [], now);
      return { from: wall(from), until: `${dateText(day)}T23:59` };
    }
    case 'machine':
      return { machine: build.machines?.[0]?.id ?? '', n: '1', until: wall(now + 1440) };
    case 'absent': {
      const [person] = build.people ?? [];
      const begin = instantOfWall(dayAt(now, zone) + 1, 0, zone);
      const day = dateText(nextHours(build, person === undefined ? [] : [person], begin).day);
      return { person: person?.id ?? '', first: day, last: day };
    }
    case 'load-in':
      return { loadIn: forecast.loadIn === null ? '' : wall(forecast.loadIn - 1440), ready: 'yes' };
    default:
      return { count: '1', minutes: '15', due: `${tomorrow}T18:00` };
  }
}

/** Days looked ahead for hours that could be lost. */
const DAYS_AHEAD = 14;
/** Hours begin at one of these minutes apart, as far as a form proposes them. */
const APART = 30;

/** The next hours of these people: the day, and from when on; now, where nobody has any soon. */
function nextHours(
  build: Build,
  people: NonNullable<Build['people']>,
  now: number,
): { readonly from: number; readonly day: number } {
  const { zone } = build;
  const today = dayAt(now, zone);
  for (let day = today; day <= today + DAYS_AHEAD; day++) {
    const [begin, end] = [day === today ? now : instantOfWall(day, 0, zone), instantOfWall(day + 1, 0, zone) - 1];
    const lost = (from: number) => JSON.stringify(hoursLost(people, from, end, build));
    if (!hoursLost(people, begin, end, build).ok) continue;
    let from = begin;
    while (day > today && from + APART < end && lost(from + APART) === lost(begin)) from += APART;
    return { from, day };
  }
  return { from: now, day: today };
}

/** Orders that are out, and their supplier's new word. */
function readDelivery(typed: Typed, { build, forecast, now }: TroubleSources): Result<Trouble> {
  const order = forecast.orders.find(({ step }) => step === typed('step') && isOnItsWay(forecast, step));
  if (order === undefined) return wrong('step', typed('step'), say.wrong.noOrder);
  const until = instantOf(typed('until'), build);
  if (until === null) return wrong('until', typed('until'), say.wrong.when);
  if (until <= now) return wrong('until', typed('until'), say.wrong.promiseAhead);
  return told({ kind: 'promised', step: order.step, at: iso(now), until: iso(until) });
}

/** Hours that somebody, or everybody, loses. */
function readEvening(typed: Typed, { build, now }: TroubleSources): Result<Trouble> {
  const person = typed('person');
  const people = (build.people ?? []).filter(({ id }) => person === '' || id === person);
  if (people.length === 0) return wrong('person', person, say.wrong.noPerson);
  const [from, until] = [instantOf(typed('from'), build), instantOf(typed('until'), build)];
  if (from === null) return wrong('from', typed('from'), say.wrong.when);
  if (until === null) return wrong('until', typed('until'), say.wrong.when);
  if (until <= from) return wrong('until', typed('until'), say.wrong.untilLater);
  if (until - from > LONGEST_DAYS * 1440) return wrong('until', typed('until'), say.wrong.tooLong(LONGEST_DAYS));
  if (from > now) return hoursLost(people, from, until, build);
  if (until <= now - LONGEST_DAYS * 1440) return wrong('until', typed('until'), say.wrong.longPast(LONGEST_DAYS));
  return told({ kind: 'lost', ...(person === '' ? {} : { person }), at: iso(from), until: iso(until) });
}

function readMachine(typed: Typed, { build, now }: TroubleSources): Result<Trouble> {
  const machine = build.machines?.find(({ id }) => id === typed('machine'));
  if (machine === undefined) return wrong('machine', typed('machine'), say.wrong.noMachine);
  const count = machine.count ?? 1;
  const n = Number(typed('n') || '1');
  if (!Number.isInteger(n) || n < 1 || n > count)
    return wrong('n', typed('n'), say.wrong.machines(machine.name, count));
  const until = instantOf(typed('until'), build);
  if (until === null) return wrong('until', typed('until'), say.wrong.when);
  if (until <= now) return wrong('until', typed('until'), say.wrong.ahead);
  const some = n === count ? {} : { n };
  return told({ kind: 'lost', machine: machine.id, ...some, at: iso(now), until: iso(until) });
}

/** Whole days of somebody. */
function readAbsent(typed: Typed, { build }: TroubleSources): Result<Trouble> {
  const person = build.people?.find(({ id }) => id === typed('person'));
  if (person === undefined) return wrong('person', typed('person'), say.wrong.noPerson);
  const [first, last] = [dayNumber(typed('first')), dayNumber(typed('last') || typed('first'))];
  if (first === null) return wrong('first', typed('first'), say.wrong.date);
  if (last === null) return wrong('last', typed('last'), say.wrong.date);
  if (last < first) return wrong('last', typed('last'), say.wrong.lastLater);
  if (last - first >= LONGEST_DAYS) return wrong('last', typed('last'), say.wrong.tooLong(LONGEST_DAYS));
  return hoursLost(
    [person],
    instantOfWall(first, 0, build.zone),
    instantOfWall(last + 1, 0, build.zone),
    build,
    'first',
  );
}

function readLoadIn(typed: Typed, { build, forecast }: TroubleSources): Result<Trouble> {
  const loadIn = instantOf(typed('loadIn'), build);
  if (loadIn === null) return wrong('loadIn', typed('loadIn'), say.wrong.when);
  const moved = forecast.loadIn === null ? 0 : loadIn - forecast.loadIn;
  const set = (field: string, value: unknown): Change => ({ kind: 'set', list: 'build', field, value });
  const changes = [set('loadIn', typed('loadIn'))];
  const movesReady = typed('ready') !== '' && build.readyBy !== undefined;
  return {
    ok: true,
    value: {
      entries: [],
      changes: movesReady
        ? [...changes, set('readyBy', wallText(forecast.readyBy + moved, build.zone).slice(0, 16))]
        : changes,
    },
  };
}

/** A name that says what is done: `letter the faces`. */
const SAYS_WORK = /^\p{L}+ (?:up |on |out |off )?(?:the|all|both|each|every|our|my|a|an) \p{L}/iu;

/** One more thing: a part that is counted, and the one step in which it is made. */
function readMore(typed: Typed, { build, now }: TroubleSources): Result<Trouble> {
  const [name, count, minutes] = [typed('name'), Number(typed('count')), Number(typed('minutes').replace(',', '.'))];
  if (name === '') return wrong('name', name, say.wrong.noName);
  if (name.length > LONGEST_NAME) return wrong('name', name, say.wrong.longName(name.length, LONGEST_NAME));
  if (!Number.isInteger(count) || count < 1 || count > 100_000) return wrong('count', typed('count'), say.wrong.count);
  if (!(minutes > 0 && minutes <= 10_000)) return wrong('minutes', typed('minutes'), say.wrong.minutes);
  const due = typed('due') === '' ? undefined : instantOf(typed('due'), build);
  if (due === null) return wrong('due', typed('due'), say.wrong.when);
  if (due !== undefined && due <= now) return wrong('due', typed('due'), say.wrong.ahead);
  const part = freeId(name, new Set((build.parts ?? []).map(({ id }) => id)))!;
  const steps = new Set([...build.steps, ...(build.gates ?? []), ...(build.parts ?? [])].map(({ id }) => id));
  const step = freeId(`make ${name}`, steps)!;
  const own: Part = { id: part, name, source: 'make', count, ...(due === undefined ? {} : { due: typed('due') }) };
  const work: Step = {
    id: step,
    name: SAYS_WORK.test(name) ? name : say.make(name),
    part,
    phases: [{ kind: 'hands', perUnit: minutes }],
  };
  return {
    ok: true,
    value: {
      entries: [],
      changes: [
        { kind: 'put', list: 'parts', key: part, thing: own },
        { kind: 'put', list: 'steps', key: step, thing: work },
      ],
    },
  };
}

const LONGEST_DAYS = 60;
const LONGEST_NAME = 100;

/** Days that differ because these people lose the stretch; refused where none of them has an hour in it. */
function hoursLost(
  people: NonNullable<Build['people']>,
  from: number,
  until: number,
  { zone }: Build,
  field = 'from',
): Result<Trouble> {
  const changes = people.flatMap(({ id, hours, exceptions }): Change[] => {
    const value = exceptionsWithout({ hours, exceptions }, from, until, zone);
    const isSame = JSON.stringify(value) === JSON.stringify(exceptions ?? []);
    return isSame ? [] : [{ kind: 'set', list: 'people', key: id, field: 'exceptions', value }];
  });
  return changes.length === 0
    ? wrong(field, wallText(from, zone), say.wrong.noHours)
    : { ok: true, value: { changes, entries: [] } };
}

function told(entry: Omit<NewLogEntry, 'id'>): Result<Trouble> {
  return { ok: true, value: { changes: [], entries: [entry] } };
}

function wrong(field: string, value: string, message: string): Result<never> {
  return { ok: false, problems: [wordedProblem('shape', field, value === '' ? 'nothing' : value, message)] };
}

function instantOf(text: string, { zone }: Build): number | null {
  const read = readWall(text, zone);
  return read.ok ? read.value : null;
}

function iso(minutes: number): string {
  return new Date(minutes * 60_000).toISOString();
}

function textOf(value: string | readonly string[] | undefined): string {
  return (typeof value === 'string' ? value : (value?.at(-1) ?? '')).trim();
}
