/** What refers to what in a build: who needs a thing before it may be taken out. */
import type { Build } from '../build.ts';
import { FORMULA_FIELDS, namesIn, valuesAt } from './formulas.ts';
import { keysOf, THING_LISTS, type Thing, type ThingList, thingsOf } from './lists.ts';

/** One thing that needs another, and the field that says so. */
export interface Reference {
  readonly list: ThingList | 'build';
  readonly key: string;
  readonly field: string;
}

/**
 * The things that refer to a thing, in the order of the build, each once for each of its fields. A step that is ordered
 * goes by `order-` and the id of its part. What a person may do (`can`) is left out: it may name a skill as well.
 *
 * @example referencesTo(build, 'steps', 'test-bough') // [{ list: 'steps', key: 'pack', field: 'after' }]
 */
export function referencesTo(build: Build, list: ThingList, key: string): Reference[] {
  const wanted = list === 'parts' ? [key, `order-${key}`.slice(0, LONGEST_ID)] : [key];
  const found = THING_LISTS.flatMap((from) => {
    const things = thingsOf(build, from);
    const keys = keysOf(from, things);
    return things.flatMap((thing, i) => {
      if (from === list && keys[i] === key) return [];
      const fields = fieldsTo(list, from).filter((path) => names(thing, path, list).some((it) => wanted.includes(it)));
      return [...new Set(fields.map(fieldName))].map((field) => ({ list: from, key: keys[i]!, field }));
    });
  });
  const own = list === 'parameters' && usesFormula(build as Thing, 'build', key);
  return own ? [{ list: 'build', key: '', field: 'sets' }, ...found] : found;
}

const LONGEST_ID = 60;

/** The fields of each list that name things, by what they name. */
const FIELDS: Readonly<Partial<Record<ThingList, Readonly<Partial<Record<ThingList, readonly string[]>>>>>> = {
  limits: { parts: ['parts'] },
  parts: { parts: ['usedIn[].part'], suppliers: ['supplier', 'ways[].supplier'], parameters: ['dependsOn'] },
  steps: {
    parts: ['part', 'uses', 'after', 'after[].step'],
    steps: ['after', 'after[].step'],
    gates: ['after', 'after[].step'],
    machines: ['phases[].machine'],
    suppliers: ['phases[].supplier'],
    people: ['phases[].who', 'pinnedTo', 'pins[].people'],
  },
  feeds: { parts: ['from', 'to'], steps: ['from', 'to'], gates: ['from', 'to'] },
  gates: {
    parts: ['after', 'before', 'holds', 'sendsBack[].step'],
    steps: ['after', 'before', 'holds', 'sendsBack[].step'],
    gates: ['after', 'before', 'holds'],
    people: ['who'],
  },
  decisions: { parts: ['waits'], steps: ['waits'], gates: ['waits'] },
  boxes: { parts: ['parts[].part'], steps: ['opensAt'], gates: ['opensAt'] },
  points: { gates: ['gate'] },
  strike: { people: ['who'] },
};

function fieldsTo(list: ThingList, from: ThingList): readonly string[] {
  const named = FIELDS[from]?.[list] ?? [];
  return list === 'parameters' ? [...named, ...FORMULA_FIELDS[from]] : named;
}

function names(thing: Thing, path: string, list: ThingList): string[] {
  const texts = valuesAt(thing, path)
    .flat()
    .filter((it) => typeof it === 'string');
  return list === 'parameters' && path !== 'dependsOn' ? texts.flatMap(namesIn) : texts;
}

function usesFormula(thing: Thing, list: ThingList | 'build', key: string): boolean {
  return FORMULA_FIELDS[list].some((path) => names(thing, path, 'parameters').includes(key));
}

function fieldName(path: string): string {
  return path.replace(/\W.*$/, '');
}
