/** The sentences for what the plan keeps and uses, but somebody should look at. */

import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from './grammar.ts';

export const doubtTexts = worded({
  nothingLogged: (when: string) =>
    `Nothing is logged yet, and the build started ${when}. Every pace is still an estimate, and all units count as left. Log what is done.`,
  wrongClock: (entries: number, which: string, when: string, kind: string) =>
    `${byNumber(entries, `One entry (${when}, “${kind}”) is`, `${entries} entries (the first ${when}, “${kind}”) are`)} ${which}: that phone’s clock was wrong. The number counts, its time does not. Undo it and log it again.`,
  lies: { ahead: 'ahead of now', before: 'from more than 30 days before the build starts' },
  gap: (from: string, to: string | null, length: string) =>
    `Nothing is logged from ${from} to ${to ?? 'now'} (${length}). The plan takes that time neither as work nor as lost. If days were lost, log them; if you made units, count them.`,
  sameName: (list: string, ids: readonly string[], name: string) =>
    `The ${list} ${ids.map((id) => `“${id}”`).join(' and ')} are ${ids.length === 2 ? 'both' : 'all'} called “${name}”, so nobody can tell them apart. Rename ${ids.length === 2 ? 'one of them' : `all but one`}.`,
  scrap: (step: string, units: number, part: string, asked: number, spares: number) =>
    `“${step}” has to make ${byNumber(units, '1 more unit', `${units} more units`)}, because ${byNumber(units, 'one was', 'that many were')} scrapped there or later. That takes ${asked} more × ${part}, and ${byNumber(spares, '1 is', `${spares} are`)} spare. If the scrap took them with it, set the spares to ${asked}; if you saved them, leave it.`,
  passedMore: (step: string, counted: number, later: string, passed: number) =>
    `“${step}”: ${counted} counted, but ${passed} are through “${later}” after it. If those were made, count ${passed - counted} more at “${step}”; until then the plan makes them.`,
  nobodyLoads: (steps: readonly string[], runs: number, first: string) =>
    `The plan begins ${some(runs, 'run', 'runs')} of ${listOf(steps.map((step) => `“${step}”`))} while nobody is there (the first ${first}), because no hands are in ${byNumber(steps.length, 'its', 'their')} work pattern. If somebody loads it, put hands before and after the run, such as 5 min; if it loads itself, put hands of 0 min before it.`,
  gate: {
    always: (name: string) =>
      `“${name}” is set to fail every time (chance 1), so the date means nothing. Set the share that really fails, such as 0.2.`,
    never: (name: string) =>
      `“${name}” is set never to fail (chance 0), so the plan leaves no time to fix it and try again. If it may fail, set a small chance, such as 0.05.`,
  },
  noHours: (readyBy: string) =>
    `Nobody has hours between now and the ready-by (${readyBy}), so no handwork can be done in time. Give somebody hours, or move the ready-by.`,
  farPace: (step: string, notes: string) => `“${step}”: ${notes}`,
});

/** What is said of a pace beside its figures. */
export const paceTexts = worded({
  far: (units: number, each: string, expected: string, times: string) =>
    `${some(units, 'unit', 'units')} took ${each} each; you expected ${expected} (${times}). The plan uses what was counted.`,
  longer: (times: string) => `${times} times as long`,
  shorter: (percent: string) => `${percent} of that`,
  asked: 'Is that right? If not, undo the count, or pause the clock when nobody works.',
  changed: (when: string, before: string, since: string) =>
    `The pace changed before ${when}, from ${before} to ${since} a unit. Counts since then weigh more.`,
  learnt: (counts: number, percent: string, given: string | null) =>
    `After ${some(counts, 'count', 'counts')}: each doubling of the number cuts a unit to ${percent} of its time (${given === null ? 'no learning was set' : `${given} was set`}).`,
  runTime: {
    run: (loads: number, counted: string, estimate: string) =>
      `${some(loads, 'load', 'loads')} took ${counted} from loading to counting; you expected ${estimate}.`,
    wait: (loads: number, counted: string, estimate: string) =>
      `${some(loads, 'wait', 'waits')} took ${counted}; you expected ${estimate}.`,
  },
  runPlanned: (minutes: string, low: string, high: string) => `The plan uses ${minutes} (likely ${low} to ${high}).`,
  endedBefore: (loads: number) =>
    loads === 1 ? 'It may have ended before it was counted.' : 'Some may have ended before they were counted.',
  loadStandsOut: (when: string, units: number, minutes: string, others: string) =>
    `The load counted ${when} is unusual: ${units} in ${minutes}; others took about ${others}.`,
  emptiedLate: 'Was it left in after it finished?',
  loadedLate: 'Was it logged as loaded only later?',
  standsOut: (when: string, units: number, minutes: string, each: string, others: string) =>
    `The count of ${when} is unusual: ${units} in ${minutes}, ${each} each; the others took ${others}.`,
  weighs: (share: string | null) => `It is kept, at ${share ?? 'less than 1\u202f%'} of its weight.`,
  slower: 'Was the clock left running, or did you do something else meanwhile?',
  faster: 'Had some of them been made before?',
  untimed: (units: number) =>
    `${units} counted, in an unknown time: a single count, all at once, or after a gap too long to be work. The pace is still an estimate. Start the clock, or count twice in one sitting.`,
});
