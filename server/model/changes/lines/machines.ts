/** The machine on which a line has something done: one of the build, or a new one of the kind that is meant. */
import type { Machine } from '../../hands.ts';
import { freeId } from '../free-id.ts';
import { type LineDraft, named } from './draft.ts';
import { TOOLS } from './machine-names.ts';

/** Kinds of machines: how they are called, and what is done on them. */
const KINDS: readonly (readonly [name: string, called: RegExp, does: RegExp])[] = [
  ['Laser', /laser/i, /^(?:laser|engrav)/],
  ['Mill', /mill|cnc|router/i, /^(?:mill|cnc)/],
  ['Kiln', /kiln/i, /^kiln|\bfir(?:e|es|ed|ing)\b/],
  ['Oven', /oven|furnace/i, /^bak/],
  ['Printer', /print/i, /print/],
];
/** What nobody may leave alone unless a line says so. */
const WATCHED = new RegExp(`laser|mill|cnc|router|${TOOLS}`, 'i');
/** Machines that do none of this. */
const OTHER = /\b(?:\w*saw|lathe|drill|sander|press|rack|platform|compressor|van|welder|jig)\b/i;
interface Wanted {
  readonly step: string;
  /** What is done. */
  readonly words: string;
  /** The machine as it is named; null where it is not. */
  readonly said: string | null;
  readonly atNight: boolean;
}

/** The machine that is named or that does such things, else the only one that may, else a new one. */
export function machineOf(draft: LineDraft, wanted: Wanted): Machine {
  const machines = [...(draft.build.machines ?? []), ...draft.machines];
  const { said, words } = wanted;
  if (said !== null) return named(machines, said) ?? newMachine(draft, said, wanted.atNight);
  const kind = KINDS.find(([, , does]) => does.test(words));
  const alike = machines.find(({ name }) => (kind ?? KINDS.at(-1)!)[1].test(name));
  if (alike !== undefined) return alike;
  const only = machines.length === 1 ? machines[0]! : null;
  if (only === null || OTHER.test(only.name) || isOfKind(only))
    return newMachine(draft, (kind ?? KINDS.at(-1)!)[0], wanted.atNight);
  draft.assumed.push({ code: 'on-machine', step: wanted.step, machine: only.name });
  return only;
}

/** Whether its name says what it does; what is sought was not among these. */
function isOfKind({ name }: Machine): boolean {
  return KINDS.some(([, called]) => called.test(name));
}

function newMachine(draft: LineDraft, name: string, atNight: boolean): Machine {
  const taken = new Set((draft.build.machines ?? []).map(({ id }) => id));
  const unattended = atNight || !WATCHED.test(name);
  const made = { id: freeId(name, taken)!, name, unattended, overnight: atNight };
  draft.machines.push(made);
  draft.assumed.push({ code: 'new-machine', machine: name, unattended, overnight: atNight });
  return made;
}
