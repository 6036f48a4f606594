/** Why a lot begins when it does, and the chain of lots that drives the end. */
import { openMinutesBetween } from '../../calendar/index.ts';
import type { Instant, Link, LinkReason, Phase, Placement, Schedule, Work } from '../../types.ts';

/** What a phase waited for before it began. */
export type Cause =
  /** The lots before it (`reason` of the link), or the phase before it in its own lot. */
  | { readonly kind: 'lot'; readonly lot: number; readonly reason: LinkReason }
  | { readonly kind: 'phase'; readonly phase: Phase['kind'] }
  | { readonly kind: 'supplier' }
  /** A person, machine, station or pool that was taken by `lot` until then. */
  | { readonly kind: 'hands' | 'machine' | 'station' | 'pool'; readonly resource: number; readonly lot: number }
  | { readonly kind: 'release' | 'pinned' | 'now' };

/** One phase of the chain. `morning`: after its cause was over it still waited until somebody was there. */
export interface DrivingLink {
  readonly lot: number;
  readonly phase: number;
  readonly start: Instant;
  readonly finish: Instant;
  /** Who does it, and on which machine. */
  readonly people: readonly number[];
  readonly machine: number | null;
  readonly cause: Cause;
  readonly causeOver: Instant;
  readonly morning: boolean;
}

/**
 * The chain of phases that drives the end of a schedule, last first: from the lot that is ready last (workshop lots; of
 * all lots if there are none) back to what could not begin earlier, each with what it waited for. O(placements log
 * placements, and links).
 */
export function drivingChain(work: Work, schedule: Schedule): DrivingLink[] {
  const index = indexOf(work, schedule);
  const { placed } = index;
  let lot = lastLot(work, schedule);
  if (lot === null) return [];
  const chain: DrivingLink[] = [];
  const visited = new Set<number>();
  let phase = Math.max(0, placed[lot]!.length - 1);
  for (;;) {
    const key = lot * 64 + phase;
    if (visited.has(key)) return chain;
    visited.add(key);
    const { link, next } = linkAt(work, schedule, index, lot, phase);
    chain.push(link);
    if (next === null) return chain;
    [lot, phase] = next;
  }
}

/** What the first phase of a lot waited for. O(placements log placements, and links). */
export function startLink(work: Work, schedule: Schedule, lot: number): DrivingLink {
  return linkAt(work, schedule, indexOf(work, schedule), lot, 0).link;
}

function linkAt(
  work: Work,
  schedule: Schedule,
  index: Index,
  lot: number,
  phase: number,
): { link: DrivingLink; next: Found['next'] } {
  const at: Placement | undefined = index.placed[lot]![phase];
  const start = at?.start ?? schedule.starts[lot]!;
  const { cause, over, next } = causeOf(work, schedule, index, lot, phase, start);
  const link = {
    lot,
    phase,
    start,
    finish: at?.finish ?? start,
    people: at?.people ?? [],
    machine: at?.machine ?? null,
    cause,
    causeOver: over,
    morning: over < start,
  };
  return { link, next };
}

interface Found {
  readonly cause: Cause;
  readonly over: Instant;
  readonly next: readonly [number, number] | null;
}

/** What was over last of all that the phase had to wait for. */
function causeOf(work: Work, schedule: Schedule, index: Index, l: number, phase: number, start: Instant): Found {
  const lot = work.lots[l]!;
  if (phase === 0 && lot.begunAt !== null) return causeOfBegun(work, schedule, index, l);
  const found: Found[] = [];
  if (phase > 0) {
    const before = lot.phases[phase - 1]!.kind;
    found.push({
      cause: before === 'lead' ? { kind: 'supplier' } : { kind: 'phase', phase: before },
      over: index.placed[l]![phase - 1]!.finish,
      next: [l, phase - 1],
    });
  } else {
    found.push({ cause: { kind: 'now' }, over: work.now, next: null });
    if (lot.release > work.now) found.push({ cause: { kind: 'release' }, over: lot.release, next: null });
    if (lot.pinnedStart !== null && lot.pinnedStart > work.now)
      found.push({ cause: { kind: 'pinned' }, over: lot.pinnedStart, next: null });
    found.push(...linkCauses(schedule, index, l, start));
  }
  found.push(...resourceCauses(work, index, l, phase, start));
  return found.reduce((a, b) => (b.over > a.over ? b : a));
}

/** What is under way began when it did; where its end waits for other work, that work. */
function causeOfBegun({ lots }: Work, schedule: Schedule, index: Index, l: number): Found {
  const { begunAt, phases } = lots[l]!;
  const worked = index.placed[l]![0]!.finish;
  const finish = schedule.finishes[l]!;
  const [last] =
    phases.length === 1 && finish > worked
      ? linkCauses(schedule, index, l, finish)
          .slice()
          .sort((a, b) => b.over - a.over)
      : [];
  return last ?? { cause: { kind: 'now' }, over: begunAt!, next: null };
}

function linkCauses(schedule: Schedule, { linksTo, placed }: Index, l: number, start: Instant): Found[] {
  const found: Found[] = [];
  for (const link of linksTo[l]!) {
    const fromStart = link.type === 'start-start' || link.type === 'start-finish';
    const at = (fromStart ? schedule.starts : schedule.finishes)[link.from]!;
    // A link that binds the finish, or whose lag is counted in open minutes, was over at the start at the latest.
    const bindsFinish = link.type === 'finish-finish' || link.type === 'start-finish';
    let over = bindsFinish ? start - (schedule.finishes[l]! - at - link.lagMinutes) : at + link.lagMinutes;
    if (!bindsFinish && link.lagOpen !== null && openMinutesBetween(link.lagOpen, at, start) === link.lagMinutes)
      over = start;
    const last = Math.max(0, placed[link.from]!.length - 1);
    found.push({
      cause: { kind: 'lot', lot: link.from, reason: link.reason },
      over: Math.min(over, start),
      next: [link.from, fromStart ? 0 : last],
    });
  }
  return found;
}

/**
 * Who and what the phase takes, and by which other lot each was taken last before it began; of several at once by the
 * first of them.
 */
function resourceCauses(work: Work, index: Index, l: number, phase: number, start: Instant): Found[] {
  const lot = work.lots[l]!;
  const own = index.placed[l]![phase];
  if (own === undefined) return [];
  const takesMachine =
    own.machine !== null && (lot.phases[phase]!.kind === 'run' || phase === 0 || lot.phases[phase + 1]?.kind === 'run');
  const before = (kind: Use['kind'], resource: number, unit = 0) => lastBefore(index, kind, resource, unit, l, start);
  const uses = own.people.map((person) => before('hands', person));
  if (takesMachine) uses.push(before('machine', own.machine!, own.machineUnit ?? 0));
  for (const pool of poolsOf(lot.phases[phase]!)) uses.push(atOnce(before('pool', pool), start));
  if (phase === 0 && lot.station !== null) uses.push(atOnce(before('station', lot.station), start));
  return uses
    .filter((use) => use !== null)
    .sort((a, b) => a.lot - b.lot || a.phase - b.phase || KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind))
    .map(({ kind, resource, finish, lot: other, phase: last }) => ({
      cause: { kind, resource, lot: other },
      over: finish,
      next: [other, last] as const,
    }));
}

/** Others may still be at a pool or a station: it is a cause only where it came free just then. */
function atOnce(use: Use | null, start: Instant): Use | null {
  return use?.finish === start ? use : null;
}

/** Somebody or something that was taken until `finish`. */
interface Use {
  readonly kind: (typeof KINDS)[number];
  readonly resource: number;
  readonly lot: number;
  readonly phase: number;
  readonly finish: Instant;
}

const KINDS = ['hands', 'machine', 'pool', 'station'] as const;

/** What is asked about a schedule again and again. */
interface Index {
  readonly placed: readonly Placement[][];
  readonly linksTo: readonly Link[][];
  /** By kind, resource and unit: its uses by their finish; of several that end at once the first lot comes last. */
  readonly uses: ReadonlyMap<string, readonly Use[]>;
}

function indexOf(work: Work, schedule: Schedule): Index {
  const placed = placementsByLot(work, schedule);
  const linksTo: Link[][] = work.lots.map(() => []);
  for (const link of work.links) linksTo[link.to]!.push(link);
  const uses = new Map<string, Use[]>();
  const add = (use: Use, unit = 0) => {
    const key = keyOf(use.kind, use.resource, unit);
    const known = uses.get(key);
    if (known === undefined) uses.set(key, [use]);
    else known.push(use);
  };
  placed.forEach((placements, lot) => {
    for (const { phase, finish, people, machine, machineUnit } of placements) {
      for (const person of people) add({ kind: 'hands', resource: person, lot, phase, finish });
      if (machine !== null) add({ kind: 'machine', resource: machine, lot, phase, finish }, machineUnit ?? 0);
      for (const pool of poolsOf(work.lots[lot]!.phases[phase]!))
        add({ kind: 'pool', resource: pool, lot, phase, finish });
    }
    const [last, station] = [placements.at(-1), work.lots[lot]!.station];
    if (last !== undefined && station !== null)
      add({ kind: 'station', resource: station, lot, phase: last.phase, finish: last.finish });
  });
  for (const list of uses.values()) list.sort((a, b) => a.finish - b.finish || b.lot - a.lot || b.phase - a.phase);
  return { placed, linksTo, uses };
}

function keyOf(kind: Use['kind'], resource: number, unit: number): string {
  return `${kind} ${resource} ${unit}`;
}

/** The last use by another lot that ended by `start`. Bisection. */
function lastBefore(
  { uses }: Index,
  kind: Use['kind'],
  resource: number,
  unit: number,
  lot: number,
  start: Instant,
): Use | null {
  const list = uses.get(keyOf(kind, resource, unit)) ?? [];
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (list[middle]!.finish <= start) low = middle + 1;
    else high = middle;
  }
  for (let i = low - 1; i >= 0; i--) if (list[i]!.lot !== lot) return list[i]!;
  return null;
}

function poolsOf(phase: Phase): number[] {
  if (phase.kind !== 'demand') return [];
  return [...new Set(phase.demands.filter(({ amount }) => amount > 0).map(({ resource }) => resource))];
}

function placementsByLot(work: Work, schedule: Schedule): Placement[][] {
  const placed: Placement[][] = work.lots.map(() => []);
  for (const placement of schedule.placements) placed[placement.lot]![placement.phase] = placement;
  return placed;
}

function lastLot(work: Work, schedule: Schedule): number | null {
  const lots = [...work.lots.keys()];
  const workshop = lots.filter((l) => !work.lots[l]!.onSite);
  const from = workshop.length > 0 ? workshop : lots;
  if (from.length === 0) return null;
  // One that takes time says more than a milestone that ends with it.
  return from.reduce((a, b) => {
    const later = schedule.finishes[b]! - schedule.finishes[a]!;
    return later > 0 || (later === 0 && schedule.starts[b]! < schedule.starts[a]!) ? b : a;
  });
}
