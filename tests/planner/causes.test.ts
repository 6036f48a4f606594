import { expect, it } from 'vitest';
import { causeOf } from '../../server/planner/index.ts';

const NAMES = { steps: [{ id: 'cut', name: 'cut ribs' }], people: [{ id: 'ana', name: 'Ana' }] };
const AT = '2026-12-01T18:00:00Z';

it('names steps and people as the maker does, and by their ids what is no longer there', async () => {
  const cause = causeOf(
    ['step "glue" removed'],
    [
      { id: 'entry-0001', kind: 'done', step: 'cut', n: 4, at: AT },
      { id: 'entry-0002', kind: 'done', step: 'cut', n: 8, at: AT },
      { id: 'entry-0003', kind: 'lost', person: 'ana', at: AT, until: '2026-12-01T20:00:00Z' },
      { id: 'entry-0004', kind: 'scrapped', step: 'glue', n: 1, at: AT },
    ],
    NAMES,
  );
  expect(cause).toBe('step "glue" removed; 12 done at cut ribs; time of Ana lost; 1 scrapped at glue');
});

it('says that time went by when nothing was edited or logged', async () => {
  expect(causeOf([], [], NAMES)).toBe('time went by');
});
