/** Every sentence of the command line that no sheet has: its help, what is wrong with a call, heads of the summary. */
import { worded } from '../../../server/model/texts/language.ts';

export const commandTexts = worded({
  help: (file: number, build: number) => `Daywright on the command line

  daywright plan FILE [--now TIME] [--budget SECONDS] [--seed NUMBER] [--json]
        works out a build file: when it is ready, the room, the critical path, what to order.
        --now takes a time where the event is, such as 2026-12-03T14:00, or an instant with its offset, such as
        2026-12-03T14:00Z or 2026-12-03T14:00+01:00 (default: now). --budget searches that long for a better order of
        work, up to an hour; --seed begins the search and the futures elsewhere (default: 1)
  daywright calendar FILE [--now TIME] [--person ID] [--alarm MINUTES]
        prints the plan as a calendar file (iCalendar): last moments, deliveries, loads, days, checks, the event; with
        --person the days of one, with --alarm it rings so long before last moments
  daywright levers FILE [--now TIME] [--seed NUMBER] [--json]
        looks for what would buy time: helpers, hours, machines, lots, orders, each with what it gains and costs
  daywright ways FILE [--now TIME] [--seed NUMBER] [--json]
        lays the ways of each part beside each other: made here or sent out, or split between them
  daywright formulas [--json]
        lists the functions that formulas may call: arguments, units, source and a worked example of each
  daywright schema
        prints the JSON Schema of the build file
  daywright openapi
        prints the OpenAPI description of what the server says and takes as JSON
  daywright import FILE [--db FILE]
        takes a build and its log into the database
  daywright export BUILD [--yaml] [--db FILE]
        prints a build and its log as a build file
  daywright close BUILD [--db FILE]
        closes a build after its show: from then on it is read, and nothing of it is changed or counted
  daywright reopen BUILD [--db FILE]
        takes edits and counts of a closed build again
  daywright backup FILE [--db FILE]
        copies the database while it is in use
  daywright restore FILE [--db FILE]
        puts a backup in its place, while Daywright is stopped; what was there is kept beside it
  daywright --help
        this page

FILE is JSON or YAML of at most ${file} MB, ${build} of them for the build without its log. The database is --db, or DAYWRIGHT_DB, or data/daywright.sqlite.
The language is the terminal's (LC_ALL, LC_MESSAGES, LANG).
Exit code 0: fine. 2: something was wrong with the input; each problem is a line on standard error.
`,
  wrong: {
    seeHelp: (what: string) => `${what} See daywright --help.`,
    noCommand: (commands: string) => `A command is missing: one of ${commands}.`,
    notCommand: (name: string, commands: string) => `"${name}" is no command; there are ${commands}.`,
    stray: (flag: string, name: string) => `--${flag} does not go with ${name}.`,
    needs: (name: string, operand: string) => `${name} needs a ${operand}.`,
    tooMany: (word: string, name: string) => `"${word}" is one word too many for ${name}.`,
    now: '--now takes a time where the event is, such as 2026-12-03T14:00, or an instant with its offset, such as 2026-12-03T14:00Z or 2026-12-03T14:00+01:00.',
    budget: (most: number, text: string) =>
      `--budget takes seconds to search for, more than 0 and at most ${most}; it is "${text}".`,
    seed: (most: number, text: string) => `--seed takes a whole number from 0 to ${most}; it is "${text}".`,
    notClosed: (id: string) => `"${id}" is not closed: edits and counts of it are taken.`,
    noBuild: (id: string, there: readonly string[]) =>
      `There is no build "${id}"; there ${there.length === 0 ? 'are none' : `is ${there.join(', ')}`}.`,
    noBackup: (path: string, why: string) => `The backup could not be written to ${path}: ${why}.`,
    tooLongForYaml: (entries: number) =>
      `With its ${entries} log entries the build is too long to be read in again as YAML. Leave --yaml out: as JSON it can be.`,
    largeFile: (path: string, megabytes: number, most: number) =>
      `${path} has ${megabytes} MB; a build file has at most ${most} MB. Leave out what is not the build, or split it.`,
    unread: (path: string, why: string) => `${path} cannot be read: ${why}.`,
    why: {
      noFile: 'there is no such file',
      folder: 'it is a folder; name a file',
      forbidden: 'you may not read it',
      notText: 'it is not UTF-8 text',
    },
  },
  done: {
    takenIn: (name: string, id: string, entries: number) =>
      `Taken in: ${name} (${id}), ${entries} log ${entries === 1 ? 'entry' : 'entries'}.`,
    closed: (name: string, id: string) => `Closed: ${name} (${id}).`,
    reopened: (name: string, id: string) => `Reopened: ${name} (${id}).`,
    backedUp: (path: string) => `Backed up to ${path}.`,
    restored: (file: string, path: string) => `Restored ${file} from ${path}.`,
    keptAs: (file: string) => `What was there is kept as ${file}.`,
  },
  summary: {
    incomplete:
      'These dates are of what could be planned, so there is no chance yet: see Problems for what is left out.',
    noDate: 'There is no date yet. First somebody must say:',
    tooLarge: 'There is no date:',
    threats: 'What threatens the date',
    why: 'Why this date',
    path: 'Critical path (hands and machines unlimited)',
    left: 'Left to make',
    pace: 'Pace',
    capacity: 'Hands and machines before the ready-by',
    order: 'Order',
    decide: 'Decide',
    problems: 'Problems',
    lookAt: 'To look at',
    unlimited: (at: string) => `with hands and machines unlimited ${at}`,
    short: (work: string) => `, ${work} short: this cannot be done`,
    head: (name: string, zone: string, now: string) => `${name}   (${zone}, now ${now})`,
    unknown: 'unknown',
    ready: 'Ready',
    readyBy: 'Ready-by',
    loadIn: 'Load-in',
    event: 'Event',
    room: (length: string) => `room ${length}`,
    lots: (lots: number) => `, ${lots} lots`,
    span: (from: string, to: string) => `${from} to ${to}`,
    unitsLeft: (left: number, total: number, units: string) => `${left} of ${total} ${units} left`,
    finished: (when: string) => `finished ${when}`,
    lastMoment: (when: string) => `, last moment ${when}`,
    timed: (units: string, work: string) => `, ${units} timed in ${work}`,
    needsHas: (needs: string, has: string) => `needs ${needs}, has ${has}`,
    orderBefore: (when: string) => `order before ${when}`,
    state: { ordered: 'ordered', late: 'late', received: 'received' },
    here: (arrives: string, needed: string) => `, here ${arrives}, needed ${needed}`,
    before: (when: string) => `before ${when}`,
    severity: { error: 'error', warning: 'warning' },
  },
});
