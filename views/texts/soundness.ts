/** The words around the checks of the plan, and a sentence for each. */

import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from './grammar.ts';

export const soundnessTexts = worded({
  heading: 'Is the plan sound?',
  allPassed: (checks: number) => `Yes: ${some(checks, 'check', 'checks')} passed.`,
  found: (found: number, passed: number, checks: number) =>
    `${some(found, 'thing', 'things')} to look at, ${passed} of ${some(checks, 'check', 'checks')} passed`,
  elsewhere: (n: number) => `${n} more ${byNumber(n, 'is', 'are')} listed under “To fix”, “To look at” or the threats.`,
  toStep: (step: string) => `See ${step}`,
  looseEnds: (found: number, ends: readonly string[], begins: readonly string[]) => {
    const said = [
      ...(ends.length === 0 ? [] : [`nothing comes after ${listOf(ends)}`]),
      ...(begins.length === 0 ? [] : [`nothing comes before ${listOf(begins)} on site`]),
    ];
    return `${some(found, 'step has', 'steps have')} a loose end: ${said.join('; ')}. Say what needs ${byNumber(found, 'it', 'them')}, or what ${byNumber(found, 'it needs', 'they need')}.`;
  },
  pair: (from: string, to: string) => `${from} to ${to}`,
  lag: (pair: string, length: string) => `${pair}, ${length}`,
  negativeLag: (found: number, pairs: readonly string[]) =>
    `${some(found, 'link does', 'links do')} not wait for the end of the step before: ${listOf(pairs)}. Use a head start in units instead.`,
  unnamedLag: (found: number, pairs: readonly string[]) =>
    `${some(found, 'wait between steps has', 'waits between steps have')} no reason: ${listOf(pairs)}. Note it beside the link.`,
  fixedStart: (found: number, of: number, steps: readonly string[]) =>
    `${found} of ${some(of, 'lot', 'lots')} ${byNumber(found, 'is', 'are')} fixed to an hour: ${listOf(steps)}. The more you fix, the less the plan can adapt.`,
  brokenPath: 'No unbroken chain of work leads from now to the finish.',
  highSlack: (found: number, of: number, steps: readonly string[]) =>
    `${found} of ${some(of, 'step', 'steps')} could, with unlimited help, wait for more than half of the time and still not move the end: ${listOf(steps)}. Is something missing that needs their units?`,
  slack: (step: string, length: string) => `${step} ${length}`,
  negativeSlack: (found: number, of: number, worst: string, length: string) =>
    `${found} of ${some(of, 'step', 'steps')} ${byNumber(found, 'runs past its', 'run past their')} last moment, ${worst} the furthest: ${length}.`,
  pathIndex: (length: string, left: string, byHands: boolean, index: string, least: number) =>
    `The longest chain needs ${length}${byHands ? ' of working time' : ''}; you have ${left} (${index}; aim for ${least} or more).`,
  noRoute: (found: number, parts: readonly string[]) =>
    `No step makes ${some(found, 'part', 'parts')}: ${listOf(parts)}. ${byNumber(found, 'Its', 'Their')} hours are missing.`,
  toMake: (name: string, toMake: number) => `${name} (${toMake} to make)`,
  missingKind: (kinds: readonly string[]) => `No step looks like ${listOf(kinds, 5)}. If you need it, plan it.`,
  kind: {
    testing: 'testing it',
    packing: 'packing',
    drive: 'the drive there',
    'load-in': 'the load-in',
    drying: 'drying or curing',
  },
  noHands: (found: number) =>
    `${some(found, 'step has', 'steps have')} nobody who may do ${byNumber(found, 'it', 'them')}.`,
  noMinutes: (found: number, steps: readonly string[]) =>
    `${some(found, 'step has', 'steps have')} no time given: ${listOf(steps)}. ${byNumber(found, 'It is', 'They are')} planned as if ${byNumber(found, 'it', 'they')} took none.`,
  guessed: (found: number, of: number, steps: readonly string[]) =>
    `${found} of ${some(of, 'step', 'steps')} ${byNumber(found, 'is', 'are')} only guessed: ${listOf(steps)}. Time a few units of each.`,
  longLot: (found: number, days: number, day: string, steps: readonly string[]) =>
    `${some(found, 'lot is', 'lots are')} longer than ${some(days, 'working day', 'working days')} of ${day}: ${listOf(steps)}. Split ${byNumber(found, 'it', 'them')} into smaller lots, so that you can count progress.`,
  unsigned: (steps: readonly string[]) =>
    `Anything hung above people or on mains needs a gate where a named, competent person signs: ${steps.join('; ')}.`,
  unsignedStep: (step: string, hazard: string) => `${step} (${hazard})`,
  noGate: (step: string) => `${step} has no such gate`,
  noSigner: (step: string, gate: string) => `${step}: “${gate}” does not say who signs`,
  totals: (steps: readonly string[]) => `The units of ${listOf(steps)} do not add up from lots to steps to parts.`,
  invalidDate: (lots: number, steps: readonly string[]) =>
    `${some(lots, 'lot is', 'lots are')} planned for an hour that has passed: ${listOf(steps)}.`,
  noFirstPlan: 'There is no first plan to compare the counts with: none of it could be scheduled.',
  missed: (lots: string, due: string, behind: readonly string[]) =>
    `${lots} of ${due} ${byNumber(Number(due), 'lot', 'lots')} due by now in the first plan ${byNumber(Number(lots), 'is', 'are')} not done: ${listOf(behind)}.`,
  behind: (step: string, done: number, due: number) => `${step} ${done} of the ${due} first planned`,
  execution: (done: string, due: string, percent: string, least: string) =>
    `${done} of ${due} ${byNumber(Number(due), 'lot', 'lots')} due by now in the first plan ${byNumber(Number(done), 'is', 'are')} done (${percent}; aim for ${least}).`,
  noChance: 'The chance of being ready could not be worked out; there is only a date.',
  staleLog: (length: string) => `Nothing counted for ${length}, with work left. Log what is done.`,
});
