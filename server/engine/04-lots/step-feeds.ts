/** Who feeds whom, step by step: routes and parts imply most feeds, the maker types the rest. */
import type { Build, Feed, LinkName, Problem } from '../../model/index.ts';
import { problem, problemTexts } from '../../model/index.ts';
import type { PartCount, Quantities } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';

/**
 * A feed between two steps (or gates). `units`: unit u of `to` needs the first ceil(u x ratio - inStock) + headStart
 * good units of `from`; `inStock` is what need not be made because it is on the shelf already. See `unitsNeeded`.
 */
export interface StepFeed {
  readonly from: string;
  readonly to: string;
  readonly type: LinkName;
  readonly ratio: number;
  /** What one unit takes, where several share what comes, so that `ratio` is more; left out elsewhere. */
  readonly each?: number;
  /** Share of the units still to be made that comes out good; those that were counted are good. */
  readonly yield: number;
  readonly inStock: number;
  readonly headStart: number;
  readonly lagMinutes: number;
  readonly lagWorking: boolean;
  readonly origin: 'route' | 'parts' | 'maker' | 'gate';
}

/** Sets 2 and on of `step` wait until set 1 has passed the gate. */
export interface GateHold {
  readonly gate: string;
  readonly step: string;
}

interface StepFeeds {
  readonly feeds: readonly StepFeed[];
  readonly holds: readonly GateHold[];
  readonly problems: readonly Problem[];
}

/**
 * All feeds of a build. The steps of a part feed each other in order, unit by unit; a part feeds the first step of each
 * parent by the count in the bill of materials, unless some step's `uses` names it: then it feeds those alone. A link
 * that the maker types between two steps replaces the implied one between them; typed without a type it is
 * finish-start, or by units where it has a ratio or a head start.
 */
export function stepFeedsOf(build: Build, plans: readonly PlannedStep[], quantities: Quantities): StepFeeds {
  const problems: Problem[] = [];
  const byId = new Map(plans.map((plan) => [plan.id, plan]));
  const typed = typedFeeds(build, byId, quantities, problems);
  const gated = gateFeeds(build, byId, problems);
  const taken = new Set([...typed, ...gated.feeds].map(pairOf));
  const implied = [...routeFeeds(build, plans), ...partFeeds(build, plans, quantities)].filter(
    (feed) => !taken.has(pairOf(feed)),
  );
  for (const decision of build.decisions ?? []) {
    for (const id of decision.waits) {
      if (!byId.has(id)) problems.push(unknownStep(`decisions.${decision.id}.waits`, id));
    }
  }
  return { feeds: [...implied, ...typed, ...gated.feeds], holds: gated.holds, problems };
}

/** The steps of each part in the order of its route. */
export function routesOf(plans: readonly PlannedStep[]): Map<string, PlannedStep[]> {
  const routes = new Map<string, PlannedStep[]>();
  for (const plan of plans) {
    if (plan.part === null) continue;
    const route = routes.get(plan.part) ?? [];
    routes.set(plan.part, route);
    route.push(plan);
  }
  return routes;
}

function routeFeeds(build: Build, plans: readonly PlannedStep[]): StepFeed[] {
  const feeds: StepFeed[] = [];
  const parts = new Map((build.parts ?? []).map((part) => [part.id, part]));
  for (const [part, route] of routesOf(plans)) {
    if (!parts.has(part)) continue;
    for (let i = 1; i < route.length; i++) feeds.push(unitFeed(route[i - 1]!, route[i]!, 1, 'route'));
  }
  return feeds;
}

function partFeeds(build: Build, plans: readonly PlannedStep[], quantities: Quantities): StepFeed[] {
  const feeds: StepFeed[] = [];
  const routes = routesOf(plans);
  for (const part of build.parts ?? []) {
    const count = quantities.parts.get(part.id);
    const last = routes.get(part.id)?.at(-1);
    if (count === undefined || last === undefined) continue;
    const users = plans.filter((plan) => plan.step?.uses?.includes(part.id));
    for (const plan of users) {
      const use = users.length > 1 ? undefined : count.usedIn.find((candidate) => candidate.part === plan.part);
      feeds.push(partFeed(last, plan, count, use?.count));
    }
    if (users.length > 0) continue;
    const parents = count.usedIn.filter((use) => use.count > 0 && routes.has(use.part));
    for (const use of parents) {
      const isShared = parents.length > 1;
      const feed = partFeed(last, routes.get(use.part)![0]!, count, isShared ? undefined : use.count);
      feeds.push(isShared ? { ...feed, each: use.count } : feed);
    }
  }
  return feeds;
}

/**
 * A part feeds its user by what one unit takes (`perUnit`), of those still to be made by that over the yield. Where
 * several share it they share as they go: each has its part of what is needed when it has done its part of its own.
 * Spares come last, stock is used first.
 */
function partFeed(from: PlannedStep, to: PlannedStep, count: PartCount, perUnit: number | undefined): StepFeed {
  const good = perUnit !== undefined && perUnit > 0 ? perUnit : count.need / Math.max(1, to.total);
  const feed = unitFeed(from, to, good > 0 ? good : from.total / Math.max(1, to.total), 'parts');
  return { ...feed, yield: good > 0 ? count.yield : 1, inStock: count.onHand };
}

function typedFeeds(
  build: Build,
  byId: ReadonlyMap<string, PlannedStep>,
  quantities: Quantities,
  problems: Problem[],
): StepFeed[] {
  const typed: { feed: Feed; field: string }[] = [];
  for (const step of build.steps) {
    for (const after of step.after ?? []) {
      const { step: from, ...rest } = typeof after === 'string' ? { step: after } : after;
      typed.push({ feed: { from, to: step.id, ...rest }, field: `steps.${step.id}.after.${from}` });
    }
  }
  for (const feed of build.feeds ?? []) typed.push({ feed, field: `feeds.${feed.from}>${feed.to}` });
  return typed.flatMap(({ feed, field }) => typedFeed(feed, field, byId, quantities, problems) ?? []);
}

function typedFeed(
  feed: Feed,
  field: string,
  byId: ReadonlyMap<string, PlannedStep>,
  quantities: Quantities,
  problems: Problem[],
): StepFeed | null {
  const [from, to] = [byId.get(feed.from), byId.get(feed.to)];
  if (from === undefined || to === undefined) {
    problems.push(unknownStep(field, from === undefined ? feed.from : feed.to));
    return null;
  }
  if (from === to) {
    problems.push(problem('feed-circle', field, feed.from, problemTexts.steps.feedsItself(from.name)));
    return null;
  }
  const type = feed.type ?? (feed.ratio === undefined && feed.headStart === undefined ? 'finish-start' : 'units');
  const { evaluator } = quantities;
  const lagMinutes = feed.lag === undefined ? 0 : evaluator.span(feed.lag, `${field}.lag`, true);
  const given = feed.ratio === undefined ? null : evaluator.amount(feed.ratio, `${field}.ratio`);
  if (lagMinutes === null || (feed.ratio !== undefined && given === null)) return null;
  if (type === 'units' && (from.total === 0 || to.total === 0 || !from.counted)) {
    const empty = from.total === 0 || !from.counted ? from : to;
    problems.push(problem('no-units', field, empty.id, problemTexts.steps.nothingToFeed(empty.name)));
    return null;
  }
  if (type === 'units' && given !== null && !(given > 0)) {
    problems.push(
      problem(
        'no-units',
        `${field}.ratio`,
        feed.ratio,
        problemTexts.steps.ratio(`${field}.ratio`, from.name, to.name, given),
      ),
    );
    return null;
  }
  const share = given === null ? shareOf(from, to, quantities) : { ratio: given, yield: 1, inStock: 0 };
  return {
    from: from.id,
    to: to.id,
    type,
    ...share,
    headStart: feed.headStart ?? 0,
    lagMinutes,
    lagWorking: feed.lagIn === 'working',
    origin: 'maker',
  };
}

/** For one part: one for one; for a child and its parent: the count in the bill of materials; else in proportion. */
function shareOf(
  from: PlannedStep,
  to: PlannedStep,
  quantities: Quantities,
): Pick<StepFeed, 'ratio' | 'yield' | 'inStock'> {
  if (from.part !== null && from.part === to.part) return { ratio: 1, yield: 1, inStock: 0 };
  const count = from.part === null ? undefined : quantities.parts.get(from.part);
  const use = count?.usedIn.find((candidate) => candidate.part === to.part);
  if (count !== undefined && use !== undefined && use.count > 0) {
    const { ratio, yield: share, inStock } = partFeed(from, to, count, use.count);
    return { ratio, yield: share, inStock };
  }
  return { ratio: from.total / Math.max(1, to.total), yield: 1, inStock: 0 };
}

function gateFeeds(
  build: Build,
  byId: ReadonlyMap<string, PlannedStep>,
  problems: Problem[],
): { feeds: StepFeed[]; holds: GateHold[] } {
  const feeds: StepFeed[] = [];
  const holds: GateHold[] = [];
  for (const gate of build.gates ?? []) {
    if (!byId.has(gate.id)) continue;
    const known = (ids: readonly string[], list: string): string[] =>
      ids.filter((id) => {
        if (!byId.has(id)) problems.push(unknownStep(`gates.${gate.id}.${list}`, id));
        return byId.has(id);
      });
    for (const id of known(gate.after, 'after')) feeds.push({ ...plainFeed(id, gate.id), origin: 'gate' });
    const before = known(gate.before ?? [], 'before');
    for (const id of before) feeds.push({ ...plainFeed(gate.id, id), origin: 'gate' });
    known(
      (gate.sendsBack ?? []).map((back) => back.step),
      'sendsBack',
    );
    if (gate.proveFirst)
      for (const step of gate.holds ? known(gate.holds, 'holds') : before) holds.push({ gate: gate.id, step });
  }
  return { feeds, holds };
}

function plainFeed(from: string, to: string): StepFeed {
  return {
    from,
    to,
    type: 'finish-start',
    ratio: 1,
    yield: 1,
    inStock: 0,
    headStart: 0,
    lagMinutes: 0,
    lagWorking: false,
    origin: 'maker',
  };
}

function unitFeed(from: PlannedStep, to: PlannedStep, ratio: number, origin: StepFeed['origin']): StepFeed {
  return { ...plainFeed(from.id, to.id), type: 'units', ratio, origin };
}

function pairOf(feed: StepFeed): string {
  return `${feed.from}>${feed.to}`;
}

function unknownStep(field: string, id: string): Problem {
  return problem('unknown-name', field, id, problemTexts.steps.unknownStep(id));
}
