/** Boxes in the order in which they are opened, with what is in them; and what is in none. */
import type { Box, ForecastShow, ShowBox } from '../../model/index.ts';
import { type Evaluator, wholesOf } from '../01-quantities/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { levelledOfLot } from '../10-answers/index.ts';
import type { Planned } from '../stages/index.ts';
import { aboveGuideline, liftingGuideline } from './lifting.ts';
import { boxedOf, isMeasured, mountsOf, siteUnitsOf } from './site-units.ts';

/**
 * The boxes of a build, those first that are opened first on site: what is set up first must come out first, so it is
 * packed and loaded last. A box is opened at the step that it names, else at the first step on site that takes one of
 * its parts, or comes after the work on them; tools and kits without either at the first step there; the rest at the
 * end. Units are given to boxes in the order of the build, each to one of them; what is over says so. A box counts as
 * packed while an entry says so that nobody has taken back.
 */
export function boxesAnswer(planned: Planned, evaluator: Evaluator): Pick<ForecastShow, 'boxes' | 'unpacked'> {
  const left = new Map(siteUnitsOf(planned).map(({ part, units, spares }) => [part, { units, spares }]));
  const order = siteOrder(planned);
  const packed = packedBoxes(planned);
  const filled = (planned.build.boxes ?? []).map((box) => {
    const parts = partsIn(planned, box, left, evaluator);
    const opensAt = opensAtOf(planned, box, order);
    return { box: boxAnswer(box, parts, opensAt, planned, packed), rank: rankOf(box, opensAt, order) };
  });
  return {
    boxes: filled.sort((a, b) => a.rank - b.rank || (a.box.opens ?? 0) - (b.box.opens ?? 0)).map(({ box }) => box),
    unpacked: [...left].flatMap(([part, { units, spares }]) => (units + spares === 0 ? [] : [{ part, units, spares }])),
  };
}

function boxAnswer(
  box: Box,
  parts: ShowBox['parts'],
  opensAt: string | null,
  planned: Planned,
  packed: ReadonlyMap<string, NonNullable<ShowBox['packed']>>,
): ShowBox {
  const { id, name, width, height, depth, weight, carriers = 1, tools = [], kit = [] } = box;
  const isSized = width !== undefined && height !== undefined && depth !== undefined;
  return {
    id,
    name,
    size: isSized ? { width, height, depth } : null,
    weight: weight ?? null,
    carriers,
    guideline: liftingGuideline(carriers),
    above: weight === undefined ? null : aboveGuideline(weight, carriers),
    opensAt,
    opens: opensAt === null ? null : startOf(planned, opensAt, box.set),
    parts,
    tools,
    kit,
    packed: packed.get(id) ?? null,
  };
}

interface Left {
  units: number;
  spares: number;
}

/**
 * Takes what a box holds from what is left; a count that cannot be computed holds nothing. What is measured is in it by
 * its amount, which nobody counts against what goes to the site.
 */
function partsIn(planned: Planned, box: Box, left: Map<string, Left>, evaluator: Evaluator): ShowBox['parts'] {
  return (box.parts ?? []).flatMap(({ part, count, spare = false }, i) => {
    const wanted = boxedOf(planned, part, evaluator)(count, `boxes.${box.id}.parts.${i + 1}.count`);
    if (wanted === null) return [];
    if (isMeasured(planned, part)) return [{ part, units: spare ? 0 : wanted, spares: spare ? wanted : 0, tooMany: 0 }];
    const rest = left.get(part) ?? { units: 0, spares: 0 };
    const taken = Math.min(wanted, spare ? rest.spares : rest.units);
    rest[spare ? 'spares' : 'units'] -= taken;
    return [{ part, units: spare ? 0 : taken, spares: spare ? taken : 0, tooMany: wanted - taken }];
  });
}

/**
 * Steps and gates on site with their place in the order of setting up: those that are done, then as planned, then what
 * has no place in the plan; else as the maker lists them.
 */
function siteOrder(planned: Planned): ReadonlyMap<string, number> {
  const onSite = planned.plans.filter((plan) => plan.onSite);
  const sorted = onSite
    .map(({ id, left }, i) => ({ id, i, start: left === 0 ? DONE : (startOf(planned, id) ?? UNPLACED) }))
    .sort((a, b) => (a.start === b.start ? a.i - b.i : a.start - b.start));
  return new Map(sorted.map(({ id }, place) => [id, place]));
}

const DONE = Number.NEGATIVE_INFINITY;
const UNPLACED = Number.POSITIVE_INFINITY;

/** When the first lot that is left of a step begins, or of one set of it, as planned. */
function startOf(planned: Planned, id: string, set?: number): number | null {
  const { plans, work } = planned;
  const step = plans.findIndex((plan) => plan.id === id);
  const lots = step < 0 ? [] : lotsOfStep(work, step);
  return lots.reduce<number | null>((first, i) => {
    const own = work.lots[i]!.set;
    const start = levelledOfLot(planned, i)?.start;
    const isOther = set !== undefined && own !== null && own !== set;
    return isOther || start === undefined ? first : Math.min(first ?? start, start);
  }, null);
}

function opensAtOf(planned: Planned, { opensAt, parts = [] }: Box, order: ReadonlyMap<string, number>): string | null {
  if (opensAt !== undefined && planned.plans.some(({ id }) => id === opensAt)) return opensAt;
  const own = parts.filter(({ spare }) => spare !== true).flatMap(({ part }) => stepsTaking(planned, part));
  return firstIn(order, own) ?? firstIn(order, stepsAfter(planned, own));
}

/** The first of these steps on site; null where none is. */
function firstIn(order: ReadonlyMap<string, number>, steps: readonly string[]): string | null {
  return steps.filter((id) => order.has(id)).sort((a, b) => order.get(a)! - order.get(b)!)[0] ?? null;
}

/** All that these steps feed, over any number of feeds. */
function stepsAfter({ feeds }: Planned, steps: readonly string[]): string[] {
  const after = new Set<string>();
  const next = [...steps];
  while (next.length > 0) {
    const from = next.pop()!;
    for (const { to } of feeds.filter((feed) => feed.from === from)) {
      if (after.has(to)) continue;
      after.add(to);
      next.push(to);
    }
  }
  return [...after];
}

/** Steps that work on a part or put it in. */
function stepsTaking(planned: Planned, part: string): string[] {
  const { asked, build, quantities } = planned;
  const count = quantities.parts.get(part);
  const wholes = wholesOf(asked.build);
  const own = build.steps
    .filter((step) => step.part === part || wholes.get(step.part ?? '') === part)
    .map(({ id }) => id);
  return count === undefined ? own : [...own, ...mountsOf(planned, count).map(({ step }) => step.id)];
}

function rankOf(box: Box, opensAt: string | null, order: ReadonlyMap<string, number>): number {
  if (opensAt !== null) return order.get(opensAt) ?? order.size;
  return (box.tools ?? []).length + (box.kit ?? []).length > 0 ? -1 : order.size + 1;
}

function packedBoxes({ tally }: Planned): Map<string, NonNullable<ShowBox['packed']>> {
  return new Map(
    tally.standing.flatMap(({ kind, box, id, at, who }) =>
      kind === 'packed' && box !== undefined ? [[box, { entry: id, at, who: who ?? null }] as const] : [],
    ),
  );
}
