/** Backwards: what could use units that were made to an old value. */
import type { Build, CouldUse } from '../../model/index.ts';
import { dependentsOf, tiesOf } from '../01-quantities/index.ts';

/**
 * The other parts that units of a part might still become: those with units still to be begun (`left`), and which are
 * made of the same material (something bought or sent out that goes into both) or, where neither has any on the parts
 * list, whose drawings rest on a parameter that its own rests on. Whether one fits the other nobody but the maker can
 * say: no shape is known here. Those that share most come first, material before parameters.
 */
export function couldUse(id: string, build: Build, left: ReadonlyMap<string, number>): CouldUse[] {
  const materials = materialsIn(build);
  const parameters = parametersIn(build);
  const both = (of: ReadonlyMap<string, readonly string[]>, other: string) =>
    (of.get(other) ?? []).filter((one) => of.get(id)?.includes(one));
  return (build.parts ?? [])
    .flatMap((part): CouldUse[] => {
      const units = left.get(part.id) ?? 0;
      if (part.id === id || part.source === 'buy' || units <= 0) return [];
      const shared = { materials: both(materials, part.id), parameters: both(parameters, part.id) };
      const areBare = !materials.has(id) && !materials.has(part.id);
      if (shared.materials.length === 0 && !(areBare && shared.parameters.length > 0)) return [];
      return [{ part: part.id, left: units, ...shared }];
    })
    .sort((a, b) => b.materials.length - a.materials.length || b.parameters.length - a.parameters.length);
}

/** By part, what is bought or sent out and goes into it. */
function materialsIn({ parts = [] }: Build): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const part of parts) {
    if (part.source === 'make') continue;
    for (const use of part.usedIn ?? []) found.set(use.part, [...(found.get(use.part) ?? []), part.id]);
  }
  return found;
}

/** By part, the parameters that its own drawing names, through formulas too. */
function parametersIn(build: Build): Map<string, string[]> {
  const ties = tiesOf(build);
  const found = new Map<string, string[]>();
  for (const { name } of build.parameters ?? []) {
    for (const { kind, id } of dependentsOf(ties, [{ kind: 'parameter', id: name }], 'named')) {
      if (kind === 'drawing') found.set(id, [...(found.get(id) ?? []), name]);
    }
  }
  return found;
}
