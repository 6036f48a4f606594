/** The words for the schedule itself: what is proved about it, why it gives this date, and what it left as it was. */

import { worded } from '../../server/model/texts/language.ts';
import { listOf, some } from './grammar.ts';

export const scheduleTexts = worded({
  anew: 'Worked out from the file alone. The pages keep the sequence already given out, so their times may differ a little.',
  proved: (when: string) => `No plan can be ready before ${when}: this one is the best there is.`,
  gap: (bound: string, ready: string) =>
    `This plan is ready ${ready}. If everything takes as long as planned, the earliest possible finish is ${bound}.`,
  noSchedule: (bound: string) => `No plan can be ready before ${bound}.`,
  impossible: {
    hands: (length: string, who: string, window: string) =>
      `Not enough hands: ${who} would need ${length} more ${window}.`,
    machine: (length: string, which: string, window: string) =>
      `Not enough machine hours: the ${which} would need ${length} more ${window}.`,
    other: (when: string) => `Not possible in time: no plan can be ready before ${when}.`,
    past: (when: string) => `The ready-by has passed; no plan can be ready before ${when}.`,
  },
  window: {
    before: (to: string) => `before ${to}`,
    between: (from: string, to: string) => `between ${from} and ${to}`,
  },
  by: {
    'critical-path': 'The longest chain of steps takes that long, however many people help.',
    hands: (who: string) => `The hours of ${who} allow nothing earlier.`,
    machine: (which: string) => `The hours of the ${which} allow nothing earlier.`,
    search: 'The search ruled out every other plan.',
  },
  byDelivery: (what: string, when: string) =>
    `${what} cannot arrive before ${when}, and the work after that takes that long, however many people help.`,
  lotsAssumed: (lots: readonly string[]) =>
    `Lot sizes are assumed for ${listOf(lots)}. Other lots may give another date: set them on Steps.`,
  lotOf: (name: string, units: string) => `${name} (${units})`,
  kept: (minutes: string, lots: number) =>
    `Plan kept as it is: another sequence would save ${minutes}, but move ${some(lots, 'lot', 'lots')} in the next 24\u00a0h.`,
  why: {
    heading: 'Why this date',
    note: 'These jobs, in this sequence, set the date. To be ready sooner, shorten one of them.',
    more: (n: number) => `${n} more ${n === 1 ? 'link' : 'links'}`,
    busy: (who: string) => `${who}, straight from one job to the next`,
    lots: (n: number) => `Link by link (${n})`,
    beyond: (n: number) => `… and ${n} more; the forecast file has them all.`,
    unit: (n: string) => `unit ${n}`,
    units: (from: string, to: string) => `units ${from} to ${to}`,
    inLots: (n: number) => `in ${some(n, 'lot', 'lots')}`,
    hands: (who: string) => `by ${who}`,
    machine: (which: string) => `on the ${which}`,
    supplier: (who: string) => `from ${who}`,
    waited: {
      now: 'can start at once',
      begun: 'is in hand',
      release: 'may not start earlier',
      pinned: 'is fixed to that time',
    },
    waitedFor: {
      units: (step: string) => `waits for units of ${step}`,
      step: (step: string) => `waits for ${step}`,
      gate: (step: string) => `waits until ${step} is passed`,
      supplier: (step: string) => `waits for the supplier: ${step}`,
    },
    taken: {
      hands: (who: string, step: string) => `waits for ${who}, busy with ${step}`,
      machine: (which: string, step: string) => `waits for the ${which}, busy with ${step}`,
      station: (which: string, step: string) => `waits for a ${which}, busy with ${step}`,
    },
    after: {
      morning: (to: string) => `then waits until ${to}`,
      hands: (to: string) => `then nobody is there until ${to}`,
      machine: (to: string) => `then the machine may not run until ${to}`,
    },
    stood: {
      morning: (from: string | null, to: string) => `waits${since(from)} until ${to}`,
      hands: (from: string | null, to: string) => `nobody is there${since(from)} until ${to}`,
      machine: (from: string | null, to: string) => `the machine may not run${since(from)} until ${to}`,
    },
    ready: 'ready',
  },
});

/** What waits already needs no instant: the schedule does not know how long it has waited. */
function since(from: string | null): string {
  return from === null ? '' : ` from ${from}`;
}
