import { expect, it } from 'vitest';
import type { TurnFact } from '../../../server/model/index.ts';
import { LOG_KINDS } from '../../../server/model/log/index.ts';
import { editSubjectText, turnCauseText } from '../../../views/words/cause-words.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { fakeForecast } from '../../support/fake-forecast.ts';

const PAGE = { build: fakeBuild(), forecast: fakeForecast() };
const FIRST = PAGE.forecast.steps[0]!;
const editText = (edit: number): string | null => (edit === 2 ? 'part “Fish” changed' : null);
const text = (...cause: TurnFact[]): string => turnCauseText(cause, PAGE, editText);

it('says edits in their words, what was logged, and that time went by where there was neither', () => {
  expect(text()).toBe('time passed');
  expect(text({ code: 'nothing-counted' })).toBe('nothing counted yet');
  expect(
    text(
      { code: 'edit', edit: 2 },
      { code: 'logged', kind: 'done', n: 12, step: { id: FIRST.id, name: 'as it was called then' } },
      { code: 'more', n: 3 },
    ),
  ).toBe(`part “Fish” changed; 12 done at ${FIRST.name}; and 3 more`);
});

it('says of what is gone what it was called then, and of an edit that is gone its number', () => {
  expect(text({ code: 'logged', kind: 'sent-back', n: 1, step: { id: 'gone', name: 'glue on' } })).toBe(
    '1 sent back at glue on',
  );
  expect(text({ code: 'edit', edit: 9 })).toBe('edit 9');
  expect(text({ code: 'said', text: 'step "glue" removed' })).toBe('step "glue" removed');
});

it('has words for every kind of entry', () => {
  const step = { id: FIRST.id, name: FIRST.name };
  const words = LOG_KINDS.map((kind) => text({ code: 'logged', kind, n: 2, step }));
  expect(words.every((line) => !/undefined|null/.test(line))).toBe(true);
  expect(new Set(words).size).toBe(LOG_KINDS.length);
  expect(text({ code: 'logged', kind: 'lost', n: 1 })).toBe('time lost');
  expect(text({ code: 'logged', kind: 'lost', n: 1, of: { id: 'gone', name: 'Ana' } })).toBe('time lost: Ana');
});

it('says an edit among the parts of a row by its number, and as it was kept where that is a sentence', () => {
  expect(['2', '9', 'step "glue" removed'].map((subject) => editSubjectText(subject, editText))).toEqual([
    'part “Fish” changed',
    'edit 9',
    'step "glue" removed',
  ]);
});
