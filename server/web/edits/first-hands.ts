/** Who helps and which machines there are, as the form that starts a build asks for them. */
import { firstTexts as say } from '../../../views/texts/begin/first.ts';
import type { TypedBuild } from '../../../views/types.ts';
import { readHours } from '../../engine/index.ts';
import {
  type Build,
  freeId,
  type Machine,
  messageOf,
  type Person,
  type Problem,
  problem,
  type Result,
  wordedProblem,
} from '../../model/index.ts';
import { drawnHours, usualHours, withDrawing, withPick } from './week.ts';

type TypedHands = Pick<TypedBuild, 'who' | 'hours' | 'others' | 'machines' | 'week' | 'week-from'>;
type Hands = Pick<Build, 'people' | 'machines'>;

/** What was typed, with the hours that a tap on a pick such as `week:evenings` puts behind those that are there. */
export function withPickedHours(typed: TypedBuild, action: string): TypedBuild {
  return { ...typed, ...withPick('people', { ...typed }, action) } as TypedBuild;
}

/** What was typed, with the week as it is drawn from it. */
export function withDrawnWeek(typed: TypedBuild): TypedBuild {
  return { ...typed, ...withDrawing('people', { ...typed }) } as TypedBuild;
}

/**
 * The people and machines that were typed; nobody where no hours are, since the next page asks for them then. The
 * problems name the field (`who`, `hours`, `others`, `machines`), what is in it, and what would be right.
 */
export function firstHands(typed: TypedHands): Result<Hands> {
  const first = firstPerson(typed);
  const others = linesOf(typed.others).map((text, at) => otherPerson(text, at + 1));
  const machines = typed.machines
    .split(/[,;\n]/)
    .map((text) => text.trim())
    .filter(Boolean)
    .map(readMachine);
  const problems = [first, ...others, ...machines].flatMap((it) => (it.ok ? [] : it.problems));
  if (problems.length > 0) return { ok: false, problems };
  const people = withIds([first, ...others].flatMap((it) => (it.ok && it.value !== null ? [it.value] : [])));
  const made = withIds(machines.flatMap((it) => (it.ok ? [it.value] : [])));
  return {
    ok: true,
    value: { ...(people.length === 0 ? {} : { people }), ...(made.length === 0 ? {} : { machines: made }) },
  };
}

/** Where on the form a problem of the build that was to be made belongs: the person by the place in the list. */
export function fieldOnForm(field: string, build: Build): string {
  const [list, id] = field.split('.');
  if (list === 'machines') return 'machines';
  if (list !== 'people') return field;
  return build.people?.[0]?.id === id ? 'hours' : 'others';
}

function firstPerson(typed: TypedHands): Result<Omit<Person, 'id'> | null> {
  const drawn = drawnHours('people', { ...typed });
  if (!drawn.ok) return refused(drawn.problems.map((it) => ({ ...it, field: 'hours' })));
  const hours = usualHours(String(drawn.value.hours ?? '').trim());
  const { who } = typed;
  if (hours === '') {
    const isUnsaid = who === '' || who === say.me;
    return isUnsaid ? { ok: true, value: null } : refused([wordedProblem('shape', 'hours', '', say.hoursLack(who))]);
  }
  const read = readHours(hours);
  const lacks = who === '' ? [wordedProblem('shape', 'who', '', say.whoLacks(hours))] : [];
  const wrong = read.ok ? [] : [problem('hours', 'hours', hours, read.problem)];
  const problems = [...lacks, ...wrong];
  return problems.length > 0 ? refused(problems) : { ok: true, value: { name: who, hours } };
}

/** `Jo: Sat 9 to 17`, a colon or a comma behind the name. */
function otherPerson(text: string, line: number): Result<Omit<Person, 'id'>> {
  const match = /^([^:,]*[^:,\s\d][^:,]*)[:,]\s*(\S.*)$/.exec(text);
  if (match === null) return refused([wordedProblem('shape', 'others', text, say.lineLacks(line, text))]);
  const own = usualHours(match[2]!);
  const read = readHours(own);
  return read.ok
    ? { ok: true, value: { name: match[1]!.trim(), hours: own } }
    : refused([wordedProblem('hours', 'others', own, say.atLine(line, messageOf(read.problem)))]);
}

const UNATTENDED = /\s*\(?\b(?:alone|unattended)\b\)?/i;
const OVERNIGHT = /\s*\(?\b(?:at night|overnight)\b\)?/i;

/** `Printer alone at night`, `2 x Printer`: what needs nobody beside it, and what runs at night, which is both. */
function readMachine(text: string): Result<Omit<Machine, 'id'>> {
  const bare = text.replace(UNATTENDED, '').replace(OVERNIGHT, '').trim();
  const match = /^(?:(\d{1,3})\s*(?:x|×)?\s+)?(\D.*)$/i.exec(bare);
  if (match === null) return refused([wordedProblem('shape', 'machines', text, say.machineLacks(text))]);
  const overnight = OVERNIGHT.test(text);
  return {
    ok: true,
    value: {
      name: match[2]!.trim(),
      ...(match[1] === undefined ? {} : { count: Number(match[1]) }),
      ...(overnight || UNATTENDED.test(text) ? { unattended: true } : {}),
      ...(overnight ? { overnight } : {}),
    },
  };
}

function withIds<Thing extends { readonly name: string }>(things: readonly Thing[]): (Thing & { id: string })[] {
  const taken = new Set<string>();
  return things.map((thing) => {
    const id = freeId(thing.name, taken)!;
    taken.add(id);
    return { id, ...thing };
  });
}

function linesOf(text: string): string[] {
  return text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter(Boolean);
}

function refused<T>(problems: readonly Problem[]): Result<T> {
  return { ok: false, problems: [...problems] };
}
