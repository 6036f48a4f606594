/** The words of quick lines: what was understood, what was assumed, what was not understood, and how to write. */

import type { WhyNot } from '../../server/model/index.ts';
import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from './grammar.ts';

export const lineTexts = worded({
  heading: 'Quick lines',
  intro: 'Write what there is to make as you would say it, one part or job a line. Nothing is saved until you add it.',
  link: 'Quick lines: type parts and steps as you would say them',
  field: 'Lines',
  read: 'Read',
  add: (n: number) => `Add ${some(n, 'line', 'lines')} to the build`,
  understood: 'As understood',
  assumedCount: (n: number) =>
    n === 0 ? 'Nothing was assumed.' : `${some(n, 'thing was', 'things were')} assumed, each marked with ≈.`,
  notUnderstood: (clause: string) =>
    clause === '' ? 'This line says nothing yet.' : `Not understood: “${clause}”. This line is not added.`,
  why: {
    'over-all': 'A test fails in at most 100 % of cases.',
    'nothing-to-test': 'A test comes after work: add the lines of the work first.',
    'days-of-hands':
      'Days are for suppliers and waits: name who sends it (“joiner, 5 days”), or say the work of hands in hours.',
    'no-comma': 'Put a comma between the part and what is done to it: “40 rods, cut 2 min each”.',
    'each-of-what': 'Each of what? Name a part of the build, such as “hang slats 4 min each”, or leave out “each”.',
    'no-number':
      'It has no time or number: work needs a time (“sand 5 min each”), a supplier days (“joiner, 5 days”), a part how many (“4 frames”).',
    'clock-time': 'Hours and minutes, or minutes and seconds? Write “3 h 20” or “3 min 20 s”.',
    dates:
      'Lines take lengths of time, not dates: write how many working days it takes (“joiner, 5 days”). A promised date can be entered once it is ordered.',
    bound: 'Write how long it probably takes, or a range: “10 to 15 min”.',
    'spares-within': 'Are the spares among them or on top? Write “27 hooks, 3 spares” for 30 altogether.',
    'part-in-part': 'Give each part a line of its own: “6 tables”, then “4 legs per table”.',
    'fails-each': 'How many of them turn out good? Write “95 % good” before the work, or test the piece once.',
    'each-measure':
      'Is the time for each metre or litre, or for all of it? Write “5 min per m” or “40 min altogether”.',
    'after-a-time': 'How long does the work itself take? Write the wait before it: “cure 24 h, demould 10 min”.',
    altogether: 'Their number is worked out by a formula, so the time for each is needed: “oil 3 min each”.',
    who: 'This person is not among those who help. Add them on Hands first, or leave out the name.',
    thousands: 'That may be a thousand and more or a fraction: write it without the comma or point, such as 1160.',
  } as Readonly<Record<WhyNot, string>>,
  refused: 'This line does not fit the build:',
  tooMany: (most: number) => `At most ${most} lines at once; add the rest afterwards.`,
  tooLong: (line: number, most: number) => `Line ${line} is longer than ${most} characters; break it up.`,
  nobody: 'Nobody helps yet, and this work needs somebody. Say first who helps and when; your lines wait here.',
  sayWho: 'Who helps',
  nothing: 'No line was understood, so nothing was added.',
  nothingNew: 'All of this is in the build already.',
  added: (n: number) => `${some(n, 'line is', 'lines are')} in the build.`,
  left: (n: number) =>
    `${some(n, 'line', 'lines')} ${byNumber(n, 'was', 'were')} not added and ${byNumber(n, 'is', 'are')} still here.`,
  goOn: 'Look at the parts on Design and at the steps on Steps.',
  noSteps: (parts: readonly string[]) => `Still missing: how to make ${listOf(parts)}.`,
  unread: 'Not added',
  fact: {
    parameter: (name: string, value: string) => `${name} = ${value}, a number of the design`,
    part: (count: string, part: string) => `${count} × ${part}`,
    partIn: (count: string, part: string, parent: string) =>
      `${count} × ${part} in each ${/[^s]s$/i.test(parent) ? 'of the ' : ''}${parent}`,
    spares: (n: string) => `${n} spare`,
    onHand: (n: string) => `${n} on hand`,
    packs: (n: string) => `in packs of ${n}`,
    yield: (share: string) => `${share} turn out good`,
    cost: (each: string) => `${each} each`,
    bought: (supplier: string, lead: string) => `bought from ${supplier}, ${lead}`,
    sentOut: (supplier: string, lead: string) => `sent out to ${supplier}, ${lead}`,
    workingDays: (days: string) => `${days} working ${days === '1' ? 'day' : 'days'}`,
    hands: (step: string, time: string) => `${step}: ${time}`,
    each: (time: string) => `${time} each`,
    inAll: (time: string) => `${time} altogether`,
    trial: (units: string, minutes: string) => `${units} in ${minutes}`,
    range: (low: string, high: string) => `${low} to ${high}`,
    times: (n: number) => `${n} times`,
    people: (n: number) => `${some(n, 'person', 'people')} at once`,
    run: (step: string, machine: string, time: string) => `${step} on ${machine}: ${time}`,
    perLot: (time: string, lot: string) => `${time} for each ${lot} of them`,
    loading: (step: string, load: string, unload: string, isNobody: boolean) =>
      isNobody ? `${step}: nobody loads or unloads it` : `${step}: ${load} to load, ${unload} to unload, each time`,
    express: (supplier: string, lead: string) => `${supplier} by express, ${lead}`,
    lead: (step: string, supplier: string, lead: string) => `${step}: at ${supplier}, ${lead}`,
    who: (step: string, person: string) => `${step}: only ${person}`,
    wait: (step: string, time: string) => `${step} then waits ${time}`,
    gate: (gate: string, time: string, after: readonly string[]) =>
      after.length === 0 ? `${gate}: ${time}` : `${gate}: ${time}, after ${listOf(after)}`,
    mayFail: (share: string) => `may fail, ${share}`,
    sendsBack: (units: string, step: string) => `then ${units} go back to ${step}`,
    strike: (job: string, time: string) => `after the event, ${job}: ${time}`,
  },
  assumed: {
    each: (step: string) => `${step}: the time is for each one`,
    lots: (step: string) => `${step}: Daywright chooses the lot size; write “in lots of 6” to set it`,
    sentOut: (part: string) => `${part} is sent out; write “bought” if you buy it`,
    unnamedSupplier: (part: string, supplier: string) =>
      `nobody is named who sends ${part}; the supplier is called “${supplier}” until you rename it`,
    leadKept: (supplier: string, lead: string) =>
      `the days of ${supplier} stay as they are in this build, ${lead}; change them on Hands`,
    hoursMinutes: (said: string, time: string) => `“${said}” means ${time}`,
    newMachine: (machine: string, unattended: boolean, overnight: boolean) =>
      unattended
        ? `${machine} is a new machine that runs unattended, ${overnight ? 'at night too' : 'not at night'}`
        : `${machine} is a new machine; somebody stays with it while it runs`,
    loading: (step: string, load: string, unload: string) =>
      `${step}: somebody loads it for ${load} and unloads it for ${unload}, each time; write “load 10 min”, “unload 2 min” or “nobody loads it”`,
    onMachine: (step: string, machine: string) => `${step} is done on ${machine}, the only machine`,
    isWork: (words: string) => `“${words}” is work, not a supplier`,
    overNight: (step: string, time: string) => `${step}: “overnight” means ${time}`,
    likelyMiddle: (what: string) => `${what}: the middle of the range is likely`,
    afterAll: (step: string, after: readonly string[]) => `${step} comes after ${listOf(after)}`,
    testedOnce: (gate: string) => `${gate}: once for the whole piece`,
    onSite: (step: string) => `${step} is done at the place, after the load-in`,
    hazards: (step: string, byName: readonly string[], byMachine: readonly string[]) =>
      [
        ...(byName.length === 0 ? [] : [`${step} has hazards by its name: ${listOf(byName)}`]),
        ...(byMachine.length === 0 ? [] : [`${step} has hazards by its machine: ${listOf(byMachine)}`]),
      ].join('; '),
  },
  help: 'How to write lines',
  examples: [
    ['5 rails', 'a part and how many'],
    ['32 slats per rail, joiner, 5 days', 'what goes into another part, who sends it, working days'],
    ['160 slats, sand 3 min each; oil 2 coats 4 min, dry 6 h', 'what you do to it, in order; waits that need nobody'],
    ['90 pulleys, on a plate of 6, 3 h 20 at night', 'a machine does it, a plate at a time'],
    ['90 pulleys, print 6 in 3 h, load 10 min, unload 2 min', 'the minutes at the machine before and after each run'],
    ['40 cords, knot 18 in 45 min, 3 spares', 'a timed trial; spares'],
    ['5 motors, bought from the drive shop, 3 to 7 days, €40 each', 'what you buy, and a price'],
    ['test 40 min, may fail 20 %, 3 back to hang', 'a test of everything so far, and what it may send back'],
    ['pack 3 h with 2 people', 'a job of its own, after everything so far'],
    ['strike 2 h with 2 people', 'a job after the event: strike, take down, carry out'],
    ['slats per rail = 32', 'a number of the design; “rails x slats_per_rail cords” counts with it'],
  ] as readonly (readonly [string, string])[],
  helpNote:
    'Separate what a line says with commas, semicolons or “then”. Numbers may be words, as you dictate them. Times: 3 min, 45 s, 2h30, 3 h 20, 1.5 h, 3 to 5 min, 18 in 45 min, 4 an hour. Amounts: 25 m of cable, 2.5 L paint. A line about a part that exists changes it. Hazards are guessed by names: untick on the step what does not apply.',
});
