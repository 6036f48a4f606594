/** The words of the description of the API, which programs and those who write them read. */
import { worded } from '../../../server/model/texts/language.ts';

export const apiTexts = worded({
  title: 'Daywright',
  about:
    'What a Daywright says and takes as JSON. Programs count with a key, which the maker makes on the sheet “Keys for programs”; all else takes the session of the maker or a helper. Every refusal is an object with a sentence, “problem”.',
  key: 'A key for one build: it may post counts and read the steps. The maker can end it at any time.',
  session: 'The cookie of a browser that signed in or joined; over HTTPS it is called __Host-daywright.',
  build: 'Id of the build, as in its address',
  mine: 'Number of the newest own entries to list',
  operations: {
    steps: 'The steps of the build that units are counted on, with what is left of each',
    count: 'Posts entries of the log; each counts once, however often it is sent under the same id',
    counting: 'All that the Count page shows',
    oldCounting: 'For Count pages of an older Daywright: it says that they must be loaded again',
    forecast: 'When the build is ready, with how much room; the same as daywright plan --json prints',
    file: 'The build and its log as a build file',
    levers: 'What would buy time, as last looked for',
    ways: 'Make or send out, part by part, as last laid beside each other',
    manifest: 'What makes the Count page an app on a phone’s first screen',
    openapi: 'This description',
  },
  countsOnly: 'With a key: entries of kind “done” or “scrapped”. In a session: entries of any kind.',
  answer: 'The answer',
  outline: 'The answer; it holds more than is described here, and that may change with any version',
  errors: {
    '400': 'What was sent cannot be read; nothing was counted',
    '401': 'Nobody is signed in, or the key is unknown or has been ended',
    '403': 'Whoever asks may not do that',
    '404': 'There is no such build',
    '410': 'Gone',
    '413': 'Too many entries at once, or too many bytes',
    '415': 'What was sent is no JSON',
    '421': 'This server is not called by that name',
    '423': 'The build is closed; nothing was counted. Keep the entries, and ask again after retry-after seconds',
    '429': 'Too often; retry-after says how many seconds to wait',
    '503': 'Not worked out yet, or the disk took nothing; come again after retry-after seconds',
  },
});
