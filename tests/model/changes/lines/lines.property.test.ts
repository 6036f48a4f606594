/**
 * Whatever is typed as lines: nothing is thrown, nothing is half done, and the same lines twice change nothing more.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Build, checkBuild, readLines } from '../../../../server/model/index.ts';

const EMPTY: Build = { id: 'arch', name: 'Arch', zone: 'America/New_York', event: '2027-01-15T18:00', steps: [] };
const WORDS = [
  ...[
    '5',
    '32',
    'x',
    '1,5',
    '-3',
    '0',
    '18 in 45 min',
    '3 h 20',
    '2h30',
    '6 h',
    '3 min',
    '3 to 5 min',
    '2 weeks',
    '5 days',
  ],
  ...[
    'slats',
    'rails',
    'per rail',
    'a',
    'each',
    'in all',
    'at night',
    'on a plate of 6',
    'in lots of 4',
    '2 coats',
    'twice',
  ],
  ...[
    'sand',
    'oil',
    'dry',
    'print',
    'test',
    'pack',
    'joiner',
    'bought',
    'from',
    'by',
    'may fail',
    '20 %',
    'back to',
    'sand',
  ],
  ...[
    '=',
    ',',
    ';',
    '%',
    '€4',
    '#',
    '"',
    '<b>',
    'ø',
    '😀',
    '\t',
    '\u202e',
    '1e9',
    'Infinity',
    '99999999999',
    '..',
    '3-',
    'with 2 people',
  ],
];

const line = fc.array(fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...WORDS) }, fc.string()), {
  minLength: 1,
  maxLength: 9,
});
const text = fc
  .array(
    line.map((words) => words.join(' ')),
    { minLength: 1, maxLength: 4 },
  )
  .map((lines) => lines.join('\n'));

it('reads any words without a throw into a build that its own check takes, once and for all', () => {
  let understood = 0;
  fc.assert(
    fc.property(text, (typed) => {
      const { build, lines, changes } = readLines(typed, EMPTY);
      expect(checkBuild(build)).toMatchObject({ ok: true });
      for (const one of lines) if (one.wrong !== null) expect(one.changes).toEqual([]);
      expect(changes).toEqual(lines.flatMap((one) => one.changes));
      understood += lines.filter(({ wrong, problems }) => wrong === null && problems.length === 0).length;
    }),
    { numRuns: 1500, seed: 20261129 },
  );
  expect(understood).toBeGreaterThan(200);
});

it('changes nothing more by the same line of a part a second time', () => {
  const clause = fc.constantFrom(
    'sand 3 min each',
    'oil 2 coats 4 min, dry 6 h',
    'on a plate of 6, 3 h 20',
    '3 spares',
    'joiner, 5 days',
    'cut 18 in 45 min',
  );
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 400 }), fc.uniqueArray(clause, { maxLength: 4 }), (n, clauses) => {
      const typed = [`${n} slats`, ...clauses].join(', ');
      const once = readLines(typed, EMPTY);
      expect(readLines(typed, once.build)).toMatchObject({ changes: [], build: once.build });
    }),
    { numRuns: 200, seed: 20261129 },
  );
});
