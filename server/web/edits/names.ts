/** What things of a build are called where only their ids are at hand. */
import { type Build, type Thing, type ThingList, thingName } from '../../model/index.ts';

/** A thing's name; a feed by the names of the steps that it joins. */
export function nameIn(build: Build, list: ThingList, thing: Thing): string {
  if (list !== 'feeds') return thingName(list, thing);
  return `${nameOfId(build, 'steps', String(thing.from))} → ${nameOfId(build, 'steps', String(thing.to))}`;
}

/**
 * The name that goes with an id; the id where there is none of it. Among the steps gates and orders are looked for as
 * well.
 */
export function nameOfId(
  build: Build,
  list: 'parameters' | 'parts' | 'suppliers' | 'people' | 'machines' | 'steps' | 'gates',
  id: string,
): string {
  if (list === 'parameters') return id;
  const known = list === 'steps' ? [...build.steps, ...(build.gates ?? [])] : (build[list] ?? []);
  return known.find((it) => it.id === id)?.name ?? id;
}
