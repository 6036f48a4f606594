/** The words of the Countdown and its pictures. */

import { worded } from '../../../server/model/texts/language.ts';
import { some } from '../grammar.ts';

export const countdownTexts = worded({
  ready: 'Ready, as planned',
  readySince: 'Ready since',
  notReady: 'No date yet',
  missing: {
    noStep: (parts: string, many: boolean) =>
      many
        ? `No step makes ${parts} yet. Add the steps that make them.`
        : `No step makes ${parts} yet. Add the steps that make it.`,
    part: (name: string, units: number) => `${name} (${units})`,
    noTime: (steps: string, many: boolean) =>
      many ? `${steps} have no time yet. Say how long they take.` : `${steps} has no time yet. Say how long it takes.`,
    nobody: (steps: string, many: boolean) =>
      many
        ? `Nobody has hours for ${steps}, or may do them. Add people or hours.`
        : `Nobody has hours for ${steps}, or may do it. Add people or hours.`,
    tooManyLots: (step: string, { lots, most, lotsOfStep, lotSize }: LotsTold) =>
      `This build has ${lots} lots; Daywright plans who does what when for at most ${most}. ${step} alone has ${lotsOfStep}, of ${some(lotSize, 'unit', 'units')} each. Give it larger lots, or plan fewer units. Counts and earliest dates with unlimited hands are here anyway.`,
    more: (n: number) => `${n} more`,
  },
  earliest: (when: string) => `With unlimited hands and machines it would be ready ${when}.`,
  notReadyWhy: 'First fix what is listed under “To fix”.',
  roomBefore: (room: string, target: string) => `room ${room} before the ${target}`,
  lateAfter: (length: string, target: string) => `${length} too late for the ${target}`,
  nothingLeft: 'Everything is made',
  nothingPlanned: 'Nothing is planned yet',
  addSteps: 'Say what there is to make, and this sheet says when it will be ready.',
  noHands: 'Nothing left before the ready-by needs hands or machines.',
  chance: (target: string) => `likely by the ${target}`,
  chanceAfter: (target: string) => `likely by the ${target}, installed on site`,
  chanceAlso: (percent: string, target: string) => `${percent} by the ${target}`,
  chanceOnSite: (percent: string, target: string) => `${percent} installed before the ${target}`,
  howSure: 'How sure is that?',
  over: (share: string) => `over ${share}`,
  under: (share: string) => `under ${share}`,
  half: 'even chance',
  outOf: (share: number) => `${share} in 100`,
  afterReadyBy: 'after the ready-by',
  unplaced: (n: string, all: string) =>
    `In ${n} of the ${all} runs there were not enough hours for all the work; those runs count as late.`,
  futures: (count: string, points: string) =>
    `From ${count} simulated runs of this plan with slow days, lost days and rework, good to about ±${points} points. Wrong estimates come on top.`,
  oldChance: (when: string, entries: number, edits: number, failed: boolean) =>
    `These are out of date, from ${when}${since(entries, edits)}: new ones ${failed ? 'could not be worked out' : 'are on the way'}.`,
  since: (when: string) => `Since ${when}.`,
  rooms: 'Room, target by target',
  tight: 'What is tight',
  left: (left: string, done: string) => `${left} left, ${done} done`,
  pace: (has: string, needs: string) => `${has}, needs ${needs}`,
  paceNeeds: (needs: string) => `needs ${needs}`,
  each: (time: string, low: string, high: string) => `${time} each (${low} to ${high})`,
  whatIsLeft: 'What is left',
  handsLeft: 'hands',
  stepsLeft: (left: number, all: number) => `${left} of ${some(all, 'step', 'steps')} still open`,
  enough: 'Are there enough hands?',
  enoughNote:
    'Hours of work before the ready-by against the hours people and machines have, if every hour could be used. Work on site is not included.',
  offered: (needed: string, offered: string) => `needs ${needed}, has ${offered}`,
  sparesBeside: (length: string) => `${length} more for spares, which have until the event`,
  spare: (length: string) => `${length} to spare`,
  shortBy: (length: string) => `${length} short: not enough hands`,
  machineShortBy: (length: string) => `${length} short: not enough machine hours`,
  enoughBy: (when: string) => `covered by ${when}`,
  hoursByDay: 'Hours by day',
  due: 'Due',
  decisions: 'Decisions',
  orderBefore: (what: string, when: string) => `Order ${what} before ${when}`,
  sendBefore: (what: string, when: string) => `Send out ${what} before ${when}`,
  orderedBeforeStart: (what: string, late: string) =>
    `${what} should have been ordered before the build started: ${late}`,
  sentBeforeStart: (what: string, late: string) =>
    `${what} should have been sent out before the build started: ${late}`,
  decidedBeforeStart: (question: string, late: string) =>
    `${question} This should have been decided before the build started: ${late}`,
  packs: (needed: string, size: number) => `${needed} still needed, in packs of ${size}`,
  from: (supplier: string) => `from ${supplier}`,
  leadLearnt: (planned: string, given: string, deliveries: number) =>
    `working days: planned with ${planned} instead of ${given}, after ${some(deliveries, 'delivery', 'deliveries')}`,
  tooLate: 'last moment missed',
  arrives: (when: string) => `here ${when}`,
  arrivesIf: (ordered: string, when: string) => `here ${when} if ordered ${ordered} as planned`,
  decideBefore: (question: string, when: string) => `${question} Decide before ${when}`,
  decideUndated: (question: string) => `${question} Decide it; its last moment is not known yet.`,
  waiting: (steps: string) => `holds up ${steps}`,
  nothingDue: 'Nothing to order, nothing to decide.',
  problems: 'To fix',
  warnings: 'To look at',
  furtherWarnings: (n: number) => `${n} more`,
  incomplete: 'Part of the plan could not be worked out, so there is no percentage. See “To fix”.',
});

function since(entries: number, edits: number): string {
  const parts = [
    ...(entries > 0 ? [entries === 1 ? 'the last entry' : `the last ${entries} entries`] : []),
    ...(edits > 0 ? [edits === 1 ? 'the last edit' : `the last ${edits} edits`] : []),
  ];
  return parts.length === 0 ? '' : `, before ${parts.join(' and ')}`;
}

interface LotsTold {
  readonly lots: number;
  readonly most: number;
  readonly lotsOfStep: number;
  readonly lotSize: number;
}
