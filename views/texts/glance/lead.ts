/** The words of what leads the Countdown: the chance, the dates beside it, the one thing that matters first. */

import { worded } from '../../../server/model/texts/language.ts';
import { some } from '../grammar.ts';

export const leadTexts = worded({
  likelyBy: (target: string, when: string) => `likely by the ${target}, ${when}`,
  dates: 'Ready by when',
  planned: 'as planned',
  even: 'even chance',
  outOf: (share: number) => `${share} in 100`,
  /** In the place of a date behind all hours. */
  noHours: 'not within the hours there are',
  isLate: 'after the ready-by',
  first: 'What threatens the date',
  cause: 'What makes it late',
  wayBack: 'The way back',
  helps: 'What helps',
  wayBackNote: 'As planned it is late. These changes were tried on this plan:',
  lookForWays: 'See what would bring the date back',
  allWays: 'All ways, with what each costs',
  fewerOrLater: 'Try a change beside the plan',
  more: (n: number) => some(n, 'further threat', 'further threats'),
  nothing: 'Nothing threatens the date.',
  /** Where the new chance is still to come. */
  nothingYet: 'Nothing threatens the planned date. The new chance is on its way and may show more.',
  moreToCome: 'The new chance is on its way and may show more.',
  next: (what: string) => `Next: ${what}`,
  ways: 'From here',
  way: {
    now: 'What to do now',
    steps: 'All steps',
    levers: 'What would buy time',
    options: 'What if',
    ledger: 'Where the room went',
    load: 'Load of each person and machine',
    waits: 'Which step waits for which',
  },
});
