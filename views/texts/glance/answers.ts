/** What sheets answer, in the few words that Contents says of each. */

import { worded } from '../../../server/model/texts/language.ts';
import { some } from '../grammar.ts';

export const answerTexts = worded({
  likely: (chance: string) => `${chance} likely by the ready-by`,
  ready: (when: string, room: string) => `ready ${when}, room ${room}`,
  now: (step: string) => `now: ${step}`,
  next: (step: string, when: string) => `next: ${step}, ${when}`,
  steps: (done: string, all: string) => `${done} of ${all} done`,
  decide: (question: string, when: string) => `${question} Decide before ${when}.`,
  order: (n: number, first: string, when: string) =>
    n === 1 ? `to order: ${first} before ${when}` : `${n} to order, first ${first} before ${when}`,
  ordered: 'everything is ordered',
  money: (total: string, toCome: string) => `${total} altogether, ${toCome} still to come`,
  design: (parts: number, limits: number, broken: number) =>
    [
      some(parts, 'part', 'parts'),
      ...(limits === 0 ? [] : [some(limits, 'limit', 'limits')]),
      ...(broken === 0 ? [] : [`${broken} broken`]),
    ].join(', '),
  hands: (people: number, machines: number) =>
    `${some(people, 'person', 'people')}, ${some(machines, 'machine', 'machines')}`,
  show: (stops: number) => some(stops, 'open point', 'open points'),
  /** The groups that Contents puts the sheets in. */
  group: { look: 'Look', plan: 'Plan', change: 'Change', show: 'Paper and show', access: 'Who comes in' },
});
