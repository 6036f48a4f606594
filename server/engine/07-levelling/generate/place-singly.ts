/** Who does a phase that one person does and may pause, and when: the most frequent question of all. */
import { NEVER } from '../instance/calendars.ts';
import { FREE, HANDS } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

/**
 * Places phase p where each crew is one person whose work may pause, as `placeCrew` does, to begin at `from` and to
 * finish at `low` at the earliest. The question is put in the person's own open minutes, and only the answer is turned
 * into instants. Returns FREE.
 */
export function placeSingly(instance: Instance, l: number, p: number, from: number, low: number): number {
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
