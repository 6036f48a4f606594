/**
 * What the Now sheet says, picked from a forecast: who is here, what comes next, what must run before the last one
 * leaves. Each piece carries the spans of time in which it is to be seen, two days ahead, so that a copy that no
 * network renews is still right.
 */

import {
  type BenchSpell,
  type DaySheet,
  type DaySpell,
  type Forecast,
  type ForecastLot,
  type ForecastStep,
  type Hazard,
  joinedSpells,
  stepsOfNobody,
  type Threat,
} from '../../server/model/index.ts';
import { byId } from '../by-id.ts';

/** Minutes since the epoch: from the first, the second not counted. */
export type Span = readonly [number, number];

interface Seen {
  /** When it is to be seen; in order, without overlap. */
  readonly shown: readonly Span[];
}

interface NowPerson extends Seen {
  readonly id: string;
  readonly isHere: boolean;
  /** When the person leaves, or comes. */
  readonly at: number;
}

/** What goes on by itself behind a spell of hands. */
interface NowAfter {
  readonly kind: 'run' | 'wait' | 'lead';
  readonly machine: string | null;
  readonly until: number;
}

export interface NowTask extends Seen {
  /** Ids of those who do it; none where only a machine is to be started. */
  readonly people: readonly string[];
  readonly start: number;
  readonly finish: number;
  readonly step: string;
  readonly set: number | null;
  readonly units: number;
  readonly kind: DaySpell['kind'];
  readonly machine: string | null;
  readonly hazards: readonly Hazard[];
  readonly after: NowAfter | null;
  /** Whether what comes after goes on when nobody is here any more. */
  readonly outlasts: boolean;
}

interface NowIdle extends Seen {
  readonly id: string;
  readonly until: number;
  /** Ids of steps with units at hand that the person may do. */
  readonly instead: readonly string[];
}

/** A day's end: when the last one leaves. */
interface NowLeaving {
  readonly at: number;
  /** When there is something to begin before that, and when there is not. */
  readonly begins: readonly Span[];
  readonly empty: readonly Span[];
}

/** A machine that is not loaded for the night yet. */
interface NowUnloaded extends Seen {
  readonly threat: Threat<'idle-machine'>;
}

/** People, steps and machines by their ids: two of them may have one name. */
export interface NowFacts {
  readonly people: readonly NowPerson[];
  /** When somebody is here. */
  readonly here: readonly Span[];
  /** Spans in which nobody is here, with when somebody comes; null: nobody ever. */
  readonly away: readonly (Seen & { readonly until: number | null; readonly comers: readonly string[] })[];
  readonly tasks: readonly NowTask[];
  readonly idle: readonly NowIdle[];
  readonly leaving: readonly NowLeaving[];
  readonly beforeLeaving: readonly NowTask[];
  readonly unloaded: readonly NowUnloaded[];
  /** Nothing is known beyond it. */
  readonly end: number;
}

const LOOK_AHEAD = 2 * 1440;
const WINDOW = 120;
/** A break that is shorter than that is no leaving. */
const LONGEST_BREAK = 240;
const STEPS_INSTEAD = 6;

/** Picks all that from a forecast. O(lots + spells of the days ahead). */
export function nowFacts(forecast: Forecast): NowFacts {
  const work = nowFactsInParts(forecast);
  let part = work.next();
  while (part.done !== true) part = work.next();
  return part.value;
}

/** The same in parts; others may have a turn after each. */
export function* nowFactsInParts(forecast: Forecast): Generator<void, NowFacts> {
  const { now } = forecast;
  const open = openByPerson(forecast);
  const anyone = united([...open.values()].flatMap(({ spans }) => spans));
  const next = anyone[0]?.[0] ?? null;
  const end = Math.max(now + LOOK_AHEAD, (next ?? now) + 1440);
  const away = gapsOf(anyone, now, end);
  const evenings = eveningsOf(anyone, now, end);
  yield;
  const lots = new Map(forecast.lots.map((lot) => [lot.id, lot]));
  const pick: Picking = { forecast, lots, nobodys: stepsOfNobody(forecast), away, evenings, end };
  yield;
  const tasks = tasksOf(pick);
  yield;
  const idle: NowIdle[] = [];
  for (const person of open.values()) {
    idle.push(...idleOf(pick, person, tasks));
    yield;
  }
  const leaving = yield* leavingOf(pick);
  return {
    people: [...open.values()].flatMap((person) => linesOf(person, away, { now, end })),
    here: common(anyone, [now, end]),
    away: away.map(([from, to]) => {
      const until = anyone.find(([start]) => start >= to)?.[0] ?? null;
      return { shown: [[from, to]], until, comers: [...open.values()].filter(comesAt(until)).map(({ id }) => id) };
    }),
    tasks,
    idle,
    ...leaving,
    end,
  };
}

/** Whether something is to be seen at an instant. */
export function isShown({ shown }: Seen, now: number): boolean {
  return shown.some(([from, to]) => from <= now && now < to);
}

interface Picking {
  readonly forecast: Forecast;
  readonly lots: ReadonlyMap<string, ForecastLot>;
  /** Steps that nobody may do: where nobody is in them, somebody is missing. */
  readonly nobodys: ReadonlySet<string>;
  readonly away: readonly Span[];
  /** Days of work, breaks included: from when somebody comes to when the last one leaves. */
  readonly evenings: readonly Span[];
  readonly end: number;
}

interface OpenHours {
  readonly id: string;
  readonly spans: readonly Span[];
}

/** When each person is here from now on, over midnight too. */
function openByPerson({ days, now }: Forecast): Map<string, OpenHours> {
  const found = new Map<string, Span[]>();
  for (const { people } of days) {
    for (const { id, open } of people) {
      const spans = found.get(id) ?? [];
      found.set(id, spans);
      for (const [from, to] of open) if (to > now) spans.push([Math.max(from, now), to]);
    }
  }
  return new Map([...found].map(([id, spans]) => [id, { id, spans: united(spans) }]));
}

/** Spans in order, those that touch or overlap as one. */
function united(spans: readonly Span[]): Span[] {
  const all: [number, number][] = [];
  for (const [from, to] of spans.toSorted((a, b) => a[0] - b[0])) {
    const last = all.at(-1);
    if (to <= from) continue;
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else all.push([from, to]);
  }
  return all;
}

/** What of [from, to) the spans leave. */
function gapsOf(spans: readonly Span[], from: number, to: number): Span[] {
  const gaps: Span[] = [];
  let at = from;
  for (const [start, finish] of spans) {
    if (start >= to) break;
    if (start > at) gaps.push([at, start]);
    at = Math.max(at, finish);
  }
  return at < to ? [...gaps, [at, to]] : gaps;
}

function common(spans: readonly Span[], [from, to]: Span): Span[] {
  return spans
    .map(([start, finish]): Span => [Math.max(start, from), Math.min(finish, to)])
    .filter(([start, finish]) => finish > start);
}

function eveningsOf(anyone: readonly Span[], now: number, end: number): Span[] {
  const evenings: [number, number][] = [];
  for (const [from, to] of anyone) {
    const last = evenings.at(-1);
    if (from >= end) break;
    if (last !== undefined && from - last[1] < LONGEST_BREAK) last[1] = to;
    else evenings.push([Math.max(from, now), to]);
  }
  return evenings;
}

const comesAt =
  (at: number | null) =>
  ({ spans }: OpenHours): boolean =>
    spans.some(([from]) => from === at);

/** `here until` while the person is, `comes` before that, save where nobody is here and the person is the next. */
function linesOf(
  { id, spans }: OpenHours,
  away: readonly Span[],
  { now, end }: { readonly now: number; readonly end: number },
): NowPerson[] {
  let before = now;
  return spans
    .filter(([from]) => from < end)
    .flatMap(([from, to]): NowPerson[] => {
      const isNext = away.filter(([, until]) => until === from);
      const shown = gapsOf(isNext, before, from);
      before = to;
      return [
        ...(shown.length > 0 ? [{ id, isHere: false, at: from, shown }] : []),
        { id, isHere: true, at: to, shown: [[from, to]] },
      ];
    });
}

/** From two hours before it begins to its end; where nobody is here, by the two hours from when somebody comes. */
function shownOf({ away, forecast, end }: Picking, start: number, finish: number): Span[] {
  const arrivals = away.filter(([, to]) => start < to + WINDOW && finish > to && to < end);
  const all = united([[start - WINDOW, finish], ...arrivals]);
  return common(all, [forecast.now, end]);
}

type Shared = BenchSpell & { readonly people: readonly string[] };

/** What people do, those who do it together in one row, lots of one step that follow each other as one. */
function tasksOf(pick: Picking): NowTask[] {
  const { forecast, nobodys, end } = pick;
  const days = forecast.days.filter(({ start }) => start < end);
  const rows = new Map<string, Shared>();
  for (const [id, spells] of spellsByPerson(days)) {
    for (const spell of joinedSpells(spells)) {
      const key = [spell.start, spell.finish, spell.firstLot, spell.kind].join(' ');
      const there = rows.get(key);
      rows.set(key, { ...spell, people: [...(there?.people ?? []), id] });
    }
  }
  const loaded = new Set([...rows.values()].filter(({ kind }) => kind === 'load').map(({ lot }) => lot));
  const alone = days
    .flatMap(({ machines }) => machines.flatMap(({ spells }) => spells))
    .filter(({ kind, lot, start }) => kind === 'run' && start > forecast.now && !loaded.has(lot))
    .filter(({ lot, step, start }) => !nobodys.has(step) && runOf(pick, lot, start)?.people.length === 0)
    .map((spell): Shared => ({ ...spell, people: [], firstLot: spell.lot }));
  return [...rows.values(), ...alone]
    .filter(({ start, finish }) => finish > forecast.now && start < end)
    .sort((a, b) => a.start - b.start || a.finish - b.finish)
    .map((row) => taskOf(pick, row));
}

function runOf({ lots }: Picking, lot: string, start: number): ForecastLot['placements'][number] | undefined {
  return lots.get(lot)?.placements.find((one) => one.kind === 'run' && one.start === start);
}

function taskOf(pick: Picking, row: Shared): NowTask {
  const { start, finish, step, set, units, kind, hazards, people } = row;
  const after = afterOf(pick, row);
  const left = kind === 'run' ? start : finish;
  return {
    people,
    start,
    finish,
    step,
    set,
    units,
    kind,
    hazards,
    after,
    machine: byId(pick.forecast.steps, step)?.machine ?? null,
    outlasts: after !== null && pick.evenings.some(([, to]) => left <= to && after.until > to),
    shown: shownOf(pick, start, finish),
  };
}

/** What the lot does by itself when these hands are done with it. */
function afterOf({ lots, nobodys }: Picking, { lot, step, kind, start }: Shared): NowAfter | null {
  if (nobodys.has(step)) return null;
  const placements = lots.get(lot)?.placements ?? [];
  const at = placements.findLastIndex((one) => one.start <= start && (kind === 'run' || one.kind === 'hands'));
  const next = kind === 'run' ? placements[at] : placements[at + 1];
  if (next === undefined || next.kind === 'hands' || next.kind === 'demand' || next.people.length > 0) return null;
  return { kind: next.kind, machine: next.machine, until: next.finish };
}

function spellsByPerson(days: readonly DaySheet[]): Map<string, DaySpell[]> {
  const found = new Map<string, DaySpell[]>();
  for (const { id, spells } of days.flatMap(({ people }) => people)) {
    found.set(id, [...(found.get(id) ?? []), ...spells]);
  }
  return new Map([...found].map(([id, spells]) => [id, spells.toSorted((a, b) => a.start - b.start)]));
}

/** Times in which a person is here and has nothing planned for the two hours to come. */
function idleOf(pick: Picking, person: OpenHours, tasks: readonly NowTask[]): NowIdle[] {
  const { forecast, end } = pick;
  const own = tasks.filter(({ people }) => people.includes(person.id));
  const busy = united(own.flatMap(({ shown }) => shown));
  const atHand = forecast.steps.filter((step) => isAtHand(step, person.id));
  const loadIn = forecast.loadIn ?? Number.NEGATIVE_INFINITY;
  return person.spans.flatMap((span) => {
    const gaps = gapsOf(common(busy, span), span[0], Math.min(span[1], end));
    return gaps.map((gap): NowIdle => {
      const next = own.find(({ start }) => start >= gap[0])?.start ?? span[1];
      const instead = atHand.filter(({ onSite }) => !onSite || gap[0] >= loadIn).map(({ id }) => id);
      return {
        id: person.id,
        until: Math.min(next, span[1]),
        instead: instead.slice(0, STEPS_INSTEAD),
        shown: [gap],
      };
    });
  });
}

function isAtHand({ left, readyNow, kind, people }: ForecastStep, person: string): boolean {
  return left > 0 && (readyNow ?? 0) > 0 && kind !== 'order' && people.includes(person);
}

type Leaving = Pick<NowFacts, 'leaving' | 'beforeLeaving' | 'unloaded'>;

/** For each day of work, what is to be begun on it that goes on by itself when the last one has left. */
function* leavingOf(pick: Picking): Generator<void, Leaving> {
  const { evenings, forecast } = pick;
  const { now, threats = [] } = forecast;
  const unloaded = threats
    .filter((threat) => threat.code === 'idle-machine')
    .map((threat): NowUnloaded => ({ threat, shown: [[now, Math.max(now + 1, threat.values.loadBy)]] }));
  const toLoad = united(unloaded.flatMap(({ shown }) => shown));
  const days: { readonly rows: readonly NowTask[]; readonly leaving: NowLeaving }[] = [];
  for (const [i, [, to]] of evenings.entries()) {
    const span: Span = [evenings[i - 1]?.[1] ?? now, to];
    const rows = outlasting(pick, span, i === 0);
    const begins = rows.length > 0 ? [span] : common(toLoad, span);
    days.push({ rows, leaving: { at: to, begins, empty: gapsOf(begins, ...span) } });
    yield;
  }
  return {
    leaving: days.map(({ leaving }) => leaving),
    beforeLeaving: days.flatMap(({ rows }) => rows),
    unloaded,
  };
}

/**
 * Lots of one step in one row: when the first is to be begun, and when the last is through. What begins as the last one
 * leaves is of that day, not of the next; of the first day is what begins now.
 */
function outlasting({ forecast, nobodys }: Picking, [from, to]: Span, isFirst: boolean): NowTask[] {
  const rows = new Map<string, NowTask>();
  for (const lot of forecast.lots) {
    if (nobodys.has(lot.step)) continue;
    lot.placements.forEach((placement, i) => {
      const { kind, start, finish, people, machine } = placement;
      if (kind === 'hands' || kind === 'demand' || people.length > 0 || (lot.begun && i === 0)) return;
      if (start < from || (start === from && !isFirst) || start > to || finish <= to) return;
      const hands = lot.placements[i - 1]?.kind === 'hands' ? lot.placements[i - 1] : undefined;
      const key = [lot.step, lot.set, kind, machine].join(' ');
      const there = rows.get(key);
      const step = byId(forecast.steps, lot.step);
      rows.set(key, {
        people: [...new Set([...(there?.people ?? []), ...(hands?.people ?? [])])],
        start: Math.min(there?.start ?? Number.POSITIVE_INFINITY, hands?.start ?? start),
        finish: Math.max(there?.finish ?? 0, start),
        step: lot.step,
        set: lot.set,
        units: (there?.units ?? 0) + lot.lastUnit - lot.firstUnit + 1,
        kind: kind === 'run' ? 'load' : 'hands',
        machine,
        hazards: step?.hazards ?? [],
        after: { kind, machine, until: Math.max(there?.after?.until ?? 0, finish) },
        outlasts: true,
        shown: [[from, to]],
      });
    });
  }
  return [...rows.values()].sort((a, b) => a.start - b.start);
}
