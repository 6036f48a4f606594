/** Hours that wear people out, and what is dangerous, in sentences, for pages and for the terminal. */
import type { Forecast, WorkHoursWarning } from '../../server/model/index.ts';
import { cautionTexts } from '../texts/cautions.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { stepName } from './marks.tsx';
import { nameOfMachine, nameOfPerson, namesOfSteps } from './names.ts';
import { dayText, hoursText, whenText } from './wording.ts';

const say = texts.hours;

/** A warning as its sentences. */
export function workHoursText(forecast: Forecast, clock: WallClock, warning: WorkHoursWarning): string {
  const { at, minutes, weeks, steps, hazards } = warning;
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  const day = dayText(clock, at, forecast.now);
  const who = nameOfPerson(forecast, warning.person ?? '');
  const length = hoursText(minutes);
  switch (warning.code) {
    case 'rest':
      return say.rest(who, length, when(at - minutes), when(at));
    case 'week':
      return weeks === null ? say.week(who, length, when(at)) : say.average(who, length, weeks);
    case 'no-day-off':
      return say.noDayOff(who, day, minutes > 0 ? length : null);
    case 'break':
      return say.noBreak(who, length, when(at));
    case 'long-shift':
      return say.longShift(who, length, when(at));
    case 'night-hours':
      return say.nightShifts(who, length, warning.nights ?? 1, when(at));
    case 'nights-in-a-row':
      return say.nightsInARow(who, warning.nights ?? 1, day);
    case 'night': {
      const night = say.night(who, length, day, namesOfSteps(forecast, steps));
      return sentences(
        night,
        warning.strong ? say.nightDanger(hazardNames(hazards)) : say.nightRisk,
        fireWatch(warning),
      );
    }
    case 'alone': {
      const advice = hazards.includes('height') ? say.notAtHeight : say.withinCall;
      const step = namesOfSteps(forecast, steps).join(', ');
      return sentences(say.alone(who, length, step, hazardNames(hazards), when(at)), advice, fireWatch(warning));
    }
    case 'unattended':
      return unwatchedText(forecast, warning, when(at));
    case 'unattended-night': {
      const machine = nameOfMachine(forecast, warning.machine ?? '');
      return sentences(say.unattendedNights(machine, warning.nights ?? 1, length, day), say.fire);
    }
  }
}

function unwatchedText(forecast: Forecast, warning: WorkHoursWarning, first: string): string {
  const { minutes, steps, hazards, machine } = warning;
  const phase = machine === null ? say.phase.wait : say.phase.run(nameOfMachine(forecast, machine));
  const step = stepName(forecast, steps[0] ?? '');
  const watch = hazards.flatMap((hazard) => (hazard in say.watch ? say.watch[hazard as keyof typeof say.watch] : []));
  return sentences(say.unwatched(step, phase, hoursText(minutes), hazardNames(hazards), first), ...watch);
}

/** Hot work is watched once it is over; the sentence for what is unwatched says so by itself. */
function fireWatch({ hazards }: WorkHoursWarning): string {
  return hazards.includes('hot-work') ? say.fireWatch : '';
}

function hazardNames(hazards: WorkHoursWarning['hazards']): string[] {
  return hazards.map((hazard) => texts.edit.choice.hazard[hazard]);
}

/** What the limits rest on, and who decides about dangerous work; none where nothing is warned of. */
export function workHoursFooters({ workHours }: Pick<Forecast, 'workHours'>): string[] {
  const isLimit = workHours.some(({ code }) => LIMITS.has(code));
  const isDanger = workHours.some(({ hazards, code }) => hazards.length > 0 || code === 'unattended-night');
  return [...(isLimit ? [say.guide] : []), ...(isDanger ? [cautionTexts.footer] : [])];
}

/** What is warned of by a limit of hours. */
const LIMITS: ReadonlySet<WorkHoursWarning['code']> = new Set([
  ...(['rest', 'week', 'no-day-off', 'break', 'long-shift', 'night-hours', 'nights-in-a-row'] as const),
]);

function sentences(...all: readonly string[]): string {
  return all.filter((sentence) => sentence !== '').join(' ');
}
