/** Lines for what builds forget: only what is lacking, each understood as it is. */
import { expect, it } from 'vitest';
import { type Build, forgottenLines, patternLine, readLines, WORK_PATTERNS } from '../../../server/model/index.ts';
import { lantern } from '../../store/helpers.ts';

const bare: Build = {
  ...lantern(),
  gates: [],
  parts: [{ id: 'slat', name: 'Slat', source: 'make', count: 200 }],
  steps: [{ id: 'paint', name: 'Paint', part: 'slat', phases: [{ kind: 'hands', perUnit: 3 }] }],
};

it('offers each thing that is lacking, and none of it once its line is in the build', () => {
  const offered = forgottenLines(bare);
  expect(offered.map(({ code }) => code)).toEqual(['cure', 'test', 'spares', 'pack', 'drive', 'load-in', 'strike']);
  const read = readLines(offered.map(({ line }) => line).join('\n'), bare);
  expect(
    read.lines.flatMap(({ text, wrong, problems }) => (wrong === null && problems.length === 0 ? [] : [text])),
  ).toEqual([]);
  expect(forgottenLines(read.build)).toEqual([]);
  expect(read.build.parts?.[0]?.spares).toBe(6);
  expect(read.build.strike).toEqual([{ id: 'strike', name: 'Strike', minutes: 120, people: 1 }]);
  expect(read.build.steps.slice(1).every(({ origin }) => origin === 'guessed')).toBe(true);
  expect(forgottenLines({ ...bare, steps: [] })).toEqual([]);
});

it('offers nobody who is alone a job for two', () => {
  const alone: Build = { ...bare, people: [{ id: 'me', name: 'Me', hours: 'daily 18-22' }] };
  expect(forgottenLines(alone).map(({ line }) => line)).toContain('pack 3 h');
  expect(patternLine('load-in', alone)).toBe('load in 2 h');
  expect(patternLine('load-in', { ...alone, people: [] })).toBe('load in 2 h with 2 people');
});

it('asks for no curing where what is painted dries in a rack that is planned as a machine', () => {
  const racked: Build = {
    ...bare,
    machines: [{ id: 'rack', name: 'Drying rack' }],
    steps: [{ ...bare.steps[0]!, phases: [{ kind: 'run', machine: 'rack', minutes: 480 }] }],
  };
  expect(forgottenLines(racked).map(({ code }) => code)).not.toContain('cure');
});

it.each(Object.entries(WORK_PATTERNS))('has a pattern of work for %s that is understood', (_, line) => {
  const [read] = readLines(line, bare).lines;
  expect(read).toMatchObject({ wrong: null, problems: [] });
});
