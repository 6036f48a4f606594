import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { parseBuildText } from '../../server/planner/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { NOON } from './simple-forecast.ts';

function said(text: string, name = 'a.yaml'): string {
  const read = parseBuildText(text, name);
  return read.ok ? 'read' : read.problems.map(({ message }) => message).join(' ');
}

const lines = (count: number, line: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => line(i)).join('\n');

describe('a text that would take long to read', () => {
  it.each([
    [
      'very many keys in one map',
      lines(200_000, (i) => `k${i}: 1`),
      'a.yaml is too long to be read as YAML (about 400,000 values, at most 100,000). Write it as JSON.',
    ],
    [
      'dashes',
      '-\n'.repeat(1_000_000),
      'a.yaml is too long to be read as YAML (about 2,000,000 values, at most 100,000). Write it as JSON.',
    ],
    [
      'small maps',
      '- {a: 1}\n'.repeat(100_000),
      'a.yaml is too long to be read as YAML (about 400,000 values, at most 100,000). Write it as JSON.',
    ],
    ['dashes in one line', '- '.repeat(100_000), 'a.yaml is not YAML: it is nested too deeply.'],
  ])('because of %s is refused in a sentence before it is read', (_, text, sentence) => {
    expect(said(text)).toBe(sentence);
  });

  it('is refused as JSON too when it is nested beyond reason', () => {
    expect(said(`${'['.repeat(300)}${']'.repeat(300)}`, 'a.json')).toBe('a.json is not JSON: it is nested too deeply.');
  });
});

describe('a YAML text', () => {
  it('that says a key twice is refused, wherever the map stands', () => {
    expect(said('a: 1\nb: 2\na: 3')).toBe('a.yaml is not YAML: Map keys must be unique; "a" is there twice.');
    expect(said('- {x: 1, "x": 2}')).toMatch(/"x" is there twice/);
    expect(said('a: {x: 1}\nb: {x: 2}')).toBe('read');
  });

  it('of the demo and its log is read as what was written', () => {
    const demo = tideWall(NOON);
    expect(parseBuildText(stringify(demo), 'demo.yaml')).toEqual({ ok: true, value: demo });
  });
});
