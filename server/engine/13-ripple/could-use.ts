/** Backwards: what could use units that were made to an old value. */
import type { Build, CouldUse, CouldUseList, Part } from '../../model/index.ts';
import { dependentsOf, tiesOf } from '../01-quantities/index.ts';

/** The first this many are named; where more than one is beyond them, the others are counted. */
const MOST_NAMED = 6;

/**
 * The other parts that units of a part might still become, for each part that is asked about: those with units still
 * to be begun (`left`), and which are made of the same material (something bought or sent out that goes into both) or,
 * where neither has any on the parts list, whose drawings rest on a parameter that its own rests on. Whether one fits
 * the other nobody but the maker can say: no shape is known here. Those that share most come first, material before
 * parameters; of many the first few, and how many there are. The build is read once for all questions; each costs as
 * much as there are kinds of parts by what they have.
 */
export function couldUseIn(build: Build, left: ReadonlyMap<string, number>): (part: string) => CouldUseList {
  const [materials, parameters] = [materialsIn(build), parametersIn(build)];
  const parts = (build.parts ?? []).filter(({ id, source }) => source !== 'buy' && (left.get(id) ?? 0) > 0);
  const kinds = kindsOf(parts, materials, parameters);
  return (id) => {
    const own = { materials: materials.get(id) ?? [], parameters: parameters.get(id) ?? [] };
    const sharing = kinds.flatMap((kind): Sharing[] => {
      const members = kind.parts.length - Number(kind.at.has(id));
      const both = bothOf(own, kind);
      const isShared = own.materials.length > 0 ? both.materials.length > 0 : both.parameters.length > 0;
      return isShared && isBare(own) === isBare(kind) && members > 0 ? [{ ...both, kind, members }] : [];
    });
    const count = sharing.reduce((sum, { members }) => sum + members, 0);
    return { count, parts: firstOf(sharing, id, count > MOST_NAMED + 1 ? MOST_NAMED : count, left) };
  };
}

/** What a part has: the materials that go into it, and the parameters that its drawing rests on. */
interface Had {
  readonly materials: readonly string[];
  readonly parameters: readonly string[];
}

/** Parts that have the same, in the order of the build, each with its place in it. */
interface Kind extends Had {
  readonly parts: string[];
  readonly at: Map<string, number>;
}

/** A kind with what it shares with a part, and how many others are of it. */
interface Sharing extends Had {
  readonly kind: Kind;
  readonly members: number;
}

function isBare({ materials }: Had): boolean {
  return materials.length === 0;
}

function kindsOf(parts: readonly Part[], materials: ByPart, parameters: ByPart): readonly Kind[] {
  const kinds = new Map<string, Kind>();
  for (const [place, { id }] of parts.entries()) {
    const had = { materials: materials.get(id) ?? [], parameters: parameters.get(id) ?? [] };
    const key = JSON.stringify([had.materials, had.parameters]);
    const kind = kinds.get(key) ?? { ...had, parts: [] as string[], at: new Map<string, number>() };
    kinds.set(key, kind);
    kind.parts.push(id);
    kind.at.set(id, place);
  }
  return [...kinds.values()];
}

/** The first of those that share something with a part: most first, then in the order of the build. */
function firstOf(sharing: readonly Sharing[], id: string, most: number, left: ReadonlyMap<string, number>): CouldUse[] {
  const ranks = new Map<string, Sharing[]>();
  for (const one of sharing) {
    const rank = `${one.materials.length} ${one.parameters.length}`;
    ranks.set(rank, [...(ranks.get(rank) ?? []), one]);
  }
  const inOrder = [...ranks.values()].sort(
    ([a], [b]) => b!.materials.length - a!.materials.length || b!.parameters.length - a!.parameters.length,
  );
  const found: CouldUse[] = [];
  for (const rank of inOrder) {
    const wanted = most - found.length;
    if (wanted <= 0) break;
    const first = rank.flatMap(({ kind, materials, parameters }) =>
      kind.parts
        .slice(0, wanted + 1)
        .filter((other) => other !== id)
        .map((part) => ({ place: kind.at.get(part)!, use: { part, left: left.get(part)!, materials, parameters } })),
    );
    first.sort((a, b) => a.place - b.place);
    found.push(...first.slice(0, wanted).map(({ use }) => use));
  }
  return found;
}

type ByPart = ReadonlyMap<string, readonly string[]>;

/** What two parts have both, in the order of the second. */
function bothOf(own: Had, other: Had): Had {
  return {
    materials: other.materials.filter((thing) => own.materials.includes(thing)),
    parameters: other.parameters.filter((thing) => own.parameters.includes(thing)),
  };
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
