/** What counting says of the share of a part that comes out good, by its estimate and by what was scrapped. */
import type { Build, Part } from '../../model/index.ts';
import type { Tally } from '../log/index.ts';
import { stepsOfPart } from './own-steps.ts';

/** What the log says of a part: its yield as learnt, with what it was learnt from, and how far its units are. */
export interface PartYield {
  /** False where the log says nothing of the yield: it is as given. */
  readonly isLearnt: boolean;
  /** What was typed; 1 where nothing was. */
  readonly given: number;
  /** Share that comes through the whole route. */
  readonly yield: number;
  /** Share that comes through each step of the route, by its id. */
  readonly shares: ReadonlyMap<string, number>;
  /** Units begun so far, those scrapped among them. */
  readonly tried: number;
  readonly scrapped: number;
  /** Units that have passed each step of the route and were not scrapped later. */
  readonly passed: readonly number[];
}

/** How many units a share weighs as that somebody has typed, and one that nobody has (common practice, no source). */
const TYPED_UNITS = 30;
const UNTYPED_UNITS = 10;
/**
 * Where no share was typed, fewer tries of a step say nothing: a box that was dropped is no yield (common sense, no
 * source).
 */
const FEWEST_TRIED = 20;

/**
 * The parts that the log counts units of, with their yields: what it has nothing to say of stays as given. Each of the
 * K steps of a route has a beta belief about the share that it lets through: before anything was counted its mean is
 * the K-th root of the part's share, as sure as TYPED_UNITS units (UNTYPED_UNITS where the share was left empty, and
 * from FEWEST_TRIED tries on), and each unit counted or scrapped there is a try (Gelman and others, "Bayesian Data
 * Analysis", 3rd ed., 2.1, from memory). The part's yield is the product of the means. What a supplier delivers is no
 * try unless some of it was found bad. O(steps).
 *
 * @example one step, 0.92 typed, 34 good and 6 scrapped: (0.92 x 30 + 34) / (30 + 40) = 0.88
 */
export function learntYields(build: Build, tally: Tally): ReadonlyMap<string, PartYield> {
  const yields = new Map<string, PartYield>();
  for (const part of build.parts ?? []) {
    const learnt = learntYield(part, routeOf(part, build), tally);
    if (learnt !== null) yields.set(part.id, learnt);
  }
  return yields;
}

/** Whether a step of the part's own says when it is delivered, so that no order is implied. */
export function hasLead(part: Part, build: Build): boolean {
  return stepsOfPart(part.id, build).some(({ phases }) => phases?.some(({ kind }) => kind === 'lead'));
}

/** The id of the order that a bought part without a step for it implies. */
export function impliedOrderId(part: Part): string {
  return `order-${part.id}`.slice(0, 60);
}

interface Stage {
  readonly step: string;
  readonly good: number;
  readonly scrapped: number;
  readonly delivers: boolean;
}

interface RouteStep {
  readonly id: string;
  readonly delivers: boolean;
}

function routeOf(part: Part, build: Build): RouteStep[] {
  const isOrdered = part.source !== 'make' && part.supplier !== undefined && !hasLead(part, build);
  const own = stepsOfPart(part.id, build).map(
    ({ id, phases }): RouteStep => ({ id, delivers: phases?.some(({ kind }) => kind === 'lead') ?? false }),
  );
  return isOrdered ? [{ id: impliedOrderId(part), delivers: true }, ...own] : own;
}

function learntYield(part: Part, route: readonly RouteStep[], tally: Tally): PartYield | null {
  const stages = route.map(({ id, delivers }): Stage => {
    const { good = 0, scrapped = 0 } = tally.steps.get(id) ?? {};
    return { step: id, good: Math.max(0, good), scrapped, delivers };
  });
  const scrapped = stages.reduce((sum, stage) => sum + stage.scrapped, 0);
  const passed = standingOf(stages);
  if (scrapped === 0 && passed.every((units) => units === 0)) return null;
  const given = part.yield ?? 1;
  const fewest = part.yield === undefined ? FEWEST_TRIED : 1;
  const tried = stages.filter((stage) => isTried(stage, fewest));
  const isLearnt = tried.some((stage) => given < 1 || stage.scrapped > 0);
  const weight = part.yield === undefined ? UNTYPED_UNITS : TYPED_UNITS;
  const before = given ** (1 / stages.length);
  const shares = new Map(
    stages.map((stage) => [stage.step, isLearnt && tried.includes(stage) ? shareOf(stage, before, weight) : before]),
  );
  return {
    isLearnt,
    given,
    yield: isLearnt ? [...shares.values()].reduce((product, share) => product * share, 1) : given,
    shares,
    tried: scrapped + Math.max(...passed),
    scrapped,
    passed,
  };
}

function isTried({ good, scrapped, delivers }: Stage, fewest: number): boolean {
  return good + scrapped >= fewest && (scrapped > 0 || !delivers);
}

function shareOf({ good, scrapped }: Stage, before: number, weight: number): number {
  return (before * weight + good) / (weight + good + scrapped);
}

/** By step of the route, the units that have passed it and were not scrapped later. */
function standingOf(stages: readonly Stage[]): number[] {
  return stages.map(({ good }, i) => {
    const later = stages.slice(i + 1).reduce((sum, { scrapped }) => sum + scrapped, 0);
    return Math.max(0, good - later);
  });
}
