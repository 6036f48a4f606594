/** The words of the calendar: its events, and the pages on which its addresses are made and removed. */
import { worded } from '../../../server/model/texts/language.ts';

export const calendarTexts = worded({
  ofAll: (build: string) => build,
  ofPerson: (build: string, person: string) => `${build}: ${person}`,
  orderBy: (what: string) => `Last moment to order ${what}`,
  orderLate: (what: string) => `Should have been ordered: ${what}`,
  decideBy: (question: string) => `Last moment to decide: ${question}`,
  delivery: (what: string, supplier: string) => `${what} should come from ${supplier}`,
  load: (machine: string, what: string) => `Load ${machine}: ${what}`,
  runs: (length: string) => `Runs ${length}.`,
  gate: (name: string) => `Check: ${name}`,
  day: (person: string, steps: string) => `${person}: ${steps}`,
  line: (from: string, to: string, what: string) => `${from} to ${to} ${what}`,
  loadIn: 'Load-in',
  readyBy: 'Ready-by',
  event: 'Event',
  moves: 'From the plan; it moves with every count and edit.',
  heading: 'Calendar',
  fold: 'In the calendar of a phone',
  intro:
    'A calendar that updates itself: last moments to order and decide, deliveries, machine loads, each person’s days, checks, load-in and event. Anyone who has the address can read it until you remove it.',
  whose: 'Whose',
  all: 'Everything',
  alarm: 'Alarm before last moments',
  alarms: { none: 'never', '120': '2 hours before', '1440': 'a day before', '2880': 'two days before' },
  make: 'Make an address',
  download: 'Download as a file',
  made: 'You see this address only once. Add it to your calendar as a subscription:',
  copy: 'Copy the address',
  copied: 'Copied.',
  selected: 'It is selected: copy it with the keys or the menu of your browser.',
  addresses: 'Addresses',
  none: 'None yet.',
  since: (when: string) => `since ${when}`,
  end: (whose: string) => `Remove the address of ${whose}`,
  toDates: 'Back to Dates',
  notReachable:
    'Only this laptop can reach Daywright, so a phone cannot fetch the calendar. Start it with --lan first.',
  ended: 'The maker removed this calendar address. Ask for another, and delete this one from your calendar.',
  unknown: 'There is no calendar at this address.',
  noFeed: 'This address has been removed already.',
  noPerson: (id: string, known: string) =>
    known === ''
      ? `Nobody in this build is called "${id}"; leave it empty for everything.`
      : `Nobody in this build is called "${id}"; its people are ${known}. Leave it empty for everything.`,
  noAlarm: (typed: string) => `An alarm is a whole number of minutes from 0 to 10080 (a week); it is "${typed}".`,
});
