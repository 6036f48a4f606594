/** Bill of materials: what one unit of everything needs, over all paths. */
import { dependencyOrder } from '../numbers/index.ts';

/** One unit of `parent` needs `count` units of `child`. Two lines for the same pair add up. */
export interface Use {
  readonly parent: string;
  readonly child: string;
  readonly count: number;
}

export interface Explosion {
  /** Units needed in all, over all paths from the demand; not rounded. Absent for what is in `unknown`. */
  readonly gross: ReadonlyMap<string, number>;
  /** What is left to begin or buy after the stock on hand: max(0, gross - on hand); not rounded. */
  readonly net: ReadonlyMap<string, number>;
  /** What the parts below were counted for: `started` of the net need. */
  readonly started: ReadonlyMap<string, number>;
  /** Parents before their children; among the free in order of first mention. */
  readonly order: readonly string[];
  /** Circles by name, each once, in order from parent to child; the first is not repeated. */
  readonly circles: readonly (readonly string[])[];
  /** Parts that stand in a circle or below one: no count can be given. */
  readonly unknown: readonly string[];
  /** Parts whose count has grown beyond what a number holds exactly, 2^53. */
  readonly tooMany: readonly string[];
}

/** What an explosion begins from; `onHand` and `started` may be left out. */
interface ExplosionInput {
  /** Parts in the order in which they should appear; parts mentioned only in uses or demand are added after them. */
  readonly parts?: readonly string[];
  readonly uses: readonly Use[];
  /** Units wanted for themselves, not as part of another. */
  readonly demand: ReadonlyMap<string, number>;
  readonly onHand?: ReadonlyMap<string, number>;
  /**
   * How many units of a part must be begun for this net need (yield, spares, rounding); its children are counted for
   * these.
   */
  readonly started?: (part: string, net: number) => number;
}

/**
 * Bill-of-materials explosion: how many of every part the demand needs, through any depth and any number of parents,
 * net of stock on hand at every level (stock of a parent saves its children too). Each part is settled once, after all
 * its parents: linear in parts and uses however many paths there are. Orlicky, "Material Requirements Planning" (1975):
 * level-by-level netting. Example: 300 stools of 4 legs, each with 1 screw, and 1 more screw need 1500 screws.
 */
export function explodeBillOfMaterials(input: ExplosionInput): Explosion {
  const names = listParts(input);
  const indexByName = new Map(names.map((name, i) => [name, i]));
  const children: { child: number; count: number }[][] = names.map(() => []);
  for (const { parent, child, count } of input.uses) {
    children[indexByName.get(parent)!]!.push({ child: indexByName.get(child)!, count });
  }
  const { order, circles } = dependencyOrder(parentsOf(children));
  const settled = settle(names, order, children, input);
  const known = new Set(order);
  return {
    ...settled,
    order: order.map((i) => names[i]!),
    circles: circles.map((circle) => fromParentToChild(circle).map((i) => names[i]!)),
    unknown: names.filter((_, i) => !known.has(i)),
  };
}

function settle(
  names: readonly string[],
  order: readonly number[],
  children: readonly (readonly { child: number; count: number }[])[],
  { demand, onHand, started }: ExplosionInput,
): Pick<Explosion, 'gross' | 'net' | 'started' | 'tooMany'> {
  const needed = Float64Array.from(names, (name) => demand.get(name) ?? 0);
  const gross = new Map<string, number>();
  const net = new Map<string, number>();
  const begun = new Map<string, number>();
  const tooMany: string[] = [];
  for (const i of order) {
    const name = names[i]!;
    const netNeed = Math.max(0, needed[i]! - (onHand?.get(name) ?? 0));
    const units = started ? started(name, netNeed) : netNeed;
    gross.set(name, needed[i]!);
    net.set(name, netNeed);
    begun.set(name, units);
    if (!(Math.max(needed[i]!, units) <= Number.MAX_SAFE_INTEGER)) tooMany.push(name);
    for (const { child, count } of children[i]!) needed[child]! += units * count;
  }
  return { gross, net, started: begun, tooMany };
}

function listParts({ parts = [], uses, demand }: ExplosionInput): string[] {
  return [...new Set([...parts, ...uses.flatMap(({ parent, child }) => [parent, child]), ...demand.keys()])];
}

function parentsOf(children: readonly (readonly { child: number }[])[]): number[][] {
  const parents: number[][] = children.map(() => []);
  children.forEach((list, parent) => {
    for (const { child } of list) parents[child]!.push(parent);
  });
  return parents;
}

/** The order was asked of "child needs parent", so its circles run upwards: turned round, the first kept. */
function fromParentToChild([first, ...rest]: readonly number[]): number[] {
  return [first!, ...rest.toReversed()];
}
