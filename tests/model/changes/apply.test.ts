import { describe, expect, it } from 'vitest';
import { applyChanges, type Build, type Change, changeListOf, readChangeList } from '../../../server/model/index.ts';
import { fakeBuild } from '../../support/fake-build.ts';

const build = fakeBuild();
const set = (list: string, key: string, field: string, value?: unknown): Change =>
  ({ kind: 'set', list, key, field, ...(value === undefined ? {} : { value }) }) as Change;

function refusal(changes: readonly unknown[]): string[] {
  const before = JSON.stringify(build);
  const result = applyChanges(build, changes as Change[]);
  expect(JSON.stringify(build)).toBe(before);
  return result.ok
    ? []
    : result.problems.map(({ code, field, value, message }) => `${code} ${field} ${value}: ${message}`);
}

function made(changes: readonly Change[]): Build {
  const result = applyChanges(build, changes);
  if (!result.ok) throw new Error(result.problems[0]!.message);
  return result.value;
}

describe('a list of changes', () => {
  it('is refused where a thing is gone', () => {
    expect(refusal([set('parts', 'hook', 'spares', 4)])).toEqual([
      'gone parts.hook hook: Somebody has removed the part "hook"; look at the plan as it is now.',
    ]);
    expect(refusal([{ kind: 'remove', list: 'feeds', key: 'press>nothing' }])[0]).toMatch(/^gone feeds\.press>nothing/);
    expect(refusal([{ kind: 'move', list: 'steps', key: 'press', after: 'gone' }])).toEqual([
      'gone steps.press gone: The step "press" cannot come after "gone", which is not there; name one that is, or null for the start.',
    ]);
  });

  it.each<[string, Change[], RegExp]>([
    [
      'a part removed and its count set',
      [{ kind: 'remove', list: 'parts', key: 'fish' }, set('parts', 'fish', 'count', 44)],
      /^contradiction parts\.fish 44: The changes contradict each other: the part "fish" is removed and has count 44\. Keep one/,
    ],
    [
      'two values for one field',
      [set('parts', 'fish', 'spares', 4), set('parts', 'fish', 'spares', 5)],
      /^contradiction parts\.fish\.spares 5: .*has spares 4 and has spares 5/,
    ],
    [
      'a field set and emptied',
      [set('parts', 'fish', 'spares'), set('parts', 'fish', 'spares', 5)],
      /has no spares and has spares 5/,
    ],
    [
      'two values for a field of the build',
      [
        { kind: 'set', list: 'build', field: 'name', value: 'A' },
        { kind: 'set', list: 'build', field: 'name', value: 'B' },
      ],
      /^contradiction name B: .*the build has name "A" and has name "B"/,
    ],
    [
      'a thing put twice with different content',
      [
        { kind: 'put', list: 'machines', key: 'saw', thing: { id: 'saw', name: 'saw' } },
        { kind: 'put', list: 'machines', key: 'saw', thing: { id: 'saw', name: 'band saw' } },
      ],
      /the machine "saw" is new as .*"saw"} and is new as .*"band saw"}/,
    ],
    [
      'a thing brought to two places',
      [
        { kind: 'move', list: 'steps', key: 'press', after: null },
        { kind: 'move', list: 'steps', key: 'press', after: 'wire' },
      ],
      /the step "press" comes first and comes after "wire"/,
    ],
    [
      'a parameter with two new names',
      [
        { kind: 'rename', list: 'parameters', key: 'panels', to: 'a' },
        { kind: 'rename', list: 'parameters', key: 'panels', to: 'b' },
      ],
      /is called "a" and is called "b"/,
    ],
  ])('is refused with %s', (_, changes, words) => {
    const said = refusal(changes);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(words);
  });

  it('may say the same twice', () => {
    const change = set('parts', 'fish', 'spares', 6);
    expect(made([change, change]).parts![1]!.spares).toBe(6);
    const saw: Change = { kind: 'put', list: 'machines', key: 'saw', thing: { id: 'saw', name: 'saw' } };
    expect(made([saw, saw]).machines!.map(({ id }) => id)).toEqual(['printer', 'saw']);
  });

  it.each<[string, unknown, RegExp]>([
    [
      'an unknown field',
      set('parts', 'fish', 'colour', 'red'),
      /^unknown-name parts\.fish\.colour colour: A part has no field "colour"; it has name, source, count/,
    ],
    [
      'an unknown field of the build',
      { kind: 'set', list: 'build', field: 'steps', value: [] },
      /^unknown-name steps steps: A build has no field "steps"; it has name, zone/,
    ],
    [
      'the id of a thing',
      set('parts', 'fish', 'id', 'eel'),
      /^conflict parts\.fish\.id eel: "id" of the part "fish" stays/,
    ],
    [
      'the id of the build',
      { kind: 'set', list: 'build', field: 'id', value: 'x' },
      /^conflict id x: "id" of the build/,
    ],
    ['the name of a parameter', set('parameters', 'panels', 'name', 'p'), /^conflict .*is changed by renaming it/],
    [
      'the ends of a feed',
      set('feeds', 'wire>load', 'to', 'press'),
      /^conflict feeds\.wire>load\.to press: "to" of the feed "wire>load" stays/,
    ],
    [
      'a new thing that is there',
      { kind: 'put', list: 'parts', key: 'fish', thing: build.parts![1] },
      /^duplicate-id parts\.fish fish: There is a part "fish" already/,
    ],
    [
      'a new thing by another key',
      { kind: 'put', list: 'machines', key: 'saw', thing: { id: 'mill', name: 'mill' } },
      /^conflict machines\.saw saw: .*called "mill"/,
    ],
    [
      'a new thing that is none',
      { kind: 'put', list: 'machines', key: 'saw', thing: { id: 'saw' } },
      /^shape machines\.name nothing: "machines\.name" is missing/,
    ],
    [
      'a value of the wrong kind',
      set('parts', 'fish', 'spares', true),
      /^shape parts\.fish\.spares true: .*a number, or a formula.*it is true/,
    ],
    [
      'a needed field emptied',
      set('parts', 'fish', 'source'),
      /^shape parts\.fish\.source nothing: "parts\.fish\.source" is missing/,
    ],
    [
      'a name that is taken',
      { kind: 'rename', list: 'parameters', key: 'panels', to: 'fish' },
      /^duplicate-id parameters\.panels fish: There is a parameter "fish" already/,
    ],
    [
      'a name that is none',
      { kind: 'rename', list: 'parameters', key: 'panels', to: 'two words' },
      /^shape parameters\..*a letter followed by letters, digits and _/,
    ],
  ])('is refused with %s', (_, change, words) => {
    expect(refusal([change])[0]).toMatch(words);
  });

  it('is refused whole: what was right in it is not made either', () => {
    expect(refusal([set('parts', 'fish', 'spares', 9), set('parts', 'eel', 'spares', 9)])).toHaveLength(1);
  });

  it('keeps the place of a thing that is changed, and the order of its list', () => {
    const { parts } = made([set('parts', 'fish', 'spares', 9)]);
    expect(parts!.map(({ id }) => id)).toEqual(build.parts!.map(({ id }) => id));
  });
});

describe('a list of changes from outside', () => {
  const changes: Change[] = [set('parts', 'fish', 'spares', 6)];
  const list = changeListOf('tide-wall', changes);
  const words = (value: unknown): string[] => {
    const read = readChangeList(value, 'tide-wall');
    return read.ok ? [] : read.problems.map(({ code, field, message }) => `${code} ${field}: ${message}`);
  };

  it('is read back as it was written', () => {
    expect(readChangeList(JSON.parse(JSON.stringify(list)), 'tide-wall')).toEqual({ ok: true, value: changes });
  });

  it.each<[string, unknown, RegExp]>([
    [
      'of another build',
      { ...list, build: 'arch' },
      /^conflict build: These changes are for the build "arch"; this is "tide-wall"\.$/,
    ],
    [
      'of another version',
      { ...list, version: 2 },
      /^version version: This Daywright reads changes of version 1 of the build file; these are of version 2\.$/,
    ],
    [
      'of another format',
      { ...list, format: 'x' },
      /^shape format: "format" must be "daywright-changes"; it is "x"\.$/,
    ],
    ['that is none', 'x', /^shape : A list of changes has "format", "version", "build" and "changes"; this is "x"\.$/],
    ['without changes', { ...list, changes: undefined }, /^shape changes: "changes" must be an array; it is missing/],
    [
      'with an unknown list',
      { ...list, changes: [{ kind: 'remove', list: 'bolts', key: 'x' }] },
      /^unknown-name changes\.0\.list: A build has no list "bolts"; it has parameters, limits, parts/,
    ],
    [
      'with an unknown kind',
      { ...list, changes: [{ kind: 'swap' }] },
      /^unknown-name changes\.0\.kind: A change must be one of put, remove, move, set, rename; it is "swap"\.$/,
    ],
    [
      'with a change that is none',
      { ...list, changes: [null] },
      /^shape changes\.0: A change is an object with "kind"; this is null\.$/,
    ],
    [
      'with a key too many',
      { ...list, changes: [{ ...changes[0], why: 'x' }] },
      /^shape changes\.0\..*"why", which is not a name used there/,
    ],
    [
      'without a key',
      { ...list, changes: [{ kind: 'remove', list: 'parts' }] },
      /^shape changes\.0\.key: "key" is missing/,
    ],
    ['with the id of no build', { ...list, build: 'No Good' }, /^shape build: .*small letters, digits and hyphens/],
  ])('is refused %s', (_, value, said) => {
    expect(words(value)[0]).toMatch(said);
  });
});
