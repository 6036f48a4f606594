import { expect, it } from 'vitest';
import { chanceText } from '../../views/verdict.tsx';

it('says a chance in whole per cent, never more than it is, and never that it is sure', () => {
  expect([0.29, 0.5, 0.947, 0.95, 0.9511].map(chanceText)).toEqual(['29 %', '50 %', '94 %', '95 %', '95 %']);
  expect([0, 0.0096, 0.01].map(chanceText)).toEqual(['under 1 %', 'under 1 %', '1 %']);
  expect([0.995, 0.9951, 1].map(chanceText)).toEqual(['99 %', 'over 99 %', 'over 99 %']);
});
