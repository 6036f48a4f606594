/** A forecast in words for a terminal: when, how much room, what is tight, what to order, what is wrong. */

import { cautionsFor, cautionTexts } from '../../views/texts/cautions.ts';
import { texts } from '../../views/texts/index.ts';
import { moneyTexts, orderTexts } from '../../views/texts/paper/orders.ts';
import { commandTexts } from '../../views/texts/programs/command.ts';
import type { WallClock } from '../../views/wall-clock.ts';
import { questionText } from '../../views/words/design-words.ts';
import { paceText, runTimeText } from '../../views/words/doubt-words.ts';
import { workHoursFooters } from '../../views/words/hours-words.ts';
import { freeTexts } from '../../views/words/lever-words.ts';
import { lookAtTexts } from '../../views/words/look-at-words.ts';
import { isOnlyTooLarge, missingTexts } from '../../views/words/missing-words.ts';
import { nameOfGroup, nameOfMachine } from '../../views/words/names.ts';
import { assumedLotsText, boundWords, keptOrderText, whyWords } from '../../views/words/schedule-words.ts';
import { soundnessWords } from '../../views/words/soundness-words.ts';
import { loadsInIt, needWords, noDayText, orderedText } from '../../views/words/supply-words.ts';
import { threatText } from '../../views/words/threat-words.ts';
import {
  chanceBy,
  errorText,
  figure,
  money,
  percent,
  roomText,
  thing,
  whenText,
  workText,
} from '../../views/words/wording.ts';
import { cut, type Forecast, type ForecastLot, messageOf, type Problem, type Room } from '../model/index.ts';
import { wallClock } from '../web/wall-clock.ts';
import { oneLine, section, terminalText } from './terminal-text.ts';

const say = commandTexts.summary;

const NAME_WIDTH = 34;

/** The summary, with a line's end behind every line. Instants read as on the clock where the event is. */
export function summaryOf(forecast: Forecast): string {
  const clock = wallClock(forecast.build.zone);
  const at = (instant: number | null): string =>
    instant === null ? say.unknown : whenText(clock, instant, forecast.now);
  const missing = missingTexts(forecast);
  const blocks = [
    [say.head(forecast.build.name, forecast.build.zone, at(forecast.now))],
    datesOf(forecast, at),
    ...(missing.length > 0
      ? [[isOnlyTooLarge(forecast) ? say.tooLarge : say.noDate, ...missing.map((text) => `  ${text}`)]]
      : []),
    missing.length > 0 ? [] : forecast.complete ? chancesOf(forecast, at) : [say.incomplete],
    boundOf(forecast, clock),
    section(
      say.threats,
      (forecast.threats ?? []).map((threat) => threatText(forecast, clock, threat)),
    ),
    section(say.why, whyOf(forecast, clock, at)),
    section(say.path, pathOf(forecast, at)),
    section(say.left, stepsOf(forecast, at)),
    section(say.pace, pacesOf(forecast, clock)),
    section(say.capacity, capacityOf(forecast)),
    section(say.order, ordersOf(forecast, clock, at)),
    section(orderTexts.loads, loadsOf(forecast)),
    section(moneyTexts.heading, moneyOf(forecast)),
    section(say.decide, decisionsOf(forecast, at)),
    section(texts.levers.freeUntil, freeTexts(forecast, clock)),
    cautionsOf(forecast),
    soundnessOf(forecast),
    section(say.problems, forecast.problems.map(problemLine)),
    section(say.lookAt, lookAtOf(forecast, clock)),
    [texts.schedule.anew],
  ];
  return terminalText(blocks);
}

/** `error    steps.cut.phases: the sentence`. */
export function problemLine({ severity, field, ...said }: Problem): string {
  return oneLine(`${say.severity[severity].padEnd(8)} ${field === '' ? '' : `${field}: `}${messageOf(said)}`);
}

/** Doubts and hours, with what they rest on; the warnings stand among the problems. */
function lookAtOf(forecast: Forecast, clock: WallClock): string[] {
  const said = cautionsOf(forecast).length > 0 ? [cautionTexts.footer] : [];
  const footers = workHoursFooters(forecast).filter((footer) => !said.includes(footer));
  return [...lookAtTexts({ ...forecast, problems: [] }, clock), ...footers];
}

/** A line for each hazard of what is left, with its steps, and below them once who decides. */
function cautionsOf({ steps }: Forecast): string[] {
  const open = steps.filter(({ left }) => left > 0);
  const lines = cautionsFor(open.flatMap(({ hazards }) => hazards)).map(({ id, title, line }) => {
    const its = open.filter(({ hazards }) => hazards.some((hazard) => hazard === id));
    return `${cautionTexts.ofSteps(
      title,
      its.map(({ name }) => name),
    )}${line}`;
  });
  return lines.length === 0 ? [] : section(cautionTexts.heading, [...lines, cautionTexts.footer]);
}

type At = (instant: number | null) => string;

function datesOf({ room }: Forecast, at: At): string[] {
  const width = Math.max(...[say.ready, say.readyBy, say.loadIn, say.event].map(({ length }) => length)) + 2;
  const row = (name: string, when: string, words: string): string => `${name.padEnd(width)}${when.padEnd(20)}${words}`;
  const against = (name: string, one: Room | null): string[] =>
    one === null ? [] : [row(name, at(one.target), roomWords(one.clock))];
  const { finish, unlimitedFinish } = room.readyBy;
  return [
    row(say.ready, at(finish), unlimitedFinish === null ? '' : say.unlimited(at(unlimitedFinish))),
    ...against(say.readyBy, room.readyBy),
    ...against(say.loadIn, room.loadIn),
    ...against(say.event, room.event),
  ].map((line) => line.trimEnd());
}

/** The words of the Countdown. */
function chancesOf(forecast: Forecast, at: At): string[] {
  const { risk } = forecast;
  if (risk === undefined || risk === null) return [];
  const { countdown } = texts;
  const { p50, p80, p95 } = risk.readyAt;
  const late = (instant: number): string =>
    instant > (risk.until ?? instant)
      ? texts.lead.noHours
      : `${at(instant)}${instant > forecast.readyBy ? ` ${countdown.afterReadyBy}` : ''}`;
  const loadIn =
    risk.loadIn === null ? '' : `, ${countdown.chanceAlso(chanceBy(risk.loadIn, forecast.now), texts.target.loadIn)}`;
  return [
    `${chanceBy(risk.readyBy, forecast.now)} ${countdown.chance(texts.target.readyBy)}${loadIn}, ${countdown.chanceAlso(chanceBy(risk.event, forecast.now), texts.target.event)}`,
    ...(forecast.room.readyBy.finish === null
      ? []
      : [`${countdown.half} ${late(p50)}; ${countdown.outOf(80)} ${late(p80)}; ${countdown.outOf(95)} ${late(p95)}`]),
    countdown.futures(figure(risk.futures), errorText(risk.readyBy, risk.futures)),
    ...(risk.beyond === 0 ? [] : [countdown.unplaced(figure(risk.beyond), figure(risk.futures))]),
  ];
}

function roomWords(minutes: number | null): string {
  return minutes === null || minutes >= 0 ? say.room(roomText(minutes)) : roomText(minutes);
}

function boundOf(forecast: Forecast, clock: WallClock): string[] {
  return [boundWords(forecast, clock)?.text, assumedLotsText(forecast), keptOrderText(forecast)].filter(
    (text) => typeof text === 'string',
  );
}

function whyOf(forecast: Forecast, clock: WallClock, at: At): string[] {
  return (forecast.why ?? []).map((line) => {
    const { step, what, cause } = whyWords(forecast, clock, line);
    return `${at(line.start).padEnd(20)}${what === '' ? step : `${step}, ${what}`}: ${cause}`;
  });
}

/** Lots of one step that follow each other are one line. */
function pathOf(forecast: Forecast, at: At): string[] {
  const lots = new Map(forecast.lots.map((lot) => [lot.id, lot]));
  const runs: ForecastLot[][] = [];
  for (const id of forecast.criticalPath) {
    const lot = lots.get(id);
    if (!lot) continue;
    const last = runs.at(-1);
    if (last?.[0]?.step === lot.step) last.push(lot);
    else runs.push([lot]);
  }
  const names = new Map(forecast.steps.map(({ id, name }) => [id, name]));
  return runs.map((run) => {
    const [first, last] = [run[0]!, run.at(-1)!];
    const name = names.get(first.step) ?? first.step;
    const many = run.length > 1 ? say.lots(run.length) : '';
    return `${column(`${name}${many}`)}${say.span(at(first.dates.earlyStart), at(last.dates.earlyFinish))}`;
  });
}

function stepsOf({ steps }: Forecast, at: At): string[] {
  return steps
    .filter(({ left }) => left > 0)
    .map(({ name, left, total, unit, dates, levelled, lotSize, isLotAssumed }) => {
      const slack = dates === null ? '' : roomWords(levelled?.room ?? dates.totalSlackClock);
      const last = levelled?.lastFinish == null ? '' : say.lastMoment(at(levelled.lastFinish));
      const finish = levelled === null ? '' : `${say.finished(at(levelled.finish))}${last}`;
      const lots = isLotAssumed === true ? `, ${texts.steps.inAssumedLots(figure(lotSize))}` : '';
      return `${column(name)}${`${say.unitsLeft(left, total, thing(total, unit))}  `.padEnd(30)}${slack.padEnd(20)}${finish}${lots}`.trimEnd();
    });
}

/** What is counted or doubted of the pace of a step. */
function pacesOf(forecast: Forecast, clock: WallClock): string[] {
  return [...handsPaces(forecast, clock), ...runTimes(forecast, clock)];
}

function runTimes(forecast: Forecast, clock: WallClock): string[] {
  return forecast.steps.flatMap(({ name, runTime, left }) => {
    const text = left === 0 ? null : runTimeText(forecast, clock, runTime);
    return text === null ? [] : [`${column(name)}${text}`];
  });
}

function handsPaces(forecast: Forecast, clock: WallClock): string[] {
  return forecast.steps.flatMap(({ name, pace, left }) => {
    if (pace == null || left === 0 || (pace.units === 0 && pace.notes.length === 0)) return [];
    const { minutesPerUnit, low, high, units, minutes, notes } = pace;
    const note = paceText(forecast, clock, notes);
    const each = texts.countdown.each(figure(minutesPerUnit, 1), figure(low, 1), figure(high, 1));
    const timed = units === 0 ? '' : say.timed(figure(units), workText(minutes));
    return [`${column(name)}${each}${timed}${note === null ? '' : `. ${note}`}`];
  });
}

function capacityOf(forecast: Forecast): string[] {
  return forecast.capacity.map((group) => {
    const { neededMinutes, spareMinutes, offeredMinutes, shortMinutes } = group;
    const short = shortMinutes > 0 ? say.short(workText(shortMinutes)) : '';
    const spares = spareMinutes === undefined ? '' : `, ${texts.countdown.sparesBeside(workText(spareMinutes))}`;
    return `${column(nameOfGroup(forecast, group))}${say.needsHas(workText(neededMinutes), workText(offeredMinutes))}${short}${spares}`;
  });
}

function ordersOf(forecast: Forecast, clock: WallClock, at: At): string[] {
  const { orders, supplies = [] } = forecast;
  return orders
    .filter(({ state }) => state !== 'received')
    .map((order) => {
      const { name, units, measure, state, orderBy, arrives, neededBy, step } = order;
      const what = state === 'to-order' ? say.orderBefore(at(orderBy)) : say.state[state];
      const supply = supplies.find((one) => one.step === step);
      const noDay = noDayText(forecast, clock, step);
      const need = [
        ...(supply === undefined ? [] : [...needWords(supply), orderTexts.states[supply.state]]),
        ...(noDay === null ? [] : [noDay]),
      ].join(', ');
      const ordered = measure === undefined ? `${units} ${name}` : orderedText(order);
      return `${column(ordered)}${what}${say.here(at(arrives), at(neededBy))}${need === '' ? '' : ` (${need})`}`;
    });
}

function loadsOf(forecast: Forecast): string[] {
  return (forecast.loads ?? [])
    .filter(({ left }) => left > 0)
    .map(({ step, name, machine, size, total, left }) => {
      const where = nameOfMachine(forecast, machine);
      const inIt = loadsInIt(forecast, step);
      return `${column(name)}${orderTexts.loadLine(figure(left), figure(total), where, figure(size), inIt)}`;
    });
}

function moneyOf({ money: sums, currency }: Forecast): string[] {
  if (sums === undefined || sums.lines.length === 0) return [];
  const row = (name: string, value: number): string => `${column(name)}${money(value, currency)}`;
  return [
    row(moneyTexts.committed, sums.committed),
    row(moneyTexts.toCome, sums.toCome),
    ...(sums.share === 0 ? [] : [row(moneyTexts.contingency(percent(sums.share)), sums.contingency)]),
    row(moneyTexts.total, sums.total),
    ...(sums.unpriced.length === 0 ? [] : [moneyTexts.unpriced(sums.unpriced.join(', '))]),
  ];
}

function decisionsOf(forecast: Forecast, at: At): string[] {
  return forecast.decisions
    .filter(({ decided }) => decided === null)
    .map((it) => `${column(questionText(forecast, it))}${say.before(at(it.decideBy))}`);
}

function soundnessOf(forecast: Forecast): string[] {
  const words = soundnessWords(forecast);
  if (words === null) return [];
  const { heading, count, findings, elsewhere } = words;
  return section(heading, [count, ...findings.map(({ said }) => said), ...(elsewhere === null ? [] : [elsewhere])]);
}

/** A name cut or filled to its column; lengths are counted in characters. */
function column(name: string): string {
  const line = oneLine(name);
  const text = line.length > NAME_WIDTH - 2 ? cut(line, NAME_WIDTH - 3) : line;
  return text.padEnd(NAME_WIDTH);
}
