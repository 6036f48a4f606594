/** What the phone says on the Count page by itself, with the server or without it: its script carries these texts. */
import { worded } from '../../../server/model/texts/language.ts';

const counts = (n: number): string => (n === 1 ? '1 count' : `${n} counts`);

export const phoneTexts = worded({
  /** Whose days and hours the page writes, as a tag of BCP 47. */
  locale: 'en-GB',
  left: (n: number) => `${n} left`,
  pieces: (n: number, unit: string) => `${n} × ${unit}`,
  measured: (amount: string, unit: string) => `${amount} ${unit}`,
  packs: (n: number, size: string, unit: string) => `${n} ${n === 1 ? 'pack' : 'packs'} of ${size} ${unit}`,
  ready: (n: number) => `${n} can be worked on now`,
  waitsFor: (what: string) => `waits for ${what}`,
  notSoMany: (typed: number, have: number) =>
    have === 0
      ? 'None is counted as done here yet.'
      : `Only ${have} ${have === 1 ? 'is' : 'are'} counted as done here, not ${typed}.`,
  lostWhen:
    'Give both days and hours, the later one last, and start no later than now. For a day to come, change the hours under Hands.',
  promisedWhen: 'Give the day and hour the supplier named, later than now.',
  undo: 'Undo',
  kept: {
    allHere: 'Every count has arrived.',
    refused: (n: number) => `The laptop did not take ${counts(n)}: see the questions below.`,
    none: 'Nothing counted on this phone yet.',
    waiting: (n: number) => `${counts(n)} kept on this phone, on the way.`,
    silent: (n: number, since: string | null) => {
      const quiet = `No answer from the laptop${since === null ? '' : ` since ${since}`}.`;
      return n === 0
        ? `${quiet} Carry on: this phone keeps your counts.`
        : `${quiet} Carry on: ${counts(n)} kept on this phone.`;
    },
    shutOut: (n: number) =>
      n === 0
        ? 'The laptop no longer knows this phone. Ask the maker for a new code.'
        : `The laptop no longer knows this phone. ${counts(n)} kept here; join again with a new code to send ${n === 1 ? 'it' : 'them'}.`,
    trouble: (n: number, said: string) =>
      `The laptop says: ${said} ${n === 0 ? '' : `${counts(n)} kept on this phone; it will send ${n === 1 ? 'it' : 'them'} again.`}`,
    clockOff: (minutes: number) =>
      `This phone's clock is ${Math.abs(minutes)} min ${minutes > 0 ? 'slow' : 'fast'}; the laptop corrects the counts.`,
    clockSet: (minutes: number) =>
      `This phone's clock was set ${minutes > 0 ? 'forward' : 'back'} by ${Math.abs(minutes)} min while counts waited; the laptop corrects the earlier ones.`,
  },
  place: {
    beingKept: 'Saving a copy of this page.',
    durable: 'This page also opens without a network.',
    mustStayOpen:
      'Keep this page open where there is no network. It counts and keeps everything, but over plain HTTP you cannot reopen it until the laptop is back.',
    nothingKept:
      'This browser keeps nothing (a private window?). A tap counts only when the laptop has answered. Open the page in an ordinary window.',
    full: 'This phone could not keep that tap, so it was not counted. Free some storage and tap again.',
  },
  kinds: {
    done: (n: number) => `${n} done`,
    scrapped: (n: number) => `${n} scrapped`,
    loaded: (n: number) => `${n} loaded`,
    ordered: (n: number) => `${n} ordered`,
    received: (n: number) => `${n} received`,
    promised: () => 'a date promised',
    lost: () => 'time lost',
    passed: () => 'passed',
    failed: () => 'failed',
    'sent-back': (n: number) => `${n} sent back`,
    began: () => 'clock started',
    paused: () => 'clock paused',
    undo: () => 'undone',
  } as Readonly<Record<string, ((n: number) => string) | undefined>>,
  where: { phone: 'kept on this phone', arrived: 'saved on the laptop', refused: 'refused' },
  ordered: (what: string) => `${what} ordered`,
  receivedUnits: (what: string) => `${what} received`,
  told: (what: string, place: string) => `${what}. ${place.charAt(0).toUpperCase()}${place.slice(1)}.`,
  undone: 'undone',
  undoneBy: (who: string) => `undone by ${who}`,
  bringBack: 'Redo',
  set: (name: string, set: number) => `${name} ${set}`,
  takeBack: (whose: string | null, one: boolean) =>
    `${one ? 'Same lot: undo' : 'Undo'} ${whose === null ? 'mine' : `${whose}’s`}`,
  keep: 'It is right: keep it',
  two: 'Two lots: keep both',
  doubts: (n: number) => (n === 1 ? '1 question' : `${n} questions`),
  putAway: 'Put away',
  sendAgain: 'Send again',
  refused: (what: string, reason: string) => `Not counted: ${what}. ${reason}`,
  asked: (what: string, question: string) => `${what}: ${question}`,
  counted: (what: string, place: string) => `${what}, ${place}`,
  clock: {
    off: 'The clock starts with the first tap.',
    on: (since: string, pace: string | null) =>
      `Clock running since ${since}${pace === null ? '' : `, ${pace} an hour`}.`,
    start: 'Start the clock',
    pause: 'Pause the clock',
  },
  loads: {
    back: (n: number, time: string, length: string) => `${n} in the machine: be there at ${time}, in ${length}.`,
    ready: (n: number, time: string) =>
      `${n} ready since ${time}: take ${n === 1 ? 'it' : 'them'} out and count ${n === 1 ? 'it' : 'them'}.`,
    waits: (n: number, time: string, length: string) => `${n} started: go on at ${time}, in ${length}.`,
    waited: (n: number, time: string) => `${n} waiting since ${time}: go on with ${n === 1 ? 'it' : 'them'}.`,
    coming: (n: number, since: string, when: string | null, promised: boolean) =>
      when === null
        ? `${n} ordered ${since}.`
        : `${n} ordered ${since}, ${promised ? 'promised for' : 'expected'} ${when}.`,
  },
  pedalSaid: {
    on: 'Pedal count is on: any key counts one. Escape ends it.',
    off: 'Pedal count is off.',
    nowhere: 'Open a job ticket first: the pedal counts on the open one.',
  },
  awakeSaid: {
    on: 'The screen stays awake.',
    off: 'The screen may sleep.',
    refused: 'This browser does not let the page keep the screen awake. Set a longer screen time-out on the phone.',
  },
  cleared: (n: number) =>
    `This browser cleared its storage while the page was open. The page saved ${n === 1 ? '1 entry' : `${n} entries`} again.`,
  tooFew: (typed: string) => `"${typed}" is not a count: type a whole number from 1 to 1\u202f000\u202f000.`,
  planChanged: 'The plan changed; this list is up to date.',
});

/** What is counted: pieces, or packs of so much of what is measured. */
interface Counted {
  readonly unit: string;
  readonly measure?: { readonly unit: string; readonly pack: number } | undefined;
}

/**
 * So many units with what they are.
 *
 *     unitsCounted(2, { unit: 'oil', measure: { unit: 'L', pack: 2.5 } }) // '2 packs of 2.5 L oil'
 *     unitsCounted(7, { unit: 'cord', measure: { unit: 'm', pack: 1 } }) // '7 m cord'
 *     unitsCounted(7, { unit: 'hook' }) // '7 × hook'
 */
export function unitsCounted(n: number, { unit, measure }: Counted): string {
  if (measure === undefined) return phoneTexts.pieces(n, unit);
  if (measure.pack === 1) return phoneTexts.measured(`${n}\u00a0${measure.unit}`, unit);
  return phoneTexts.packs(n, `${measure.pack}\u00a0${measure.unit}`, unit);
}
