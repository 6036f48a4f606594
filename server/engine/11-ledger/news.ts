/** What is new in a log, in the groups that the ledger tells apart. */
import type { LogEntry } from '../../model/index.ts';
import { effectOf, rootOf } from '../../model/log/index.ts';
import { readWall, wallText } from '../calendar/index.ts';
import { groupedBy } from '../numbers/index.ts';
import type { Instant } from '../types.ts';
import type { Survey } from './room-at.ts';

/** Entries of one kind about one thing. */
export interface NewsGroup {
  /** Step, person or machine; null: everybody, or several. */
  readonly subject: string | null;
  readonly entries: readonly LogEntry[];
}

interface News {
  /** By person or machine. */
  readonly lost: readonly NewsGroup[];
  /** When the first of the lost hours began. */
  readonly lostFrom: Instant | null;
  /** Orders placed, which promises speak of. */
  readonly ordered: readonly LogEntry[];
  /** By step: what the supplier promised, and stand-ins that say beforehand when what has come, or is overdue, came. */
  readonly supplier: readonly NewsGroup[];
  /** By step: scrapped, failed, sent back. */
  readonly scrap: readonly NewsGroup[];
  /** The rest: what was made, loaded, received, passed, and the clocks; with what was scrapped as if it were good. */
  readonly counted: readonly LogEntry[];
  /** Ids of the stand-ins for what has come: they go when it is counted. The others go when time moves on. */
  readonly arrivals: ReadonlySet<string>;
  readonly overdue: ReadonlySet<string>;
}

/**
 * Sorts the entries of `log` that are not in `before`. An undo belongs to the kind of what it takes back. `now` is the
 * later of the two instants, `survey` that of the later state.
 */
export function newsOf(before: readonly LogEntry[], log: readonly LogEntry[], now: Instant, survey: Survey): News {
  const known = new Set(before.map(({ id }) => id));
  const byId = new Map(log.map((entry) => [entry.id, entry]));
  const fresh = log
    .filter(({ id }) => !known.has(id))
    .map((entry) => ({ entry, root: rootOf(entry, (id) => byId.get(id)) }));
  const kinds = groupedBy(fresh, ({ root }) => CLASSES[root.kind] ?? 'counted');
  const grouped = (kind: Class, of: (root: LogEntry) => string | null): NewsGroup[] =>
    [...groupedBy(kinds.get(kind) ?? [], ({ root }) => of(root))].map(([subject, news]) => ({
      subject,
      entries: news.map(({ entry }) => entry),
    }));
  const counted = (kinds.get('counted') ?? []).map(({ entry }) => entry);
  const arrivals = standIns(arrivedIn(counted, survey));
  const overdue = standIns(survey.overdue.map(({ step, set }) => ({ step, set, at: now, until: now })));
  const promises = [...(kinds.get('supplier') ?? []).map(({ entry }) => entry), ...arrivals, ...overdue];
  return {
    lost: grouped('lost', ({ person, machine }) => machine ?? person ?? null),
    lostFrom: earliest((kinds.get('lost') ?? []).map(({ root }) => root.at)),
    ordered: (kinds.get('ordered') ?? []).map(({ entry }) => entry),
    supplier: [...groupedBy(promises, ({ step }) => step ?? null)].map(([subject, entries]) => ({ subject, entries })),
    scrap: grouped('scrap', ({ step }) => step ?? null),
    counted: [...counted, ...(kinds.get('scrap') ?? []).flatMap(({ entry }) => asGood(entry))],
    arrivals: new Set(arrivals.map(({ id }) => id)),
    overdue: new Set(overdue.map(({ id }) => id)),
  };
}

/** A log without the stand-ins that say of these scrapped units that they are good. */
export function withoutGood(log: readonly LogEntry[], scrapped: readonly LogEntry[]): LogEntry[] {
  const ids = new Set(scrapped.map(goodId));
  return log.filter(({ id }) => !ids.has(id));
}

/** What was scrapped after it was counted is among the good ones already. */
function asGood({ counted, ...entry }: LogEntry): LogEntry[] {
  const { good, scrapped } = effectOf({ ...entry, counted });
  return scrapped > 0 && good === 0 ? [{ ...entry, id: goodId(entry), kind: 'done' }] : [];
}

function goodId({ id }: LogEntry): string {
  return `stand-in ${id}`;
}

type Class = 'lost' | 'ordered' | 'supplier' | 'scrap' | 'counted';

const CLASSES: Partial<Readonly<Record<LogEntry['kind'], Class>>> = {
  lost: 'lost',
  ordered: 'ordered',
  promised: 'supplier',
  scrapped: 'scrap',
  failed: 'scrap',
  'sent-back': 'scrap',
};

interface StandIn {
  readonly step: string;
  readonly set: number | null;
  readonly at: Instant;
  readonly until: Instant;
}

function arrivedIn(counted: readonly LogEntry[], { standing }: Survey): StandIn[] {
  const fresh = new Set(counted.map(({ id }) => id));
  return standing.flatMap(({ id, kind, step, set, at }) =>
    kind === 'received' && step !== undefined && fresh.has(id) ? [{ step, set: set ?? null, at, until: at }] : [],
  );
}

function standIns(promises: readonly StandIn[]): LogEntry[] {
  return promises.map(({ step, set, at, until }, i) => ({
    id: `stand-in ${step} ${set} ${until} ${i}`,
    kind: 'promised',
    step,
    ...(set === null ? {} : { set }),
    at: `${wallText(at, 'UTC')}:00Z`,
    until: `${wallText(until, 'UTC')}:00Z`,
    seq: Number.MAX_SAFE_INTEGER,
  }));
}

function earliest(times: readonly string[]): Instant | null {
  const read = times.map((time) => readWall(time, 'UTC')).flatMap((at) => (at.ok ? [at.value] : []));
  return read.length === 0 ? null : Math.min(...read);
}
