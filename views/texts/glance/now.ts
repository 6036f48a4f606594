/** The words of the Now sheet. */

import { worded } from '../../../server/model/texts/language.ts';
import { byNumber, listOf } from '../grammar.ts';

export const nowTexts = worded({
  heading: 'Now',
  planOf: (when: string) => `From the plan of ${when}.`,
  behind: (when: string) =>
    `The clock of this device is behind this plan of ${when}, so the page shows that time. Set the clock right.`,
  old: 'This page has not heard from the laptop since; later counts are not in it.',
  over: 'This copy of the plan ends here. Open the page again where it reaches the laptop.',
  here: (name: string, until: string) => `${name} is here until ${until}.`,
  comes: (name: string, when: string) => `${name} comes ${when}.`,
  nobody: (when: string, comers: readonly string[]) =>
    `Nobody is here until ${when}, when ${listOf(comers)} ${byNumber(comers.length, 'comes', 'come')}.`,
  nobodyAhead: 'Nobody has hours from now on.',
  addHours: 'Give somebody hours',
  tasks: 'The next two hours',
  tasksLater: 'Then, in the first two hours',
  idle: (name: string, until: string) => `Nothing is planned for ${name} until ${until}.`,
  instead: (steps: readonly string[]) => `Could be done with what is here: ${listOf(steps)}.`,
  runs: (machine: string, until: string) => `${machine} then runs until ${until}.`,
  running: (machine: string, until: string) => `${machine} runs until ${until}.`,
  rests: (until: string) => `Then it needs nobody until ${until}.`,
  ships: (until: string) => `Then it is on its way until ${until}.`,
  till: (time: string) => `to ${time}`,
  leaving: 'Before you leave',
  leaveAt: (when: string) => `The last one leaves ${when}. Start these before then; they go on while nobody is here.`,
  nothingToLeave: 'Nothing has to be started before the last one leaves.',
  due: 'Order and decide',
  nothingDue: 'Nothing to order, nothing to decide in the next two days.',
  next: (what: string) => `Next after that: ${what}`,
  missed: (n: number) => (n === 1 ? '1 last moment missed' : `${n} last moments missed`),
  order: (what: string, when: string) => `Order ${what} before ${when}.`,
  sendOut: (what: string, when: string) => `Send out ${what} before ${when}.`,
  decide: (question: string, when: string) => `${question} Decide before ${when}.`,
  orderMissed: (what: string, when: string) => `Order ${what} now; its last moment was ${when}.`,
  sendOutMissed: (what: string, when: string) => `Send out ${what} now; its last moment was ${when}.`,
  decideMissed: (question: string, when: string) => `${question} Decide now; its last moment was ${when}.`,
  allMade: 'Everything is made. There is nothing left to do.',
  passed: (when: string) => `The event was ${when}.`,
  passedLeft: (steps: number) =>
    steps === 1 ? 'One step was never counted as done.' : `${steps} steps were never counted as done.`,
  nothingPlanned: 'Nothing is planned yet. Add the first kind of work, and this sheet says what to do.',
  toLines: 'Add work by quick lines',
  toCount: 'Count what is done',
  toDates: 'All last moments',
});
