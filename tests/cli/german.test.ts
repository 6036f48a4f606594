/** The command line in the language of the terminal: German where its environment says so. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../server/model/index.ts';
import { terminalLanguage } from '../../server/web/language.ts';
import { fakeBuild } from '../support/fake-build.ts';
import { type EnglishLeft, englishLeft } from '../web/answers/english-left.ts';
import { buildFile, daywright, fileOf } from './helpers.ts';

const GERMAN = { LANG: 'de_DE.UTF-8' };

let english: EnglishLeft;
beforeAll(async () => {
  english = await englishLeft();
});

const LATERNE: Build = {
  id: 'laterne',
  name: 'Laterne',
  zone: 'Europe/Berlin',
  event: '2026-12-04T18:00',
  loadIn: '2026-12-04T12:00',
  currency: 'EUR',
  sets: { count: 2, name: 'Feld' },
  parameters: [{ name: 'n', range: { low: 30, likely: 40, high: 60 } }],
  parts: [
    { id: 'rippe', name: 'Rippe', source: 'make', count: 'n', yield: 0.9 },
    { id: 'lack', name: 'Lack', source: 'buy', count: 3, supplier: 'laden', unit: 'L', packSize: 2.5, unitCost: 20 },
  ],
  suppliers: [{ id: 'laden', name: 'Laden', lead: { low: 2, likely: 4, high: 9 } }],
  people: [{ id: 'ana', name: 'Ana', hours: 'daily 18:00-23:00' }],
  machines: [{ id: 'ofen', name: 'Ofen' }],
  steps: [
    { id: 'biegen', name: 'Biegen', part: 'rippe', phases: [{ kind: 'hands', perUnit: 14 }], hazards: ['blades'] },
    {
      id: 'backen',
      name: 'Backen',
      part: 'rippe',
      phases: [{ kind: 'run', machine: 'ofen', minutes: 200 }],
      lotSize: 6,
    },
    { id: 'kleben', name: 'Kleben', part: 'rippe', perSet: true, phases: [{ kind: 'hands', perUnit: 9 }] },
    { id: 'lose', name: 'Lose', phases: [{ kind: 'hands', minutes: 30, who: ['ana'] }] },
  ],
  gates: [{ id: 'probe', name: 'Probe', after: ['kleben'], minutes: 10, failChance: 0.2 }],
  decisions: [{ id: 'farbe', question: 'Welche Farbe?', waits: ['kleben'] }],
};
const BEGUN = [
  { id: 'e-0000001', kind: 'done', step: 'biegen', n: 10, at: '2026-11-29T19:00:00Z' },
  { id: 'e-0000002', kind: 'done', step: 'biegen', n: 10, at: '2026-11-29T21:30:00Z' },
  { id: 'e-0000003', kind: 'ordered', step: 'order-lack', n: 1, at: '2026-11-27T10:00:00Z' },
] as const;
/** Fields of the file, and what is only in it, are left as they are. */
const WRONG: Build = {
  ...LATERNE,
  event: '2020-01-01T10:00',
  readyBy: '2026-12-09T10:00',
  parts: [...LATERNE.parts!, { id: 'ring', name: 'Ring', source: 'make', count: '2 *' }],
  steps: [...LATERNE.steps, { id: 'weg', name: 'Weg', part: 'fort', phases: [{ kind: 'hands', who: ['nie'] }] }],
};

describe('the language of a terminal', () => {
  it.each([
    [{}, 'en'],
    [{ LANG: '' }, 'en'],
    [{ LANG: 'C.UTF-8' }, 'en'],
    [{ LANG: 'de_DE.UTF-8' }, 'de'],
    [{ LANG: 'de' }, 'de'],
    [{ LANG: 'de_AT@euro' }, 'de'],
    [{ LANG: 'en_GB.UTF-8', LC_MESSAGES: 'de_CH' }, 'de'],
    [{ LANG: 'de_DE', LC_ALL: 'C' }, 'en'],
    [{ LANG: 'de_DE', LC_ALL: '' }, 'de'],
    [{ LANG: 'dex' }, 'en'],
  ])('of %j is %s', (env, language) => {
    expect(terminalLanguage(env)).toBe(language);
  });
});

describe('in a German terminal', () => {
  it('a plan is summed up without a word of English', async () => {
    const { code, out } = await daywright(['plan', fileOf(buildFile(LATERNE, [...BEGUN]))], GERMAN);
    expect(code).toBe(0);
    expect(out).toMatch(/^Laterne {3}\(Europe\/Berlin, jetzt Mo 30\. Nov 13:00\)/);
    expect(out).toMatch(/\nFertigtermin +/);
    expect(out).toMatch(/ von \d+ .*übrig/);
    expect(english.in(out)).toEqual([]);
    expect(out).not.toMatch(/\b(needed|finished|left|before|room|here|has|needs)\b/);
  });

  it('what is wrong with a build is said in German, in words and as data', async () => {
    const file = fileOf(buildFile(WRONG));
    const { code, err } = await daywright(['plan', file], GERMAN);
    expect(code).toBe(2);
    expect(err).toMatch(/^Fehler {3}event: Die Veranstaltung \(Mi 1\. Jan 10:00\) ist vorbei/m);
    expect(english.in(err)).toEqual([]);
    const asData = await daywright(['plan', file, '--json'], GERMAN);
    const { problems } = JSON.parse(asData.out) as { problems: { message: string; sentence?: unknown }[] };
    expect(problems.length).toBeGreaterThan(3);
    for (const one of problems) expect([english.in(one.message), one.sentence]).toEqual([[], undefined]);
  });

  it.each([
    [['--help']],
    [['formulas']],
    [['levers', 'FILE']],
    [['ways', 'FILE']],
    [['calendar', 'FILE']],
    [['calendar', 'FILE', '--person', 'x']],
    [['calendar', 'FILE', '--alarm', 'x']],
    [['plan', 'FILE', '--now', 'gestern']],
    [['plan', 'FILE', '--budget', '-1', '--seed', 'x']],
    [['plan']],
    [['plan', 'a', 'b']],
    [['plan', '/gibts/nicht.json']],
    [['plan', '/']],
    [['tanz']],
    [[]],
    [['schema', '--seed', '3']],
    [['export', 'nichts', '--db', ':memory:']],
    [['close', 'nichts', '--db', ':memory:']],
    [['restore', '/gibts/nicht.sqlite', '--db', ':memory:']],
  ])('%j answers in German', async (args) => {
    const file = fileOf(buildFile(LATERNE));
    const { out, err } = await daywright(
      args.map((one) => (one === 'FILE' ? file : one)),
      GERMAN,
    );
    expect(out + err).not.toBe('');
    expect(english.in(out + err)).toEqual([]);
  });

  it('the schema of the file says in German what its fields hold, and is else the same', async () => {
    const [german, own] = [await daywright(['schema'], GERMAN), await daywright(['schema'])];
    expect(german.out).toContain('"description": "kleine Buchstaben, Ziffern und Bindestriche, höchstens 60"');
    expect(english.in(german.out)).toEqual([]);
    const bare = (text: string) => text.replace(/"description": "(?:[^"\\]|\\.)*"/g, '""');
    expect(bare(german.out)).toBe(bare(own.out));
  });
});

it('is English where nothing else is asked for, whoever reads German beside it', async () => {
  const file = fileOf(buildFile(fakeBuild()));
  const [german, own] = await Promise.all([daywright(['plan', file], GERMAN), daywright(['plan', file])]);
  expect(own.out).toMatch(/^Tide Wall {3}\(.*, now Mon 30 Nov/);
  expect(german.out).toMatch(/^Tide Wall {3}\(.*, jetzt Mo 30\. Nov/);
});
