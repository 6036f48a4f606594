import { expect, test } from 'vitest';
import { couldUseIn } from '../../../server/engine/13-ripple/could-use.ts';
import type { Build, CouldUse, Part } from '../../../server/model/index.ts';
import { seeded } from '../../support/fuzz-requests.ts';

const MATERIALS = ['rod', 'sheet', 'cord'];
const PARAMETERS = ['length', 'width', 'drop'];

test('what could use units is found by kinds of parts as by looking at each part', () => {
  const draw = seeded(3);
  for (let round = 0; round < 150; round++) {
    const build = randomBuild(draw);
    const left = new Map((build.parts ?? []).map(({ id }) => [id, Math.floor(draw() * 4)]));
    const couldUse = couldUseIn(build, left);
    for (const { id } of build.parts ?? []) {
      const all = lookedAtEach(build, left, id);
      const { count, parts } = couldUse(id);
      expect(count).toBe(all.length);
      expect(parts).toEqual(all.length > 7 ? all.slice(0, 6) : all);
    }
  }
});

test('many parts on one parameter are named in time that grows with them, not with their pairs', () => {
  const parts = Array.from({ length: 2000 }, (_, i): Part => ({ ...made(`p${i}`), dependsOn: ['length'] }));
  const build: Build = { ...EMPTY, parameters: [{ name: 'length', value: 4 }], parts };
  const couldUse = couldUseIn(build, new Map(parts.map(({ id }) => [id, 1])));
  const { count, parts: first } = couldUse('p3');
  expect([count, ...first.map(({ part }) => part)]).toEqual([1999, 'p0', 'p1', 'p2', 'p4', 'p5', 'p6']);
});

const EMPTY: Build = { id: 'b', name: 'b', zone: 'UTC', event: '2027-01-01T18:00', steps: [] };

function made(id: string): Part {
  return { id, name: id, source: 'make', count: 4 };
}

function randomBuild(draw: () => number): Build {
  const some = (of: readonly string[], chance: number): string[] => of.filter(() => draw() < chance);
  const parts = Array.from({ length: 4 + Math.floor(draw() * 14) }, (_, i): Part => {
    const source = draw() < 0.15 ? 'buy' : 'make';
    return { ...made(`p${i}`), source, dependsOn: some(PARAMETERS, 0.4) };
  });
  const materials = MATERIALS.map((id): Part => {
    const usedIn = parts.filter(() => draw() < 0.15).map((part) => ({ part: part.id, count: 1 }));
    return { ...made(id), source: 'buy', usedIn };
  });
  return { ...EMPTY, parameters: PARAMETERS.map((name) => ({ name, value: 1 })), parts: [...parts, ...materials] };
}

/** Every other part by itself, in the order of the build; those that share most first. */
function lookedAtEach({ parts = [] }: Build, left: ReadonlyMap<string, number>, id: string): CouldUse[] {
  const materialsOf = (part: string): string[] =>
    parts
      .filter(({ source, usedIn = [] }) => source !== 'make' && usedIn.some((use) => use.part === part))
      .map((one) => one.id);
  const parametersOf = (part: string): string[] => {
    const named = parts.find((one) => one.id === part)!.dependsOn ?? [];
    return PARAMETERS.filter((name) => named.includes(name));
  };
  const [own, rests] = [materialsOf(id), parametersOf(id)];
  return parts
    .filter((part) => part.id !== id && part.source !== 'buy' && left.get(part.id)! > 0)
    .map((part): CouldUse => {
      const materials = materialsOf(part.id).filter((one) => own.includes(one));
      const parameters = parametersOf(part.id).filter((one) => rests.includes(one));
      return { part: part.id, left: left.get(part.id)!, materials, parameters };
    })
    .filter(({ part, materials, parameters }) =>
      own.length > 0 ? materials.length > 0 : materialsOf(part).length === 0 && parameters.length > 0,
    )
    .sort((a, b) => b.materials.length - a.materials.length || b.parameters.length - a.parameters.length);
}
