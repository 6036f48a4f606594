/** Parts with their counts: needed, to make, to buy, good and scrapped. */
import type { ForecastPart } from '../../model/index.ts';
import { type PartCount, unitsToSpare, wholesOf } from '../01-quantities/index.ts';
import { arrivalOf, isInstant, latestOrderFor, type Surroundings } from '../calendar/index.ts';
import { isNearlyEqual, sparesFor, sparesForShare } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import { costOfPart } from './orders/money.ts';

/** Every part of the build, in the maker's order. O(parts x steps). */
export function partsAnswer(planned: Planned): ForecastPart[] {
  const { asked, quantities, plans, surroundings, now } = planned;
  const wholes = wholesOf(asked.build);
  return [...quantities.parts.values()].map((count) => {
    const route = plans.filter((plan) => plan.part === count.part.id);
    const last = route.at(-1);
    const pack = count.measure?.pack ?? 1;
    const good = last === undefined ? 0 : last.total - last.left;
    return {
      id: count.part.id,
      name: count.part.name,
      source: count.part.source,
      ...(wholes.has(count.part.id) ? { shareOf: wholes.get(count.part.id)! } : {}),
      ...amountsOf(count, quantities.parts),
      yield: count.yield,
      ...yieldAnswer(count),
      packs: count.packs,
      cost: costOfPart(planned, count)?.inAll ?? null,
      supplier: count.part.supplier ?? null,
      revision: count.part.revision ?? null,
      dependsOn: count.part.dependsOn ?? [],
      ...(count.part.unchecked === undefined ? {} : { unchecked: count.part.unchecked }),
      good: good * pack,
      missing: missingOf(count, good),
      scrapped: route.reduce((total, plan) => total + plan.tally.scrapped, 0) * pack,
      againAt: againAtOf(count.part.supplier, surroundings, now),
      spareBy: spareByOf(count.part.supplier, surroundings, now),
      ...(count.measure === null ? { toSpare: unitsToSpare(count) } : {}),
      ...sparesAnswer(count, quantities.confidence),
    };
  });
}

type Amounts = 'need' | 'spares' | 'ownNeed' | 'onHand' | 'toMake' | 'toBuy' | 'usedIn' | 'measure';

/**
 * Amounts in its unit where a part is measured, else pieces; what goes into a measured parent is for one unit of it.
 */
function amountsOf(count: PartCount, parts: ReadonlyMap<string, PartCount>): Pick<ForecastPart, Amounts> {
  const { measure, need, spares, ownNeed, onHand, toMake, toBuy } = count;
  const inOne = measure === null ? 1 : measure.pack * measure.share;
  const usedIn = count.usedIn.map((use) => ({
    part: use.part,
    count: (use.count * inOne) / (parts.get(use.part)?.measure?.pack ?? 1),
  }));
  if (measure === null) return { need, spares, ownNeed, onHand, toMake, toBuy, usedIn };
  const { unit, pack, share } = measure;
  return {
    measure: { unit, pack },
    need: measure.need,
    spares: measure.spares,
    ownNeed: ownNeed * pack * share,
    onHand: measure.onHand,
    toMake: toMake * pack,
    toBuy: toBuy === null ? null : toBuy * pack,
    usedIn,
  };
}

/**
 * How much more must come or be made, spares included, before all is there; of what is measured with what of it is
 * lost, for that is lost of what is on hand too.
 */
function missingOf({ measure, need, spares, onHand }: PartCount, good: number): number {
  const missing = need + spares - onHand - good;
  if (missing <= 0 || isNearlyEqual(need + spares, onHand + good)) return 0;
  return measure === null ? missing : missing * measure.pack;
}

/** Spares that last with this chance, by what is expected to fail; where nobody has said, nothing. */
function sparesAnswer({ part, need, measure }: PartCount, confidence: number): Pick<ForecastPart, 'sparesWanted'> {
  if (measure !== null) return {};
  if (part.failures !== undefined) return { sparesWanted: need === 0 ? 0 : sparesFor(part.failures, confidence) };
  if (part.failShare !== undefined) return { sparesWanted: sparesForShare(need, part.failShare, confidence) };
  return {};
}

function yieldAnswer({ learnt, toMakeAsGiven }: PartCount): Pick<ForecastPart, 'yieldLearnt'> {
  if (learnt === undefined) return {};
  const { given, tried, scrapped } = learnt;
  return { yieldLearnt: { given, tried, scrapped, toMakeAsGiven, origin: 'measured' } };
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
