import { expect, test } from 'vitest';
import { patternText } from '../../../views/words/pattern-words.ts';
import { filing } from '../../engine/_filing.ts';

const BUILD = {
  ...filing(1),
  suppliers: [{ id: 'ropewalk', name: 'Ropewalk', lead: 5, deliveryDays: 'mon-fri' }],
};

test('the phases of a step are said in their order, with what a lot and what a unit takes', () => {
  const hands = { kind: 'hands', fixedMinutes: 90, minutesPerUnit: 2.54 } as const;
  const wait = { kind: 'wait', fixedMinutes: 180, minutesPerUnit: 0 } as const;
  expect(patternText(BUILD, [hands, wait])).toBe('hands 1\u00a0h 30\u00a0min 2.5\u00a0min each + wait 3\u00a0h');
});

test('an order is said by the name of its supplier, or by the id of one that is gone', () => {
  expect(patternText(BUILD, [{ kind: 'lead', supplier: 'ropewalk', workingDays: 5 }])).toBe('Ropewalk 5 working days');
  expect(patternText(BUILD, [{ kind: 'lead', supplier: 'mill', workingDays: 1 }])).toBe('mill 1 working day');
});
