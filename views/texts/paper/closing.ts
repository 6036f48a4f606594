/** The words of a build that is closed after its show, and reopened. */
import { worded } from '../../../server/model/texts/language.ts';

export const closingTexts = worded({
  heading: 'Close the build',
  note: 'A closed build can be read on every sheet, but nothing of it is changed or counted, and nothing is worked out any more. Its calendar stays, without alarms. You can reopen it here at any time.',
  notYet: 'The build can be closed once its event is over.',
  close: (name: string) => `Close ${name}`,
  reopen: (name: string) => `Reopen ${name}`,
  line: (who: string, when: string) =>
    `Closed by ${who} on ${when}. Nothing here can be changed or counted until it is reopened, at the foot of After the show.`,
  after: 'A closed build can be kept for reading, or removed: save its file first.',
  file: 'Save the build and its log as a file',
  inList: 'closed',
});
