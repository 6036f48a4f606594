/** The words of a day on paper, of a day that has passed, and of the whole plan on paper. */
import type { LogKind } from '../../../server/model/index.ts';
import { worded } from '../../../server/model/texts/language.ts';

export const dayTexts = worded({
  whose: 'For',
  everybody: 'Everybody',
  ofPerson: (day: string, name: string) => `Day sheet, ${day}: ${name}`,
  hours: (spans: string) => `there ${spans}`,
  span: (from: string, to: string) => `${from}–${to}`,
  notThere: 'not there',
  nothingFor: 'Nothing is planned for these hours.',
  on: (what: string, machine: string) => `${what}, on ${machine}`,
  machines: 'Machines',
  intoNext: 'into the next day',
  passed: 'This day has passed. The page no longer shows its plan; the entries of that day are below.',
  passedToday: 'The page starts now and no longer shows what has passed today.',
  nothingTold: 'No entries on this day.',
  toldOn: 'Entries',
  noPerson: (id: string, known: string) =>
    `Nobody in this build is called “${id}”. ${known === '' ? 'It names nobody.' : `Its people are ${known}.`}`,
  told: {
    done: (n: string) => `${n} done`,
    scrapped: (n: string) => `${n} scrapped`,
    loaded: (n: string) => `${n} loaded`,
    ordered: (n: string) => `${n} ordered`,
    promised: () => 'a date promised',
    received: (n: string) => `${n} received`,
    passed: () => 'passed',
    failed: () => 'failed',
    'sent-back': (n: string) => `${n} sent back`,
    began: () => 'started',
    paused: () => 'paused',
    lost: () => 'time lost',
    undo: () => '',
    packed: () => 'a box packed',
    confirmed: () => '',
  } satisfies Readonly<Record<LogKind, (n: string) => string>>,
  paper: {
    intro:
      'The whole plan to print, or to save as a PDF: open the print window of your browser (Ctrl+P, on a Mac ⌘P, on a phone Share and then Print) and choose the printer, or Save as PDF. Last moments and orders first, then each day on a page of its own. It fits A4 and Letter.',
    machineLetters: (letters: string) =>
      `Daywright brings no lettering for ${letters}. The fonts of this device print them, and boxes or blanks where it has none: look at the print preview first.`,
    moments: 'Last moments',
    orders: 'Orders',
    asOf: (when: string) => `As planned ${when}. A later count or edit may move what is printed here.`,
    noDays: 'Nothing is planned for any day.',
  },
});
