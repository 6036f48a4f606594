/** The words of the Countdown and of its pictures. */
import { some } from '../grammar.ts';

export const countdownTexts = {
  ready: 'Ready, as planned',
  readySince: 'Ready since',
  notReady: 'No date yet',
  missing: {
    noStep: (parts: string, many: boolean) =>
      many
        ? `${parts} are made here, and no step says how. Add the steps that make them.`
        : `${parts} is made here, and no step says how. Add the steps that make it.`,
    part: (name: string, units: number) => `${name} (${units})`,
    noTime: (steps: string, many: boolean) =>
      many ? `${steps} have no time yet. Say how long they take.` : `${steps} has no time yet. Say how long it takes.`,
    nobody: (steps: string, many: boolean) =>
      many
        ? `Nobody has hours for ${steps}, or may do them. Add people or hours.`
        : `Nobody has hours for ${steps}, or may do it. Add people or hours.`,
    tooManyLots: (step: string, { lots, most, lotsOfStep, lotSize }: LotsTold) =>
      `It is planned who does what when for ${most} lots at most, and these are ${lots}: ${step} alone has ${lotsOfStep}, of ${some(lotSize, 'unit', 'units')} each. Give it larger lots, or plan fewer units. Counts, the earliest dates with unlimited hands and what no plan can beat are here all the same.`,
    more: (n: number) => `${n} more`,
  },
  earliest: (when: string) => `With unlimited hands and machines it is ready ${when} at the earliest.`,
  notReadyWhy: 'Something has to be mended first; it stands under “To be mended”.',
  roomBefore: (room: string, target: string) => `room ${room} before the ${target}`,
  siteLate: (when: string, length: string) => `but on site until ${when}, ${length} after the event`,
  lateAfter: (length: string, target: string) => `${length} too late for the ${target}`,
  nothingLeft: 'Everything is made',
  nothingPlanned: 'Nothing is planned yet',
  addSteps: 'Add the first kind of work under Steps to see dates.',
  noHands: 'No work that is left before the ready-by asks for hands or machines.',
  chance: (target: string) => `likely by the ${target}`,
  chanceAfter: (target: string) => `likely by the ${target} with the work on site`,
  chanceAlso: (percent: string, target: string) => `${percent} by the ${target}`,
  chanceOnSite: (percent: string, target: string) => `${percent} by the ${target} with the work on site`,
  howSure: 'How sure is that?',
  over: (percent: number) => `over ${percent} %`,
  under: (percent: number) => `under ${percent} %`,
  half: 'half of the futures',
  outOf: (share: number) => `${share} of 100`,
  afterReadyBy: 'too late',
  unplaced: (n: string, all: string) =>
    `In ${n} of the ${all} futures some work found no time at all in the hours there are; they count as late.`,
  futures: (count: string, points: string) =>
    `From ${count} simulated runs of this plan with slow days, lost days and rework. The number of runs alone makes it uncertain by ±${points} points; wrong estimates come on top.`,
  oldChance: (when: string, entries: number, edits: number, failed: boolean) =>
    `These are old, from ${when}${since(entries, edits)}: new ones ${failed ? 'could not be drawn' : 'are being drawn'}.`,
  threats: 'What threatens the date',
  since: (when: string) => `Since ${when}.`,
  rooms: 'Room, apart',
  tight: 'What is tight',
  tightest: (name: string) => `The tightest step is ${name}.`,
  left: (left: string, done: string) => `${left} left, ${done} done`,
  pace: (has: string, needs: string) => `${has} an hour, needs ${needs}`,
  paceNeeds: (needs: string) => `needs ${needs} an hour`,
  each: (minutes: string, low: string, high: string) => `${minutes} min each (${low} to ${high})`,
  whatIsLeft: 'What is left',
  handsLeft: 'hands',
  stepsLeft: (left: number, all: number) => `${left} of ${all} steps still open`,
  enough: 'Are there hands enough?',
  enoughNote:
    'All work before the ready-by against all hours until then, as if every hour fitted; work on site is not in it.',
  offered: (needed: string, offered: string) => `${needed} needed, ${offered} there`,
  spare: (length: string) => `${length} to spare`,
  shortBy: (length: string) => `${length} short: this cannot be done by these hands`,
  machineShortBy: (length: string) => `${length} short: this cannot be done by this machine`,
  enoughBy: (when: string) => `enough hours by ${when}`,
  hoursByDay: 'Hours by day',
  due: 'Due',
  orders: 'Orders',
  decisions: 'Decisions',
  orderBefore: (what: string, when: string) => `Order ${what} before ${when}`,
  sendBefore: (what: string, when: string) => `Send out ${what} before ${when}`,
  orderedBeforeStart: (what: string, late: string) =>
    `${what} should have been ordered before the build began: ${late}`,
  sentBeforeStart: (what: string, late: string) => `${what} should have been sent out before the build began: ${late}`,
  decidedBeforeStart: (question: string, late: string) =>
    `${question} It should have been decided before the build began: ${late}`,
  packs: (needed: string, size: number) => `${needed} needed, in packs of ${size}`,
  from: (supplier: string) => `from ${supplier}`,
  leadLearnt: (planned: string, given: string, deliveries: number) =>
    `planned with ${planned} working days where ${given} are given, after ${some(deliveries, 'delivery', 'deliveries')}`,
  tooLate: 'the last moment has passed',
  arrives: (when: string) => `here ${when}`,
  arrivesIf: (ordered: string, when: string) => `here ${when} if ordered as planned, ${ordered}`,
  decideBefore: (question: string, when: string) => `${question} Decide before ${when}`,
  waiting: (steps: string) => `${steps} waits for it`,
  nothingDue: 'Nothing to order and nothing to decide.',
  problems: 'To be mended',
  warnings: 'To look at',
  furtherWarnings: (n: number) => `${n} more`,
  incomplete:
    'The dates are those of what could be planned, so no chance is told; what is left out stands under “To be mended”.',
};

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
