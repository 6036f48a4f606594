/** What every page shows: its frame, the rule, units, and the words for room. */
import { enGB } from 'date-fns/locale/en-GB';
import { worded } from '../../server/model/texts/language.ts';

/** Days as the language's table numbers them: Sunday is 0. */
const MONDAY_TO_SUNDAY = [1, 2, 3, 4, 5, 6, 0] as const;
const JANUARY_TO_DECEMBER = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11] as const;

export const frameTexts = worded({
  product: 'Daywright',
  skip: 'Skip to the page',
  /** From Monday on, and from January on, in the words of the language. */
  weekdays: MONDAY_TO_SUNDAY.map((day) => enGB.localize.day(day, { width: 'abbreviated' })),
  months: JANUARY_TO_DECEMBER.map((month) => enGB.localize.month(month, { width: 'abbreviated' })),
  dayOfMonth: (day: number, month: string) => `${day} ${month}`,
  /** Between whole units and their fractions. */
  decimal: '.',
  today: 'today',
  tomorrow: 'tomorrow',
  yesterday: 'yesterday',
  none: 'none',
  unknown: 'not known',
  tooLateBy: (length: string) => `too late by ${length}`,
  beforeStart: 'before the build started',
  unit: {
    min: (n: number | string) => `${n}\u00a0min`,
    h: (n: number | string) => `${n}\u00a0h`,
    days: (n: number) => `${n}\u00a0${n === 1 ? 'day' : 'days'}`,
  },
  /** How fast units come, or have to. */
  rate: {
    anHour: (units: string) => `${units} an hour`,
    oneIn: (length: string) => `one in ${length}`,
  },
  /** What a step counts where it has no part. */
  things: {
    unit: { one: 'unit', many: 'units' },
    job: { one: 'job', many: 'jobs' },
    check: { one: 'check', many: 'checks' },
  },
  room: {
    word: 'room',
    unknown: 'not known',
    none: 'none',
    short: (length: string) => `${length} short`,
  },
  origin: {
    guessed: 'guessed',
    trial: 'from a trial',
    supplier: 'supplier says',
    handbook: 'from a handbook',
    measured: 'measured',
    decided: 'decided',
    none: 'no origin given',
  },
  target: { readyBy: 'ready-by', loadIn: 'load-in', event: 'event', start: 'start' },
  screens: {
    countdown: 'Countdown',
    now: 'Now',
    count: 'Count',
    steps: 'Steps',
    dates: 'Dates',
    orders: 'Orders',
    money: 'Money',
    paper: 'On paper',
    tables: 'Tables',
    show: 'Show day',
    after: 'After the show',
    design: 'Design',
    hands: 'Hands',
    history: 'History',
    options: 'Options',
    lines: 'Quick lines',
    wrong: 'What goes wrong',
    levers: 'What buys time',
    ways: 'Make or send out',
    contents: 'Contents',
  },
  nav: 'Pages of this build',
  sheetLight: { night: 'Chalk on slate', day: 'Ink on paper' },
  rule: {
    label: 'The rule: from now to the event',
    now: 'now',
    ready: (when: string) => `ready ${when}`,
    notKnown: 'no forecast',
    noDate: 'no date yet: something is missing, see the Countdown',
    room: (room: string) => `room ${room}`,
    siteLate: (when: string, length: string, missing: string | null) =>
      `but on site until ${when}, ${length} after the event${missing === null ? '' : `, for want of ${missing} of hands there`}`,
    short: (length: string) => `short by ${length}`,
    says: (parts: readonly string[]) => `${parts.join('; ')}.`,
    target: (name: string, when: string) => `${name} ${when}`,
  },
  fresh: {
    old: (when: string, behind: string) => `These numbers are out of date: from ${when}${behind}.`,
    behind: (edits: number, entries: number) => {
      const parts = [
        ...(entries > 0 ? [entries === 1 ? 'the last entry' : `the last ${entries} entries`] : []),
        ...(edits > 0 ? [edits === 1 ? 'the last edit' : `the last ${edits} edits`] : []),
      ];
      return parts.length === 0 ? '' : `, before ${parts.join(' and ')}`;
    },
    coming: 'New ones are on the way.',
    failed: (when: string) => `The forecast failed (${when}). It tries again at the next change, and every 15 minutes.`,
    first: 'A quick first answer; Daywright is still looking for a better sequence.',
    cutOff: 'No connection to the laptop: this page may be out of date.',
  },
  atWork: {
    kinds: {
      search: 'a better sequence',
      'what-if': 'an option beside the plan',
      levers: 'what would buy time',
      sizes: 'how many are the most',
      ways: 'make or send out',
      ledger: 'where the room went',
      past: 'the days before the first forecast',
    },
    underWay: (what: string, percent: number | null) =>
      `Working on ${what}${percent === null ? '' : `, ${percent}\u00a0%`}.`,
    waits: (what: string) => `Next: ${what}.`,
    more: (n: number) => ` ${n} more ${n === 1 ? 'waits' : 'wait'}.`,
    stop: 'Stop',
    stopWithBest: 'Stop, keep the best so far',
    gone: 'That has finished already, so there is nothing to stop.',
  },
  block: {
    label: 'Title block',
    build: 'Build',
    sheet: 'Page',
    event: 'Event',
    edit: 'Edit',
    counted: 'Log',
    computed: 'Computed',
    zone: 'Zone',
    entries: (n: number) => (n === 1 ? '1 entry' : `${n} entries`),
    stale: (when: string) => `${when}, updating…`,
    failed: (when: string) => `${when}, not updated`,
  },
});
