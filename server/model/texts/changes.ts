/** The sentences for changes that cannot be made, ready to be put into another language. */

const THING = {
  build: 'build',
  parameters: 'parameter',
  limits: 'limit',
  parts: 'part',
  suppliers: 'supplier',
  people: 'person',
  machines: 'machine',
  steps: 'step',
  feeds: 'feed',
  gates: 'gate',
  decisions: 'decision',
  boxes: 'box',
  passages: 'way to the site',
  points: 'point',
  strike: 'job of the strike',
} as const;
type Thing = keyof typeof THING;

export const changeTexts = {
  thing: THING,
  theBuild: 'the build',
  theThing: (list: Thing, key: string) => `the ${THING[list]} "${key}"`,
  noList: (found: string) => `A list of changes has "format", "version", "build" and "changes"; this is ${found}.`,
  format: (found: string) => `"format" must be "daywright-changes"; it is ${found}.`,
  version: (known: number, found: string) =>
    `This Daywright reads changes of version ${known} of the build file; these are of version ${found}.`,
  otherBuild: (found: string, id: string) => `These changes are for the build "${found}"; this is "${id}".`,
  noObject: (found: string) => `A change is an object with "kind"; this is ${found}.`,
  kind: (found: string, kinds: string) => `A change must be one of ${kinds}; it is ${found}.`,
  list: (found: string, lists: string) => `A build has no list ${found}; it has ${lists}.`,
  field: (list: Thing, field: string, known: string) => `A ${THING[list]} has no field "${field}"; it has ${known}.`,
  fixed: (list: Thing, key: string, field: string) =>
    list === 'parameters'
      ? `The name of the parameter "${key}" is changed by renaming it, which changes it in every formula too.`
      : `"${field}" of the ${THING[list]} "${key}" stays, because other things and counts refer to it.`,
  gone: (list: Thing, key: string) =>
    `Somebody has removed the ${THING[list]} "${key}"; look at the plan as it is now.`,
  there: (list: Thing, key: string) =>
    `There is a ${THING[list]} "${key}" already; change its fields, or take another name.`,
  otherKey: (list: Thing, key: string, own: string) =>
    `The new ${THING[list]} is called "${own}", the change calls it "${key}"; both must be the same.`,
  noPlace: (list: Thing, key: string, after: string) =>
    `The ${THING[list]} "${key}" cannot come after "${after}", which is not there; name one that is, or null for the start.`,
  contradiction: (what: string, one: string, other: string) =>
    `The changes contradict each other: ${what} ${one} and ${other}. Keep one of the two.`,
  changedSince: (what: string) =>
    `This edit cannot be undone alone: ${what} has been changed since. Undo the later edit first.`,
  nothingLeft: 'Nothing of this edit is left to undo: what it changed is as it was before.',
  ofBuild: (field: string) => `"${field}" of the build`,
  named: (list: Thing, name: string) => `the ${THING[list]} “${name}”`,
  of: (field: string, what: string) => `"${field}" of ${what}`,
  /** What a change does, for `contradiction`. */
  does: {
    put: (thing: string) => `is new as ${thing}`,
    remove: 'is removed',
    after: (after: string | null) => (after === null ? 'comes first' : `comes after "${after}"`),
    end: 'comes last',
    set: (field: string, value: string) => `has ${field} ${value}`,
    empty: (field: string) => `has no ${field}`,
    rename: (to: string) => `is called "${to}"`,
  },
} as const;
