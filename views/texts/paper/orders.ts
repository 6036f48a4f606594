/** The words of the Orders sheet, of what is missing this week, and of what things cost. */

import { worded } from '../../../server/model/texts/language.ts';
import { someOf } from '../grammar.ts';

export const orderTexts = worded({
  intro:
    'What comes from outside: how much, which supplier, the last moment to order it, and what has come. Last moments shift by hours with every count and edit: leave a margin. Each is within somebody’s hours, so it may be the evening before a supplier’s cut-off.',
  nothing: 'Nothing is bought or sent out.',
  groups: { order: 'To order', way: 'On its way', nobody: 'Nobody named', here: 'Here' },
  nobodyNote: 'The plan takes these to be here already. Name a supplier, or a step with a lead time.',
  from: (supplier: string) => `From ${supplier}`,
  fromNobody: 'From nobody named yet',
  cutOff: (time: string) => `what is ordered before ${time} of a working day goes out that day, the rest on the next`,
  states: {
    'to-order': 'to order',
    late: 'too late to order in time',
    ordered: 'ordered',
    promised: 'promised',
    'part-here': 'partly here',
    here: 'here',
    nobody: 'nobody named',
  },
  ofUnit: (amount: string, unit: string) => `${amount}\u00a0${unit}`,
  pieces: (n: string, name: string) => `${n}\u00a0×\u00a0${name}`,
  measured: (amount: string, name: string) => `${amount} ${name}`,
  ofPacks: (many: boolean, size: string, name: string) => `${many ? 'packs' : 'pack'} of ${size} ${name}`,
  inPacks: (n: string, size: string) => `${someOf(n, 'pack', 'packs')} of ${size}`,
  needed: (amount: string) => `${amount} needed`,
  spares: (amount: string) => `${amount} to spare`,
  waste: (share: string) => `${share} lost as waste`,
  onHand: (amount: string) => `${amount} on hand`,
  onHandWithWaste: (amount: string, usable: string) => `${amount} on hand, good for ${usable}`,
  notHere: (units: string, of: string) => `${units} of ${of} not here yet`,
  orderBy: (when: string) => `order before ${when}`,
  orderByPassed: (when: string) => `should have been ordered by ${when}`,
  orderedBeforeStart: (late: string) => `should have been ordered before the build started: ${late}`,
  noDay: {
    working: (next: string) => `the supplier has no working day left before the event (the next is ${next})`,
    delivery: (next: string) => `the supplier does not deliver before the event any more (next on ${next})`,
  },
  arrives: (when: string) => `here ${when}`,
  neededBy: (when: string) => `needed ${when}`,
  out: (units: string, since: string, due: string, promised: boolean) =>
    `${units} ordered ${since}, ${promised ? 'promised for' : 'due'} ${due}`,
  noPrice: 'no price',
  log: {
    ordered: 'Ordered',
    received: 'Received',
    howMany: (name: string, isPacks: boolean) => `${isPacks ? 'Packs' : 'How many'} of ${name}`,
    undo: 'Undo',
    said: {
      ordered: (units: string, when: string, who: string) => `${units} ordered, logged ${when} by ${who}`,
      received: (units: string, when: string, who: string) => `${units} received, logged ${when} by ${who}`,
      promised: (_units: string, when: string, who: string) => `a date promised, logged ${when} by ${who}`,
    },
  },
  refused: {
    step: (step: string) => `“${step}” is not an order of this build; tap one of the orders on this page.`,
    kind: (kind: string) => `“${kind}” cannot be logged here; log what was ordered or received.`,
    number: (value: string) =>
      `“${value}” is not a number of units; give a whole number from 1 to 1\u202f000\u202f000.`,
    entry: (id: string) => `There is no entry “${id}” to undo.`,
  },
  loads: 'Loads of machines',
  loadsNote: 'Plates, trays and sheets, one load at a time.',
  loadLine: (left: string, total: string, machine: string, size: string, inIt: number) =>
    `${left} of ${someOf(total, 'load', 'loads')} left on ${machine}, ${size} in each${inIt === 0 ? '' : `, ${inIt} of them in it now`}`,
  columns: {
    what: 'What',
    supplier: 'From',
    buy: 'To order',
    orderBy: 'Order before',
    due: 'Here',
    state: 'State',
    cost: 'Cost',
  },
  missing: (list: string) => `Missing this week: ${list}.`,
  missingOrder: (what: string, when: string) => `${what} (order before ${when})`,
  missingDue: (what: string, when: string) => `${what} (due ${when})`,
  missingMore: (n: number) => `${n} more`,
  nothingMissing: 'Nothing that is needed this week is missing.',
  toOrders: 'All orders',
  toMoney: 'What it all costs',
  asTable: 'Save as a table (CSV)',
});

export const moneyTexts = worded({
  heading: 'Money',
  intro:
    'Committed: what was ordered or has come, parts already started here, and the paid hours so far. The rest is still to come.',
  committed: 'Committed',
  toCome: 'Still to come',
  contingency: (share: string) => `Kept back, ${share} of what is still to come`,
  total: 'Total',
  beyond: (amount: string) =>
    `The parts come to ${amount} more than as designed: some were scrapped, or started or ordered beyond what is needed.`,
  none: 'Nothing has a price yet. Give parts a cost under Design, suppliers and people under Hands.',
  unpriced: (names: string) => `No price, so not in the sum: ${names}.`,
  kinds: {
    made: 'Made here',
    bought: 'Bought',
    'sent-out': 'Sent out',
    express: 'Express',
    hours: 'Paid hours',
  },
  subtotal: (kind: string) => `${kind}, together`,
  hours: (soFar: string, toCome: string) => `${soFar} so far, ${toCome} to come`,
  hoursNote: 'People who are paid are paid for all their hours on the days they work.',
  express: (name: string) => `express of ${name}`,
  what: 'What',
  toOrders: 'Orders',
});
