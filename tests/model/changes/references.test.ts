import { describe, expect, it } from 'vitest';
import { type Build, referencesTo, type ThingList } from '../../../server/model/index.ts';

const build: Build = {
  id: 'arch',
  name: 'Arch',
  zone: 'UTC',
  event: '2026-12-20T19:00',
  sets: { count: 'boughs', name: 'bough' },
  parameters: [
    { name: 'boughs', value: 5 },
    { name: 'drums', formula: '18 * boughs' },
  ],
  parts: [
    { id: 'bough', name: 'Bough', source: 'make', count: 'boughs' },
    { id: 'drum', name: 'Drum', source: 'make', usedIn: [{ part: 'bough', count: 18 }], dependsOn: ['drums'] },
    { id: 'shell', name: 'Shell', source: 'send-out', supplier: 'mill', usedIn: [{ part: 'drum', count: 1 }] },
  ],
  suppliers: [{ id: 'mill', name: 'the mill', lead: 4 }],
  people: [{ id: 'me', name: 'Me', hours: 'always', can: ['cut'] }],
  machines: [{ id: 'saw', name: 'saw' }],
  steps: [
    { id: 'cut', name: 'Cut', part: 'drum', after: ['order-shell'], phases: [{ kind: 'run', machine: 'saw' }] },
    {
      id: 'fit',
      name: 'Fit',
      after: [{ step: 'cut', lag: '2 h' }],
      phases: [{ kind: 'hands', who: ['me'] }],
      uses: ['shell'],
    },
    { id: 'pack', name: 'Pack', after: ['test'] },
  ],
  feeds: [{ from: 'cut', to: 'pack', lag: 'drums' }],
  gates: [{ id: 'test', name: 'Test', after: ['fit'], minutes: 5, sendsBack: [{ step: 'cut', units: 'boughs' }] }],
  decisions: [{ id: 'loud', question: 'How loud?', waits: ['fit'] }],
};

const users = (list: ThingList, key: string) =>
  referencesTo(build, list, key).map((it) => `${it.list} ${it.key} ${it.field}`);

describe('what needs a thing', () => {
  it.each<[ThingList, string, string[]]>([
    ['gates', 'test', ['steps pack after']],
    ['steps', 'cut', ['steps fit after', 'feeds cut>pack from', 'gates test sendsBack']],
    ['steps', 'fit', ['gates test after', 'decisions loud waits']],
    ['steps', 'pack', ['feeds cut>pack to']],
    ['parts', 'bough', ['parts drum usedIn']],
    ['parts', 'drum', ['parts shell usedIn', 'steps cut part']],
    ['parts', 'shell', ['steps cut after', 'steps fit uses']],
    ['suppliers', 'mill', ['parts shell supplier']],
    ['machines', 'saw', ['steps cut phases']],
    ['people', 'me', ['steps fit phases']],
    ['parameters', 'boughs', ['build  sets', 'parameters drums formula', 'parts bough count', 'gates test sendsBack']],
    ['parameters', 'drums', ['parts drum dependsOn', 'feeds cut>pack lag']],
    ['decisions', 'loud', []],
    ['feeds', 'cut>pack', []],
  ])('is named by where it says so: %s %s', (list, key, expected) => {
    expect(users(list, key)).toEqual(expected);
  });
});
