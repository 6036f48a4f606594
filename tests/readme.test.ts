import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../server/engine/plan.ts';
import { type Build, checkBuildFile, checkNewLogEntry } from '../server/model/index.ts';
import { parseBuildText } from '../server/planner/index.ts';

const text = (name: string): string => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8');
const README = text('README.md');
const examples = [...README.matchAll(/```yaml\n([\s\S]*?)```/g)].map((match) => match[1]!);
/** 2031-03-05T09:00Z in minutes since the epoch: a day on which both examples are under way. */
const NOW = 32_174_460;

describe('the README', () => {
  it('has two build files that plan without a fault', () => {
    expect(examples).toHaveLength(2);
    for (const example of examples) {
      const value = parseBuildText(example, 'the example');
      const file = value.ok ? checkBuildFile(value.value) : value;
      expect(file).toMatchObject({ ok: true });
      if (!file.ok) continue;
      const forecast = planBuild(file.value.build, file.value.log ?? [], NOW);
      expect(forecast.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(forecast.complete).toBe(true);
      expect(forecast.room.event.clock).toBeGreaterThan(0);
      expect(forecast.criticalPath.length).toBeGreaterThan(1);
    }
  });

  it('counts by its own example on a step of its own build file', () => {
    const sent = JSON.parse(/-d '(\{.*\})'/.exec(README)![1]!) as { entries: unknown[] };
    const file = parseBuildText(examples[0]!, 'the example');
    const { build } = (file.ok ? file.value : {}) as { build: Build };
    const [entry] = sent.entries.map(checkNewLogEntry);
    expect(entry).toMatchObject({ ok: true, value: { kind: 'done', n: 8 } });
    expect(build.steps.map(({ id }) => id)).toContain(entry!.ok && entry!.value.step);
    expect(README).toContain(`/b/${build.id}/entries`);
  });

  it('names commands that there are', () => {
    const { scripts } = JSON.parse(text('package.json')) as { scripts: Record<string, string> };
    const named = [...`${README}${text('DEVELOPERS.md')}`.matchAll(/npm (?:run (?:-s )?)?([a-z]+)/g)].map((m) => m[1]!);
    const known = new Set([...Object.keys(scripts), 'ci', 'run', 'i']);
    expect(named.length).toBeGreaterThan(5);
    expect(named.filter((name) => !known.has(name))).toEqual([]);
  });

  it('leads from the map to files that there are', () => {
    const paths = [...text('DEVELOPERS.md').matchAll(/`((?:server|views|tests|migrations|seed)\/[\w./-]+)`/g)];
    expect(paths.length).toBeGreaterThan(15);
    for (const [, path] of paths)
      expect(() => readFileSync(new URL(`../${path}`, import.meta.url)), path).not.toThrow(/ENOENT/);
  });
});
