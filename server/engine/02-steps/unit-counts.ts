/** Units of every step by set, and what is left of them after the log. */
import type { PartCount, Quantities } from '../01-quantities/index.ts';
import { groupedBy, unitsAlong } from '../numbers/index.ts';
import type { Counted, Draft, PlannedSet, PlannedStep } from './step.ts';

/** Units by set, and what is left of them. Steps of one part share what was scrapped after them. */
export function countUnits(drafts: readonly Draft[], quantities: Quantities): PlannedStep[] {
  const routes = groupedBy(
    drafts.filter(({ part }) => part !== null),
    ({ part }) => part,
  );
  const totalsOf = new Map([...routes].map(([part, route]) => [part, routeTotals(part!, route, quantities)]));
  const places = new Map([...routes.values()].flatMap((route) => route.map((draft, i) => [draft.id, i] as const)));
  const standing = new Map<string, readonly number[]>();
  return drafts.map(({ ownCount, ...draft }) => {
    const route = draft.part === null ? [] : routes.get(draft.part)!;
    const place = places.get(draft.id) ?? 0;
    const later = route.slice(place + 1);
    const setCount = quantities.setCount;
    const own = (ownCount ?? 0) * (draft.perSet ? setCount : 1);
    const totals = draft.part === null ? { total: own, needed: own } : totalsOf.get(draft.part)!;
    const before = standing.get(route[place - 1]?.id ?? '') ?? null;
    const sets = draft.perSet ? setsOf({ ...draft, before, later }, totals, setCount) : [wholeOf(draft, totals, later)];
    if (draft.perSet)
      standing.set(
        draft.id,
        sets.map(({ counted }) => counted),
      );
    const neededLeft = sum(sets.map(({ needed, done }) => Math.max(0, needed - done)));
    return { ...draft, sets, total: totals.total, left: sum(sets.map((set) => set.left)), neededLeft };
  });
}

/** Units of a step in the whole: with spares, and without. */
interface Totals {
  readonly total: number;
  readonly needed: number;
}

function routeTotals(part: string, route: readonly Draft[], { parts, confidence }: Quantities): Totals {
  const count = parts.get(part);
  const total = routeTotal(count, route, confidence);
  if (count === undefined || count.wantedForPiece === count.wanted) return { total, needed: total };
  return { total, needed: routeTotal({ ...count, wanted: count.wantedForPiece }, route, confidence) };
}

/**
 * Units that must pass every step of the route (see `unitsAlong`). A unit that has passed i of K steps has the yield
 * y^((K - i) / K) still before it, or that of these steps where counting has told. A unit scrapped beyond that
 * allowance is made again from the start, since it no longer counts at the steps it had passed.
 */
function routeTotal(count: PartCount | undefined, route: readonly Draft[], confidence: number): number {
  if (count === undefined) return 0;
  const passed = route.map((draft, i) => Math.max(0, draft.tally.good - scrappedIn(route.slice(i + 1))));
  const rest = route.map((_, i) => yieldAfter(count, route, i));
  return unitsAlong(count.wanted, { passed, rest, share: count.yield }, confidence);
}

/** The share of what has passed step `stage` of the route that comes through the rest of it. */
function yieldAfter({ yield: share, learnt }: PartCount, route: readonly Draft[], stage: number): number {
  if (learnt === undefined) return share ** ((route.length - 1 - stage) / route.length);
  return route.slice(stage + 1).reduce((product, { id }) => product * (learnt.shares.get(id) ?? 1), 1);
}

function scrappedIn(route: readonly Draft[]): number {
  return sum(route.map((draft) => draft.tally.scrapped));
}

function wholeOf(draft: Counted, { total, needed }: Totals, later: readonly Draft[]): PlannedSet {
  const { good, scrapped, starts, passed } = draft.tally;
  const counted = draft.kind === 'gate' ? (passed ? 1 : 0) : good - sum(later.map((other) => other.tally.scrapped));
  return { set: null, offset: 0, total, needed, ...passedOf(counted, total), scrapped, starts };
}

function passedOf(units: number, total: number): Pick<PlannedSet, 'done' | 'counted' | 'left'> {
  const counted = Math.max(0, units);
  const done = Math.min(counted, total);
  return { done, counted, left: total - done };
}

/**
 * A step of a route: the good units by set of the step before it (null where that knows no sets), and those after it.
 */
type OnRoute = Counted & { readonly before: readonly number[] | null; readonly later: readonly Draft[] };

/**
 * Entries that name no set fill the sets in their order: first those in which later steps have counted more than was
 * counted here, since these units have passed here too, then those in which the step before has passed more. What is
 * lost without a set (sent back by a check of the whole, scrapped at a later step that knows no sets) is taken from the
 * last of them, but not what has passed later steps there while there is anything else. Units scrapped later in a set
 * that was never counted there were among those counted without one; units scrapped here without naming a set are
 * shown on the first. A gate that was passed without a set was passed for the first that had not been, unless it failed
 * since.
 *
 * @example two panels of four units: three counted for panel 2 and four without a set, one of these scrapped later for
 * panel 2 and one later without a set. `shares` 4, 4; `counted` 0, 3; `unnamed` 4; `lost` 0, 1, so `kept` 0, 2; there
 * is `room` for 4 and 2, and the four without a set are `filled` into panel 1. One more is lost somewhere, taken from
 * the last: `standing` 4, 1. Had a later step counted three for panel 2, one of the four would be filled in there.
 */
function setsOf(draft: OnRoute, { total, needed }: Totals, setCount: number): PlannedSet[] {
  const numbers = Array.from({ length: setCount }, (_, i) => i + 1);
  const tallies = numbers.map((set) => draft.tally.sets.get(set));
  const shares = sharesOf(total, setCount);
  const neededShares = sharesOf(needed, setCount);
  const standing = standingBySet(draft, shares, numbers);
  const passed = tallies.map((tally) => (tally?.passed ? 1 : 0));
  const unnamed = draft.tally.good - sum(tallies.map((tally) => tally?.good ?? 0));
  const passedAlso = filling(
    passed.map((one) => 1 - one),
    Math.max(0, unnamed - (draft.tally.passed ? 0 : 1)),
  );
  const scrapUnnamed = draft.tally.scrapped - sum(tallies.map((tally) => tally?.scrapped ?? 0));
  const offsets = before(shares);
  return numbers.map((set, i) => {
    const units = draft.kind === 'gate' ? passed[i]! + passedAlso[i]! : standing[i]!;
    return {
      set,
      offset: offsets[i]!,
      total: shares[i]!,
      needed: neededShares[i]!,
      ...passedOf(units, shares[i]!),
      scrapped: (tallies[i]?.scrapped ?? 0) + (i === 0 ? scrapUnnamed : 0),
      starts: tallies[i]?.starts ?? [],
    };
  });
}

/** Good units of a step by set, those that name none among them. */
function standingBySet(
  { tally, later, before }: OnRoute,
  shares: readonly number[],
  sets: readonly number[],
): number[] {
  const lost = lostBySet(later, sets);
  const counted = sets.map((set) => tally.sets.get(set)?.good ?? 0);
  const unnamed = tally.good - sum(counted);
  const kept = taken(counted, Math.max(0, -unnamed)).map((units, i) => units - lost[i]!);
  const owed = sum(kept.map((units) => Math.max(0, -units)));
  const passedLater = countedLater(later, sets);
  let units = kept.map((here) => Math.max(0, here));
  let left = Math.max(0, unnamed - owed);
  for (const wanted of [passedLater, before ?? shares, shares]) {
    const room = units.map((here, i) => Math.min(wanted[i]!, shares[i]!) - here);
    const filled = filling(room, left);
    units = units.map((here, i) => here + filled[i]!);
    left -= sum(filled);
  }
  const lostSomewhere = scrappedIn(later) - sum(lost);
  const free = units.map((here, i) => Math.max(0, here - passedLater[i]!));
  const rest = taken(free, lostSomewhere);
  const taking = units.map((here, i) => here - free[i]! + rest[i]!);
  return taken(taking, Math.max(0, lostSomewhere - sum(free)));
}

/** By set, the units that were scrapped at these steps. */
function lostBySet(steps: readonly Draft[], sets: readonly number[]): number[] {
  return sets.map((set) => sum(steps.map(({ tally }) => tally.sets.get(set)?.scrapped ?? 0)));
}

/** By set, the most units that any of these steps has counted there and that still are good. */
function countedLater(steps: readonly Draft[], sets: readonly number[]): number[] {
  const most = sets.map(() => 0);
  for (const [i, { tally }] of steps.entries()) {
    const lost = lostBySet(steps.slice(i + 1), sets);
    for (const [s, set] of sets.entries()) most[s] = Math.max(most[s]!, (tally.sets.get(set)?.good ?? 0) - lost[s]!);
  }
  return most;
}

/** Units by set, as even as can be: those left over go to the first sets. */
function sharesOf(units: number, setCount: number): number[] {
  return Array.from({ length: setCount }, (_, i) => Math.floor(units / setCount) + (i < units % setCount ? 1 : 0));
}

/** `units` put into these rooms, the first first. */
function filling(rooms: readonly number[], units: number): number[] {
  let left = units;
  return rooms.map((room) => {
    const put = clamp(left, 0, Math.max(0, room));
    left -= put;
    return put;
  });
}

/** What is left when `units` are taken away, from the last first. */
function taken(amounts: readonly number[], units: number): number[] {
  const gone = filling(amounts.toReversed(), units).reverse();
  return amounts.map((amount, i) => amount - gone[i]!);
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/** The sum before each: `before([4, 4, 3])` is 0, 4, 8. */
function before(amounts: readonly number[]): number[] {
  let past = 0;
  return amounts.map((amount) => {
    past += amount;
    return past - amount;
  });
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0);
}
