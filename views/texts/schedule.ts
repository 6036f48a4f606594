/** The words for the schedule itself: what is proved of it, why it ends when it does, and what was left as it was. */
import { listOf } from './grammar.ts';

export const scheduleTexts = {
  anew: 'This is planned anew from the file. Pages keep the order of work that stands, so that their hours and last moments may differ a little.',
  proved: (when: string) => `No plan is ready before ${when}: this one is the best there is.`,
  gap: (bound: string, ready: string) =>
    `If everything takes as long as planned, the earliest possible finish is ${bound}. This plan is ready ${ready}.`,
  noSchedule: (bound: string) => `No plan is ready before ${bound}.`,
  impossible: {
    hands: (length: string, who: string, window: string) =>
      `Not enough hands: ${length} of ${who} are missing ${window}.`,
    machine: (length: string, which: string, window: string) =>
      `Not enough machine hours: ${length} of the ${which} are missing ${window}.`,
    other: (when: string) => `It cannot be done in time: no plan is ready before ${when}.`,
    past: (when: string) => `The ready-by has passed: no plan is ready before ${when}.`,
  },
  window: {
    before: (to: string) => `before ${to}`,
    between: (from: string, to: string) => `between ${from} and ${to}`,
  },
  by: {
    'critical-path': 'The longest chain of steps takes that long, however many people help.',
    hands: (who: string) => `All hours of ${who} until then are needed.`,
    machine: (which: string) => `All hours of the ${which} until then are needed.`,
    search: 'Every other plan was ruled out.',
  },
  byDelivery: (what: string, when: string) =>
    `${what} cannot be here before ${when}, and what comes after takes that long, however many people help.`,
  lotsAssumed: (lots: readonly string[]) =>
    `Nobody has said how many units a lot is of ${listOf(lots)}. Other lots may give another date: say it on Steps.`,
  lotOf: (name: string, units: string) => `${name} (${units} assumed)`,
  kept: (minutes: string, lots: number) =>
    `Keeps the sheet as it is: another order of work would gain ${minutes} of work, but ${lots === 1 ? 'one lot' : `${lots} lots`} of the coming day would move.`,
  why: {
    heading: 'Why this date',
    note: 'What drives the ready date, one after the other. To be ready sooner, something here must go faster.',
    more: (n: number) => (n === 1 ? 'One more link' : `${n} more links`),
    busy: (who: string) => `The hands of ${who}, from one thing to the next`,
    lots: (n: number) => `Link by link (${n})`,
    beyond: (n: number) => `… and ${n} more; the forecast's file has them all.`,
    unit: (n: string) => `unit ${n}`,
    units: (from: string, to: string) => `units ${from} to ${to}`,
    inLots: (n: number) => `in ${n} lots`,
    hands: (who: string) => `hands of ${who}`,
    machine: (which: string) => `on the ${which}`,
    supplier: (who: string) => `from ${who}`,
    waited: {
      now: 'can begin at once',
      begun: 'is under way',
      release: 'may not begin earlier',
      pinned: 'is pinned to that time',
    },
    waitedFor: {
      units: (step: string) => `waits for units of ${step}`,
      step: (step: string) => `waits for ${step}`,
      gate: (step: string) => `waits for ${step} to be passed`,
      supplier: (step: string) => `waits for the supplier: ${step}`,
    },
    taken: {
      hands: (who: string, step: string) => `waits for the hands of ${who}, busy with ${step}`,
      machine: (which: string, step: string) => `waits for the ${which}, taken by ${step}`,
      station: (which: string, step: string) => `waits for a ${which}, taken by ${step}`,
    },
    after: {
      morning: (to: string) => `then waits for morning, ${to}`,
      hands: (to: string) => `then until somebody is there, ${to}`,
      machine: (to: string) => `then until the machine may run, ${to}`,
    },
    stood: {
      morning: (from: string | null, to: string) => `stands${since(from)} until morning, ${to}`,
      hands: (from: string | null, to: string) => `stands${since(from)} until somebody is there, ${to}`,
      machine: (from: string | null, to: string) => `stands${since(from)} until the machine may run, ${to}`,
    },
    ready: 'ready',
  },
};

/** What stands already needs no instant: how long it has stood is not known from the schedule. */
function since(from: string | null): string {
  return from === null ? '' : ` from ${from}`;
}
