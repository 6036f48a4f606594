/** What goes into a van, and through doors and lifts: each box tried in every way it may be turned. */
import type { BoxSide, BoxSize, Build, NoFit, Passage, ShowBox, ShowPassage } from '../../model/index.ts';
import { ceilCount, floorCount } from '../numbers/index.ts';
import { upToTenths } from './lifting.ts';

const CUBIC_MM_PER_LITRE = 1e6;
const SIDES: readonly BoxSide[] = ['width', 'height', 'depth'];

/**
 * Every way to the site with the boxes that do not fit and by how much, what all of them weigh against its payload and,
 * of a van, their volume against its own. A box that must not be tipped is only turned about. Through a door a box goes
 * lengthwise, so its longest side is free. O(boxes x passages).
 */
export function passagesAnswer(build: Build, boxes: readonly ShowBox[]): ShowPassage[] {
  const upright = new Set((build.boxes ?? []).filter((box) => box.upright === true).map(({ id }) => id));
  return (build.passages ?? []).map((passage) => {
    const tried = boxes.flatMap(({ id, size }) =>
      size === null ? [] : [{ box: id, ...bestTurn(size, passage, upright.has(id)) }],
    );
    const { id, name, kind } = passage;
    return {
      id,
      name,
      kind,
      fits: tried.filter(({ over }) => over.length === 0).length,
      noFit: tried.filter(({ over }) => over.length > 0),
      unknown: boxes.filter(({ size }) => size === null).map((box) => box.id),
      weight: weightIn(passage, boxes),
      unweighed:
        passage.payload === undefined ? [] : boxes.filter(({ weight }) => weight === null).map((box) => box.id),
      volume: volumeIn(passage, boxes),
    };
  });
}

/**
 * The six ways in which a box may be, or the two of one that must not be tipped.
 *
 *     turnsOf({ width: 1, height: 2, depth: 3 }, true).length // 2
 *     turnsOf({ width: 1, height: 2, depth: 3 }, false).length // 6
 */
export function turnsOf({ width: w, height: h, depth: d }: BoxSize, isUpright: boolean): BoxSize[] {
  const turn = (width: number, height: number, depth: number): BoxSize => ({ width, height, depth });
  const about = [turn(w, h, d), turn(d, h, w)];
  return isUpright ? about : [...about, turn(w, d, h), turn(h, d, w), turn(d, w, h), turn(h, w, d)];
}

/** The turn whose worst side is least too long; of several the one that is the least too long in all. */
function bestTurn(size: BoxSize, passage: Passage, isUpright: boolean): Omit<NoFit, 'box'> {
  const turns = turnsOf(size, isUpright).map((turned) => ({ turned, over: overOf(turned, passage) }));
  return turns.reduce((best, one) => (isBetter(one.over, best.over) ? one : best));
}

type Over = NoFit['over'];

function overOf(turned: BoxSize, passage: Passage): Over {
  return SIDES.flatMap((side) => {
    const room = side === 'depth' && passage.kind === 'door' ? undefined : passage[side];
    return room !== undefined && turned[side] > room ? [{ side, by: upToTenths(turned[side] - room) }] : [];
  });
}

function isBetter(one: Over, other: Over): boolean {
  const worst = (over: Over): number => Math.max(0, ...over.map(({ by }) => by));
  const all = (over: Over): number => sum(over.map(({ by }) => by));
  return worst(one) < worst(other) || (worst(one) === worst(other) && all(one) < all(other));
}

function weightIn({ kind, payload }: Passage, boxes: readonly ShowBox[]): ShowPassage['weight'] {
  if (payload === undefined) return null;
  const weights = boxes.flatMap(({ weight }) => weight ?? []);
  const load = upToTenths(kind === 'van' ? sum(weights) : Math.max(0, ...weights));
  return { load, payload, by: upToTenths(load - payload) };
}

function volumeIn({ kind, width, height, depth }: Passage, boxes: readonly ShowBox[]): ShowPassage['volume'] {
  if (kind !== 'van' || depth === undefined) return null;
  const litres = (size: BoxSize): number => (size.width * size.height * size.depth) / CUBIC_MM_PER_LITRE;
  const [inWholeBoxes, own] = [
    sum(boxes.map(({ size }) => (size === null ? 0 : litres(size)))),
    litres({ width, height, depth }),
  ];
  const room = floorCount(own);
  const over = ceilCount(inWholeBoxes - own);
  // What just goes in is no more than there is room for.
  const load = over > 0 ? room + over : Math.min(room, ceilCount(inWholeBoxes));
  return { load, room, by: load - room };
}

function sum(sizes: readonly number[]): number {
  return sizes.reduce((all, one) => all + one, 0);
}
