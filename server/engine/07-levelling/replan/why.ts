/** Why a lot begins when it does, and the chain of lots that drives the end. */
import { openMinutesBetween } from '../../calendar/index.ts';
import type { Instant, LinkReason, Phase, Placement, Schedule, Work } from '../../types.ts';

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
 * The chain of phases that drives the end of a schedule, last first: from the lot that is ready last (workshop lots; of all
 * lots if there are none) back to what could not begin earlier, each with what it waited for. O(chain times placements).
 */
export function drivingChain(work: Work, schedule: Schedule): DrivingLink[] {
  const placed = placementsByLot(work, schedule);
  let lot = lastLot(work, schedule);
  if (lot === null) return [];
  const chain: DrivingLink[] = [];
  const visited = new Set<number>();
  let phase = Math.max(0, placed[lot]!.length - 1);
  for (;;) {
    const key = lot * 64 + phase;
    if (visited.has(key)) return chain;
    visited.add(key);
    const { link, next } = linkAt(work, schedule, placed, lot, phase);
    chain.push(link);
    if (next === null) return chain;
    [lot, phase] = next;
  }
}

/** What the first phase of a lot waited for. O(placements). */
export function startLink(work: Work, schedule: Schedule, lot: number): DrivingLink {
  return linkAt(work, schedule, placementsByLot(work, schedule), lot, 0).link;
}

function linkAt(
  work: Work,
  schedule: Schedule,
  placed: readonly Placement[][],
  lot: number,
  phase: number,
): { link: DrivingLink; next: Found['next'] } {
  const at: Placement | undefined = placed[lot]![phase];
  const start = at?.start ?? schedule.starts[lot]!;
  const { cause, over, next } = causeOf(work, schedule, placed, lot, phase, start);
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

/** Of all that the phase had to wait for, what was over last. */
function causeOf(
  work: Work,
  schedule: Schedule,
  placed: readonly Placement[][],
  l: number,
  phase: number,
  start: Instant,
): Found {
  const lot = work.lots[l]!;
  if (phase === 0 && lot.begunAt !== null) return { cause: { kind: 'now' }, over: lot.begunAt, next: null };
  const found: Found[] = [];
  if (phase > 0) {
    const before = lot.phases[phase - 1]!.kind;
    found.push({
      cause: before === 'lead' ? { kind: 'supplier' } : { kind: 'phase', phase: before },
      over: placed[l]![phase - 1]!.finish,
      next: [l, phase - 1],
    });
  } else {
    found.push({ cause: { kind: 'now' }, over: work.now, next: null });
    if (lot.release > work.now) found.push({ cause: { kind: 'release' }, over: lot.release, next: null });
    if (lot.pinnedStart !== null && lot.pinnedStart > work.now)
      found.push({ cause: { kind: 'pinned' }, over: lot.pinnedStart, next: null });
    found.push(...linkCauses(work, schedule, placed, l, start));
  }
  found.push(...resourceCauses(work, placed, l, phase, start));
  return found.reduce((a, b) => (b.over > a.over ? b : a));
}

function linkCauses(
  work: Work,
  schedule: Schedule,
  placed: readonly Placement[][],
  l: number,
  start: Instant,
): Found[] {
  const found: Found[] = [];
  for (const link of work.links) {
    if (link.to !== l) continue;
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

/** Who and what the phase takes, and by which other lots each was taken last before it began. */
function resourceCauses(work: Work, placed: readonly Placement[][], l: number, phase: number, start: Instant): Found[] {
  const lot = work.lots[l]!;
  const own = placed[l]![phase];
  if (own === undefined) return [];
  const machine =
    own.machine !== null && (lot.phases[phase]!.kind === 'run' || phase === 0 || lot.phases[phase + 1]?.kind === 'run')
      ? own.machine
      : null;
  const found: Found[] = [];
  placed.forEach((placements, other) => {
    if (other === l) return;
    placements.forEach((placement, i) => {
      if (placement.finish > start) return;
      const next = [other, i] as const;
      for (const person of placement.people) {
        if (own.people.includes(person))
          found.push({ cause: { kind: 'hands', resource: person, lot: other }, over: placement.finish, next });
      }
      if (machine !== null && placement.machine === machine && placement.machineUnit === own.machineUnit) {
        found.push({ cause: { kind: 'machine', resource: machine, lot: other }, over: placement.finish, next });
      }
      for (const pool of sharedPools(lot.phases[phase]!, work.lots[other]!.phases[i]!)) {
        if (placement.finish === start)
          found.push({ cause: { kind: 'pool', resource: pool, lot: other }, over: placement.finish, next });
      }
    });
    const last = placements[placements.length - 1];
    if (
      phase === 0 &&
      lot.station !== null &&
      lot.station === work.lots[other]!.station &&
      last !== undefined &&
      last.finish === start
    ) {
      found.push({
        cause: { kind: 'station', resource: lot.station, lot: other },
        over: start,
        next: [other, placements.length - 1],
      });
    }
  });
  return found;
}

function sharedPools(a: Phase, b: Phase): number[] {
  if (a.kind !== 'demand' || b.kind !== 'demand') return [];
  return a.demands
    .filter((one) => one.amount > 0 && b.demands.some((other) => other.amount > 0 && other.resource === one.resource))
    .map((one) => one.resource);
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
  // Of those that end together, one that takes time says more than a milestone.
  return from.reduce((a, b) => {
    const later = schedule.finishes[b]! - schedule.finishes[a]!;
    return later > 0 || (later === 0 && schedule.starts[b]! < schedule.starts[a]!) ? b : a;
  });
}
