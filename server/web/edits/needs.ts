/** Who needs a thing, said where it could not be taken out for that. */
import { openHref } from '../../../views/forms/form.tsx';
import { type Screen, screenHref } from '../../../views/links.ts';
import { texts } from '../../../views/texts/index.ts';
import type { EditList, Need } from '../../../views/types.ts';
import { type Build, type Reference, referencesTo, thingAt, thingsOf } from '../../model/index.ts';
import { nameIn } from './names.ts';

const say = texts.edit.needs;

/** The page on which the things of a list are changed. */
const SCREENS: Readonly<Record<EditList | 'build', Screen>> = {
  build: 'contents',
  parameters: 'design',
  limits: 'design',
  parts: 'design',
  suppliers: 'hands',
  people: 'hands',
  machines: 'hands',
  steps: 'steps',
  feeds: 'steps',
  gates: 'steps',
  decisions: 'steps',
  boxes: 'show',
  passages: 'show',
  points: 'show',
  strike: 'show',
};

/** The things that need the thing `key` of `list`, each once, by their names and with the way to their forms. */
export function needsOf(build: Build, list: EditList, key: string): Need[] {
  const thing = thingAt(build, list, key);
  const name = thing === null ? key : nameIn(build, list, thing);
  const seen = new Set<string>();
  return referencesTo(build, list, key).flatMap((reference) => {
    const user = `${reference.list} ${reference.key}`;
    if (seen.has(user)) return [];
    seen.add(user);
    return [needOf(build, reference, name)];
  });
}

function needOf(build: Build, { list, key, field }: Reference, name: string): Need {
  const screen = screenHref(build.id, SCREENS[list]);
  if (list === 'build')
    return { name: texts.edit.thing.build, does: say.uses(name), href: openHref(screen, list, null) };
  const words = WAITING.has(field) ? say.waitsFor : say.uses;
  const thing = thingAt(build, list, key)!;
  const place = list === 'feeds' ? String(thingsOf(build, list).indexOf(thing)) : key;
  return { name: nameIn(build, list, thing), does: words(name), href: openHref(screen, list, place) };
}

const WAITING: ReadonlySet<string> = new Set(['after', 'waits']);
