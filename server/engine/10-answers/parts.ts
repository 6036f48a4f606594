/** Parts with their counts: needed, to make, to buy, good and scrapped. */
import type { ForecastPart } from '../../model/index.ts';
import type { PartCount } from '../01-quantities/index.ts';
import { arrivalOf, isInstant, latestOrderFor, type Surroundings } from '../calendar/index.ts';
import { sparesFor, sparesForShare } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';

/** Every part of the build, in the maker's order. O(parts x steps). */
export function partsAnswer({ quantities, plans, surroundings, now }: Planned): ForecastPart[] {
  return [...quantities.parts.values()].map((count) => {
    const route = plans.filter((plan) => plan.part === count.part.id);
    const last = route.at(-1);
    return {
      id: count.part.id,
      name: count.part.name,
      source: count.part.source,
      need: count.need,
      spares: count.spares,
      ownNeed: count.ownNeed,
      onHand: count.onHand,
      yield: count.yield,
      ...yieldAnswer(count),
      toMake: count.toMake,
      packs: count.packs,
      toBuy: count.toBuy,
      cost: count.cost,
      supplier: count.part.supplier ?? null,
      revision: count.part.revision ?? null,
      dependsOn: count.part.dependsOn ?? [],
      usedIn: count.usedIn,
      ...(count.part.unchecked === undefined ? {} : { unchecked: count.part.unchecked }),
      good: last === undefined ? 0 : last.total - last.left,
      scrapped: route.reduce((total, plan) => total + plan.tally.scrapped, 0),
      againAt: againAtOf(count.part.supplier, surroundings, now),
      spareBy: spareByOf(count.part.supplier, surroundings, now),
      ...sparesAnswer(count, quantities.confidence),
    };
  });
}

/** Spares that last with this chance, by what is expected to fail; where nobody has said, nothing. */
function sparesAnswer({ part, need }: PartCount, confidence: number): Pick<ForecastPart, 'sparesWanted'> {
  if (part.failures !== undefined) return { sparesWanted: need === 0 ? 0 : sparesFor(part.failures, confidence) };
  if (part.failShare !== undefined) return { sparesWanted: sparesForShare(need, part.failShare, confidence) };
  return {};
}

function yieldAnswer({ learnt }: PartCount): Pick<ForecastPart, 'yieldLearnt'> {
  if (learnt === undefined) return {};
  const { given, tried, scrapped } = learnt;
  return { yieldLearnt: { given, tried, scrapped, origin: 'measured' } };
}

function againAtOf(supplier: string | undefined, { suppliers }: Surroundings, now: Instant): Instant | null {
  const known = supplier === undefined ? undefined : suppliers.get(supplier);
  return known === undefined ? null : arrivalOf(known.arrivals(known.expressDays ?? known.leadDays), now);
}

function spareByOf(supplier: string | undefined, { suppliers, readyBy }: Surroundings, now: Instant): Instant | null {
  const known = supplier === undefined ? undefined : suppliers.get(supplier);
  if (known === undefined) return null;
  const last = latestOrderFor(known.arrivals(known.expressDays ?? known.leadDays), readyBy);
  return isInstant(last) && last >= now ? last : null;
}
