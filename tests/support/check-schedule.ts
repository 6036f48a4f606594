/**
 * An independent judge of schedules. It knows the rules of `types.ts` and shares no code with the generator: every
 * minute it counts, it counts from the calendars as they are given. Slow and plain on purpose.
 */
import type {
  Calendar,
  HandsPhase,
  Instant,
  Lot,
  Phase,
  Placement,
  RunPhase,
  Schedule,
  Work,
} from '../../server/engine/types.ts';

/** Everything wrong with `schedule` as a way of doing `work`, in words; empty when it can be done. */
export function faultsOf(work: Work, schedule: Schedule, direction: 'forwards' | 'backwards' = 'forwards'): string[] {
  const faults: string[] = [];
  const byLot = work.lots.map((lot, l) => {
    const own = schedule.placements.filter((placement) => placement.lot === l).sort((a, b) => a.phase - b.phase);
    if (own.length !== lot.phases.length)
      faults.push(`${lot.id}: ${own.length} placements for ${lot.phases.length} phases`);
    else if (own.some(({ phase }, i) => phase !== i)) faults.push(`${lot.id}: a phase is placed twice`);
    return own;
  });
  if (schedule.placements.some(({ lot }) => work.lots[lot] === undefined))
    faults.push('places a lot that is not asked for');
  if (schedule.placements.some(({ start, finish }) => !Number.isInteger(start) || !Number.isInteger(finish)))
    faults.push('an instant that is not a whole minute');
  if (faults.length > 0) return faults;
  work.lots.forEach((lot, l) => {
    faults.push(...lotFaults(work, lot, byLot[l]!, schedule.starts[l]!, schedule.finishes[l]!, direction));
  });
  faults.push(...linkFaults(work, schedule, direction), ...capacityFaults(work, byLot), ...endFaults(work, schedule));
  return faults;
}

/**
 * The schedule as it is; throws with what is wrong where it cannot be done. For benchmarks, which have no assertions.
 */
export function judged(work: Work, schedule: Schedule, name = 'schedule'): Schedule {
  const faults = faultsOf(work, schedule);
  if (faults.length > 0) throw new Error(`${name}: ${faults.join('; ')}`);
  return schedule;
}

function lotFaults(
  work: Work,
  lot: Lot,
  placements: Placement[],
  start: Instant,
  finish: Instant,
  direction: string,
): string[] {
  const faults: string[] = [];
  const say = (text: string) => faults.push(`${lot.id}: ${text}`);
  const bound = Math.max(work.now, lot.release, lot.pinnedStart ?? work.now);
  if (lot.phases.length === 0) {
    if (start !== finish) say('a milestone that takes time');
  } else {
    if (start !== placements[0]!.start) say(`starts at ${start}, its first phase at ${placements[0]!.start}`);
    const worked = placements[placements.length - 1]!.finish;
    // What is in its only phase ends no earlier than its links let it, and nobody is busy with it any more; backwards
    // it stands where it is, and may end later.
    const mayWait =
      lot.begunAt !== null && waitsWithItsEnd(work, lot) && (direction === 'backwards' || placements.length === 1);
    if (mayWait ? direction === 'forwards' && finish < worked : finish !== worked)
      say('finish is not that of its last phase');
  }
  if (lot.begunAt !== null && lot.phases.length > 0) {
    if (start !== lot.begunAt) say(`began at ${lot.begunAt}, placed at ${start}`);
  } else if (direction === 'forwards' ? start < bound : finish > lot.deadline)
    say(`lies outside its bounds: ${start} to ${finish}`);
  placements.forEach((placement, i) => {
    const phase = lot.phases[i]!;
    const begun = lot.begunAt !== null && i === 0;
    if (i > 0 && placement.start < work.now) say(`phase ${i}: begins at ${placement.start}, before now`);
    for (const fault of phaseFaults(work, lot, phase, placement, begun, direction)) say(`phase ${i}: ${fault}`);
    if (i > 0) {
      for (const fault of gapFaults(
        work,
        lot.phases[i - 1]!,
        placements[i - 1]!,
        phase,
        placement,
        lot.begunAt !== null && i === 1,
      ))
        say(`phase ${i}: ${fault}`);
    }
  });
  for (const fault of keptFaults(lot, placements)) say(fault);
  return faults;
}

/**
 * A piece is on one unit of its machine from its loading to its unloading: the hands beside a run are at that unit (at
 * either where they take the piece from one machine to another), and so is the next run of the machine where the piece
 * has at most been turned over.
 */
function keptFaults({ phases }: Lot, placements: readonly Placement[]): string[] {
  const isRun = (i: number) => phases[i]?.kind === 'run';
  const sameUnit = (i: number, j: number) =>
    placements[i]!.machine === placements[j]!.machine && placements[i]!.machineUnit === placements[j]!.machineUnit;
  return phases.flatMap((phase, i) => {
    if (phase.kind === 'hands') {
      const runs = [i - 1, i + 1].filter(isRun);
      return runs.length === 0 || runs.some((run) => sameUnit(i, run))
        ? []
        : [`phase ${i}: at another unit than its run`];
    }
    const before = phases[i - 1]?.kind === 'hands' ? i - 2 : i - 1;
    const stays = phase.kind === 'run' && isRun(before) && placements[before]!.machine === placements[i]!.machine;
    return stays && !sameUnit(before, i) ? [`phase ${i}: the piece has left its unit`] : [];
  });
}

function waitsWithItsEnd(work: Work, lot: Lot): boolean {
  return work.links.some(({ to, type }) => work.lots[to] === lot && type.endsWith('-finish'));
}

function phaseFaults(
  work: Work,
  lot: Lot,
  phase: Phase,
  placement: Placement,
  begun: boolean,
  direction: string,
): string[] {
  const { start, finish } = placement;
  if (finish < start) return [`ends at ${finish} before it starts at ${start}`];
  switch (phase.kind) {
    case 'wait':
      return finish - start === phase.minutes ? [] : [`waits ${finish - start} for ${phase.minutes}`];
    case 'lead': {
      const i = phase.arrivals.cutoffs.findIndex((cutoff) => cutoff >= start);
      const arrival = phase.arrivals.arrivals[i] ?? finish;
      // Backwards the goods may be counted as there only when they are needed.
      return (direction === 'forwards' ? arrival === finish : arrival <= finish)
        ? []
        : [`ordered at ${start} is there at ${finish}`];
    }
    case 'demand': {
      if (finish - start !== phase.minutes) return [`takes ${finish - start} for ${phase.minutes}`];
      const pools = phase.demands.map((demand) => work.resources[demand.resource]!.open);
      return openIn(pools, start, finish) === phase.minutes ? [] : ['runs while a pool is closed'];
    }
    case 'hands':
      return [...peopleFaults(lot, phase, placement), ...handsFaults(work, phase, placement, begun)];
    case 'run': {
      const faults = finish - start === phase.minutes ? [] : [`runs ${finish - start} for ${phase.minutes}`];
      if (phase.attended) faults.push(...peopleFaults(lot, phase, placement));
      const there = [
        work.resources[phase.machine]!.open,
        ...placement.people.map((person) => work.resources[person]!.open),
      ];
      if (!begun && openIn(there, start, finish) !== finish - start)
        faults.push('runs while machine or people are not there');
      if (placement.machine !== phase.machine || placement.machineUnit === null) faults.push('without its machine');
      return faults;
    }
  }
}

function peopleFaults(lot: Lot, phase: HandsPhase | RunPhase, placement: Placement): string[] {
  if (phase.minutes === 0) return [];
  const may = new Set(phase.eligible);
  const people = new Set(placement.people);
  const faults: string[] = [];
  if (people.size !== phase.people || placement.people.length !== phase.people)
    faults.push(`${people.size} people for ${phase.people}`);
  for (const person of people) if (!may.has(person)) faults.push(`person ${person} may not do it`);
  const pinned = (lot.pinnedPeople ?? []).filter((person) => may.has(person));
  const kept = pinned.filter((person) => people.has(person)).length;
  if (kept < Math.min(pinned.length, phase.people)) faults.push('not by the people it is pinned to');
  return faults;
}

function handsFaults(work: Work, phase: HandsPhase, placement: Placement, begun: boolean): string[] {
  const { start, finish } = placement;
  if (phase.minutes === 0) return start === finish ? [] : ['nothing to do takes time'];
  const there = placement.people.map((person) => work.resources[person]!.open);
  const faults: string[] = [];
  // Who began outside the hours did work then: only the rest is counted in open minutes.
  if (begun) return finish - start < phase.minutes ? [`begun, ends after ${finish - start} of ${phase.minutes}`] : [];
  if (openIn(there, start, finish) !== phase.minutes)
    faults.push(`works ${openIn(there, start, finish)} for ${phase.minutes}`);
  if (openIn(there, start, start + 1) === 0 || openIn(there, finish - 1, finish) === 0)
    faults.push('begins or ends while nobody is there');
  if (phase.oneGo && finish - start !== phase.minutes) faults.push('broken up although it is to be done in one go');
  return faults;
}

function gapFaults(
  work: Work,
  before: Phase,
  left: Placement,
  after: Phase,
  right: Placement,
  afterBegun: boolean,
): string[] {
  if (right.start < left.finish) return ['begins before the one before it ends'];
  const needsPeople = after.kind === 'hands' || (after.kind === 'run' && after.attended && after.people > 0);
  if (before.kind === 'lead' || afterBegun || (needsPeople && before.kind !== 'hands')) return [];
  if (right.start === left.finish) return [];
  if (after.kind !== 'hands') return [`a gap of ${right.start - left.finish} minutes`];
  const there = right.people.map((person) => work.resources[person]!.open);
  return openIn(there, left.finish, right.start) === 0 ? [] : ['a gap in which its people are there'];
}

function linkFaults(work: Work, schedule: Schedule, direction: string): string[] {
  const faults: string[] = [];
  // A head start of open minutes ends where they do; backwards it may lie anywhere in the pause before them.
  const slip = direction === 'forwards' ? 1 : 0;
  for (const link of work.links) {
    // What has begun can be kept from ending, not from beginning.
    if (work.lots[link.to]!.begunAt !== null && link.type.endsWith('-start')) continue;
    const [head, tail] = link.type.split('-') as ['finish' | 'start', 'finish' | 'start'];
    const at = (head === 'finish' ? schedule.finishes : schedule.starts)[link.from]!;
    const bound = (tail === 'finish' ? schedule.finishes : schedule.starts)[link.to]!;
    const lag = link.lagMinutes;
    let kept: boolean;
    if (link.lagOpen === null || lag === 0) kept = bound >= at + lag;
    else if (lag > 0) kept = bound >= at && openIn([link.lagOpen], at, bound) >= lag;
    else kept = bound >= at || openIn([link.lagOpen], bound + slip, at) <= -lag - slip;
    if (!kept)
      faults.push(
        `${link.type} from ${work.lots[link.from]!.id} to ${work.lots[link.to]!.id}: ${at} + ${lag} > ${bound}`,
      );
  }
  return faults;
}

/** Capacities at every minute: each resource's stretches, swept in time. */
function capacityFaults(work: Work, byLot: Placement[][]): string[] {
  const stretches: { from: Instant; to: Instant; amount: number; unit: number | null }[][] = work.resources.map(
    () => [],
  );
  byLot.forEach((placements, l) => {
    const lot = work.lots[l]!;
    if (lot.station !== null && placements.length > 0) {
      stretches[lot.station]!.push({
        from: placements[0]!.start,
        to: placements[placements.length - 1]!.finish,
        amount: 1,
        unit: null,
      });
    }
    placements.forEach((placement, i) => {
      const phase = lot.phases[i]!;
      for (const person of placement.people)
        stretches[person]!.push({ from: placement.start, to: placement.finish, amount: 1, unit: null });
      if (phase.kind === 'demand') {
        for (const { resource, amount } of phase.demands)
          stretches[resource]!.push({ from: placement.start, to: placement.finish, amount, unit: null });
      }
    });
    for (const { machine, from, to, unit } of pieces(lot, placements))
      stretches[machine]!.push({ from, to, amount: 1, unit });
  });
  const faults: string[] = [];
  stretches.forEach((list, r) => {
    const { name, capacity } = work.resources[r]!;
    const busy = list.filter((stretch) => stretch.to > stretch.from);
    for (const { from } of busy) {
      const now = busy.filter((stretch) => stretch.from <= from && from < stretch.to);
      const taken = now.reduce((sum, stretch) => sum + stretch.amount, 0);
      if (taken > capacity) faults.push(`${name}: ${taken} of ${capacity} at ${from}`);
      const units = now.map((stretch) => stretch.unit).filter((unit) => unit !== null);
      if (new Set(units).size !== units.length || units.some((unit) => unit >= capacity))
        faults.push(`${name}: one unit does two things at ${from}`);
    }
  });
  return faults;
}

/**
 * When a piece is on which machine. Hands load it before a run and unload it after; if the same machine runs on after
 * one turning of the piece, or at once, the piece has not left it in between.
 */
function pieces(lot: Lot, placements: Placement[]) {
  const held: { machine: number; from: Instant; to: Instant; unit: number | null; last: number }[] = [];
  lot.phases.forEach((phase, i) => {
    if (phase.kind !== 'run') return;
    const handsBefore = i > 0 && lot.phases[i - 1]!.kind === 'hands';
    const handsAfter = i + 1 < lot.phases.length && lot.phases[i + 1]!.kind === 'hands';
    const to = placements[handsAfter ? i + 1 : i]!.finish;
    const on = held[held.length - 1];
    const ranOn = on !== undefined && on.machine === phase.machine && on.last === (handsBefore ? i - 2 : i - 1);
    if (ranOn && on.unit === placements[i]!.machineUnit) Object.assign(on, { to, last: i });
    else {
      const from = placements[handsBefore ? i - 1 : i]!.start;
      held.push({ machine: phase.machine, from, to, unit: placements[i]!.machineUnit, last: i });
    }
  });
  return held;
}

function endFaults(work: Work, schedule: Schedule): string[] {
  const last = (lots: readonly number[]) => Math.max(work.now, ...lots.map((l) => schedule.finishes[l]!));
  const all = [...work.lots.keys()];
  const faults: string[] = [];
  const needed = all.filter((l) => work.lots[l]!.spare !== true);
  if (schedule.finishAt !== last(needed)) faults.push(`finishAt ${schedule.finishAt} is not the last finish`);
  if (schedule.readyAt !== last(all.filter((l) => !work.lots[l]!.onSite)))
    faults.push(`readyAt ${schedule.readyAt} is not the last finish of the workshop`);
  if ([...schedule.activityList].sort((a, b) => a - b).some((lot, i) => lot !== i))
    faults.push('its order does not list every lot once');
  return faults;
}

/** Minutes of [from, to) in which all of these calendars are open. */
function openIn(calendars: readonly Calendar[], from: Instant, to: Instant): number {
  let stretches: [number, number][] = [[from, to]];
  for (const { opens, closes } of calendars) {
    const shared: [number, number][] = [];
    for (const [a, b] of stretches) {
      for (let i = 0; i < opens.length; i++) {
        const [x, y] = [Math.max(a, opens[i]!), Math.min(b, closes[i]!)];
        if (x < y) shared.push([x, y]);
      }
    }
    stretches = shared;
  }
  return stretches.reduce((sum, [a, b]) => sum + Math.max(0, b - a), 0);
}
