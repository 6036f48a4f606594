/** The sentences for what threatens the date. */

import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from './grammar.ts';

export const threatTexts = worded({
  left: (name: string, left: number, total: number) =>
    total === 1 ? `${name}: still to do` : `${name}: ${left} of ${total} units left`,
  work: (hours: string, each: string | null, people: number) =>
    `, ${hours} of work${each === null ? '' : ` at ${each} each`}${people > 1 ? `, ${people} people at once` : ''}`,
  pace: (needed: string, counted: string | null) =>
    `It needs ${needed}; ${counted === null ? 'none counted so far' : `so far it was ${counted}`}.`,
  noHourLeft: 'There are not enough hours left for it.',
  by: (when: string) => `Its last moment is ${when}.`,
  byPassed: (when: string) => `Its last moment was ${when}.`,
  noHours: (loadIn: string, missing: string | null) =>
    `There are not enough hours for it between the load-in, ${loadIn}, and the event${missing === null ? '' : `, where the work on site lacks ${missing} of hands`}: give somebody more then.`,
  late: (length: string) => `As planned it finishes ${length} after that.`,
  lateOnSite: (length: string) => `As planned it finishes ${length} too late.`,
  likely: (length: string) => `It is likely to cost ${length}.`,
  misses: (share: string) => `In ${share} of 100 runs the work on site ends after the event.`,
  driving: (share: string) => `It sets the ready date in ${share} of 100 runs.`,
  waiting: (names: readonly string[]) => `${listOf(names)} ${byNumber(names.length, 'waits', 'wait')} for it.`,
  order: { buy: 'Order', 'send-out': 'Send out' },
  ordered: { buy: 'Ordered', 'send-out': 'Sent out' },
  orderLate: (order: string, what: string, when: string) => `${order} ${what}: the last moment was ${when}.`,
  orderLateFromStart: (ordered: string, what: string, length: string) =>
    `${what} should have been ${ordered.toLowerCase()} before the build started (${length} late).`,
  orderToday: (order: string, what: string, when: string) => `${order} ${what} before ${when}.`,
  arrives: (ordered: string, when: string, express: string | null, needed: string) =>
    `${ordered} now, it arrives ${when}${express === null ? '' : `, by express ${express}`}; you need it ${needed}.`,
  decide: (question: string, when: string) => `${question} Decide by ${when}.`,
  undecided: (question: string, when: string) => `${question} This should have been decided by ${when}.`,
  undecidedFromStart: (question: string, length: string) =>
    `${question} This should have been decided before the build started (${length} late).`,
  answer: (names: readonly string[]) => `${listOf(names)} ${byNumber(names.length, 'waits', 'wait')} for the answer.`,
  idle: (machine: string, units: number, step: string, hours: string) =>
    `${machine} is idle tonight, and ${some(units, 'unit', 'units')} of ${step} ${byNumber(units, 'is', 'are')} waiting for it (${hours} of runs).`,
  load: (when: string) => `Load it by ${when}; after that nobody is there.`,
  loadSafely: 'Leave it running only if it may run unwatched and a smoke alarm would wake somebody.',
  loadWatched: (hazards: readonly string[]) => `Leave it running only if somebody watches it (${listOf(hazards)}).`,
  silent: (name: string, since: string, length: string, left: number, ready: number) =>
    `${name}: no entries since ${since} (${length}). ${left} left, ${ready === left ? 'all' : ready} ready to work on. Log what is done, or restart it.`,
  nights: (nights: number, hours: string, first: string) =>
    `The plan needs ${some(nights, 'night', 'nights')}: ${hours} of work between midnight and five, first ${first}.`,
  noSpare: (readyBy: string, parts: readonly string[], none: boolean) =>
    `${none ? 'No spares' : 'Too few spares'} if one breaks before ${readyBy}: ${listOf(parts)}.`,
  needed1: (need: number) => `${need} needed`,
  sparesOf: (has: number, wanted: number) => `${has} of ${some(wanted, 'spare', 'spares')}`,
  spareBy: (name: string, needed: string, when: string) => `${name} (${needed}; order a spare before ${when})`,
  noMore: (name: string, needed: string, again: string) =>
    `${name} (${needed}; one more, ordered now, comes ${again}: too late)`,
  due: (name: string, when: string, left: number) =>
    `${name} is due ${when}, and ${left} ${byNumber(left, 'is', 'are')} left.`,
  duePlanned: (when: string) => `As planned the last is done ${when}.`,
  dueNever: 'The plan has no hours for it.',
  dueChance: (share: string) => `It is done by then in ${share} of the runs.`,
  overdue: (what: string, when: string) => `${what} should have come by ${when} and is not here.`,
  promised: (what: string, when: string) => `${what} is promised for ${when}.`,
  expected: (what: string, when: string) => `${what} is expected ${when}.`,
  needed: (when: string) => `You need it by ${when}.`,
  wasNeeded: (when: string) => `You needed it by ${when}.`,
  just: (when: string) => `You need it by ${when}, and the ready date depends on it.`,
  ask: 'Ask the supplier, and log the new date.',
  shortMachine: (machine: string, needed: string, offered: string) =>
    `${machine} does not have enough hours: its runs before the ready-by take ${needed}, and it has ${offered}.`,
  fullMachine: (machine: string, needed: string, offered: string) =>
    `${machine} is the bottleneck: its runs before the ready-by take ${needed} of its ${offered}, and they wait for each other.`,
  scrap: (step: string, scrapped: number, tried: number, share: string, expected: string, left: number) =>
    `${step}: ${scrapped} of ${tried} went wrong (${share}; you expected ${expected}), so ${left} ${byNumber(left, 'is', 'are')} left to make.`,
  oldPlan: (last: string, length: string) =>
    `The last log entry is from ${last}, ${length} after this plan. Either a phone’s clock is ahead or the plan is old: look at that entry.`,
});
