/** Make or send out in words: what a way comes to, and at which quantity it turns. */
import type { LeverWorth, PartWays, WayFigures, WayMoment, WaySplit, WaysBeside } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { leverChanceText } from './lever-words.ts';
import { movedText } from './what-if-words.ts';
import { chanceText, figure, lengthText, money, roomText, soonText, whenText, workText } from './wording.ts';

const say = texts.ways;

/** What words are made with. */
export interface WayTerms {
  readonly clock: WallClock;
  readonly now: number;
  readonly currency: string;
}

/** A figure with what of it is other than in the plan as it is. */
interface WayRow {
  readonly name: string;
  readonly is: string;
  readonly differs: string;
}

/** The rows of one way, the same for all. */
export function wayRows(way: WayFigures, terms: WayTerms): WayRow[] {
  const { columns } = say;
  const row = (name: string, is: string, differs = ''): WayRow => ({ name, is, differs });
  return [
    row(columns.units, figure(way.units)),
    row(columns.hands, way.handsMinutes === 0 ? say.noHands : workText(way.handsMinutes)),
    row(columns.machine, way.machineMinutes === 0 ? say.noHands : workText(way.machineMinutes)),
    row(columns.lead, leadText(way, terms)),
    row(columns.paid, paidText(way.money, terms)),
    row(columns.last, momentText(way.last, terms)),
    ...worthRows(way.isPresent ? { ...way.worth, compared: null } : way.worth, terms),
  ];
}

function worthRows(worth: LeverWorth, { clock, now }: WayTerms): WayRow[] {
  const { columns } = say;
  const ready = worth.readyAt === null ? texts.options.noDate : whenText(clock, worth.readyAt, now);
  const { chance, compared } = worth;
  const differs = compared === null ? '' : leverChanceText(worth).differs;
  return [
    { name: columns.ready, is: ready, differs: roomWords(worth.room) },
    { name: columns.average, is: compared === null ? say.itself : onAverageText(worth), differs: '' },
    { name: columns.chance, is: chance === null ? '' : chanceText(chance), differs },
  ];
}

function onAverageText({ compared }: LeverWorth): string {
  if (compared === null) return '';
  const { mean, error } = compared.readyAt;
  if (mean === 0 && error === 0) return texts.options.noDifference(figure(compared.futures));
  return say.average(movedText(0, Math.round(mean)), lengthText(error, 'up'));
}

function roomWords(room: number | null): string {
  return room !== null && room < 0 ? roomText(room) : say.room(roomText(room));
}

function leadText({ lead }: WayFigures, { clock, now }: WayTerms): string {
  if (lead === null) return say.noLead;
  return say.lead(figure(lead.workingDays, 1), lead.supplier, whenText(clock, lead.arrives, now));
}

function paidText(paid: number | null, { currency }: WayTerms): string {
  return paid === null ? say.noPrice : money(paid, currency);
}

/** Until when a way is still possible: `Thu 3 Dec 12:00`. */
function momentText(last: WayMoment, { clock, now }: WayTerms): string {
  if (last.kind === 'until' || last.kind === 'finish') return say.last[last.kind](soonText(clock, last.at, now));
  return say.last[last.kind];
}

/** At which quantity one way costs less than another, and is there sooner. */
export function turnTexts(part: PartWays, terms: WayTerms): string[] {
  const { cost, time } = part;
  const worth = cost === null ? '' : money(cost.hourWorth, terms.currency);
  const priced =
    cost === null
      ? part.between === null
        ? []
        : [say.costUnknown]
      : cost.from === 1
        ? [say.costAlways(nameOf(part, cost.many), figure(cost.upTo), worth)]
        : [say.costTurn(nameOf(part, cost.few), nameOf(part, cost.many), figure(cost.from), worth)];
  if (time === null) return priced;
  const arrives = whenText(terms.clock, time.arrives, terms.now);
  const names = [nameOf(part, time.made), nameOf(part, time.sent)] as const;
  const timed =
    time.units === 0
      ? say.timeNone(arrives, ...names)
      : time.units >= part.units
        ? say.timeAll(arrives, ...names)
        : say.timeTurn(figure(time.units), arrives, ...names);
  return [...priced, timed];
}

/** `40 made here, 50 by the welder`. */
export function splitText(part: PartWays, { rest, units }: Pick<WaySplit, 'rest' | 'units'>): string {
  const { chosen, other } = part.between!;
  const share = (n: number, way: string) => say.share(figure(n), nameOf(part, way));
  return say.shares(share(rest, chosen), share(units, other));
}

/** What a split comes to: when it is ready, the chance and the points, and what is paid. */
export function splitFigures({ worth, money: paid }: WaySplit, terms: WayTerms): string[] {
  const chance = leverChanceText(worth);
  return [
    worth.readyAt === null ? texts.options.noDate : whenText(terms.clock, worth.readyAt, terms.now),
    chance.differs === '' ? chance.is : `${chance.is} (${chance.differs})`,
    paidText(paid, terms),
  ];
}

export function nameOf({ ways, refused }: PartWays, way: string): string {
  return [...ways, ...refused].find((one) => one.way === way)?.name ?? way;
}

/** How many are wanted, and how many of them are begun. */
export function wantedText({ units, made }: PartWays): string {
  return say.units(figure(units), made, figure(made));
}

/** The plan as it is. */
export function waysPresentText({ present, now }: WaysBeside, clock: WallClock): string {
  if (present === null || present.readyAt === null) return say.noDate;
  const chance = present.chance === null ? null : chanceText(present.chance);
  return say.present(whenText(clock, present.readyAt, now), roomText(present.room), chance);
}
