/** Why the answer changed: the edits and entries between two versions, as facts. */
import type { CalledThen, LogEntry, TurnCause, TurnFact } from '../model/index.ts';

const MOST_FACTS = 6;

type Named = readonly { readonly id: string; readonly name: string }[];

/**
 * What ids are called: steps by a forecast, which knows the orders that nobody typed too; people and machines by the
 * build.
 */
interface CauseNames {
  readonly steps: Named;
  readonly people: Named;
}

/** Kinds of entries that by themselves change nothing that is worth a line. */
const SILENT: ReadonlySet<LogEntry['kind']> = new Set(['began', 'paused', 'confirmed', 'packed']);

/**
 * The edits by their numbers, then what was logged, entries about the same things as one fact; of many facts the first.
 * None where nothing was edited or logged.
 *
 *     causeOf([2], [{ id: 'tap-000001', kind: 'done', step: 'cut', n: 12, at }], names)
 *     // [{ code: 'edit', edit: 2 }, { code: 'logged', kind: 'done', n: 12, step: { id: 'cut', name: 'cut ribs' } }]
 */
export function causeOf(edits: readonly number[], entries: readonly LogEntry[], names: CauseNames): TurnCause {
  const facts = [...edits.map((edit): TurnFact => ({ code: 'edit', edit })), ...logged(entries, names)];
  const rest = facts.length - MOST_FACTS;
  return rest > 0 ? [...facts.slice(0, MOST_FACTS), { code: 'more', n: rest }] : facts;
}

/** Entries about the same thing, by ids. */
interface Logged {
  readonly kind: LogEntry['kind'];
  readonly step: string | undefined;
  readonly of: string | undefined;
  n: number;
}

function logged(entries: readonly LogEntry[], { steps, people }: CauseNames): TurnFact[] {
  const [calledStep, calledPerson] = [calledIn(steps), calledIn(people)];
  const facts = new Map<string, Logged>();
  for (const { kind, step, n, person, machine } of entries) {
    if (SILENT.has(kind)) continue;
    const of = kind === 'lost' ? (machine ?? person) : undefined;
    const key = `${kind} ${step ?? ''} ${of ?? ''}`;
    const before = facts.get(key);
    if (before === undefined) facts.set(key, { kind, step, of, n: n ?? 1 });
    else before.n += n ?? 1;
  }
  return [...facts.values()].map(({ kind, step, of, n }) => ({
    code: 'logged',
    kind,
    n,
    ...(step === undefined ? {} : { step: calledStep(step) }),
    ...(of === undefined ? {} : { of: calledPerson(of) }),
  }));
}

/** An id with its name, which is the id itself of what is no longer there. */
function calledIn(things: Named): (id: string) => CalledThen {
  const names = new Map(things.map(({ id, name }) => [id, name]));
  return (id) => ({ id, name: names.get(id) ?? id });
}
