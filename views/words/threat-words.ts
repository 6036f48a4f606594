/** What threatens the date in sentences, for pages and for the terminal. */
import type { Forecast, SlowStepValues, Threat } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { boundsText, measure, questionText } from './design-words.ts';
import { stepName } from './marks.tsx';
import { nameOfMachine, namesOfSteps } from './names.ts';
import { noDayText, orderedText } from './supply-words.ts';
import {
  figure,
  hourly,
  hoursText,
  lateFromStart,
  lengthText,
  ofHundred,
  paceLength,
  percent,
  soonText,
  whenText,
  workText,
} from './wording.ts';

const say = texts.threats;
const sayDesign = texts.ofDesign;

/** A threat as its sentences. */
export function threatText(forecast: Forecast, clock: WallClock, threat: Threat): string {
  const { now } = forecast;
  const when = (instant: number) => whenText(clock, instant, now);
  const step = stepName(forecast, threat.step ?? '');
  switch (threat.code) {
    case 'slow-step':
      return slowStepText(forecast, clock, threat);
    case 'order-late':
    case 'order-today':
      return orderText(forecast, clock, threat);
    case 'late-delivery':
      return deliveryText(forecast, clock, threat);
    case 'short-machine': {
      const { machine, neededMinutes, offeredMinutes, holdsUp } = threat.values;
      const name = nameOfMachine(forecast, machine);
      const hours = [hoursText(neededMinutes), hoursText(offeredMinutes)] as const;
      const first = neededMinutes > offeredMinutes ? say.shortMachine(name, ...hours) : say.fullMachine(name, ...hours);
      return sentences(first, heldUpText(forecast, holdsUp));
    }
    case 'scrap': {
      const { scrapped, tried, expected, left, holdsUp } = threat.values;
      const wrong = say.scrap(step, scrapped, tried, percent(scrapped / tried), percent(expected), left);
      return sentences(wrong, heldUpText(forecast, holdsUp));
    }
    case 'decision':
      return decisionText(forecast, clock, threat.values);
    case 'idle-machine': {
      const { machine, units, runMinutes, loadBy, hazards } = threat.values;
      return sentences(
        say.idle(nameOfMachine(forecast, machine), units, step, hoursText(runMinutes)),
        say.load(soonText(clock, loadBy, now)),
        hazards.length === 0
          ? say.loadSafely
          : say.loadWatched(hazards.map((hazard) => texts.edit.choice.hazard[hazard])),
      );
    }
    case 'silent-step': {
      const { left, readyNow, lastLogged } = threat.values;
      return say.silent(step, when(lastLogged), lengthText(now - lastLogged), left, readyNow);
    }
    case 'nights': {
      const { nights, minutes, first } = threat.values;
      return say.nights(nights, hoursText(minutes), when(first));
    }
    case 'no-spare': {
      const { parts, readyBy } = threat.values;
      return say.noSpare(
        when(readyBy),
        parts.map(({ name, need, has, wanted, spareBy, againAt }) => {
          const needed = wanted === 1 ? say.needed1(need) : say.sparesOf(has, wanted);
          return spareBy === null ? say.noMore(name, needed, when(againAt)) : say.spareBy(name, needed, when(spareBy));
        }),
        parts.every(({ has }) => has === 0),
      );
    }
    case 'limit':
      return limitText(threat.values);
    case 'unchecked': {
      const { name, units, because } = threat.values;
      return sayDesign.unchecked(name, units, because);
    }
    case 'due': {
      const { name, at, left, finish, chance } = threat.values;
      const planned = finish === null ? say.dueNever : say.duePlanned(when(finish));
      return sentences(say.due(name, when(at), left), planned, chance === null ? '' : say.dueChance(percent(chance)));
    }
    case 'old-plan':
      return say.oldPlan(when(threat.values.last), lengthText(threat.values.minutes));
  }
}

function slowStepText(forecast: Forecast, clock: WallClock, threat: Threat<'slow-step'>): string {
  const { step, values } = threat;
  const name = stepName(forecast, step ?? '');
  const { peopleAtOnce = 1 } = byId(forecast.steps, step ?? '') ?? {};
  const { left, total, handsMinutesLeft, minutesPerUnit, by, noHoursAfter, waiting } = values;
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  const each = minutesPerUnit === null || left === 1 ? null : paceLength(minutesPerUnit);
  const { missingHands } = forecast.room.event;
  const missing = missingHands === undefined ? null : workText(missingHands);
  const work = handsMinutesLeft > 0 ? say.work(workText(handsMinutesLeft), each, peopleAtOnce) : '';
  const said = [
    `${say.left(name, left, total)}${work}.`,
    paceText(values.pace),
    noHoursAfter !== null
      ? say.noHours(when(noHoursAfter), missing)
      : by > forecast.now
        ? say.by(when(by))
        : say.byPassed(when(by)),
    causeText(values),
    waiting.length === 0 ? '' : say.waiting(namesOfSteps(forecast, waiting)),
  ];
  return sentences(...said);
}

function limitText({ name, unit, value, low, high, least, most, isBroken, parts }: Threat<'limit'>['values']): string {
  const bounds = boundsText({ least, most, unit });
  const said =
    isBroken && value !== null
      ? sayDesign.limitBroken(name, measure(value, unit), bounds)
      : sayDesign.limitMayBreak(name, measure(low, unit), measure(high, unit), bounds);
  return sentences(said, parts.length === 0 ? '' : sayDesign.itConcerns(parts));
}

function paceText(pace: SlowStepValues['pace']): string {
  if (pace === null) return '';
  const { neededPerHour, countedPerHour } = pace;
  if (neededPerHour === null) return say.noHourLeft;
  return say.pace(hourly(neededPerHour), countedPerHour ? hourly(countedPerHour) : null);
}

function causeText({ cause, noHoursAfter }: SlowStepValues): string {
  if ('share' in cause) return say[cause.kind](figure(ofHundred(cause.share)));
  if (cause.kind === 'likely') return say.likely(lengthText(cause.minutes));
  const length = lengthText(cause.minutes, 'up');
  return noHoursAfter === null ? say.late(length) : say.lateOnSite(length);
}

function orderText(forecast: Forecast, clock: WallClock, threat: Threat<'order-late' | 'order-today'>): string {
  const { kind, orderBy, arrives, express, neededBy, holdsUp } = threat.values;
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  const what = comingText(forecast, threat);
  const late = lateLength(forecast, orderBy);
  const [order, ordered] = [say.order[kind], say.ordered[kind]];
  const first =
    threat.code === 'order-today'
      ? say.orderToday(order, what, soonText(clock, orderBy, forecast.now))
      : late === null
        ? say.orderLate(order, what, when(orderBy))
        : say.orderLateFromStart(ordered, what, late);
  const arrival = say.arrives(ordered, when(arrives), express === null ? null : when(express), when(neededBy));
  const noDay = noDayText(forecast, clock, threat.step);
  return sentences(first, noDay === null ? '' : sentenceOf(noDay), arrival, heldUpText(forecast, holdsUp));
}

function sentenceOf(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

function deliveryText(forecast: Forecast, clock: WallClock, threat: Threat<'late-delivery'>): string {
  const { expected, promised, overdue, neededBy, holdsUp } = threat.values;
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  const what = comingText(forecast, threat);
  const first = overdue
    ? say.overdue(what, when(expected))
    : promised
      ? say.promised(what, when(expected))
      : say.expected(what, when(expected));
  const isLate = overdue || expected > neededBy;
  const needed = (!isLate ? say.just : neededBy <= forecast.now ? say.wasNeeded : say.needed)(when(neededBy));
  return sentences(first, needed, overdue ? say.ask : '', heldUpText(forecast, holdsUp));
}

/** What is ordered or on its way, as the order of its step measures it. */
function comingText({ orders }: Forecast, { step, values }: Coming): string {
  return orderedText({ ...values, measure: orders.find((order) => order.step === step)?.measure });
}

type Coming = Threat<'order-late' | 'order-today' | 'late-delivery'>;

function heldUpText(forecast: Forecast, steps: readonly string[]): string {
  return steps.length === 0 ? '' : say.waiting(namesOfSteps(forecast, steps));
}

function sentences(...all: readonly string[]): string {
  return all.filter((sentence) => sentence !== '').join(' ');
}

function decisionText(forecast: Forecast, clock: WallClock, values: Threat<'decision'>['values']): string {
  const { decideBy, waits } = values;
  const question = questionText(forecast, values);
  const when = whenText(clock, decideBy, forecast.now);
  const late = lateLength(forecast, decideBy);
  const first =
    late !== null
      ? say.undecidedFromStart(question, late)
      : decideBy < forecast.now
        ? say.undecided(question, when)
        : say.decide(question, when);
  return `${first} ${say.answer(namesOfSteps(forecast, waits))}`;
}

function lateLength(forecast: Forecast, instant: number): string | null {
  return lateFromStart(forecast, instant) === null ? null : lengthText(forecast.now - instant, 'up');
}
