import { describe, expect, it } from 'vitest';
import {
  asRead,
  checkBuildFile,
  englishOf,
  hoursAndMinutes,
  inWords,
  messageOf,
  problem,
  problemTexts,
  wordsOf,
} from '../../server/model/index.ts';
import { recorded, type Sentence, saidBy } from '../../server/model/texts/sentence.ts';

const { amounts, pins, shape, log } = problemTexts;

it('keeps lengths of work in hours', () => {
  const said = [1710, 59.2, 0, -90].map((minutes) => hoursAndMinutes(minutes));
  expect(said).toEqual(['28 h 30 min', '1 h', '0 min', '−1 h 30 min']);
  expect(hoursAndMinutes(95, '\u00a0')).toBe('1\u00a0h 35\u00a0min');
});

it('shows a number that JSON has no word for as itself, not as null', () => {
  const refusal = (count: number): string => {
    const parts = [{ id: 'p', name: 'P', source: 'make', count }];
    const build = { id: 'a', name: 'A', zone: 'UTC', event: '2027-03-29T19:00', parts, steps: [] };
    const checked = checkBuildFile({ format: 'daywright-build', version: 1, build });
    return checked.ok ? '' : messageOf(checked.problems[0]!);
  };
  expect(refusal(Number.POSITIVE_INFINITY)).toMatch(/; it is Infinity\.$/);
  expect(refusal(Number.NaN)).toMatch(/; it is NaN\.$/);
});

describe('a sentence as facts', () => {
  const nested = shape.whole(shape.subject('sets.count'), shape.mustBe(shape.type('integer'), '4.5'));

  it('says in English what its text says, with sentences for values', () => {
    expect(englishOf(amounts.tooSmall('sets.count', 1, 0))).toBe('"sets.count" must be at least 1; it is 0.');
    expect(englishOf(nested)).toBe('"sets.count" must be a whole number; it is 4.5.');
    expect(englishOf(log.unfit('done', 'check', log.unfitBecause.gate))).toContain(': a gate is passed or failed.');
  });

  it('takes lists and objects that hold sentences', () => {
    const tables = { all: (of: { names: readonly string[] }) => of.names.join(' + '), one: 'one', two: 'two' };
    const texts = recorded(tables);
    expect(saidBy(tables, texts.all({ names: [texts.one, 'x', texts.two] }))).toBe('one + x + two');
  });

  it('is the same after JSON and after a thread, infinite numbers too', () => {
    const all: Sentence[] = [
      nested,
      pins.units(3, null),
      problemTexts.formula.infiniteName('a', Number.POSITIVE_INFINITY),
      problemTexts.log.idTaken('x', { kind: 'done', at: '2026-11-30T12:00:00Z' }),
    ];
    for (const one of all) {
      expect(englishOf(JSON.parse(JSON.stringify(one)) as Sentence)).toBe(englishOf(one));
      expect(structuredClone(one)).toEqual(one);
    }
  });

  it('says nothing where no table has its text', () => {
    const read = (text: string) => JSON.parse(JSON.stringify({ text, values: [] })) as Sentence;
    expect(wordsOf(read('amounts.ofAnotherVersion'))).toBeNull();
    expect(wordsOf(read('constructor.name'))).toBeNull();
    const kept = { message: 'As it was kept.', sentence: read('gone.text') };
    expect([messageOf(kept), messageOf({ message: 'Older still.' })]).toEqual(['As it was kept.', 'Older still.']);
  });
});

describe('a problem', () => {
  const found = problem('negative-count', 'sets.count', 0, amounts.tooSmall('sets.count', 1, 0));

  it('carries its sentence in English and as facts, and passes both on', () => {
    expect(found).toMatchObject({ message: englishOf(amounts.tooSmall('sets.count', 1, 0)), severity: 'error' });
    expect(problem('gone', 'x', 'y', found).sentence).toEqual(found.sentence);
  });

  it('goes out to programs in words alone, wherever it is in what is sent', () => {
    const sent = JSON.parse(JSON.stringify({ rows: [{ problems: [found] }], sentence: 'a note' }, asRead)) as unknown;
    expect(sent).toEqual({ rows: [{ problems: [inWords(found)] }], sentence: 'a note' });
    expect(Object.keys(inWords(found))).toEqual(['code', 'severity', 'field', 'value', 'message']);
  });
});

it('lets no facts into words where messageOf was forgotten: the compiler refuses them', () => {
  const facts = amounts.tooSmall('sets.count', 1, 0);
  // @ts-expect-error facts in a template read "[object Object]"
  const inTemplate = `${facts}`;
  expect(inTemplate).toBe('[object Object]');
});
