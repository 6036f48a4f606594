/** Backwards: what could use units that were made to an old value. */
import type { Build, CouldUse } from '../../model/index.ts';
import { dependentsOf, tiesOf } from '../01-quantities/index.ts';

/**
 * The other parts that units of a part might still become, for each part that is asked about: those with units still
 * to be begun (`left`), and which are made of the same material (something bought or sent out that goes into both) or,
 * where neither has any on the parts list, whose drawings rest on a parameter that its own rests on. Whether one fits
 * the other nobody but the maker can say: no shape is known here. Those that share most come first, material before
 * parameters. The build is read once for all questions; each costs as much as the parts that share something.
 */
export function couldUseIn(build: Build, left: ReadonlyMap<string, number>): (part: string) => CouldUse[] {
  const [materials, parameters] = [materialsIn(build), parametersIn(build)];
  const parts = (build.parts ?? []).filter(({ id, source }) => source !== 'buy' && (left.get(id) ?? 0) > 0);
  const places = new Map(parts.map(({ id }, place) => [id, place]));
  const byMaterial = sharersOf(materials, places);
  const byParameter = sharersOf(parameters, places);
  return (id) => {
    const isBare = !materials.has(id);
    const shared = isBare ? sharedWith(id, parameters, byParameter) : sharedWith(id, materials, byMaterial);
    return [...shared]
      .filter(([other]) => other !== id && isBare === !materials.has(other))
      .sort(([a], [b]) => places.get(a)! - places.get(b)!)
      .map(([part, both]): CouldUse => {
        const [of, rest] = isBare ? [[], both] : [both, bothOf(parameters, id, part)];
        return { part, left: left.get(part)!, materials: of, parameters: rest };
      })
      .sort((a, b) => b.materials.length - a.materials.length || b.parameters.length - a.parameters.length);
  };
}

type ByPart = ReadonlyMap<string, readonly string[]>;

/** By thing, the parts that have it, of those that are in question. */
function sharersOf(of: ByPart, places: ReadonlyMap<string, number>): Map<string, string[]> {
  const sharers = new Map<string, string[]>();
  for (const [part, things] of of) {
    if (!places.has(part)) continue;
    for (const thing of new Set(things)) append(sharers, thing, part);
  }
  return sharers;
}

/** By other part, which things it shares, in its own order. */
function sharedWith(id: string, of: ByPart, sharers: ByPart): Map<string, string[]> {
  const others = new Set((of.get(id) ?? []).flatMap((thing) => sharers.get(thing) ?? []));
  return new Map([...others].map((other) => [other, bothOf(of, id, other)]));
}

function bothOf(of: ByPart, id: string, other: string): string[] {
  const own = of.get(id);
  return own === undefined ? [] : (of.get(other) ?? []).filter((thing) => own.includes(thing));
}

function append(lists: Map<string, string[]>, key: string, one: string): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [one]);
  else list.push(one);
}

/** By part, what is bought or sent out and goes into it. */
function materialsIn({ parts = [] }: Build): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const part of parts) {
    if (part.source === 'make') continue;
    for (const use of part.usedIn ?? []) append(found, use.part, part.id);
  }
  return found;
}

/** By part, the parameters that its own drawing names, through formulas too. */
function parametersIn(build: Build): Map<string, string[]> {
  const ties = tiesOf(build);
  const found = new Map<string, string[]>();
  for (const { name } of build.parameters ?? []) {
    for (const { kind, id } of dependentsOf(ties, [{ kind: 'parameter', id: name }], 'named')) {
      if (kind === 'drawing') append(found, id, name);
    }
  }
  return found;
}
