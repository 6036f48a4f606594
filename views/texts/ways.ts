/** The words of Make or send out: the ways of a part beside each other. */
import { some } from './grammar.ts';

export const wayTexts = {
  heading: 'Make or send out',
  note: 'Each part that may come about in several ways, by each of them, tried on the plan as it is now with the same luck. Differences are against that plan.',
  link: 'Make or send out?',
  look: 'Work it out',
  lookAgain: 'Work it out again',
  none: 'Nothing was worked out yet.',
  running: (parts: number) => (parts === 0 ? 'This is being worked out.' : `Being worked out: ${parts} so far.`),
  failed: 'This could not be worked out. Ask again.',
  stale: 'The build has changed since this was worked out.',
  done: (futures: string) => `${futures} futures for each way and share.`,
  stopped: 'Stopped before all parts were looked at.',
  noDate: 'There is no date yet, or nothing is left to do: nothing can be compared.',
  noParts:
    'No part of this build has more than one way that is still open. Give a part its ways in its form on Design: made here by its steps, sent out, bought.',
  toDesign: 'To the parts on Design',
  present: (ready: string, room: string, chance: string | null) =>
    `As planned now: ready ${ready}, ${room}${chance === null ? '' : `, chance ${chance}`}.`,
  units: (units: string, made: number, madeText: string) =>
    made === 0 ? `${units} wanted` : `${units} wanted, ${madeText} made or ordered already`,
  now: 'as planned now',
  columns: {
    units: 'Units',
    hands: 'Hours here',
    machine: 'Machine',
    lead: 'Lead there',
    paid: 'Paid',
    last: 'Still possible until',
    ready: 'Ready, as planned',
    chance: 'Chance',
    average: 'Ready, on average',
  },
  average: (moved: string, error: string) => `${moved} ± ${error}`,
  room: (length: string) => `room ${length}`,
  noHands: 'none',
  noLead: 'none: made here',
  lead: (days: string, supplier: string, arrives: string) => `${days} working days at ${supplier}; here ${arrives}`,
  noPrice: 'a price is missing',
  last: {
    until: (when: string) => when,
    finish: (when: string) => `${when} before it costs the finish that this way has; the ready-by is missed`,
    'under-way': 'under way already',
    none: 'nothing is left of it',
  },
  refused: (way: string, why: string) => `${way}: it cannot be done. ${why}`,
  adopt: 'Adopt',
  keep: 'Keep as an option',
  of: (part: string, way: string) => `: ${part} ${way}`,
  option: (part: string, way: string) => `${part}: ${way}`,
  turns: 'At which quantity it turns',
  costTurn: (few: string, many: string, from: string, worth: string) =>
    `Money: “${few}” is the cheaper below ${from}, “${many}” from ${from} on (an hour of hands at ${worth}).`,
  costAlways: (many: string, upTo: string, worth: string) =>
    `Money: “${many}” is the cheaper at any quantity up to ${upTo} (an hour of hands at ${worth}).`,
  costUnknown: 'Money: not known, a price is missing.',
  timeTurn: (units: string, arrives: string, made: string, sent: string) =>
    `Time: by ${arrives}, when “${sent}” would be here, “${made}” has ${units}. Up to ${units} are sooner made, more are sooner sent out.`,
  timeAll: (arrives: string, made: string, sent: string) =>
    `Time: by ${arrives}, when “${sent}” would be here, “${made}” has all of them: any quantity up to that is sooner made.`,
  timeNone: (arrives: string, made: string, sent: string) =>
    `Time: by ${arrives}, when “${sent}” would be here, “${made}” has none yet: any quantity is sooner sent out.`,
  split: 'Split',
  splitNote: (chosen: string, other: string) => `So many “${chosen}”, the rest “${other}”:`,
  splitBest: (text: string) => `Best split: ${text}.`,
  noSplit: 'No split is surely better than the better way alone.',
  share: (units: string, way: string) => `${units} ${way}`,
  shares: (rest: string, units: string) => `${rest}, ${units}`,
  own: 'Try another split',
  ownLabel: (way: string, most: string) => `Units “${way}”, 1 to ${most}`,
  keepSplit: 'Keep as an option',
  gone: 'This way or split is not there any more: the build has changed. Work it out again.',
  wrongUnits: (typed: string, most: number) =>
    most < 1
      ? `"${typed}" cannot be split off: all of it is made or ordered already.`
      : `"${typed}" is no number of units to split off; give a whole number from 1 to ${most}.`,
  parts: (n: number) => some(n, 'part', 'parts'),
};
