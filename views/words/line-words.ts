/** What a quick line was understood to say, and what was assumed, in words. */
import type { Assumed, Estimate, Fact, HazardGuess } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import { exactText, figure, minutesText, percent } from './wording.ts';

const say = texts.lines;

/** One thing that a line says. */
export function factText(fact: Fact): string {
  const of = say.fact;
  switch (fact.code) {
    case 'parameter':
      return of.parameter(fact.name, fact.value);
    case 'part': {
      const number = typeof fact.count === 'number' ? figure(fact.count) : fact.count;
      const count = fact.unit === null ? number : `${number}\u00a0${fact.unit}`;
      return fact.parent === null ? of.part(count, fact.part) : of.partIn(count, fact.part, fact.parent);
    }
    case 'spares':
      return of.spares(figure(fact.units));
    case 'on-hand':
      return of.onHand(figure(fact.units));
    case 'packs':
      return of.packs(figure(fact.units));
    case 'yield':
      return of.yield(percent(fact.share));
    case 'cost':
      return of.cost(figure(fact.each));
    case 'supplier':
      return (fact.bought ? of.bought : of.sentOut)(fact.supplier, of.workingDays(leadText(fact.lead)));
    case 'hands':
      return of.hands(fact.step, handsText(fact));
    case 'run':
      return of.run(fact.step, fact.machine, runText(fact));
    case 'loading':
      return of.loading(fact.step, exactText(fact.load), exactText(fact.unload), fact.load + fact.unload === 0);
    case 'express':
      return of.express(fact.supplier, of.workingDays(leadText(fact.lead)));
    case 'lead':
      return of.lead(fact.step, fact.supplier, of.workingDays(leadText(fact.lead)));
    case 'who':
      return of.who(fact.step, fact.person);
    case 'wait':
      return of.wait(fact.step, exactText(fact.minutes));
    case 'gate':
      return of.gate(fact.gate, exactText(fact.minutes), fact.after);
    case 'may-fail':
      return of.mayFail(percent(fact.chance));
    case 'sends-back':
      return of.sendsBack(figure(fact.units), fact.step);
    case 'strike':
      return of.strike(fact.job, jobText(fact));
  }
}

/** What takes the place of something that was not said. */
export function assumedText(assumed: Assumed): string {
  const of = say.assumed;
  switch (assumed.code) {
    case 'each':
      return of.each(assumed.step);
    case 'lots':
      return of.lots(assumed.step);
    case 'sent-out':
      return of.sentOut(assumed.part);
    case 'unnamed-supplier':
      return of.unnamedSupplier(assumed.part, assumed.supplier);
    case 'lead-kept':
      return of.leadKept(assumed.supplier, say.fact.workingDays(leadText(assumed.lead)));
    case 'hours-minutes':
      return of.hoursMinutes(assumed.said, exactText(assumed.minutes));
    case 'new-machine':
      return of.newMachine(assumed.machine, assumed.unattended, assumed.overnight);
    case 'loading':
      return of.loading(assumed.step, exactText(assumed.load), exactText(assumed.unload));
    case 'on-machine':
      return of.onMachine(assumed.step, assumed.machine);
    case 'is-work':
      return of.isWork(assumed.words);
    case 'over-night':
      return of.overNight(assumed.step, exactText(assumed.minutes));
    case 'likely-middle':
      return of.likelyMiddle(assumed.what);
    case 'after-all':
      return of.afterAll(assumed.step, assumed.after);
    case 'tested-once':
      return of.testedOnce(assumed.gate);
    case 'on-site':
      return of.onSite(assumed.step);
    case 'hazards':
      return of.hazards(assumed.step, hazardNames(assumed.guesses, 'name'), hazardNames(assumed.guesses, 'machine'));
  }
}

function leadText(lead: Extract<Fact, { code: 'supplier' }>['lead']): string {
  return typeof lead === 'number' ? figure(lead) : say.fact.range(figure(lead.low), figure(lead.high));
}

function handsText({ time, per, times, people }: Extract<Fact, { code: 'hands' }>): string {
  const length = estimateText(time);
  const parts = [
    typeof time === 'object' && 'units' in time ? length : (per === 'unit' ? say.fact.each : say.fact.inAll)(length),
    ...(times > 1 ? [say.fact.times(times)] : []),
    ...(people > 1 ? [say.fact.people(people)] : []),
  ];
  return parts.join(', ');
}

function jobText({ minutes, people }: Extract<Fact, { code: 'strike' }>): string {
  return people > 1 ? `${exactText(minutes)}, ${say.fact.people(people)}` : exactText(minutes);
}

function hazardNames(guesses: readonly HazardGuess[], from: HazardGuess['from']): string[] {
  return guesses.filter((guess) => guess.from === from).map(({ hazard }) => texts.edit.choice.hazard[hazard]);
}

function runText({ time, per, lot }: Extract<Fact, { code: 'run' }>): string {
  const length = estimateText(time);
  if (per === 'lot' && lot !== null) return say.fact.perLot(length, figure(lot));
  return (per === 'all' ? say.fact.inAll : say.fact.each)(length);
}

function estimateText(time: Estimate): string {
  if (typeof time === 'string') return time;
  if (typeof time === 'number') return typedText(time);
  if ('units' in time) return say.fact.trial(figure(time.units), typedText(time.minutes));
  return say.fact.range(figure(time.low), typedText(time.high));
}

function typedText(minutes: number): string {
  return Number.isInteger(minutes) ? exactText(minutes) : minutesText(minutes);
}
