/**
 * What the Now sheet says, picked from a forecast: who is here, what comes next, what must run before the last one
 * leaves. Each piece carries the spans of time in which it is to be seen, two days ahead, so that a copy that no
 * network renews is still right.
 */
import type { DaySheet, DaySpell, Forecast, ForecastLot, ForecastStep, Hazard } from '../../server/model/index.ts';

/** Minutes since the epoch: from the first, the second not counted. */
export type Span = readonly [number, number];

interface Seen {
  /** When it is to be seen; in order, without overlap. */
  readonly shown: readonly Span[];
}

interface NowPerson extends Seen {
  readonly name: string;
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
  /** Names of those who do it; none where only a machine is to be started. */
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
  readonly name: string;
  readonly until: number;
  /** Steps with units at hand that the person may do. */
  readonly instead: readonly string[];
}

export interface NowFacts {
  readonly people: readonly NowPerson[];
  /** Spans in which nobody is here, with when somebody comes; null: nobody ever. */
  readonly away: readonly (Seen & { readonly until: number | null; readonly comers: readonly string[] })[];
  readonly tasks: readonly NowTask[];
  readonly idle: readonly NowIdle[];
  /** When the last one leaves on each of the days. */
  readonly leaving: readonly (Seen & { readonly at: number; readonly hasTasks: boolean })[];
  readonly beforeLeaving: readonly NowTask[];
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
  const { now } = forecast;
  const open = openByPerson(forecast);
  const anyone = united([...open.values()].flatMap(({ spans }) => spans));
  const next = anyone[0]?.[0] ?? null;
  const end = Math.max(now + LOOK_AHEAD, (next ?? now) + 1440);
  const away = gapsOf(anyone, now, end);
  const evenings = eveningsOf(anyone, now, end);
  const lots = new Map(forecast.lots.map((lot) => [lot.id, lot]));
  const pick: Picking = { forecast, lots, away, evenings, end };
  const tasks = tasksOf(pick);
  return {
    people: [...open.values()].flatMap(({ name, spans }) => linesOf(name, spans, away, { now, end })),
    away: away.map(([from, to]) => {
      const until = anyone.find(([start]) => start >= to)?.[0] ?? null;
      return { shown: [[from, to]], until, comers: [...open.values()].filter(comesAt(until)).map(({ name }) => name) };
    }),
    tasks,
    idle: [...open].flatMap(([id, { name, spans }]) => idleOf(pick, { id, name, spans }, tasks)),
    ...leavingOf(pick),
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
  readonly away: readonly Span[];
  /** Days of work, breaks included: from when somebody comes to when the last one leaves. */
  readonly evenings: readonly Span[];
  readonly end: number;
}

interface OpenHours {
  readonly name: string;
  readonly spans: readonly Span[];
}

/** When each person is here from now on, over midnight too. */
function openByPerson({ days, now }: Forecast): Map<string, OpenHours> {
  const found = new Map<string, { name: string; spans: Span[] }>();
  for (const { people } of days) {
    for (const { id, name, open } of people) {
      const one = found.get(id) ?? { name, spans: [] };
      found.set(id, one);
      for (const [from, to] of open) if (to > now) one.spans.push([Math.max(from, now), to]);
    }
  }
  return new Map([...found].map(([id, { name, spans }]) => [id, { name, spans: united(spans) }]));
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
  name: string,
  spans: readonly Span[],
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
        ...(shown.length > 0 ? [{ name, isHere: false, at: from, shown }] : []),
        { name, isHere: true, at: to, shown: [[from, to]] },
      ];
    });
}

/** From two hours before it begins to its end; where nobody is here, by the two hours from when somebody comes. */
function shownOf({ away, forecast, end }: Picking, start: number, finish: number): Span[] {
  const arrivals = away.filter(([, to]) => start < to + WINDOW && finish > to && to < end);
  const all = united([[start - WINDOW, finish], ...arrivals]);
  return common(all, [forecast.now, end]);
}

type Named = DaySpell & { readonly people: readonly string[]; readonly firstLot: string };

/** What people do, those who do it together in one row, lots of one step that follow each other as one. */
function tasksOf(pick: Picking): NowTask[] {
  const { forecast, end } = pick;
  const days = forecast.days.filter(({ start }) => start < end);
  const rows = new Map<string, Named>();
  for (const [name, spells] of spellsByName(days)) {
    for (const spell of joined(spells)) {
      const key = [spell.start, spell.finish, spell.firstLot, spell.kind].join(' ');
      const there = rows.get(key);
      rows.set(key, { ...spell, people: [...(there?.people ?? []), name] });
    }
  }
  const loaded = new Set([...rows.values()].filter(({ kind }) => kind === 'load').map(({ lot }) => lot));
  const alone = days
    .flatMap(({ machines }) => machines.flatMap(({ spells }) => spells))
    .filter(({ kind, lot, start }) => kind === 'run' && start > forecast.now && !loaded.has(lot))
    .filter(({ lot, start }) => runOf(pick, lot, start)?.people.length === 0)
    .map((spell): Named => ({ ...spell, people: [], firstLot: spell.lot }));
  return [...rows.values(), ...alone]
    .filter(({ start, finish }) => finish > forecast.now && start < end)
    .sort((a, b) => a.start - b.start || a.finish - b.finish)
    .map((row) => taskOf(pick, row));
}

function runOf({ lots }: Picking, lot: string, start: number): ForecastLot['placements'][number] | undefined {
  return lots.get(lot)?.placements.find((one) => one.kind === 'run' && one.start === start);
}

function taskOf(pick: Picking, row: Named): NowTask {
  const { start, finish, step, set, units, kind, hazards, people } = row;
  const after = afterOf(pick, row);
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
    machine: pick.forecast.steps.find(({ id }) => id === step)?.machine ?? null,
    outlasts: after !== null && pick.evenings.some(([, to]) => finish <= to && after.until > to),
    shown: shownOf(pick, start, finish),
  };
}

/** What the lot does by itself when these hands are done with it. */
function afterOf({ lots }: Picking, { lot, kind, start }: Named): NowAfter | null {
  const placements = lots.get(lot)?.placements ?? [];
  const at = placements.findLastIndex((one) => one.start <= start && (kind === 'run' || one.kind === 'hands'));
  const next = kind === 'run' ? placements[at] : placements[at + 1];
  if (next === undefined || next.kind === 'hands' || next.kind === 'demand' || next.people.length > 0) return null;
  return { kind: next.kind, machine: next.machine, until: next.finish };
}

function spellsByName(days: readonly DaySheet[]): Map<string, DaySpell[]> {
  const found = new Map<string, { name: string; spells: DaySpell[] }>();
  for (const { people } of days) {
    for (const { id, name, spells } of people) {
      const one = found.get(id) ?? { name, spells: [] };
      found.set(id, one);
      one.spells.push(...spells);
    }
  }
  return new Map([...found.values()].map(({ name, spells }) => [name, spells.toSorted((a, b) => a.start - b.start)]));
}

function joined(spells: readonly DaySpell[]): Named[] {
  const all: Named[] = [];
  for (const spell of spells) {
    const before = all.at(-1);
    const isSame =
      before !== undefined &&
      before.finish === spell.start &&
      before.step === spell.step &&
      before.set === spell.set &&
      before.kind === spell.kind &&
      (spell.kind === 'hands' || before.lot === spell.lot);
    if (isSame) {
      const units = before.lot === spell.lot ? before.units : before.units + spell.units;
      all[all.length - 1] = { ...before, lot: spell.lot, finish: spell.finish, units };
    } else all.push({ ...spell, people: [], firstLot: spell.lot });
  }
  return all;
}

/** Times in which a person is here and has nothing planned for the two hours to come. */
function idleOf(pick: Picking, person: OpenHours & { readonly id: string }, tasks: readonly NowTask[]): NowIdle[] {
  const { forecast, end } = pick;
  const own = tasks.filter(({ people }) => people.includes(person.name));
  const busy = united(own.flatMap(({ shown }) => shown));
  const instead = forecast.steps.filter((step) => isAtHand(step, person.id)).map(({ name }) => name);
  return person.spans.flatMap((span) => {
    const gaps = gapsOf(common(busy, span), span[0], Math.min(span[1], end));
    return gaps.map((gap): NowIdle => {
      const next = own.find(({ start }) => start >= gap[0])?.start ?? span[1];
      return {
        name: person.name,
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

type Leaving = Pick<NowFacts, 'leaving' | 'beforeLeaving'>;

/** For each day of work, what is to be begun on it that goes on by itself when the last one has left. */
function leavingOf(pick: Picking): Leaving {
  const { evenings, forecast } = pick;
  const rows = evenings.map(([, to], i) => outlasting(pick, [evenings[i - 1]?.[1] ?? forecast.now, to]));
  return {
    leaving: evenings.map(([, to], i) => ({
      at: to,
      hasTasks: rows[i]!.length > 0,
      shown: [[evenings[i - 1]?.[1] ?? forecast.now, to]],
    })),
    beforeLeaving: rows.flat(),
  };
}

/** Lots of one step in one row: when the first is to be begun, and when the last is through. */
function outlasting({ forecast }: Picking, [from, to]: Span): NowTask[] {
  const rows = new Map<string, NowTask>();
  for (const lot of forecast.lots) {
    lot.placements.forEach((placement, i) => {
      const { kind, start, finish, people, machine } = placement;
      if (kind === 'hands' || kind === 'demand' || people.length > 0 || (lot.begun && i === 0)) return;
      if (start < from || start > to || finish <= to) return;
      const hands = lot.placements[i - 1]?.kind === 'hands' ? lot.placements[i - 1] : undefined;
      const key = [lot.step, lot.set, kind, machine].join(' ');
      const there = rows.get(key);
      const step = forecast.steps.find(({ id }) => id === lot.step);
      rows.set(key, {
        people: [...new Set([...(there?.people ?? []), ...(hands?.people ?? []).map((id) => nameOf(forecast, id))])],
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

function nameOf({ days }: Forecast, id: string): string {
  return days[0]?.people.find((one) => one.id === id)?.name ?? id;
}
