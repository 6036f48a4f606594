import { type Calendars, NEVER } from './calendars.ts';
import { DEMAND, FREE, HANDS, LEAD, type Problem, RUN } from './problem.ts';

/**
 * Finds the earliest place of lot l that starts at `start` at the earliest and finishes at `finish` at the earliest, given
 * what is taken already, and writes it to the problem's phaseStarts, phaseFinishes, phaseCrew, starts and finishes.
 * Takes nothing: `take` does. Returns the start.
 *
 * Phases are placed one after the other. Where one does not fit, what must move is bounded from below (the phase itself
 * if it may begin later than the one before it ends, else the chain it hangs on) and the chain is placed again from
 * there. Every bound is one that no earlier start can meet, so the place found is the earliest, given that each phase
 * takes the crew that finishes it first, or the one that is wanted (`phaseWanted`), and begins not before `phaseNotBefore`.
 */
export function place(problem: Problem, l: number, start: number, finish: number): number {
  const { phaseStarts, phaseFinishes, lowStart, lowFinish, phaseLoose, phaseNotBefore } = problem;
  const first = problem.phaseFirst[l]!;
  const end = problem.phaseFirst[l + 1]!;
  if (first === end) {
    const at = Math.max(start, finish);
    problem.starts[l] = at;
    problem.finishes[l] = at;
    return at;
  }
  for (let p = first; p < end; p++) {
    lowStart[p] = phaseNotBefore[p]!;
    lowFinish[p] = FREE;
  }
  lowStart[first] = Math.max(start, phaseNotBefore[first]!);
  lowFinish[end - 1] = finish;
  let p = first;
  while (p < end) {
    const movable = p === first || phaseLoose[p] === 1;
    const previous = p === first ? FREE : phaseFinishes[p - 1]!;
    let from = movable && lowStart[p]! > previous ? lowStart[p]! : previous;
    if (movable && problem.heldUntil[p]! >= 0) from = machineFree(problem, p, from);
    // A chain that hangs on the phase before it must be moved as a whole.
    let needed = !movable && lowStart[p]! > from ? lowStart[p]! : placePhase(problem, l, p, from, movable);
    let moved = p;
    if (needed === FREE && movable && problem.heldUntil[p]! >= 0 && phaseStarts[p]! > from) {
      // Whoever loads it comes later, and the machine may be taken by then.
      const free = machineFree(problem, p, phaseStarts[p]!);
      if (free > phaseStarts[p]!) needed = free;
    }
    if (needed === FREE) {
      const heldFrom = problem.heldFrom[p]!;
      if (heldFrom >= 0) {
        needed = problem.timelines.blockedUntil(problem.heldMachine[p]!, phaseStarts[heldFrom]!, phaseFinishes[p]!);
        moved = heldFrom;
      }
      if (needed === FREE && p === end - 1 && problem.station[l]! >= 0) {
        needed = problem.timelines.blockedUntil(problem.station[l]!, phaseStarts[first]!, phaseFinishes[p]!);
        moved = first;
      }
      // A lot under way stays where it is, whatever the log says of the machine it is on.
      if (needed === FREE || (moved === first && problem.begun[l]! !== FREE)) {
        p++;
        continue;
      }
    }
    p = delay(problem, first, moved, needed);
  }
  problem.starts[l] = phaseStarts[first]!;
  problem.finishes[l] = phaseFinishes[end - 1]!;
  return phaseStarts[first]!;
}

/** No hold of the machine that phase p takes can begin earlier, at or after `from`: it lasts as long as its phases at least. */
function machineFree(problem: Problem, p: number, from: number): number {
  const until = problem.heldUntil[p]!;
  let minutes = 0;
  for (let q = p; q <= until; q++) minutes += problem.phaseMinutes[q]!;
  return minutes > 0 ? problem.timelines.gap(problem.heldMachine[until]!, from, minutes) : from;
}

/** Notes that phase p must not start before `needed`, and returns the phase from which its chain can be placed again. */
function delay(problem: Problem, first: number, p: number, needed: number): number {
  if (p === first || problem.phaseLoose[p] === 1) {
    problem.lowStart[p] = needed;
    return p;
  }
  problem.lowStart[p] = needed;
  problem.lowFinish[p - 1] = needed;
  return p - 1;
}

/**
 * Places phase p at `from`, or at the first possible instant after it where it is movable. Returns FREE when done, else
 * the instant before which it cannot start.
 */
function placePhase(problem: Problem, l: number, p: number, from: number, movable: boolean): number {
  const kind = problem.phaseKind[p]!;
  const minutes = problem.phaseMinutes[p]!;
  if (p === problem.phaseFirst[l]! && problem.begun[l]! !== FREE) return placeBegun(problem, l, p, kind, minutes);
  if (problem.crewRange[2 * p + 1]! > problem.crewRange[2 * p]! && minutes > 0)
    return placeCrew(problem, l, p, from, movable);
  const low = problem.lowFinish[p]!;
  let start = from;
  let finish: number;
  if (kind === LEAD) {
    finish = problem.leads.finish(problem.phaseTable[p]!, start) + minutes;
    if (finish < low) {
      start = Math.max(start + 1, problem.leads.startFor(problem.phaseTable[p]!, low - minutes));
      if (!movable) return start;
      finish = problem.leads.finish(problem.phaseTable[p]!, start) + minutes;
    }
    // Time reversed, the goods are there when they arrive, not when they are needed.
    if (problem.mirrored) start = Math.max(start, problem.leads.latestStart(problem.phaseTable[p]!, start));
  } else {
    if (start + minutes < low) start = low - minutes;
    if (kind === RUN) start = fitRun(problem, p, start, minutes);
    else if (kind === DEMAND) start = fitDemand(problem, p, start, minutes);
    if (start > from && !movable) return start;
    finish = start + minutes;
  }
  problem.phaseStarts[p] = start;
  problem.phaseFinishes[p] = finish;
  problem.phaseCrew[p] = -1;
  return FREE;
}

/** What is under way began when it began, and no calendar is asked about that. */
function placeBegun(problem: Problem, l: number, p: number, kind: number, minutes: number): number {
  const start = problem.begun[l]!;
  const [crewFirst, crewEnd] = [problem.crewRange[2 * p]!, problem.crewRange[2 * p + 1]!];
  const crew = crewEnd > crewFirst && minutes > 0 ? crewFirst : -1;
  let finish = start + minutes;
  if (kind === LEAD) finish = problem.leads.finish(problem.phaseTable[p]!, start) + minutes;
  else if (kind === HANDS && crew >= 0) finish = problem.calendars.add(problem.crewCalendar[crew]!, start, minutes);
  problem.phaseStarts[p] = start;
  problem.phaseFinishes[p] = finish;
  problem.phaseCrew[p] = crew;
  problem.phaseWork[p] = -1;
  // What comes after it comes now at the earliest.
  if (p + 1 < problem.phaseFirst[l + 1]! && problem.lowStart[p + 1]! < problem.earliest[l]!) {
    problem.lowStart[p + 1] = problem.earliest[l]!;
  }
  return FREE;
}

function fitRun(problem: Problem, p: number, from: number, minutes: number): number {
  const { calendars, timelines } = problem;
  const calendar = problem.phaseCalendar[p]!;
  const machine = problem.phaseMachine[p]!;
  let start = from;
  for (;;) {
    if (calendar >= 0 && minutes > 0) start = calendars.stretch(calendar, start, minutes);
    const blocked = minutes > 0 ? timelines.blockedUntil(machine, start, start + minutes) : FREE;
    if (blocked === FREE) return start;
    start = blocked;
  }
}

function fitDemand(problem: Problem, p: number, from: number, minutes: number): number {
  const { calendars, pools } = problem;
  const calendar = problem.phaseCalendar[p]!;
  if (minutes === 0) return from;
  let start = from;
  for (;;) {
    const open = calendar >= 0 ? calendars.stretch(calendar, start, minutes) : start;
    start = pools.fit(problem.demand, p * pools.words, open - pools.base, minutes) + pools.base;
    if (start === open) return start;
  }
}

/**
 * Of the crews that may do phase p, the wanted one, else the one that finishes it first; between equals one that has just done this step. Where
 * people are kept, the crew of the sheet before is taken to finish `graceMinutes` earlier than it does.
 */
function placeCrew(problem: Problem, l: number, p: number, from: number, movable: boolean): number {
  const { crewRange, crewCalendar, calendars, members, memberFirst, lastStep } = problem;
  const minutes = problem.phaseMinutes[p]!;
  const low = problem.lowFinish[p]!;
  const machine = problem.phaseKind[p] === RUN ? problem.phaseMachine[p]! : -1;
  const unbroken = machine >= 0 || problem.phaseOneGo[p] === 1;
  const { graceMinutes } = problem;
  const former = graceMinutes > 0 ? problem.phaseFormerCrew[p]! : -1;
  if (movable && !unbroken && low === FREE && former < 0 && problem.phaseSingly[p] === 1) {
    placeSingly(problem, l, p, from);
    return FREE;
  }
  const step = problem.lotStep[l]! + 1;
  const wanted = problem.phaseWanted[p]!;
  const crewFirst = wanted < 0 ? crewRange[2 * p]! : wanted;
  const crewEnd = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  let bestStart = 0;
  let bestFinish = 2147483647;
  let best = -1;
  let bestKnows = false;
  let needed = 2147483647;
  for (let crew = crewFirst; crew < crewEnd; crew++) {
    const calendar = crewCalendar[crew]!;
    const knows = lastStep[members[memberFirst[crew]!]!] === step;
    const grace = crew === former ? graceMinutes : 0;
    if (movable) {
      const before = (bestKnows || !knows ? bestFinish : bestFinish + 1) + grace;
      const finish = soonest(problem, crew, machine, from, minutes, low, unbroken, before);
      if (finish === FREE) continue;
      bestStart = calendars.start;
      bestFinish = finish - grace;
      best = crew;
      bestKnows = knows;
      continue;
    }
    const start = openStart(calendars, calendar, from, minutes, low, unbroken);
    if (start > from && !isPause(problem, p, calendar, from, start)) {
      needed = Math.min(needed, pauseBefore(problem, p, calendar, start));
      continue;
    }
    const finish = unbroken ? start + minutes : calendars.add(calendar, start, minutes);
    const rated = finish - grace;
    if (rated > bestFinish || (rated === bestFinish && (bestKnows || !knows))) continue;
    const blocked = crewBlocked(problem, crew, machine, start, finish);
    if (blocked !== FREE) {
      const pause = pauseBefore(problem, p, calendar, blocked);
      needed = Math.min(needed, pause > from ? pause : blocked);
      continue;
    }
    bestStart = start;
    bestFinish = rated;
    best = crew;
    bestKnows = knows;
  }
  if (best < 0) return needed;
  problem.phaseStarts[p] = bestStart;
  problem.phaseFinishes[p] = best === former ? bestFinish + graceMinutes : bestFinish;
  problem.phaseCrew[p] = best;
  problem.phaseWork[p] = -1;
  return FREE;
}

/**
 * Places and takes a lot that is one person's work and waits after it, to begin at `start` at the earliest: what `place` and `take` do,
 * without their questions. Returns its finish. The work must not be nothing.
 */
export function placePlain(problem: Problem, l: number, start: number): number {
  const { phaseFirst, phaseStarts, phaseFinishes, phaseMinutes, phaseCrew } = problem;
  const first = phaseFirst[l]!;
  const end = phaseFirst[l + 1]!;
  placeSingly(problem, l, first, Math.max(start, problem.phaseNotBefore[first]!));
  takeSingly(problem, l, first);
  let at = phaseFinishes[first]!;
  for (let p = first + 1; p < end; p++) {
    phaseStarts[p] = at;
    at += phaseMinutes[p]!;
    phaseFinishes[p] = at;
    phaseCrew[p] = -1;
  }
  problem.starts[l] = phaseStarts[first]!;
  problem.finishes[l] = at;
  return at;
}

/**
 * The same for a lot that one person loads, a machine runs alone and one person unloads. Returns its finish; NEVER, with nothing taken,
 * where the machine is not open when it is loaded, so that the loading must wait for it.
 */
export function placeLoaded(problem: Problem, l: number, start: number): number {
  const { phaseStarts, phaseFinishes, phaseMinutes, phaseNotBefore, timelines } = problem;
  const load = problem.phaseFirst[l]!;
  const run = load + 1;
  const unload = load + 2;
  const machine = problem.phaseMachine[run]!;
  const calendar = problem.phaseCalendar[run]!;
  let from = Math.max(start, phaseNotBefore[load]!);
  for (;;) {
    from = machineFree(problem, load, from);
    placeSingly(problem, l, load, from);
    const loaded = phaseStarts[load]!;
    if (loaded > from) {
      // Whoever loads it comes later, and the machine may be taken by then.
      from = machineFree(problem, load, loaded);
      if (from > loaded) continue;
    }
    const ran = phaseFinishes[load]!;
    if (calendar >= 0 && problem.calendars.stretch(calendar, ran, phaseMinutes[run]!) > ran) return NEVER;
    phaseStarts[run] = ran;
    phaseFinishes[run] = ran + phaseMinutes[run]!;
    problem.phaseCrew[run] = -1;
    placeSingly(problem, l, unload, Math.max(phaseFinishes[run]!, phaseNotBefore[unload]!));
    const blocked = timelines.blockedUntil(machine, loaded, phaseFinishes[unload]!);
    if (blocked === FREE) break;
    from = blocked;
  }
  takeSingly(problem, l, load);
  takeSingly(problem, l, unload);
  timelines.take(machine, phaseStarts[load]!, phaseFinishes[unload]!);
  problem.starts[l] = phaseStarts[load]!;
  problem.finishes[l] = phaseFinishes[unload]!;
  return phaseFinishes[unload]!;
}

function takeSingly(problem: Problem, l: number, p: number): void {
  const person = problem.crewPerson[problem.phaseCrew[p]!]!;
  const work = problem.phaseWork[p]!;
  problem.people.take(person, work, work + problem.phaseMinutes[p]!);
  problem.lastStep[person] = problem.lotStep[l]! + 1;
}

/**
 * The same where each crew is one person whose work may pause, the most frequent question of all: it is put in the person's own open
 * minutes, and only the answer is turned into instants. Returns the open minute in which the chosen person begins.
 */
function placeSingly(problem: Problem, l: number, p: number, from: number): number {
  const { crewRange, crewCalendar, crewPerson, calendars, people, lastStep } = problem;
  const minutes = problem.phaseMinutes[p]! | 0;
  const step = (problem.lotStep[l]! + 1) | 0;
  const wanted = problem.phaseWanted[p]! | 0;
  const first = wanted < 0 ? crewRange[2 * p]! : wanted;
  const end = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  let calendar = -1;
  let fromWork = 0;
  let best = -1;
  let bestCalendar = -1;
  let bestWork = 0;
  let bestKnows = false;
  for (let crew = first; crew < end; crew++) {
    const person = crewPerson[crew]!;
    if (crewCalendar[crew] !== calendar) {
      calendar = crewCalendar[crew]!;
      fromWork = calendars.worked(calendar, from) | 0;
    }
    const knows = lastStep[person] === step;
    const latest = calendar !== bestCalendar ? NEVER : bestKnows || !knows ? (bestWork - 1) | 0 : bestWork;
    if (latest < fromWork) continue;
    const work = people.gap(person, fromWork, minutes, latest) | 0;
    if (work > latest) continue;
    if (best >= 0 && calendar !== bestCalendar) {
      const later = calendars.endOf(calendar, work + minutes) - calendars.endOf(bestCalendar, bestWork + minutes);
      if (later > 0 || (later === 0 && (bestKnows || !knows))) continue;
    }
    best = crew;
    bestCalendar = calendar;
    bestWork = work;
    bestKnows = knows;
  }
  problem.phaseFinishes[p] = calendars.span(bestCalendar, bestWork, minutes);
  problem.phaseStarts[p] = calendars.start;
  problem.phaseCrew[p] = best;
  problem.phaseWork[p] = bestWork;
  return bestWork;
}

/**
 * The finish of a crew's work (and its machine's) in the first place where all of them have time for it, its start in
 * calendars.start; FREE if it would not end before `before`.
 */
function soonest(
  problem: Problem,
  crew: number,
  machine: number,
  from: number,
  minutes: number,
  low: number,
  unbroken: boolean,
  before: number,
): number {
  const { calendars, crewCalendar } = problem;
  const calendar = crewCalendar[crew]!;
  if (Math.max(from + minutes, low) >= before) return FREE;
  let at = from;
  for (;;) {
    at = allFree(problem, crew, machine, at, minutes);
    if (at + minutes >= before) return FREE;
    const start = openStart(calendars, calendar, at, minutes, low, unbroken);
    const finish = unbroken ? start + minutes : calendars.finish(calendar, start, minutes);
    if (finish >= before) return FREE;
    const blocked = crewBlocked(problem, crew, machine, start, finish);
    calendars.start = start;
    if (blocked === FREE) return finish;
    at = blocked;
  }
}

/** No earlier start at or after `from` finds each of the crew and the machine free for as long as the work takes at least. */
function allFree(problem: Problem, crew: number, machine: number, from: number, minutes: number): number {
  const { calendars, people, timelines, members, memberFirst, ownCalendar } = problem;
  const first = memberFirst[crew]!;
  const end = memberFirst[crew + 1]!;
  let at = from;
  for (let m = first; m < end; ) {
    const own = ownCalendar[members[m]!]!;
    const work = calendars.worked(own, at);
    const free = people.gap(members[m]!, work, minutes, NEVER);
    if (free > work) {
      at = calendars.startOf(own, free);
      // Those asked before must be asked again.
      if (m > first) {
        m = first;
        continue;
      }
    }
    m++;
  }
  return machine < 0 ? at : timelines.gap(machine, at, minutes);
}

/**
 * Hands may follow hands across a pause in which the later crew is away. Time reversed, the later crew is the one that is
 * placed already; and what follows them without people must begin the minute they end.
 */
function isPause(problem: Problem, p: number, calendar: number, from: number, start: number): boolean {
  if (problem.phaseKind[problem.mirrored ? p - 1 : p] !== HANDS) return false;
  if (!problem.mirrored) return start === problem.calendars.nextOpen(calendar, from);
  const later = problem.phaseCrew[p - 1]!;
  return later >= 0 && problem.calendars.nextOpen(problem.crewCalendar[later]!, from) >= start;
}

/** If phase p starts at `start`, what comes before it may end as early as this: where the pause before that begins. */
function pauseBefore(problem: Problem, p: number, calendar: number, start: number): number {
  const { mirrored, phaseKind, phaseCrew, crewCalendar, calendars } = problem;
  if (phaseKind[mirrored ? p - 1 : p] !== HANDS) return start;
  if (mirrored && phaseCrew[p - 1]! < 0) return start;
  const away = mirrored ? crewCalendar[phaseCrew[p - 1]!]! : calendar;
  return Math.min(start, calendars.endOf(away, calendars.worked(away, start)));
}

/** The first open start at or after `from` that does not finish before `low`. */
function openStart(
  calendars: Calendars,
  calendar: number,
  from: number,
  minutes: number,
  low: number,
  unbroken: boolean,
): number {
  if (unbroken) return calendars.stretch(calendar, Math.max(low - minutes, from), minutes);
  const start = calendars.nextOpen(calendar, from);
  if (low === FREE || calendars.add(calendar, start, minutes) >= low) return start;
  const later = calendars.nextOpen(calendar, calendars.subtract(calendar, low, minutes));
  return calendars.add(calendar, later, minutes) >= low ? later : calendars.nextOpen(calendar, later + 1);
}

/** When some of the crew or the machine is taken between start and finish: an instant before which they cannot begin; else FREE. */
function crewBlocked(problem: Problem, crew: number, machine: number, start: number, finish: number): number {
  const { calendars, people, timelines, members, memberFirst, ownCalendar } = problem;
  let blocked = machine >= 0 ? timelines.blockedUntil(machine, start, finish) : FREE;
  const end = memberFirst[crew + 1]!;
  for (let m = memberFirst[crew]!; m < end; m++) {
    const own = ownCalendar[members[m]!]!;
    const until = people.blockedUntil(members[m]!, calendars.worked(own, start), calendars.worked(own, finish));
    if (until === FREE) continue;
    const at = until < NEVER ? calendars.startOf(own, until) : until;
    if (at > blocked) blocked = at;
  }
  return blocked;
}

/** Takes what the place of lot l needs: its people, its machines from loading to unloading, its pools and its station. */
export function take(problem: Problem, l: number): void {
  const { timelines, phaseStarts, phaseFinishes, phaseCrew, heldFrom, pools } = problem;
  const end = problem.phaseFirst[l + 1]!;
  for (let p = problem.phaseFirst[l]!; p < end; p++) {
    if (phaseCrew[p]! >= 0) takeCrew(problem, l, p, phaseCrew[p]!);
    if (heldFrom[p]! >= 0) timelines.take(problem.heldMachine[p]!, phaseStarts[heldFrom[p]!]!, phaseFinishes[p]!);
    if (problem.phaseKind[p] === DEMAND) {
      pools.take(problem.demand, p * pools.words, phaseStarts[p]! - pools.base, phaseFinishes[p]! - phaseStarts[p]!);
    }
  }
  if (problem.station[l]! >= 0) timelines.take(problem.station[l]!, problem.starts[l]!, problem.finishes[l]!);
}

function takeCrew(problem: Problem, l: number, p: number, crew: number): void {
  const { people, calendars, members, memberFirst, ownCalendar, phaseStarts, phaseFinishes, lastStep } = problem;
  const work = problem.phaseWork[p]!;
  const end = memberFirst[crew + 1]!;
  for (let m = memberFirst[crew]!; m < end; m++) {
    const person = members[m]!;
    lastStep[person] = problem.lotStep[l]! + 1;
    if (work >= 0) people.take(person, work, work + problem.phaseMinutes[p]!);
    else {
      const own = ownCalendar[person]!;
      people.take(person, calendars.worked(own, phaseStarts[p]!), calendars.worked(own, phaseFinishes[p]!));
    }
  }
}
