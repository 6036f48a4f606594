/** Ways in which a part may come about: which one it comes by, and the changes that make it another. */
import type { Part, Way } from '../part.ts';
import type { Change } from './change.ts';

/** The way by which a part comes about: the one that it names, else its first. Null where it has none. */
export function chosenWay({ ways = [], way }: Pick<Part, 'ways' | 'way'>): Way | null {
  return ways.find(({ id }) => id === way) ?? ways[0] ?? null;
}

/**
 * A part made by another of its ways, all of it: one change, and a second where it was split before. Its steps stay in
 * the build; those of the ways that are not taken wait unplanned, and what names them waits for the order instead.
 *
 *     wayChanges({ id: 'bough', ways: [{ id: 'here' }, { id: 'welder' }] }, 'welder')
 *     // [{ kind: 'set', list: 'parts', key: 'bough', field: 'way', value: 'welder' }]
 */
export function wayChanges(part: Pick<Part, 'id' | 'ways'>, way: string): Change[] {
  const set = { kind: 'set', list: 'parts', key: part.id, field: 'way', value: way } as const;
  const isSplit = part.ways?.some(({ units }) => units !== undefined);
  return isSplit ? [set, ...splitChanges(part, new Map())] : [set];
}

/** A part split: a number of units by each of these ways, and the rest by the way that is chosen. One change. */
export function splitChanges(part: Pick<Part, 'id' | 'ways'>, units: ReadonlyMap<string, number>): Change[] {
  const ways = (part.ways ?? []).map(({ units: _, ...way }) => {
    const own = units.get(way.id);
    return own === undefined ? way : { ...way, units: own };
  });
  return [{ kind: 'set', list: 'parts', key: part.id, field: 'ways', value: ways }];
}
