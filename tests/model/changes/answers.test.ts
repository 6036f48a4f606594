import { describe, expect, it } from 'vitest';
import {
  answerProblems,
  answersOf,
  answerText,
  type Build,
  type Decision,
  decidingChanges,
  readAnswerText,
} from '../../../server/model/index.ts';

const build: Build = {
  id: 'arch',
  name: 'arch',
  zone: 'UTC',
  event: '2026-12-20T18:00',
  parameters: [{ name: 'panels', value: 3 }],
  parts: [{ id: 'bough', name: 'bough', source: 'make', count: 'panels' }],
  steps: [{ id: 'cut', name: 'cut', part: 'bough', takes: 10 }],
};
const decision: Decision = {
  id: 'who',
  question: 'Who makes the boughs?',
  waits: ['cut'],
  answers: ['We do', { name: 'The welder', changes: readAnswerText('bough: welder; panels = 40')! }],
};

describe('what an answer changes', () => {
  it.each([
    ['bough: welder', [{ list: 'parts', key: 'bough', field: 'way', value: 'welder' }]],
    ['panels = 40', [{ list: 'parameters', key: 'panels', field: 'value', value: 40 }]],
    ['steps.cut.takes = 2 h', [{ list: 'steps', key: 'cut', field: 'takes', value: '2 h' }]],
    ['steps.cut.onSite = true', [{ list: 'steps', key: 'cut', field: 'onSite', value: true }]],
    ['machines.saw.hours = null', [{ list: 'machines', key: 'saw', field: 'hours', value: null }]],
  ])('is typed as %s, and read back as it was', (text, changes) => {
    expect(readAnswerText(text)).toEqual(changes);
    expect(answerText(changes as never)).toBe(text);
    expect(readAnswerText(`${text}; ${text}`)).toHaveLength(2);
  });

  it.each(['', 'the welder', 'bough', 'rooms.a.b = 3', 'bough: welder; and so on'])('is none in “%s”', (text) => {
    expect(readAnswerText(text)).toBeNull();
  });

  it('is made once, when the decision falls on it', () => {
    const decided = { ...decision, decided: 'The welder' };
    const changes = decidingChanges(decision, decided);
    expect(changes).toEqual(answersOf(decision)[1]!.changes);
    expect(changes.map(({ kind }) => kind)).toEqual(['set', 'set']);
    expect(decidingChanges(decided, decided)).toEqual([]);
    expect(decidingChanges(null, { ...decision, decided: 'We do' })).toEqual([]);
    expect(decidingChanges(null, { ...decision, decided: 'Nobody' })).toEqual([]);
  });

  it('that cannot be made says which answer it is, and why', () => {
    const wrong = { ...decision, answers: [{ name: 'Fewer', changes: readAnswerText('pillars = 3')! }] };
    const [found] = answerProblems(build, wrong);
    expect(found?.field).toBe('decisions.who.answers.0.changes');
    expect(found?.message).toContain('pillars');
    expect(answerProblems(build, decision)).toEqual([]);
  });
});
