/** What things of the show are called, and how many of them. */
import type { Build, ShowUnits } from '../../server/model/index.ts';
import { showTexts } from '../texts/paper/show.ts';
import { figure } from '../words/wording.ts';

const say = showTexts.pack;

/** The name that goes with an id; the id where it is gone. */
export function nameOf(
  things: readonly { readonly id: string; readonly name: string }[] | undefined,
  id: string,
): string {
  return things?.find((it) => it.id === id)?.name ?? id;
}

export function partName(build: Build, id: string): string {
  return nameOf(build.parts, id);
}

/**
 * Units and spares of a part, each where there are any.
 *
 *     unitsTexts(build, { part: 'slat', units: 32, spares: 2 }) // ['32 × slat', '2 × slat to spare']
 */
export function unitsTexts(build: Build, { part, units, spares }: ShowUnits): string[] {
  const name = partName(build, part);
  return [
    ...(units === 0 ? [] : [say.part(figure(units), name)]),
    ...(spares === 0 ? [] : [say.spare(figure(spares), name)]),
  ];
}
