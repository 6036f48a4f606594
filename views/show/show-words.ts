/** What things of the show are called, and how many of them. */
import type { Build, ShowUnits } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { showTexts } from '../texts/paper/show.ts';
import { measuredText } from '../words/supply-words.ts';
import { figure } from '../words/wording.ts';

const say = showTexts.pack;

/** The name that goes with an id; the id where it is gone. */
export function nameOf(
  things: readonly { readonly id: string; readonly name: string }[] | undefined,
  id: string,
): string {
  return (things && byId(things, id)?.name) ?? id;
}

export function partName(build: Build, id: string): string {
  return nameOf(build.parts, id);
}

/**
 * Units and spares of a part, each where there are any; what is measured by its measure.
 *
 *     unitsTexts(build, { part: 'slat', units: 32, spares: 2 }) // ['32 × slat', '2 × slat to spare']
 *     unitsTexts(build, { part: 'paint', units: 0.5, spares: 0 }) // ['0.5 L of paint']
 */
export function unitsTexts(build: Build, { part, units, spares }: ShowUnits): string[] {
  const name = partName(build, part);
  const unit = build.parts && byId(build.parts, part)?.unit;
  const [of, spare] = unit === undefined ? [say.part, say.spare] : [say.amount, say.amountSpare];
  const amount = (many: number): string => (unit === undefined ? figure(many) : measuredText(many, { unit, pack: 1 }));
  return [...(units === 0 ? [] : [of(amount(units), name)]), ...(spares === 0 ? [] : [spare(amount(spares), name)])];
}
