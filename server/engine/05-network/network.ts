/**
 * Lots and links as a checked directed graph, laid flat for the passes that run over it thousands of times.
 *
 * A graph of objects keyed by strings costs some 20 microseconds a lot, a hundred times as much as this (measured by
 * `npm run bench -- plan`), and a plan is made again at every tap; so the graph library is the second opinion in the
 * tests.
 */
import { type Problem, problem, problemTexts, warning } from '../../model/index.ts';
import { dependencyOrder, describeCircle, indicesByGroup } from '../numbers/index.ts';
import { type Calendar, LINK_TYPES, type Link, type LinkType } from '../types.ts';

/**
 * Links out of lot i are outLinks[outFirst[i] .. outFirst[i + 1]), those into it inLinks[inFirst[i] .. inFirst[i + 1]):
 * indices of links.
 */
export interface Network {
  readonly lots: number;
  readonly links: readonly Link[];
  readonly outFirst: Int32Array;
  readonly outLinks: Int32Array;
  readonly inFirst: Int32Array;
  readonly inLinks: Int32Array;
  readonly linkFrom: Int32Array;
  readonly linkTo: Int32Array;
  /** Index into LINK_TYPES. */
  readonly linkType: Uint8Array;
  readonly linkLag: Int32Array;
  readonly linkOpen: readonly (Calendar | null)[];
  /** Every lot that can be ordered, each after all that feed it. */
  readonly order: Int32Array;
  /** 1 for lots in `order`. */
  readonly ordered: Uint8Array;
  /** Circles, each once, as lots in the order in which they feed each other; empty in a sound network. */
  readonly circles: readonly (readonly number[])[];
  /** Lots in none of these circles that wait for one. */
  readonly behindCircles: readonly number[];
  /** Lots that nothing feeds and that feed nothing, where there are others. */
  readonly orphans: readonly number[];
}

export const FINISH_START = LINK_TYPES.indexOf('finish-start');
export const START_START = LINK_TYPES.indexOf('start-start');
export const FINISH_FINISH = LINK_TYPES.indexOf('finish-finish');
export const START_FINISH = LINK_TYPES.indexOf('start-finish');

/**
 * The network of `lots` lots and their links, with a topological order (Kahn 1962, first come first served, so the same
 * input always gives the same order) and what is wrong with it. A link of any type makes its lots follow each other, so
 * two lots that link to each other make a circle even where their dates would allow it; so does a lot linked to itself.
 * Time and memory are linear in lots and links; nothing recurses. Throws a RangeError for a link to a lot that is not
 * there.
 */
export function networkOf(lots: number, links: readonly Link[]): Network {
  const count = links.length;
  const linkFrom = new Int32Array(count);
  const linkTo = new Int32Array(count);
  const linkType = new Uint8Array(count);
  const linkLag = new Int32Array(count);
  for (let i = 0; i < count; i++) {
    const link = links[i]!;
    if (!(link.from >= 0 && link.from < lots && link.to >= 0 && link.to < lots)) {
      throw new RangeError(`link ${i} goes from lot ${link.from} to lot ${link.to}; there are ${lots} lots`);
    }
    linkFrom[i] = link.from;
    linkTo[i] = link.to;
    linkType[i] = TYPE_NUMBER[link.type];
    linkLag[i] = link.lagMinutes;
  }
  const [outFirst, outLinks] = indicesByGroup(lots, linkFrom);
  const [inFirst, inLinks] = indicesByGroup(lots, linkTo);
  const { order, ordered } = sortTopologically(lots, outFirst, outLinks, inFirst, linkTo);
  const flat = { lots, links, outFirst, outLinks, inFirst, inLinks, linkFrom, linkTo, linkType, linkLag };
  const linkOpen = links.map((link) => link.lagOpen);
  return { ...flat, linkOpen, order, ordered, ...stuckLots(flat, order, ordered), orphans: orphansOf(flat) };
}

/**
 * What is wrong with the network, in sentences: an error `feed-circle` for each circle, a warning `orphan` for each
 * lone lot.
 */
export function networkProblems(network: Network, nameOf: (lot: number) => string): Problem[] {
  const circles = network.circles.map((circle) => {
    const names = describeCircle(withoutRepeats(circle.map(nameOf)));
    return problem('feed-circle', 'feeds', names, problemTexts.steps.circle(names));
  });
  const orphans = network.orphans.map((lot) =>
    warning('orphan', 'feeds', nameOf(lot), problemTexts.steps.orphanLot(nameOf(lot))),
  );
  return [...circles, ...orphans];
}

const TYPE_NUMBER: Readonly<Record<LinkType, number>> = {
  'finish-start': 0,
  'start-start': 1,
  'finish-finish': 2,
  'start-finish': 3,
};

type Flat = Pick<Network, 'lots' | 'outFirst' | 'inFirst' | 'inLinks' | 'linkFrom'>;

function sortTopologically(
  lots: number,
  outFirst: Int32Array,
  outLinks: Int32Array,
  inFirst: Int32Array,
  linkTo: Int32Array,
): { order: Int32Array; ordered: Uint8Array } {
  const waitingFor = new Int32Array(lots);
  const queue = new Int32Array(lots);
  const ordered = new Uint8Array(lots);
  let end = 0;
  for (let lot = 0; lot < lots; lot++) {
    waitingFor[lot] = inFirst[lot + 1]! - inFirst[lot]!;
    if (waitingFor[lot] === 0) queue[end++] = lot;
  }
  for (let head = 0; head < end; head++) {
    const lot = queue[head]!;
    ordered[lot] = 1;
    for (let k = outFirst[lot]!; k < outFirst[lot + 1]!; k++) {
      const to = linkTo[outLinks[k]!]!;
      if (--waitingFor[to]! === 0) queue[end++] = to;
    }
  }
  return { order: queue.slice(0, end), ordered };
}

function stuckLots(network: Flat, order: Int32Array, ordered: Uint8Array): Pick<Network, 'circles' | 'behindCircles'> {
  if (order.length === network.lots) return { circles: [], behindCircles: [] };
  const stuck: number[] = [];
  const position = new Map<number, number>();
  for (let lot = 0; lot < network.lots; lot++) if (ordered[lot] === 0) position.set(lot, stuck.push(lot) - 1);
  const needs = stuck.map((lot) =>
    Array.from(network.inLinks.subarray(network.inFirst[lot], network.inFirst[lot + 1]), (link) =>
      position.get(network.linkFrom[link]!),
    ).filter((need) => need !== undefined),
  );
  const { circles, behindCircles } = dependencyOrder(needs);
  return {
    // What needs comes before what is needed there; lots are named as they feed each other, from the first of them.
    circles: circles.map(([first, ...rest]) => [first!, ...rest.reverse()].map((i) => stuck[i]!)),
    behindCircles: behindCircles.map((i) => stuck[i]!),
  };
}

function orphansOf({ lots, outFirst, inFirst }: Flat): number[] {
  const orphans: number[] = [];
  for (let lot = 0; lots > 1 && lot < lots; lot++) {
    if (outFirst[lot] === outFirst[lot + 1] && inFirst[lot] === inFirst[lot + 1]) orphans.push(lot);
  }
  return orphans;
}

/** Neighbours of one name, such as lots of one step, are named once. */
function withoutRepeats(names: readonly string[]): string[] {
  return names.filter((name, i) => i === 0 || name !== names[i - 1]);
}
