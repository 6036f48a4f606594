/** Who does a phase, and when: of the crews that may do it, the one that ends first. */
import type { Calendars } from '../instance/calendars.ts';
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { followSingly, placeSingly } from './place-singly.ts';

const { FREE, HANDS, NEVER, RUN } = codes;

/** How often those who are free first are sought again from when the last of them is, at most. */
const ROUNDS = 8;

/**
 * The wanted one of the crews that may do phase p, else the one that finishes it first; between equals one that has
 * just done this step. Where people are kept, the crew of the sheet before is taken to finish `graceMinutes` earlier
 * than it does.
 */
export function placeCrew(instance: Instance, l: number, p: number, from: number, movable: boolean): number {
  const { crewRange, crewCalendar, calendars, members, memberFirst, lastStep } = instance;
  const minutes = instance.phaseMinutes[p]!;
  const low = instance.lowFinish[p]!;
  const isRun = instance.phaseKind[p] === RUN;
  const machine = isRun && instance.phaseMachine[p] !== instance.kept ? instance.phaseMachine[p]! : -1;
  const unbroken = isRun || instance.phaseOneGo[p] === 1;
  const { graceMinutes } = instance;
  const former = graceMinutes > 0 ? instance.phaseFormerCrew[p]! : -1;
  if (!unbroken && former < 0 && instance.phaseSingly[p] === 1) {
    if (movable) return placeSingly(instance, l, p, from, low);
    if (low === FREE && !instance.mirrored) return followSingly(instance, l, p, from);
  }
  const step = instance.lotStep[l]! + 1;
  const wanted = instance.phaseWanted[p]!;
  const crewFirst = wanted < 0 ? crewRange[2 * p]! : wanted;
  const crewEnd = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  const freeCrew = wanted < 0 ? instance.phaseFreeCrew[p]! : -1;
  let bestStart = 0;
  let bestFinish = 2147483647;
  let best = -1;
  let bestKnows = false;
  let needed = 2147483647;
  let other = 2147483647;
  for (let c = crewFirst; c < crewEnd || (c === crewEnd && freeCrew >= 0); c++) {
    if (c === crewEnd) chooseFree(instance, freeCrew, from, minutes);
    const crew = c === crewEnd ? freeCrew : c;
    const calendar = crewCalendar[crew]!;
    const knows = lastStep[members[memberFirst[crew]!]!] === step;
    const grace = crew === former ? graceMinutes : 0;
    if (movable) {
      const before = (bestKnows || !knows ? bestFinish : bestFinish + 1) + grace;
      const finish = soonest(instance, crew, machine, from, minutes, low, unbroken, before);
      if (finish === FREE) continue;
      bestStart = calendars.start;
      bestFinish = finish - grace;
      best = crew;
      bestKnows = knows;
      continue;
    }
    const start = openStart(calendars, calendar, from, minutes, low, unbroken);
    if (start > from && !isPause(instance, p, calendar, from, start)) {
      needed = Math.min(needed, pauseBefore(instance, p, calendar, start));
      other = Math.min(other, (unbroken ? start + minutes : calendars.add(calendar, start, minutes)) - grace);
      continue;
    }
    const finish = unbroken ? start + minutes : calendars.add(calendar, start, minutes);
    const rated = finish - grace;
    if (rated > bestFinish || (rated === bestFinish && (bestKnows || !knows))) continue;
    const blocked = crewBlocked(instance, crew, machine, start, finish);
    if (blocked !== FREE) {
      const pause = pauseBefore(instance, p, calendar, blocked);
      needed = Math.min(needed, pause > from ? pause : blocked);
      other = Math.min(other, (unbroken ? blocked + minutes : calendars.add(calendar, blocked, minutes)) - grace);
      continue;
    }
    bestStart = start;
    bestFinish = rated;
    best = crew;
    bestKnows = knows;
  }
  if (best < 0) return needed;
  if (other < bestFinish) instance.doubt = p;
  instance.phaseStarts[p] = bestStart;
  instance.phaseFinishes[p] = best === former ? bestFinish + graceMinutes : bestFinish;
  instance.phaseCrew[p] = best;
  instance.phaseWork[p] = -1;
  return FREE;
}

/**
 * The finish of a crew's work (and its machine's) in the first place where all of them have time for it, its start in
 * calendars.start; FREE if it would not end before `before`.
 */
function soonest(
  instance: Instance,
  crew: number,
  machine: number,
  from: number,
  minutes: number,
  low: number,
  unbroken: boolean,
  before: number,
): number {
  const { calendars, crewCalendar, timelines } = instance;
  const calendar = crewCalendar[crew]!;
  if (Math.max(from + minutes, low) >= before) return FREE;
  let at = from;
  for (;;) {
    const there = allThere(instance, crew, at, minutes, before - minutes);
    at = machine < 0 ? there : timelines.gap(machine, there, minutes);
    if (at + minutes >= before) return FREE;
    const start = openStart(calendars, calendar, at, minutes, low, unbroken);
    const finish = unbroken ? start + minutes : calendars.finish(calendar, start, minutes);
    if (finish >= before) return FREE;
    // Whoever is free for as long from `at` on is so for all of it, where none of their own hours lie in between.
    const isFree = unbroken ? start === there : machine < 0 && low === FREE && haveHours(instance, crew, calendar);
    const blocked = isFree ? FREE : crewBlocked(instance, crew, machine, start, finish);
    calendars.start = start;
    if (blocked === FREE) return finish;
    at = blocked;
  }
}

/** Whether the hours of all of a crew are its own. */
function haveHours({ members, memberFirst, ownCalendar }: Instance, crew: number, calendar: number): boolean {
  for (let m = memberFirst[crew]!; m < memberFirst[crew + 1]!; m++) {
    if (ownCalendar[members[m]!] !== calendar) return false;
  }
  return true;
}

/** Makes the crew one of those who are free first, from `from` on, for as long as the work takes. */
function chooseFree(instance: Instance, crew: number, from: number, minutes: number): void {
  const { calendars, people, ownCalendar, members, memberFirst, crewCalendar, freeCrews } = instance;
  const { eligible, classOf, calendarOf, freeAt } = freeCrews.get(crew)!;
  const first = memberFirst[crew]!;
  const count = memberFirst[crew + 1]! - first;
  let at = from;
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = 0; i < eligible.length; i++) {
      const own = ownCalendar[eligible[i]!]!;
      freeAt[i] = calendars.startOf(own, people.gap(eligible[i]!, calendars.worked(own, at), minutes, NEVER));
    }
    let [all, latest] = [0, at];
    for (let m = 0; m < count; m++) {
      let next = -1;
      for (let i = 0; i < eligible.length; i++) {
        if (freeAt[i]! < NEVER && (next < 0 || freeAt[i]! < freeAt[next]!)) next = i;
      }
      latest = Math.max(latest, freeAt[next]!);
      freeAt[next] = NEVER;
      members[first + m] = eligible[next]!;
      all |= 1 << classOf[next]!;
    }
    crewCalendar[crew] = calendarOf[all]!;
    if (latest === at) return;
    at = latest;
  }
}

/**
 * No earlier start at or after `from` finds each of the crew free for as long as the work takes at least. Whoever is
 * free at `before` or later alone ends the search: no more is asked of the others.
 */
function allThere(instance: Instance, crew: number, from: number, minutes: number, before: number): number {
  const { calendars, people, members, memberFirst, ownCalendar } = instance;
  const first = memberFirst[crew]!;
  const end = memberFirst[crew + 1]!;
  let at = from;
  for (let m = first; m < end && at < before; ) {
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
  return at;
}

/**
 * Hands may follow hands across a pause in which the later crew is away. Time reversed, the later crew is the one that
 * is placed already; and what follows them without people must begin the minute they end.
 */
function isPause(instance: Instance, p: number, calendar: number, from: number, start: number): boolean {
  if (instance.phaseKind[instance.mirrored ? p - 1 : p] !== HANDS) return false;
  if (!instance.mirrored) return start === instance.calendars.nextOpen(calendar, from);
  const later = instance.phaseCrew[p - 1]!;
  return later >= 0 && instance.calendars.nextOpen(instance.crewCalendar[later]!, from) >= start;
}

/** If phase p starts at `start`, what comes before it may end as early as this: where the pause before that begins. */
function pauseBefore(instance: Instance, p: number, calendar: number, start: number): number {
  const { mirrored, phaseKind, phaseCrew, crewCalendar, calendars } = instance;
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

/**
 * When some of the crew or the machine is taken between start and finish: an instant before which they cannot begin;
 * else FREE.
 */
export function crewBlocked(instance: Instance, crew: number, machine: number, start: number, finish: number): number {
  const { calendars, people, timelines, members, memberFirst, ownCalendar } = instance;
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
