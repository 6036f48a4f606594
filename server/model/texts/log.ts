/** What is wrong with an entry of the log. */
export const logTexts = {
  ahead: (at: string) =>
    `The entry happened at ${at}, which is still to come; set the clock of the device that made it.`,
  before2020: (at: string) => `The entry happened at ${at}, before 2020; set the clock of the device that made it.`,
  longAgo: (at: string, days: number) =>
    `The entry happened at ${at}, more than ${days} days ago; set the clock of the device that made it.`,
  untilBefore: (until: string, at: string) =>
    `"until" (${until}) is before the entry itself (${at}); it must be later.`,
  lacks: (kind: string, field: 'n' | 'until' | 'undoes' | 'confirms' | 'step' | 'box') =>
    `An entry of kind "${kind}" needs "${field}": ${NEEDED[field]}.`,
  onlyUndo: (kind: string) => `Only an entry of kind "undo" undoes another; this one is "${kind}".`,
  onlyConfirmed: (kind: string) => `Only an entry of kind "confirmed" confirms another; this one is "${kind}".`,
  onlyPacked: (kind: string) => `Only an entry of kind "packed" names a box; this one is "${kind}".`,
  passedOnce: (n: number) => `A gate is passed once; "n" must be 1 or left out, not ${n}.`,
  lostByTwo: (person: string, machine: string) =>
    `An entry of lost time names a person or a machine, not both; send one entry for "${person}" and one for "${machine}".`,
  onlyMachines: 'Only machines can be out of order in part; leave "n" out.',
  tooMany: (machine: string, count: number, n: number) =>
    `There ${count === 1 ? 'is one' : `are ${count}`} of "${machine}"; "n" must be from 1 to ${count}, not ${n}.`,
  onlyScrapped: (kind: string) =>
    `Only an entry of kind "scrapped" says whether its units were counted; this one is "${kind}".`,
  unknown: (field: string, id: string, there: readonly string[]) =>
    `There is no ${field} "${id}" in this build (there: ${there.join(', ') || 'none'}).`,
  nothingToUndo: (id: string) => `There is no entry "${id}" in the log of this build to undo.`,
  notYours: (owner: string) => `That entry is ${owner}'s; only ${owner} or the maker can undo it.`,
  nothingToConfirm: (id: string) => `There is no entry "${id}" in the log of this build.`,
  unfit: (kind: string, id: string, why: string) => `"${kind}" is not for "${id}": ${why}.`,
  unfitBecause: {
    onlyGates: 'only a gate is passed or failed',
    gate: 'a gate is passed or failed',
    order: 'what is ordered is received',
    gateUnits: 'a gate has no units; name the step whose units they are',
    noRun: 'no machine runs there, and nothing there just waits',
    noOrder: 'nothing is ordered there',
    nobody: 'nobody works on an order',
  },
  goneStep: (id: string, revision: number) =>
    `The step "${id}" is gone: edit ${revision} was the last with it. Count on the step that took its place, or add it again.`,
  noStep: (id: string, build: string, there: readonly string[], more: number) =>
    `There is no step or gate "${id}" in the build "${build}" (there: ${there.join(', ') || 'none'}${more > 0 ? ` and ${more} more` : ''}).`,
  otherMachine: (machine: string, runs: readonly string[]) =>
    `"${machine}" does not run this step; it runs on ${runs.join(', ')}.`,
  noSet: (set: number, sets: number) => `There is no set ${set}; the sets of this build are numbered 1 to ${sets}.`,
  idTwice: (id: string) => `Two entries of the log have the id "${id}".`,
  idTaken: (id: string, { n, kind, step, at }: Taken) => {
    const what = [n, kind, step === undefined ? undefined : `at ${step}`]
      .filter((word) => word !== undefined)
      .join(' ');
    return `The id "${id}" is already the id of another entry (${what}, ${at}); send this one with an id of its own.`;
  },
} as const;

interface Taken {
  readonly n?: number | undefined;
  readonly kind: string;
  readonly step?: string | undefined;
  readonly at: string;
}

const NEEDED = {
  n: 'how many units, a whole number from 1',
  until: 'the instant at which it ends or arrives',
  undoes: 'the id of the entry to undo',
  confirms: 'the id of the entry that is right',
  step: 'the id of a step or a gate',
  box: 'the id of a box of this build',
} as const;
