import { expect, it } from 'vitest';
import { causeOfLine } from '../../server/model/index.ts';

it.each([
  ['time went by', []],
  ['nothing counted yet', [{ code: 'nothing-counted' }]],
  ['edit 12', [{ code: 'edit', edit: 12 }]],
  [
    'edit 2; 12 done at cut ribs; and 3 more',
    [
      { code: 'edit', edit: 2 },
      { code: 'said', text: '12 done at cut ribs' },
      { code: 'more', n: 3 },
    ],
  ],
  ['step "glue" removed', [{ code: 'said', text: 'step "glue" removed' }]],
  ['edit 2 of 3', [{ code: 'said', text: 'edit 2 of 3' }]],
])('the line “%s” of a ledger that was kept is read', (line, cause) => {
  expect(causeOfLine(line)).toEqual(cause);
});
