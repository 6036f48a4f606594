/** From the design to counts: parameters and formulas, then the parts by explosion of the bill of materials. */
import type { Build, Part, Problem } from '../../model/index.ts';
import { problem, problemTexts, warning } from '../../model/index.ts';
import {
  ceilCount,
  describeCircle,
  grossForWaste,
  packsToBuy,
  unitsAlong,
  unitsToBuy,
  unitsToStart,
} from '../numbers/index.ts';
import { createEvaluator, type Evaluator, fromFormula } from './amounts.ts';
import { type Explosion, explodeBillOfMaterials, type Use } from './explode.ts';
import { solveParameters } from './formula.ts';
import { type LimitValue, limitValues } from './limit-values.ts';
import type { PartYield } from './yield-learning.ts';

/**
 * What is measured and not counted: amounts in its unit. All else of its count is in packs, so that the piece's need of
 * 0.86 L out of packs of 2.5 L is 0.344 of one unit.
 */
interface PartMeasure {
  readonly unit: string;
  /** In one pack. */
  readonly pack: number;
  /** The share that ends in the piece of what is cut from, bought or on hand: 1 less the waste, times the yield. */
  readonly share: number;
  /** In the piece, waste and spares not counted. */
  readonly need: number;
  readonly spares: number;
  readonly onHand: number;
}

export interface PartCount {
  readonly part: Part;
  /** Null for what is counted in pieces. */
  readonly measure: PartMeasure | null;
  /** Needed in the piece, over all paths, spares not counted. */
  readonly need: number;
  readonly spares: number;
  /** The part of `need` that is its own count, without what goes into other parts. */
  readonly ownNeed: number;
  readonly onHand: number;
  /** Share that comes out good: as given, or as learnt. */
  readonly yield: number;
  /** Left out where the log says nothing of it. */
  readonly learnt?: PartYield;
  /** Units scrapped so far at any step of its route. */
  readonly scrapped: number;
  /** Good units so far beyond `wanted`. */
  readonly surplus: number;
  /** Good units to end with beyond what is on hand: need + spares - on hand. */
  readonly wanted: number;
  /** The same without the spares of this part and of those that it goes into. */
  readonly wantedForPiece: number;
  /** To start, so that `wanted` come out good at the build's confidence; what was scrapped so far is among them. */
  readonly toMake: number;
  /** The same where the rest fails as often as was given, whatever counting has told. */
  readonly toMakeAsGiven: number;
  /**
   * Units that what goes into it is counted for: `toMake`, but for what was scrapped beyond what the given share
   * allowed.
   */
  readonly fedFor: number;
  readonly packs: number | null;
  readonly toBuy: number | null;
  readonly cost: number | null;
  /** Units of this part that go into one unit of the parent, packs of what is measured. */
  readonly usedIn: readonly { readonly part: string; readonly count: number }[];
}

export interface Quantities {
  readonly values: ReadonlyMap<string, number>;
  readonly parts: ReadonlyMap<string, PartCount>;
  /** In the order of the build. */
  readonly limits: readonly LimitValue[];
  readonly setCount: number;
  readonly confidence: number;
  readonly evaluator: Evaluator;
  readonly problems: readonly Problem[];
}

const DEFAULT_CONFIDENCE = 0.9;
const MOST_UNITS = 1_000_000;

/**
 * Counts of every part of a build. To make is the smallest n with P(Binomial(n, yield) >= need + spares - on hand) at
 * least the build's confidence; to buy is rounded up to packs. Where the log counts units (`learnt`), n are those begun
 * so far and those that what is missing still takes. `overrides` replace parameters by name (what-ifs, drawn futures).
 * What cannot be counted (a circle, a broken formula) is absent and named in the problems; the rest is counted.
 */
export function quantitiesOf(
  build: Build,
  overrides: ReadonlyMap<string, number> = new Map(),
  learnt: ReadonlyMap<string, PartYield> = new Map(),
): Quantities {
  const problems: Problem[] = [];
  const solution = solveParameters(build.parameters ?? [], overrides);
  for (const found of solution.problems) problems.push(fromFormula({ ...found, field: `parameters.${found.field}` }));
  const evaluator = createEvaluator(solution.values);
  const setCount = build.sets === undefined ? 1 : (evaluator.count(build.sets.count, 'sets.count', 1) ?? 1);
  const confidence = build.confidence ?? DEFAULT_CONFIDENCE;
  const parts = countParts({ parts: build.parts ?? [], learnt, confidence }, evaluator, problems);
  const limits = limitValues(build.limits ?? [], evaluator, problems);
  problems.push(...evaluator.problems);
  return { values: solution.values, parts, limits, setCount, confidence, evaluator, problems };
}

interface Wanted {
  readonly part: Part;
  readonly measure: Pick<PartMeasure, 'unit' | 'pack' | 'share'> | null;
  readonly log: PartYield | undefined;
  readonly spares: number;
  readonly onHand: number;
  readonly usedIn: readonly { readonly part: string; readonly count: number }[];
}

interface PartsToCount {
  readonly parts: readonly Part[];
  readonly learnt: ReadonlyMap<string, PartYield>;
  readonly confidence: number;
}

function countParts(asked: PartsToCount, evaluator: Evaluator, problems: Problem[]): Map<string, PartCount> {
  const wants = readParts(asked.parts, asked.learnt, evaluator, problems);
  const explosion = explode(wants, asked.confidence);
  for (const circle of explosion.circles) {
    const names = describeCircle(circle);
    problems.push(problem('part-circle', `parts.${circle[0]}.usedIn`, names, problemTexts.parts.circle(names)));
  }
  const hasSpares = [...wants.known.values()].some(({ spares }) => spares > 0);
  const spareless = hasSpares ? explode({ ...wants, known: withNoSpares(wants.known) }, asked.confidence) : explosion;
  const counts = new Map<string, PartCount>();
  for (const [id, wanted] of wants.known) {
    const gross = explosion.gross.get(id);
    if (gross === undefined) continue;
    const forPiece = spareless.gross.get(id) ?? gross;
    const whole = wanted.measure === null ? ceilCount : (units: number) => units;
    const needs = { need: whole(gross), ownNeed: wants.demand.get(id) ?? 0, needForPiece: whole(forPiece) };
    const count = partCount(wanted, needs, asked.confidence);
    if (count.toMake <= MOST_UNITS) counts.set(id, count);
    else {
      const message = problemTexts.parts.tooMany(wanted.part.name, count.toMake, MOST_UNITS);
      problems.push(problem('formula-value', `parts.${id}`, count.toMake, message));
    }
  }
  return counts;
}

/** What is wanted of each part for its own sake, and what uses it; parts that cannot be read are left out. */
interface Wants {
  readonly known: ReadonlyMap<string, Wanted>;
  readonly uses: readonly Use[];
  /** Units, of a measured part packs. */
  readonly demand: ReadonlyMap<string, number>;
}

function readParts(
  parts: readonly Part[],
  learnt: PartsToCount['learnt'],
  evaluator: Evaluator,
  problems: Problem[],
): Wants {
  const known = new Map<string, Wanted>();
  const uses: Use[] = [];
  const demand = new Map<string, number>();
  const packs = new Map(parts.map((part) => [part.id, measureOf(part)?.pack ?? 1]));
  for (const part of parts) {
    const field = `parts.${part.id}`;
    if (known.has(part.id)) {
      problems.push(problem('duplicate-id', field, part.id, problemTexts.parts.twice(part.id)));
      continue;
    }
    const read = readPart(part, packs, evaluator, problems);
    if (read === null) continue;
    const { usedIn } = read.wanted;
    known.set(part.id, { ...read.wanted, log: learnt.get(part.id) });
    demand.set(part.id, read.count);
    for (const use of usedIn) uses.push({ parent: use.part, child: part.id, count: use.count });
    if (part.count === undefined && usedIn.length === 0) {
      problems.push(warning('no-units', `${field}.count`, 'nothing', problemTexts.parts.noCount(part.name)));
    }
  }
  return { known, uses: uses.filter((use) => known.has(use.parent)), demand };
}

/** One part with its own count in units (of a measured part packs); null where one of its figures cannot be read. */
function readPart(
  part: Part,
  packs: ReadonlyMap<string, number>,
  evaluator: Evaluator,
  problems: Problem[],
): { readonly wanted: Omit<Wanted, 'log'>; readonly count: number } | null {
  const field = `parts.${part.id}`;
  const measure = measureOf(part);
  const [inPiece, inPack] = measure === null ? [1, 1] : [measure.pack * measure.share, measure.pack];
  const numberOf = measure === null ? evaluator.count : evaluator.measure;
  const usedIn = usesOf(part, packs, evaluator, problems)?.map((use) => ({ ...use, count: use.count / inPiece }));
  const count = part.count === undefined ? 0 : numberOf(part.count, `${field}.count`);
  const spares = part.spares === undefined ? 0 : numberOf(part.spares, `${field}.spares`);
  if (usedIn === undefined || count === null || spares === null) return null;
  const onHand = (part.onHand ?? 0) / inPack;
  return { wanted: { part, measure, spares: spares / inPack, onHand, usedIn }, count: count / inPiece };
}

/** How many of each part, over all that uses it; what is on hand covers spares before it covers need. */
function explode({ known, uses, demand }: Wants, confidence: number): Explosion {
  return explodeBillOfMaterials({
    parts: [...known.keys()],
    uses,
    demand,
    onHand: new Map([...known].map(([id, { onHand, spares }]) => [id, Math.max(0, onHand - spares)])),
    started: (id, net) => toStart(known.get(id), net, confidence),
  });
}

function measureOf({ unit, packSize, waste = 0, yield: share = 1 }: Part): Wanted['measure'] {
  return unit === undefined ? null : { unit, pack: packSize ?? 1, share: share / grossForWaste(1, waste) };
}

function withNoSpares(known: ReadonlyMap<string, Wanted>): Map<string, Wanted> {
  return new Map([...known].map(([id, wanted]) => [id, { ...wanted, spares: 0 }]));
}

/** What goes into one unit of each parent, of a measured one into a pack; `packs` says how much that is. */
function usesOf(
  part: Part,
  packs: ReadonlyMap<string, number>,
  evaluator: Evaluator,
  problems: Problem[],
): Wanted['usedIn'] | null {
  const uses: { part: string; count: number }[] = [];
  for (const use of part.usedIn ?? []) {
    const field = `parts.${part.id}.usedIn.${use.part}`;
    const pack = packs.get(use.part);
    if (pack === undefined) {
      problems.push(problem('unknown-name', field, use.part, problemTexts.parts.unknownUse(part.name, use.part)));
      return null;
    }
    const count = evaluator.amount(use.count, field);
    if (count === null) return null;
    if (count < 0) {
      problems.push(problem('negative-count', field, use.count, problemTexts.amounts.negative(field, count)));
      return null;
    }
    uses.push({ part: use.part, count: count * pack });
  }
  return uses;
}

function toStart(wanted: Wanted | undefined, net: number, confidence: number): number {
  if (wanted === undefined) return net;
  return startsFor(goodWanted(wanted, net), wanted, confidence);
}

/**
 * Units that what goes into them is counted for, so that this many come out good: those that stand and what is missing
 * still takes, and those scrapped so far up to what the given share allowed for. What was scrapped beyond that is asked
 * about instead.
 */
function startsFor(good: number, wanted: Pick<Wanted, 'part' | 'measure' | 'log'>, confidence: number): number {
  const { part, measure, log } = wanted;
  if (good > MOST_UNITS || measure !== null) return good;
  const standing = standingFor(good, wanted, confidence);
  if (log === undefined || log.scrapped === 0) return standing;
  const allowed = unitsToStart(good, part.yield ?? 1, confidence) - good;
  return standing + Math.min(log.scrapped, allowed);
}

/** Units that must pass every step, those that stand included, so that this many come out good. */
function standingFor(
  good: number,
  { part, measure, log }: Pick<Wanted, 'part' | 'measure' | 'log'>,
  confidence: number,
): number {
  if (good > MOST_UNITS) return good;
  if (log === undefined) return measure === null ? unitsToStart(good, part.yield ?? 1, confidence) : good;
  if (measure !== null) return Math.max(good, log.passed.at(-1)!);
  const rest = log.passed.map((_, i) => [...log.shares.values()].slice(i + 1).reduce((all, share) => all * share, 1));
  return unitsAlong(good, { passed: log.passed, rest, share: log.yield }, confidence);
}

/** Stock covers spares last: the explosion has been given what is on hand beyond the spares. */
function goodWanted({ measure, spares, onHand }: Wanted, net: number): number {
  const sparesLeft = spares - Math.min(spares, onHand);
  return measure === null ? ceilCount(net) + sparesLeft : ceilCount(net + sparesLeft);
}

interface Needs {
  readonly need: number;
  readonly ownNeed: number;
  readonly needForPiece: number;
}

function partCount(wanted: Wanted, { need, ownNeed, needForPiece }: Needs, confidence: number): PartCount {
  const { part, measure, log, spares, onHand, usedIn } = wanted;
  const good = ceilCount(Math.max(0, need + spares - onHand));
  const wantedForPiece = ceilCount(Math.max(0, needForPiece - onHand));
  const fedFor = startsFor(good, wanted, confidence);
  const scrapped = log?.scrapped ?? 0;
  const toMake = scrapped + standingFor(good, wanted, confidence);
  const learnt = measure === null && log?.isLearnt ? log : undefined;
  const toMakeAsGiven =
    learnt === undefined ? toMake : scrapped + standingFor(good, { part, measure, log: asGiven(learnt) }, confidence);
  const surplus = Math.max(0, (log?.passed.at(-1) ?? 0) - good);
  const bought = part.source === 'buy';
  const size = measure === null ? (part.packSize ?? 1) : 1;
  const packs = !bought ? null : measure !== null ? toMake : size > 1 ? packsToBuy(toMake, size) : null;
  const toBuy = bought ? inWholePacks(part, toMake) : null;
  const cost = costOf(part, toBuy ?? toMake);
  const share = measure === null ? (learnt?.yield ?? part.yield ?? 1) : 1;
  const measured = measure === null ? null : amountsOf(measure, { need, spares, onHand });
  const counts = { measure: measured, need, ownNeed, spares, onHand, yield: share, wanted: good, wantedForPiece };
  return {
    part,
    ...counts,
    ...(learnt === undefined ? {} : { learnt }),
    scrapped,
    surplus,
    fedFor,
    toMake,
    toMakeAsGiven,
    packs,
    toBuy,
    cost,
    usedIn,
  };
}

/** What the log says of a part, but for how many fail. */
function asGiven(log: PartYield): PartYield {
  const each = log.given ** (1 / log.shares.size);
  return { ...log, yield: log.given, shares: new Map([...log.shares.keys()].map((step) => [step, each])) };
}

/** Packs as amounts in the unit that the part is measured in. */
function amountsOf(
  measure: NonNullable<Wanted['measure']>,
  { need, spares, onHand }: Pick<PartCount, 'need' | 'spares' | 'onHand'>,
): PartMeasure {
  const { pack, share } = measure;
  return { ...measure, need: need * pack * share, spares: spares * pack, onHand: onHand * pack };
}

/**
 * Units of the log in whole packs: pieces that are bought are rounded up to packs; what is measured comes in packs as
 * it is, and all else by the piece.
 *
 *     inWholePacks({ source: 'buy', packSize: 20 }, 25) // 40
 *     inWholePacks({ source: 'buy', packSize: 2.5, unit: 'L' }, 3) // 3
 */
export function inWholePacks(
  { source, unit, packSize = 1 }: Pick<Part, 'source' | 'unit' | 'packSize'>,
  units: number,
) {
  return source === 'buy' && unit === undefined ? unitsToBuy(units, packSize) : units;
}

/**
 * Units that are there beyond what the piece needs once all is made and bought: spares or what more is on hand, what
 * has come beyond that, and what comes beyond it in whole packs. What is begun to make up for bad ones is none of it.
 *
 *     unitsToSpare({ need: 30, spares: 0, onHand: 0, surplus: 0, toMake: 32, toBuy: 40 }) // 8
 *     unitsToSpare({ need: 30, spares: 1, onHand: 50, surplus: 0, toMake: 0, toBuy: null }) // 20
 */
export function unitsToSpare({ need, spares, onHand, surplus, toMake, toBuy }: Spare): number {
  return Math.max(spares, onHand - need) + surplus + Math.max(0, (toBuy ?? toMake) - toMake);
}

type Spare = Pick<PartCount, 'need' | 'spares' | 'onHand' | 'surplus' | 'toMake' | 'toBuy'>;

/**
 * What units of the log cost, with what comes once, in the build's currency; null where no price is given. A unit of
 * what is measured is a pack of it, and its price is that of one litre or metre.
 *
 *     costOf({ unitCost: 18, unit: 'L', packSize: 2.5 }, 2) // 90
 *     costOf({ unitCost: 0.5, onceCost: 4 }, 40) // 24
 */
export function costOf(
  { unit, packSize = 1, unitCost, onceCost }: Pick<Part, 'unit' | 'packSize' | 'unitCost' | 'onceCost'>,
  units: number,
): number | null {
  if (unitCost === undefined && onceCost === undefined) return null;
  return units === 0 ? 0 : (unitCost ?? 0) * units * (unit === undefined ? 1 : packSize) + (onceCost ?? 0);
}
