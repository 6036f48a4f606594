import { expect, it } from 'vitest';
import type { LogEntry } from '../../server/model/index.ts';
import { causeOf } from '../../server/planner/index.ts';

const NAMES = { steps: [{ id: 'cut', name: 'cut ribs' }], people: [{ id: 'ana', name: 'Ana' }] };
const AT = '2026-12-01T18:00:00Z';
const entry = (n: number, more: Pick<LogEntry, 'kind'> & Partial<LogEntry>): LogEntry => ({
  id: `entry-${String(n).padStart(4, '0')}`,
  at: AT,
  ...more,
});

it('names edits by their numbers, and what was logged with what it was called then, by its id where it was gone', () => {
  const cause = causeOf(
    [3],
    [
      entry(1, { kind: 'done', step: 'cut', n: 4 }),
      entry(2, { kind: 'began', step: 'cut' }),
      entry(3, { kind: 'done', step: 'cut', n: 8, person: 'ana' }),
      entry(4, { kind: 'lost', person: 'ana', until: '2026-12-01T20:00:00Z' }),
      entry(5, { kind: 'scrapped', step: 'glue' }),
    ],
    NAMES,
  );
  expect(cause).toEqual([
    { code: 'edit', edit: 3 },
    { code: 'logged', kind: 'done', n: 12, step: { id: 'cut', name: 'cut ribs' } },
    { code: 'logged', kind: 'lost', n: 1, of: { id: 'ana', name: 'Ana' } },
    { code: 'logged', kind: 'scrapped', n: 1, step: { id: 'glue', name: 'glue' } },
  ]);
});

it('is nothing when nothing was edited or logged', () => {
  expect(causeOf([], [entry(1, { kind: 'confirmed' })], NAMES)).toEqual([]);
});

it('is the first of many facts, and how many more there were', () => {
  const many = causeOf(
    [1, 2, 3, 4],
    [1, 2, 3, 4].map((n) => entry(n, { kind: 'done', step: `step-${n}` })),
    NAMES,
  );
  expect(many).toHaveLength(7);
  expect(many.at(-1)).toEqual({ code: 'more', n: 2 });
});
