/** The sheet of keys for programs that may only count, with a worked example, and what is refused to them. */
import { worded } from '../../../server/model/texts/language.ts';

export const keyTexts = worded({
  heading: 'Keys for programs',
  intro:
    'A scale on the bench or a counter on a machine can post its counts itself. A key lets it count units done and scrapped on this build, and read the ids, names and counts left of its steps; nothing else.',
  name: 'Name of the program, as the log shows it',
  make: 'Make a key',
  made: (name: string) => `Key of ${name}. You see it only once; put it into the program now:`,
  keys: 'Keys',
  none: 'None yet.',
  since: (when: string) => `since ${when}`,
  used: (when: string) => `last used ${when}`,
  neverUsed: 'never used',
  end: (name: string) => `End the key of ${name}`,
  endWord: 'End',
  noKey: 'This build has no such key, or it has been ended.',
  notReachable: 'Only programs on this laptop can reach Daywright. Start it with --lan so that others can, too.',
  toHelpers: 'Keys for programs that count',
  toPeople: 'Who counts',
  contents: 'For a scale or a counter that posts its own counts',
  problems: {
    name: 'Give the key a name of 1 to 40 letters, so that the log shows which program counted.',
    nameMaker: 'The maker is called that already. Choose another name.',
    nameTaken: (name: string) => `A helper or another key of this build is called ${name}. Choose another name.`,
  },
  refused: {
    kind: (kind: string) =>
      `A key can post counts of kind "done" or "scrapped"; one of these entries is of kind "${kind}", so none was taken.`,
  },
  guide: {
    heading: 'How a program counts',
    read: 'It reads the steps, to learn their ids:',
    post: 'It posts a count of 3 units done on one of them:',
    answered: 'The answer has a receipt for each entry, by its id:',
    again:
      'The program makes an id of its own for each entry, 8 to 64 letters, digits, hyphens or underscores. If no answer comes, it sends the same entry again under the same id: it counts once. A receipt “refused” says why, and nothing was counted then.',
    keep: 'A program keeps what was not answered with 200, and tries again later. 401: the key has ended. 403: a key cannot do that. 423: the build is closed. 429: too often, wait as long as retry-after says.',
    described: 'Every address with its answers, as an OpenAPI description:',
  },
});
