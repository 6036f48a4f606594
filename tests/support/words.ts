/** The sentences of what an engine's forecast found, as pages and the terminal say them, with plain spaces. */
import type { Doubt, Forecast, PaceNote, SoundnessCheck, Threat, WorkHoursWarning } from '../../server/model/index.ts';
import { wallClock } from '../../server/web/wall-clock.ts';
import { doubtText, paceText, runTimeText } from '../../views/words/doubt-words.ts';
import { workHoursText } from '../../views/words/hours-words.ts';
import { soundnessText } from '../../views/words/soundness-words.ts';
import { threatText } from '../../views/words/threat-words.ts';

export type Worded<T> = T & { readonly message: string };

export function wordedThreats(forecast: Forecast): Worded<Threat>[] {
  const clock = wallClock(forecast.build.zone);
  return (forecast.threats ?? []).map((threat) => ({
    ...threat,
    message: plain(threatText(forecast, clock, threat)),
  }));
}

export function wordedChecks(forecast: Forecast): (SoundnessCheck & { readonly message: string | null })[] {
  return (forecast.soundness ?? []).map((check) => {
    const text = soundnessText(forecast, check);
    return { ...check, message: text === null ? null : plain(text) };
  });
}

export function wordedHours(forecast: Forecast): Worded<WorkHoursWarning>[] {
  const clock = wallClock(forecast.build.zone);
  return forecast.workHours.map((warning) => ({
    ...warning,
    message: plain(workHoursText(forecast, clock, warning)),
  }));
}

export function wordedDoubts(forecast: Forecast): Worded<Doubt>[] {
  const clock = wallClock(forecast.build.zone);
  return forecast.doubts.map((doubt) => ({ ...doubt, message: plain(doubtText(forecast, clock, doubt)) }));
}

/** What is said of a pace on the clock of `zone`; empty where all is as expected. */
export function paceWords(notes: readonly PaceNote[], zone = 'UTC', now = 29_950_000): string {
  return plain(paceText({ now }, wallClock(zone), notes) ?? '');
}

/** What is said of the loads of a step; empty where none is back. */
export function runTimeWords(forecast: Forecast, step: string): string {
  const time = forecast.steps.find(({ id }) => id === step)?.runTime;
  return plain(runTimeText(forecast, wallClock(forecast.build.zone), time) ?? '');
}

/** Every sentence that a forecast's findings make. */
export function findingsIn(forecast: Forecast): string[] {
  return [
    ...forecast.problems,
    ...wordedThreats(forecast),
    ...wordedDoubts(forecast),
    ...wordedHours(forecast),
    ...wordedChecks(forecast),
    ...forecast.steps.map(({ id }) => ({ message: runTimeWords(forecast, id) })),
    ...forecast.steps.map(({ pace }) => ({ message: paceWords(pace?.notes ?? [], forecast.build.zone, forecast.now) })),
  ].flatMap(({ message }) => (message === null || message === '' ? [] : [message]));
}

function plain(text: string): string {
  return text.replace(/[\u00a0\u202f]/g, ' ');
}
