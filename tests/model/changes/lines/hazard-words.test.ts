import { expect, test } from 'vitest';
import { planBuild } from '../../../../server/engine/plan.ts';
import { type Build, hazardGuesses } from '../../../../server/model/index.ts';

const named = (name: string, ...machines: string[]) => hazardGuesses(name, machines).map(({ hazard }) => hazard);

test.each<[string, string[]]>([
  ['saw ribs', ['dust', 'blades', 'noise']],
  ['cutting discs', ['dust', 'blades', 'noise']],
  ['milled panels', ['dust', 'blades', 'noise']],
  ['print cranks', ['fumes']],
  ['spraying', ['spray']],
  ['Paint eyes', ['spray']],
  ['varnish', ['spray']],
  ['weld the frame', ['hot-work']],
  ['grinding', ['hot-work']],
  ['solder the eyes', ['fumes']],
  ['cast feet in epoxy', ['resins']],
  ['load in and hang', ['height', 'overhead', 'lifting']],
  ['rigging', ['height', 'overhead', 'lifting']],
  ['wire panel', ['mains']],
  ['charge the batteries', ['batteries']],
  ['laser-cut fins', ['lasers', 'fumes']],
  ['drive there by van', ['driving']],
  ['pack the wall', ['lifting']],
  ['sort screws', []],
  ['turn right at the castle, cute as prose', ['dust', 'blades', 'noise']],
  ['righteous castles, wireless vanity', []],
])('"%s" probably has %j', (name, hazards) => expect(named(name)).toEqual(hazards));

test('a machine speaks for its step, and the name is said where both do', () => {
  expect(hazardGuesses('ribs', ['Band saw'])).toEqual([
    { hazard: 'dust', from: 'machine' },
    { hazard: 'blades', from: 'machine' },
    { hazard: 'noise', from: 'machine' },
  ]);
  expect(hazardGuesses('saw ribs', ['Band saw', 'Printer'])).toEqual([
    { hazard: 'dust', from: 'name' },
    { hazard: 'blades', from: 'name' },
    { hazard: 'fumes', from: 'machine' },
    { hazard: 'noise', from: 'name' },
  ]);
});

test('guesses are of steps that people do here, until somebody has said what they have', () => {
  const step = (more: object) => {
    const steps = [{ id: 'it', name: 'saw ribs', phases: [{ kind: 'hands', minutes: 10 }], ...more }];
    const build = {
      id: 'ribs',
      name: 'Ribs',
      zone: 'UTC',
      event: '2026-12-12T19:00',
      people: [{ id: 'ria', name: 'Ria', hours: 'daily 18:00-22:00' }],
      suppliers: [{ id: 'mill', name: 'Mill', lead: 3 }],
      steps,
    } as unknown as Build;
    return planBuild(build, [], 29_770_000).steps[0]!.perhaps?.map(({ hazard }) => hazard) ?? null;
  };
  expect(step({})).toEqual(['dust', 'blades', 'noise']);
  expect(step({ hazards: ['dust'] })).toBeNull();
  expect(step({ hazards: [] })).toBeNull();
  expect(step({ phases: [{ kind: 'lead', supplier: 'mill' }] })).toBeNull();
  expect(step({ name: 'sort screws' })).toBeNull();
});
