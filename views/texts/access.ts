/** The pages on which the maker signs in and helpers join, and what is refused at the door. */
import { worded } from '../../server/model/texts/language.ts';

export const accessTexts = worded({
  enterTitle: 'Who is there?',
  enterMaker: 'This Daywright belongs to a workshop. If it is yours, enter the maker’s key.',
  enterKey: 'Maker’s key',
  enter: 'Sign in',
  keyWhere:
    'The terminal showed the key once, when Daywright first started. At every start it also shows a link that works once.',
  enterHelper: 'Helpers join with a code: scan the one on the laptop’s screen, or',
  typeCode: 'type it here',
  joinTitle: 'Count along',
  joinWords: 'You can count on one build. Your name?',
  code: 'Code',
  name: 'Your name',
  join: 'Start counting',
  helpersTitle: 'Who counts',
  helpersWords:
    'A helper scans this with the phone’s camera and gives a name. Helpers can count on this build, and nothing else.',
  makeCode: 'Make a code',
  makeAnother: 'Make another code',
  codeLasts: (minutes: number) => `It works for one person, for ${minutes} minutes.`,
  orType: (address: string) => `Or open ${address} and type`,
  qrLabel: 'Code to scan with the phone',
  notReachable: 'Only this laptop can reach Daywright. Start it with --lan so that phones on this network can, too.',
  helpers: 'Helpers',
  noHelper: 'This build has no such helper, or their access was removed.',
  noHelpers: 'Nobody has joined yet.',
  since: (when: string) => `since ${when}`,
  ended: 'access removed',
  end: (name: string) => `Remove access of ${name}`,
  endWord: 'Remove access',
  endCodes: 'Cancel all open codes',
  signOut: 'Sign out here',
  refusedTitle: 'For the maker only',
  /** # stands for the number. */
  keptHere: 'Counts kept on this phone: #. None is lost; the phone sends them when it has access again.',
  problems: {
    key: 'Wrong key, or a link from an earlier start.',
    unknownCode: 'Nobody made that code. Ask the maker for a new one.',
    expired: 'That code has expired. Ask the maker for a new one.',
    usedUp: 'That code has been used. Ask the maker for a new one.',
    nameTaken: (name: string) => `Another helper on this build is called ${name}. Choose another name.`,
    name: 'Give a name of 1 to 40 letters, so that everyone can see which counts are yours.',
    nameMaker: 'The maker is called that already. Choose another name.',
  },
  toCount: 'Back to counting',
  trust: 'Trusting this laptop',
  trustWords:
    'A phone opens the page without a network only if it trusts this laptop’s certificate. Load it here and install it on the phone; the README shows how.',
  trustLoad: 'Load the certificate',
  /** What the door says of a request that it does not let through. */
  refused: {
    name: (host: string) => `This Daywright is not called "${host}". Start it with --name to add that name.`,
    tooMany: (seconds: number) => `Too many requests. Wait ${seconds} s.`,
    otherSite: 'That request came from another site; nothing was changed.',
    signIn: 'Sign in first: with the maker’s key, or with a code if you help count.',
    makerOnly: 'You can count on one build; this page is the maker’s.',
    keyOnly: 'This key can post counts to its own build and read the steps of it; nothing else.',
    keyUnknown: 'Nobody made this key, or the build that it was for has been removed. The maker can make another.',
    keyEnded: (name: string) => `The maker ended the key “${name}”. Nothing was counted; the maker can make another.`,
  },
  /** What the terminal shows at a start. */
  terminal: {
    key: (key: string) => `The maker's key, shown this once: ${key}`,
    keep: 'Keep it where you keep the van keys.',
    signIn: (address: string) => `Sign in as the maker (works once): ${address}`,
    join: (build: string) => `One helper joins "${build}" within 15 minutes by scanning this:`,
  },
});
