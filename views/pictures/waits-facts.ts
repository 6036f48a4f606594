/** Which step waits for which: the lines that the picture has, those that drive the date, and which steps it shows. */
import type { Forecast, ForecastStep, StepLink, WhyLine } from '../../server/model/index.ts';

/** All that one step waits for at another: one line of the picture. */
export interface WaitLine {
  readonly from: string;
  readonly to: string;
  /** The links between the two, seen from the one that waits. */
  readonly links: readonly StepLink[];
  /** The date hangs on it. */
  readonly drives: boolean;
}

/** What is asked of the picture: all steps, those around one, or by itself as many as can be read. */
export interface WaitsAsked {
  readonly around: string | null;
  readonly all: boolean;
}

export interface WaitsShown {
  readonly steps: readonly ForecastStep[];
  readonly lines: readonly WaitLine[];
  /** Steps that none of the lines touches. */
  readonly alone: readonly ForecastStep[];
  /** How many steps at the other ends of its lines are not shown, by step; none: left out. */
  readonly beyond: ReadonlyMap<string, number>;
  readonly of: 'all' | 'chain' | 'part' | 'open' | 'around';
}

/** With more, a picture shows a neighbourhood. */
const MOST_STEPS = 36;
/** Lines for each step, and for all, that can still be followed; drawing more takes long and gives a black sheet. */
const LINES = { each: 3, more: 60 };
/** Links from the step in the middle to those that are farthest. */
const REACH = 2;
/** Why one step could go on: because another was ready, rather than its hands or its machine. */
const BY_LINK: ReadonlySet<WhyLine['waited']['kind']> = new Set(['units', 'step', 'gate', 'supplier']);

/** The lines of each forecast: what is laid out is drawn after it, from the same ones. No forecast is ever changed. */
const known = new WeakMap<Forecast, WaitLine[]>();

/** Every link of the forecast, once, those of one pair on one line. Costs O(steps + links). */
export function waitLines(forecast: Forecast): readonly WaitLine[] {
  const lines = known.get(forecast) ?? linesOf(forecast);
  known.set(forecast, lines);
  return lines;
}

function linesOf(forecast: Forecast): WaitLine[] {
  const driving = drivingPairs(forecast);
  return forecast.steps.flatMap((step) => {
    const bySource = new Map<string, StepLink[]>();
    for (const link of step.fedBy) bySource.set(link.step, [...(bySource.get(link.step) ?? []), link]);
    return [...bySource].map(([from, links]) => ({
      from,
      to: step.id,
      links,
      drives: driving.has(pairOf(from, step.id)),
    }));
  });
}

/** The steps of the chain that drives the date, in its order. */
export function drivingSteps({ why = [] }: Forecast): string[] {
  return [...new Set(why.map(({ step }) => step))];
}

/**
 * For each step of the driving chain the first of its waits that no line of the picture shows: for hands, a machine, a
 * place, or for a gate that holds the other sets back.
 */
export function waitsOffTheLines(forecast: Forecast): Map<string, WhyLine['waited']> {
  const found = new Map<string, WhyLine['waited']>();
  const ways = waysOf(forecast);
  for (const { step, waited } of forecast.why ?? []) {
    const isElsewhere = waited.step !== null && waited.step !== step;
    if (isElsewhere && !found.has(step) && wayOf(ways, waited, step).length === 0) found.set(step, waited);
  }
  return found;
}

/** What the picture shows of what is asked; around a step that is not there, nothing. */
export function waitsShown(forecast: Forecast, asked: WaitsAsked): WaitsShown {
  const lines = waitLines(forecast);
  const [wanted, asWanted] = chosen(forecast, lines, asked);
  const ids = followable(lines, asWanted);
  const of = wanted === 'all' && ids.size < asWanted.size ? 'open' : wanted;
  const inside = lines.filter(({ from, to }) => ids.has(from) && ids.has(to));
  const tied = new Set(inside.flatMap(({ from, to }) => [from, to]));
  const steps = forecast.steps.filter(({ id }) => ids.has(id));
  return {
    of,
    lines: inside,
    steps: steps.filter(({ id }) => tied.has(id)),
    alone: steps.filter(({ id }) => !tied.has(id)),
    beyond: endsBeyond(lines, ids),
  };
}

function chosen(
  forecast: Forecast,
  lines: readonly WaitLine[],
  { around, all }: WaitsAsked,
): [WaitsShown['of'], ReadonlySet<string>] {
  const ids = forecast.steps.map(({ id }) => id);
  if (around !== null) return ['around', neighbourhood(lines, new Set(ids.filter((id) => id === around)), REACH)];
  if (all || ids.length <= MOST_STEPS) return ['all', new Set(ids)];
  const chain = drivingSteps(forecast);
  if (chain.length > MOST_STEPS) return ['part', new Set(chain.slice(0, MOST_STEPS))];
  if (chain.length > 0) return ['chain', neighbourhood(lines, new Set(chain), 1)];
  const open = forecast.steps.filter(({ left }) => left > 0).map(({ id }) => id);
  return ['open', new Set((open.length > 0 ? open : ids).slice(0, MOST_STEPS))];
}

/** As many of the steps, from the first on, as have lines between them that can be followed. */
function followable(lines: readonly WaitLine[], ids: ReadonlySet<string>): ReadonlySet<string> {
  const neighbours = new Map<string, string[]>();
  for (const { from, to } of lines) {
    if (!ids.has(from) || !ids.has(to)) continue;
    (neighbours.get(from) ?? neighbours.set(from, []).get(from)!).push(to);
    (neighbours.get(to) ?? neighbours.set(to, []).get(to)!).push(from);
  }
  const shown = new Set<string>();
  let drawn = 0;
  for (const id of ids) {
    drawn += (neighbours.get(id) ?? []).filter((other) => shown.has(other)).length;
    if (drawn > LINES.each * (shown.size + 1) + LINES.more) break;
    shown.add(id);
  }
  return shown;
}

/** The steps in the middle and those around them, as far as they can be read together. */
function neighbourhood(lines: readonly WaitLine[], middle: ReadonlySet<string>, reach: number): ReadonlySet<string> {
  let within = middle;
  for (let i = 0; i < reach; i++) {
    const touched = lines.filter(({ from, to }) => within.has(from) || within.has(to));
    const further = new Set([...within, ...touched.flatMap(({ from, to }) => [from, to])]);
    if (further.size > MOST_STEPS)
      return i > 0 ? within : new Set([...further].slice(0, Math.max(MOST_STEPS, within.size)));
    within = further;
  }
  return within;
}

function endsBeyond(lines: readonly WaitLine[], ids: ReadonlySet<string>): Map<string, number> {
  const beyond = new Map<string, number>();
  for (const { from, to } of lines) {
    if (ids.has(from) === ids.has(to)) continue;
    const end = ids.has(from) ? from : to;
    beyond.set(end, (beyond.get(end) ?? 0) + 1);
  }
  return beyond;
}

/** Pairs of steps whose links the driving chain passes. */
function drivingPairs(forecast: Forecast): ReadonlySet<string> {
  const ways = waysOf(forecast);
  return new Set((forecast.why ?? []).flatMap(({ step, waited }) => wayOf(ways, waited, step)));
}

/** Where the links from each step lead; and the steps without work, which the chain passes without naming them. */
interface Waits {
  readonly next: ReadonlyMap<string, readonly string[]>;
  readonly idle: ReadonlySet<string>;
}

function waysOf({ steps }: Forecast): Waits {
  return {
    next: new Map(steps.map(({ id, feeds }) => [id, feeds.map(({ step }) => step)])),
    idle: new Set(steps.filter(hasNoWork).map(({ id }) => id)),
  };
}

/** It takes no time: a check that is passed at a glance, say. */
function hasNoWork({ pattern }: ForecastStep): boolean {
  return pattern.every((phase) => phase.kind !== 'lead' && phase.fixedMinutes === 0 && phase.minutesPerUnit === 0);
}

/** The pairs from what was waited for to the step that waited, through steps without work; none where no link leads. */
function wayOf({ next, idle }: Waits, { kind, step: from }: WhyLine['waited'], to: string): string[] {
  if (from === null || !BY_LINK.has(kind)) return [];
  const cameFrom = new Map<string, string>();
  const queue = [from];
  for (const at of queue) {
    for (const after of next.get(at) ?? []) {
      if (cameFrom.has(after)) continue;
      cameFrom.set(after, at);
      if (after === to) return pairsBack(cameFrom, from, to);
      if (idle.has(after)) queue.push(after);
    }
  }
  return [];
}

function pairsBack(cameFrom: ReadonlyMap<string, string>, from: string, to: string): string[] {
  const pairs: string[] = [];
  for (let at = to; at !== from || pairs.length === 0; at = cameFrom.get(at)!) {
    pairs.push(pairOf(cameFrom.get(at)!, at));
  }
  return pairs;
}

function pairOf(from: string, to: string): string {
  return `${from}\n${to}`;
}
