/** Who does a phase that one person does and may pause, and when: the most frequent question of all. */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

const { FREE, HANDS, NEVER } = codes;

/** So many bits name one of `MOST_ALIKE` crews; whether it is free and at the step already is said by those above. */
const CREW_BITS = 5;

/**
 * Places phase p where each crew is one person whose work may pause, as `placeCrew` does, to begin at `from` and to
 * finish at `low` at the earliest. The question is put in the person's own open minutes, and only the answer is turned
 * into instants. Returns FREE.
 *
 * Mostly those who may do it keep the same hours, and whoever has the first free minute of them is free for as long as
 * it takes: nobody else can end it sooner then, and nothing but these minutes is asked for.
 */
export function placeSingly(instance: Instance, l: number, p: number, from: number, low: number): number {
  const calendar = instance.phaseHours[p]! | 0;
  if (calendar < 0 || low !== FREE) return placeWithCare(instance, l, p, from, low);
  const { crewRange, crewPerson, calendars, people, lastStep } = instance;
  const step = (instance.lotStep[l]! + 1) | 0;
  const wanted = instance.phaseWanted[p]! | 0;
  const first = wanted < 0 ? crewRange[2 * p]! : wanted;
  const end = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  const fromWork = calendars.worked(calendar, from) | 0;
  if (fromWork >= people.openMinutes(crewPerson[first]!)) return placeWithCare(instance, l, p, from, low);
  const work = people.firstFree(crewPerson, first, end, fromWork) | 0;
  let best = 2147483647;
  for (let crew = first; crew < end; crew++) {
    const person = crewPerson[crew]!;
    const other = lastStep[person]! ^ step;
    const isOther = (other | -other) >>> 31;
    // Whoever is at the step already comes first among those who are free at once. No branch is foreseeable here.
    const key = (((people.isTaken(person, work) << 1) | isOther) << CREW_BITS) | (crew - first);
    const less = (key - best) | 0;
    best = (best + (less & (less >> 31))) | 0;
  }
  const crew = (first + (best & ((1 << CREW_BITS) - 1))) | 0;
  const minutes = instance.phaseMinutes[p]! | 0;
  if (!people.isFree(crewPerson[crew]!, work, minutes)) return placeWithCare(instance, l, p, from, low);
  instance.phaseFinishes[p] = calendars.spanAfter(work, minutes);
  instance.phaseStarts[p] = calendars.start;
  instance.phaseCrew[p] = crew;
  instance.phaseWork[p] = work;
  return FREE;
}

/** The same whatever their hours, and whoever is free for long enough. */
function placeWithCare(instance: Instance, l: number, p: number, from: number, low: number): number {
  const { crewRange, crewCalendar, crewPerson, calendars, people, lastStep } = instance;
  const minutes = instance.phaseMinutes[p]! | 0;
  const step = (instance.lotStep[l]! + 1) | 0;
  const wanted = instance.phaseWanted[p]! | 0;
  const first = wanted < 0 ? crewRange[2 * p]! : wanted;
  const end = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  let calendar = -1;
  let fromWork = 0;
  let best = -1;
  let bestCalendar = -1;
  let bestWork = 0;
  let bestEnd = -1;
  let bestKnows = false;
  for (let crew = first; crew < end; crew++) {
    const person = crewPerson[crew]!;
    if (crewCalendar[crew] !== calendar) {
      calendar = crewCalendar[crew]!;
      fromWork = calendars.worked(calendar, from) | 0;
      if (low !== FREE) fromWork = Math.max(fromWork, calendars.leastEnd(calendar, low) - minutes) | 0;
    }
    const knows = lastStep[person] === step;
    const sooner = bestKnows || !knows ? 1 : 0;
    let latest = NEVER;
    if (calendar === bestCalendar) latest = (bestWork - sooner) | 0;
    else if (best >= 0) {
      if (bestEnd < 0) bestEnd = calendars.endOf(bestCalendar, bestWork + minutes);
      latest = (calendars.worked(calendar, bestEnd - sooner) - minutes) | 0;
    }
    if (latest < fromWork) continue;
    const work = people.gap(person, fromWork, minutes, latest) | 0;
    if (work > latest) continue;
    best = crew;
    bestCalendar = calendar;
    bestWork = work;
    bestEnd = -1;
    bestKnows = knows;
  }
  instance.phaseFinishes[p] = calendars.span(bestCalendar, bestWork, minutes);
  instance.phaseStarts[p] = calendars.start;
  instance.phaseCrew[p] = best;
  instance.phaseWork[p] = bestWork;
  return FREE;
}

/**
 * The same, with no bound on its finish, where it must follow the phase before it at `from`, time not reversed. Returns
 * FREE when done, else the instant before which it cannot start.
 */
export function followSingly(instance: Instance, l: number, p: number, from: number): number {
  const { crewRange, crewCalendar, crewPerson, calendars, people, lastStep } = instance;
  const minutes = instance.phaseMinutes[p]! | 0;
  const step = (instance.lotStep[l]! + 1) | 0;
  const mayPause = instance.phaseKind[p - 1] === HANDS;
  const wanted = instance.phaseWanted[p]!;
  const end = wanted < 0 ? crewRange[2 * p + 1]! : wanted + 1;
  let needed = 2147483647;
  let other = 2147483647;
  let best = -1;
  let bestFinish = 2147483647;
  let bestKnows = false;
  for (let crew = wanted < 0 ? crewRange[2 * p]! : wanted; crew < end; crew++) {
    const calendar = crewCalendar[crew]!;
    const person = crewPerson[crew]!;
    const finish = calendars.finish(calendar, from, minutes);
    const { start, work } = calendars;
    if (start > from && !mayPause) {
      needed = Math.min(needed, start);
      other = Math.min(other, finish);
      continue;
    }
    const knows = lastStep[person] === step;
    if (finish > bestFinish || (finish === bestFinish && (bestKnows || !knows))) continue;
    const until = people.blockedUntil(person, work, work + minutes);
    if (until === FREE) {
      best = crew;
      bestFinish = finish;
      bestKnows = knows;
      instance.phaseStarts[p] = start;
      instance.phaseWork[p] = work;
      continue;
    }
    other = Math.min(other, calendars.span(calendar, until, minutes));
    needed = Math.min(needed, mayPause ? calendars.endOf(calendar, until) : calendars.start);
  }
  if (best < 0) return needed;
  if (other < bestFinish) instance.doubt = p;
  instance.phaseFinishes[p] = bestFinish;
  instance.phaseCrew[p] = best;
  return FREE;
}
