/** The sentences for what is kept and planned with, but should be looked at. */
import { byNumber, some } from './grammar.ts';

export const doubtTexts = {
  nothingLogged: (when: string) =>
    `Nothing is logged yet, though the build began ${when}. Every pace is still the estimate, and all units count as left. Log what is done.`,
  wrongClock: (entries: number, lies: string, when: string, kind: string) =>
    `${byNumber(entries, `One entry (${when}, “${kind}”) is`, `${entries} entries (the first ${when}, “${kind}”) are`)} ${lies}: that phone’s clock was wrong. The number counts, its time does not. Undo it and log it again.`,
  lies: { ahead: 'ahead of now', before: 'from more than 30 days before the build begins' },
  gap: (from: string, to: string | null, length: string) =>
    `Nothing is logged from ${from} to ${to ?? 'now'} (${length}). It counts neither as work nor as lost days. If days were lost, log them; if units were made, count them.`,
  sameName: (list: string, ids: readonly string[], name: string) =>
    `The ${list} ${ids.map((id) => `“${id}”`).join(' and ')} are ${ids.length === 2 ? 'both' : 'all'} called “${name}”, so no page tells them apart. Rename one of them.`,
  scrap: (step: string, units: number, part: string, asked: number, spares: number) =>
    `“${step}” must make ${byNumber(units, 'one more unit', `${units} more units`)} than planned, because as many were scrapped there or later. That takes ${asked} more of ${part}; its spares are ${spares}. If what was in the scrap is lost, set the spares to ${asked}; if it was saved, leave them.`,
  gate: {
    always: (name: string) =>
      `“${name}” is set to fail every time (chance 1), so the date means nothing. Set the share that really fails, such as 0.2.`,
    never: (name: string) =>
      `“${name}” is set never to fail (chance 0), so no time is kept for mending and trying again. If it may fail, set a small chance, such as 0.05.`,
  },
  noHours: (readyBy: string) =>
    `Nobody has a working hour between now and the ready-by (${readyBy}), so nothing made by hand can be done in time. Give somebody hours, or move the ready-by.`,
  farPace: (step: string, notes: string) => `“${step}”: ${notes}`,
};

/** What is said of a pace beside its figures. */
export const paceTexts = {
  far: (units: number, each: string, expected: string, times: string) =>
    `${units} units took ${each} min each, where ${expected} min was expected (${times}). The plan goes by the count.`,
  longer: (times: string) => `${times} times as long`,
  shorter: (percent: string) => `${percent} of that`,
  asked: 'Is a unit still what the estimate meant, and did the clock run only while somebody worked?',
  changed: (when: string, before: string, since: string) =>
    `The pace changed before ${when}, from ${before} to ${since} min a unit. Counts since then weigh more.`,
  learnt: (counts: number, percent: string, given: string | null) =>
    `After ${counts} counts: at each doubling of the number a unit takes ${percent} of the time (${given === null ? 'no learning was set' : `${given} was set`}).`,
  runTime: {
    run: (loads: number, counted: string, estimate: string) =>
      `${some(loads, 'load', 'loads')} took ${counted} from loading to counting, where ${estimate} was expected.`,
    wait: (loads: number, counted: string, estimate: string) =>
      `${some(loads, 'wait', 'waits')} took ${counted}, where ${estimate} was expected.`,
  },
  runPlanned: (minutes: string, low: string, high: string) => `The plan goes by ${minutes} (likely ${low} to ${high}).`,
  loadStandsOut: (when: string, units: number, minutes: string, others: string) =>
    `The load counted ${when} stands out: ${units} in ${minutes}, where ${others} is usual.`,
  emptiedLate: 'Was it left in after its end?',
  loadedLate: 'Was it logged as loaded only later?',
  standsOut: (when: string, units: number, minutes: string, each: string, others: string) =>
    `The count of ${when} stands out: ${units} in ${minutes} min, ${each} min each, where the others took ${others}.`,
  weighs: (share: string | null) => `It is kept, and weighs ${share ?? 'less than 1 %'} of what it would.`,
  slower: 'Did the clock run on, or was something else done meanwhile?',
  faster: 'Were some of them made before?',
  untimed: (units: number) =>
    `${units} counted, but their time is unknown: one count alone, all at one instant, or after a gap too long to be work. The pace is still the estimate. Let the clock run, or count twice in one sitting.`,
};
