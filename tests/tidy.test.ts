/** The house rules that can be checked by reading the files. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..');

interface Source {
  /** Path from the root, with slashes. */
  readonly path: string;
  readonly text: string;
  /** The text without its comments. */
  readonly code: string;
}

const sources = ['server', 'views', 'seed'].flatMap((folder) => filesIn(folder, /\.tsx?$/)).map(sourceOf);
const tests = filesIn('tests', /\.tsx?$/).map(sourceOf);

/** What each room may import: other rooms, and packages by the start of their name. `*` is anything. */
const MAY_IMPORT: Readonly<
  Record<string, { readonly rooms: readonly string[]; readonly packages: readonly string[] }>
> = {
  'server/model': { rooms: [], packages: ['typebox'] },
  'server/engine': {
    rooms: ['server/model'],
    packages: ['@dagrejs/graphlib', '@date-fns/tz', 'jsep'],
  },
  'server/turns': { rooms: [], packages: [] },
  'server/store': { rooms: ['server/model', 'server/turns'], packages: ['better-sqlite3', 'node:'] },
  'server/planner': {
    rooms: ['server/model', 'server/turns', 'server/engine', 'server/store'],
    packages: ['node:', 'piscina', 'yaml'],
  },
  views: {
    rooms: ['server/model', 'server/turns'],
    packages: ['preact', 'preact-render-to-string', 'd3-', '@dagrejs/dagre', 'date-fns/locale/', 'uqr'],
  },
  'views/client': { rooms: ['server/model/log'], packages: ['preact', 'preact-render-to-string'] },
  'server/web': {
    rooms: ['server/model', 'server/turns', 'server/engine', 'server/store', 'server/planner', 'views'],
    packages: ['node:', 'fastify', '@fastify/', 'csv-', 'pino', 'selfsigned', 'uqr'],
  },
  'server/cli': {
    rooms: ['server/model', 'server/engine', 'server/store', 'server/planner', 'server/web', 'server', 'views'],
    packages: ['node:', 'yaml'],
  },
  seed: { rooms: ['server/model'], packages: [] },
  server: { rooms: ['*'], packages: ['*'] },
};

/** The shapes that the phone and the server send each other: types alone, known on both sides. */
const WIRE = 'views/client/outbox/count-wire.ts';
/** What the server draws of the Count page and the phone too. */
const DRAWN_BY_BOTH = ['views/client/tickets/ticket-body.tsx', 'views/client/tickets/packed.ts'];
/** Where those types are drawn from: the schemas that the description of the API is made of. */
const WIRE_SHAPES = 'server/model/answers/count-shapes.ts';
/** The rules of the log, for engine, planner and phone: they import nothing, not even the rest of their room. */
const LOG = 'server/model/log';
/** What the phone says and draws by itself on the Count page, in which language, and what keeps names apart in it. */
const ON_THE_PHONE = [
  ...['views/texts/count/phone.ts', 'server/model/texts/language.ts', 'views/german/count/phone.ts'],
  ...['views/texts/count/sheet.ts', 'views/german/count/sheet.ts', 'views/isolate.ts'],
  'server/model/texts/length.ts',
];

describe('the rooms', () => {
  it('import only what they may', () => {
    expect(sources.flatMap(strayImports)).toEqual([]);
  });

  it('are all in the table, and the tests mirror them', () => {
    expect([...new Set(sources.map(roomOf))].filter((room) => !(room in MAY_IMPORT))).toEqual([]);
    const rooms = Object.keys(MAY_IMPORT).map((room) => room.replace(/^server\//, ''));
    const known = [...rooms, 'bench', 'browser', 'faults', 'fault', 'stories', 'support'];
    const mirrored = new Set(
      tests
        .map(({ path }) => path.split('/'))
        .filter((p) => p.length > 2)
        .map((p) => p[1]!),
    );
    expect([...mirrored].filter((folder) => !known.includes(folder))).toEqual([]);
  });

  it('share with the browser nothing but shapes, the rules of the log and the texts and tickets of its page', () => {
    const wire = sources.find(({ path }) => path === WIRE);
    expect(wire?.code).not.toMatch(/\b(function|const|class|let|import(?! type))\b/);
    const shared = [...inside(LOG), ...sources.filter(({ path }) => ON_THE_PHONE.includes(path))];
    expect(shared.length).toBeGreaterThan(3);
    expect(
      offenders(
        shared,
        /\b(from|import)\s*\(?\s*'(?!\.\/|(\.\.\/)+(texts\/count\/(phone|sheet)|server\/model\/texts\/language)\.ts)/,
      ),
    ).toEqual([]);
  });

  it('speak SQL in the store alone', () => {
    const sql =
      /\b(select\s[^;'"`<]*\sfrom\s|insert\s+(or\s+\w+\s+)?into\s|delete\s+from\s|create\s+table\s|update\s+\w+\s+set\s)/i;
    expect(offenders(outside('server/store'), sql)).toEqual([]);
    expect(
      sources.filter(({ path, code }) => path.startsWith('server/store/') && sql.test(code)).length,
    ).toBeGreaterThan(2);
  });
});

/** The rooms of the engine in the order of the computation: an import points up this list only. */
const ENGINE_ROOMS = [
  'types.ts',
  'numbers',
  'calendar',
  'log',
  '01-quantities',
  '02-steps',
  '03-pace',
  '04-lots',
  '05-network',
  '06-critical-path',
  '07-levelling',
  'stages',
  '08-risk',
  '09-threats',
  '10-answers',
  '11-ledger',
  '12-soundness',
  '13-ripple',
  '14-levers',
  '15-show',
  'plan.ts',
  'index.ts',
];

describe('the engine', () => {
  it('imports in the order of the computation, and other rooms through their doors', () => {
    expect(engine.flatMap(againstTheOrder)).toEqual([]);
    expect([...new Set(engine.map(engineRoomOf))].filter((room) => !ENGINE_ROOMS.includes(room))).toEqual([]);
    const outside = sources.filter(({ path }) => !path.startsWith('server/engine/'));
    const besides = outside.flatMap((source) => targetsOf(source).map((to) => ({ from: source.path, to })));
    const doors = ['server/engine/index.ts'];
    expect(besides.filter(({ to }) => to.startsWith('server/engine/') && !doors.includes(to))).toEqual([]);
  });

  const engine = inside('server/engine');

  it('asks no clock, rolls no dice and reaches for nothing outside', () => {
    const impure =
      /\b(Math\.random|performance\.|process\.|globalThis|require\(|fetch\(|setTimeout|setInterval|setImmediate|queueMicrotask|crypto\.)|\b(import|from)\s*\(?\s*'node:/;
    expect(offenders(engine, impure)).toEqual([]);
  });

  it('meets dates in clock.ts alone', () => {
    const dates = /\bnew Date\b|\bDate\.|\bIntl\./;
    expect(offenders(engine, dates).filter((path) => !path.startsWith('server/engine/calendar/clock.ts:'))).toEqual([]);
    expect(offenders(engine, /\bDate\.now|new Date\(\)/)).toEqual([]);
  });

  it('awaits nothing', () => {
    expect(offenders(engine, /\basync\b|\bawait\b|\bPromise\b/)).toEqual([]);
  });
});

/** The rooms that find what is wrong or worth knowing, and leave the wording to the texts. */
const WORDLESS = ['server/engine', 'server/planner', 'server/model'];
/** Where a sentence may be: in the table of texts itself. */
const MAY_SAY = ['server/model/texts/'];

describe('sentences', () => {
  const found = WORDLESS.flatMap(inside).filter(({ path }) => !MAY_SAY.some((one) => path.startsWith(one)));

  it('are made of facts in the texts: engine, planner and model hand out codes with values', () => {
    expect(found.length).toBeGreaterThan(200);
    expect(found.flatMap(sentencesIn)).toEqual([]);
  });

  it('for bad input are in one table, whose files all come through its index', () => {
    const files = inside('server/model/texts').filter(({ path }) => !path.endsWith('/index.ts'));
    expect(files.length).toBeGreaterThan(10);
    const index = sources.find(({ path }) => path === 'server/model/texts/index.ts')!;
    expect(files.filter(({ path }) => !targetsOf(index).includes(path))).toEqual([]);
  });
});

/**
 * A problem's `message` is its English; `messageOf` says it in the reader's language. A read of it is the key of a row,
 * or of an error of the machine.
 */
const READS_ENGLISH = new RegExp(
  [
    /(?<!\berror|Error\)|\.\.)\??\.message\b/,
    /\(\{[^{}]*\bmessage\b[^{}]*\}(?:: (?:Problem|Said))?\) =>/,
    /\{[^{}]*\bmessage\b[^{}]*\}: (?:Problem|Said)\b/,
    /\b(?:const|let) \{[^{}]*\bmessage\b[^{}]*\} =(?!.*\bas NodeJS)/,
  ]
    .map(({ source }) => source)
    .join('|'),
  'g',
);

function readsOfEnglish({ path, code }: Source): string[] {
  const shown = code.replace(/\bkey=\{[^{}]*\}/g, '');
  return [...shown.matchAll(READS_ENGLISH)].map(([read]) => `${path}: ${read}`);
}

describe('what is wrong with an input', () => {
  const shown = ['views', 'server/web', 'server/cli']
    .flatMap(inside)
    .filter(({ path }) => !/^views\/(client|texts|german)\//.test(path));

  it('is said by messageOf wherever somebody reads it, never by the English of a problem', () => {
    expect(shown.length).toBeGreaterThan(200);
    expect(shown.flatMap(readsOfEnglish)).toEqual([]);
  });

  it('is found where it is not, however it is read', () => {
    for (const code of ['<li>{it.message}</li>', '({ message }) => message', 'const { field, message } = problem;'])
      expect(readsOfEnglish(bad('views/x.tsx', code))).toHaveLength(1);
    for (const code of ['<li key={it.message}>', 'error.message', '(error as Error).message', 'messageOf(it)'])
      expect(readsOfEnglish(bad('views/x.tsx', code))).toEqual([]);
  });
});

/** Where words that look like a sentence are none of ours to put into a table: by file, with the reason. */
const NO_SENTENCES: Readonly<Record<string, string>> = {
  'server/model/changes/lines/forgotten.ts': 'quick lines as somebody would type them, which are read in English alone',
  'server/web/places/cities.ts': 'names of cities',
  'server/web/stray.ts': 'a status line of HTTP',
  'views/forms/week.tsx': 'hours as they are typed in every language',
  'views/sheets/keys.tsx': 'a command and its answer, to be copied',
};
/** The tables: English, German, and what is said of bad input. */
const TABLES = /^(views\/texts|views\/german|server\/model\/texts)\//;

describe('what a user reads', () => {
  const outside = sources.filter(({ path }) => /^(server|views)\//.test(path) && !TABLES.test(path));

  it('is in the tables of texts: no other file holds four words in a row', () => {
    expect(outside.length).toBeGreaterThan(500);
    expect(outside.filter(({ path }) => !(path in NO_SENTENCES)).flatMap(wordsIn)).toEqual([]);
    const reasons = outside.filter(({ path }) => path in NO_SENTENCES).map((source) => wordsIn(source).length);
    expect(reasons).toHaveLength(Object.keys(NO_SENTENCES).length);
    expect(reasons.every((found) => found > 0)).toBe(true);
  });
});

describe('imports', () => {
  it('close no circle, those of types included', () => {
    expect(circlesAmong(importsOf(sources))).toEqual([]);
  });

  it('close no circle of folders beside each other either', () => {
    expect(circlesAmong(foldersBeside(sources))).toEqual([]);
  });
});

/** What no other file of ours uses and stays all the same: by name, with the reason. */
const KEPT_UNUSED: Readonly<Record<string, readonly string[]>> = {
  'the pool of workers calls them by their names': [
    'attribute',
    'findLevers',
    'read',
    'rightSize',
    'tryOut',
    'waysBeside',
  ],
  'what tests compare pages and criteria with': ['HX_NAMES'],
};

describe('what is exported', () => {
  const dead = unusedExports([...sources, ...tests]).map(({ name }) => name);

  it('is used by the product, or kept for a reason', () => {
    const kept = Object.values(KEPT_UNUSED).flat();
    expect(dead.filter((name) => !kept.includes(name))).toEqual([]);
    expect(kept.filter((name) => !dead.includes(name))).toEqual([]);
  });
});

describe('a type that is exported', () => {
  it('is imported somewhere', () => {
    expect(unusedTypes([...sources, ...tests])).toEqual([]);
  });
});

describe('folders', () => {
  it('hold no more than two dozen things', () => {
    const sizes = new Map<string, number>();
    const paths = [...[...sources, ...tests].map(({ path }) => path), ...filesIn('views', /\.css$/)];
    for (const folder of new Set(paths.map((path) => dirname(path)))) {
      sizes.set(folder, readdirSync(join(ROOT, folder)).length);
    }
    expect([...sizes].filter(([, size]) => size > 24)).toEqual([]);
  });
});

describe('the views', () => {
  const views = inside('views').filter(({ path }) => !path.startsWith('views/client/'));

  it('write no raw HTML and know no dates', () => {
    expect(offenders(views, /dangerouslySetInnerHTML|innerHTML/)).toEqual([]);
    expect(offenders(views, /\bnew Date\b|\bDate\.|\bIntl\./)).toEqual([]);
  });

  it('carry no script and no style of their own in an attribute', () => {
    expect(offenders(views, /<script[^>]*>[^<]|\bhx-on|\bon[a-z]+=["{]|javascript:/)).toEqual([]);
  });

  it('load nothing from another machine', () => {
    const foreign = /\b(src|href|url)\s*[=(]\s*["'{`(]*https?:/;
    expect(offenders(views, foreign)).toEqual([]);
    expect(offenders(filesIn('views', /\.css$/).map(sourceOf), /url\(\s*["']?https?:|@import/)).toEqual([]);
  });
});

describe('every file', () => {
  it('has words above each exported function of a room', () => {
    const described = [
      ...inside('server/engine'),
      ...inside('server/store'),
      ...inside('server/planner'),
      ...inside('server/cli'),
    ];
    expect(described.flatMap(undescribed)).toEqual([]);
  });

  it('wraps its comments at the width of its code', () => {
    const wide = [...sources, ...tests].flatMap(({ path, text }) =>
      text
        .split('\n')
        .flatMap((line, i) => (line.length > 120 && /^\s*(\*|\/\/|\/\*)/.test(line) ? [`${path}:${i + 1}`] : [])),
    );
    expect(wide).toEqual([]);
  });

  it('says at its head what it is', () => {
    expect(sources.filter(({ text }) => !/^(#!.*\n)?\/\*\*/.test(text)).map(({ path }) => path)).toEqual([]);
  });

  it('has no function longer than a page', () => {
    expect(sources.flatMap(longFunctions)).toEqual([]);
  });

  it('runs all of its tests', () => {
    expect(offenders(tests, /\b(it|test|describe)\.only\b|\b(fit|fdescribe)\(/)).toEqual([]);
  });

  it('says nothing of the machine that it was written on', () => {
    const here = new RegExp(['/work', '/main\\b|/home', '/\\w|/root', '/'].join(''));
    expect(offenders([...sources, ...tests], here, 'text')).toEqual([]);
    const lock = readFileSync(join(ROOT, 'package-lock.json'), 'utf8');
    expect(lock).not.toMatch(/"resolved"/);
  });
});

describe('the migrations', () => {
  it('are numbered from 001 without a gap', () => {
    const names = readdirSync(join(ROOT, 'migrations')).sort();
    expect(names.length).toBeGreaterThan(0);
    for (const [i, name] of names.entries()) {
      expect(name).toMatch(new RegExp(`^${String(i + 1).padStart(3, '0')}-[a-z0-9-]+\\.sql$`));
    }
  });
});

describe('these checks', () => {
  it('find what they look for', () => {
    expect(strayImports(bad('server/engine/x.ts', "import { a } from 'node:fs';"))).toHaveLength(1);
    expect(strayImports(bad('server/engine/x.ts', "import { a } from '../store/index.ts';"))).toHaveLength(1);
    expect(strayImports(bad('views/x.tsx', "import { a } from '../server/planner/types.ts';"))).toHaveLength(1);
    expect(strayImports(bad('server/model/x.ts', "export * from 'fastify';"))).toHaveLength(1);
    expect(strayImports(bad('server/web/x.ts', "const a = await import('better-sqlite3');"))).toHaveLength(1);
    expect(strayImports(bad('server/planner/x.ts', "import { a } from '../engine/plan.ts';"))).toEqual([]);
    expect(againstTheOrder(bad('server/engine/numbers/x.ts', "import { a } from '../log/index.ts';"))).toHaveLength(1);
    expect(againstTheOrder(bad('server/engine/log/x.ts', "import { a } from '../numbers/yield.ts';"))).toHaveLength(1);
    expect(againstTheOrder(bad('server/engine/log/x.ts', "import { a } from '../numbers/index.ts';"))).toEqual([]);
    const circle = [bad('a.ts', "import { b } from './b.ts';"), bad('b.ts', "import type { a } from './a.ts';")];
    expect(circlesAmong(importsOf(circle))).toEqual([['a.ts', 'b.ts']]);
    expect(circlesAmong(importsOf(circle.slice(0, 1)))).toEqual([]);
    const folders = [
      bad('r/a/x.ts', "import { y } from '../b/y.ts';"),
      bad('r/b/z.ts', "import type { w } from '../a/w.ts';"),
    ];
    expect(circlesAmong(foldersBeside(folders))).toEqual([['r/a', 'r/b']]);
    expect(circlesAmong(foldersBeside(folders.slice(0, 1)))).toEqual([]);
    expect(sentencesIn(bad('x.ts', "say('The plan leans on nights.');"))).toHaveLength(1);
    expect(sentencesIn(bad('x.ts', "throw new RangeError('There is no day of that number.');"))).toEqual([]);
    expect(sentencesIn(bad('x.ts', "code: 'no-spare', kind: 'send-out', of: 'a few words here'"))).toEqual([]);
    expect(wordsIn(bad('x.ts', "say('no lot is left');\nsay(`there are more left here`);"))).toHaveLength(2);
    expect(wordsIn(bad('x.tsx', '<p>\n  It is not ready yet\n</p>'))).toHaveLength(1);
    expect(wordsIn(bad('x.ts', "throw new Error('no lot is left'); a('b c d', 'one two', 'three four');"))).toEqual([]);
    expect(wordsIn(bad('server/store/x.ts', "db.prepare('select name from builds where id = ?')"))).toEqual([]);
    const one = bad('server/a.ts', 'export const a = 1;\nexport const b = a;\nexport const c = 2;');
    const door = bad('server/index.ts', "export { b, c } from './a.ts';");
    const other = bad('server/b.ts', "import { b as d } from './index.ts';");
    const test = bad('tests/a.test.ts', "import { c } from '../server/index.ts';");
    expect(unusedExports([one, door, other, test])).toEqual([{ path: 'server/a.ts', name: 'c' }]);
    expect(unusedExports([one, door, test])).toHaveLength(2);
    const long = `export function f(): void {\n${'  g();\n'.repeat(PAGE)}}\nfunction h(): void {\n  g();\n}`;
    expect(longFunctions(bad('server/x.ts', long))).toEqual([`server/x.ts: f (${PAGE + 2})`]);
    const shape = bad('server/c.ts', 'export interface C {}\nexport type D = C;');
    const reader = bad('server/d.ts', "import { type C } from './c.ts';");
    expect(unusedTypes([shape, reader])).toEqual(['server/c.ts D']);
    expect(undescribed(bad('x.ts', 'export function f(): void {}'))).toEqual(['x.ts: f']);
    expect(undescribed(bad('x.ts', '/** What. */\nexport const f = (a: number): number => a;'))).toEqual([]);
    expect(offenders([bad('x.ts', 'a();\n// Date.now\nDate.now();')], /Date\.now/)).toEqual(['x.ts:3']);
  });
});

function inside(folder: string): Source[] {
  return sources.filter(({ path }) => path.startsWith(`${folder}/`));
}

function outside(folder: string): Source[] {
  return sources.filter(({ path }) => !path.startsWith(`${folder}/`));
}

/** The longest room that the path lies in. */
function roomOf({ path }: Pick<Source, 'path'>): string {
  const folder = dirname(path);
  const parts = folder.split('/');
  return parts.slice(0, parts[0] === 'server' || parts[1] === 'client' ? 2 : 1).join('/');
}

function strayImports(source: Source): string[] {
  const room = roomOf(source);
  const { rooms, packages } = MAY_IMPORT[room] ?? { rooms: [], packages: [] };
  const from = /(?:\bfrom|\bimport)\s*\(?\s*'([\w@./:-]+)'/g;
  return [...source.code.matchAll(from)]
    .map((match) => match[1]!)
    .filter((name) => {
      if (!name.startsWith('.')) return !packages.some((one) => one === '*' || name.startsWith(one));
      const path = relative(ROOT, resolve(ROOT, dirname(source.path), name));
      if (path === WIRE) return !['views', 'views/client', 'server/web'].includes(room);
      if (DRAWN_BY_BOTH.includes(path)) return !['views', 'views/client'].includes(room);
      if (ON_THE_PHONE.includes(path) && room === 'views/client') return false;
      if (path === WIRE_SHAPES && source.path === WIRE) return false;
      if (path.startsWith(`${LOG}/`))
        return room !== 'server/model' && ![LOG, 'server/model', '*'].some((one) => rooms.includes(one));
      const target = roomOf({ path });
      return target !== room && !rooms.includes(target) && !rooms.includes('*');
    })
    .map((name) => `${source.path} imports ${name}`);
}

/** The files of ours that a file imports or re-exports from, types included. */
function targetsOf({ path, code }: Source): string[] {
  const from = /(?:\bfrom|\bimport)\s*\(?\s*'(\.[\w@./:-]+)'/g;
  return [...code.matchAll(from)].map((match) => relative(ROOT, resolve(ROOT, dirname(path), match[1]!)));
}

/**
 * Exported values that no other file of the product uses, tests aside, and that their own file has no use for either.
 * An import through a door, or through several, is one from where the value is made.
 */
function unusedExports(files: readonly Source[]): { path: string; name: string }[] {
  const isUsed = usedAmong(files, (path) => !path.startsWith('tests/'));
  return exportsOf(files, /^export (?:async )?(?:function\*?|const|let|class) (\w+)/gm)
    .filter(({ path, name }) => !isUsed(path, name))
    .filter(({ name, code }) => code.match(new RegExp(`\\b${name}\\b`, 'g'))!.length === 1)
    .map(({ path, name }) => ({ path, name }));
}

/** Exported types that no other file imports, tests included: `path name`. */
function unusedTypes(files: readonly Source[]): string[] {
  const isUsed = usedAmong(files, () => true);
  return exportsOf(files, /^export (?:interface|type) (\w+)/gm)
    .filter(({ path, name }) => !isUsed(path, name))
    .map(({ path, name }) => `${path} ${name}`);
}

function exportsOf(files: readonly Source[], what: RegExp): { path: string; name: string; code: string }[] {
  return files
    .filter(({ path }) => /^(server|views)\//.test(path))
    .flatMap(({ path, code }) => [...code.matchAll(what)].map((match) => ({ path, name: match[1]!, code })));
}

/** Whether a name of a file is imported by one of those that count, through whatever doors. */
function usedAmong(files: readonly Source[], counts: (path: string) => boolean) {
  const known = new Map(files.map((file) => [file.path, file]));
  const used = new Set<string>();
  const use = (path: string, name: string): void => {
    if (used.has(`${path} ${name}`)) return;
    used.add(`${path} ${name}`);
    const file = known.get(path);
    if (!file) return;
    for (const { to, from, as } of passedOn(file)) {
      if (from === '*' || name === '*' || as === name) use(to, from === '*' ? name : from);
    }
  };
  for (const file of files.filter(({ path }) => counts(path))) {
    for (const { to, name } of takenBy(file)) use(to, name);
  }
  return (path: string, name: string): boolean => used.has(`${path} ${name}`) || used.has(`${path} *`);
}

/** The names that a file imports from others of ours; `*` is all of them. */
function takenBy({ path, code }: Source): { to: string; name: string }[] {
  const listed = [...code.matchAll(/^import (?:type )?\{([^}]*)\} from '(\.[^']+)'/gm)].flatMap((match) =>
    namesIn(match[1]!).map(({ from }) => ({ to: fileAt(path, match[2]!), name: from })),
  );
  const whole = /^import \* as \w+ from '(\.[^']+)'|\bimport\(\s*'(\.[^']+)'\s*\)/gm;
  return [...listed, ...[...code.matchAll(whole)].map((m) => ({ to: fileAt(path, (m[1] ?? m[2])!), name: '*' }))];
}

/** What a file exports of what others made. */
function passedOn({ path, code }: Source): { to: string; from: string; as: string }[] {
  const listed = [...code.matchAll(/^export (?:type )?\{([^}]*)\} from '(\.[^']+)'/gm)].flatMap((match) =>
    namesIn(match[1]!).map((names) => ({ to: fileAt(path, match[2]!), ...names })),
  );
  const whole = [...code.matchAll(/^export \* from '(\.[^']+)'/gm)];
  return [...listed, ...whole.map((match) => ({ to: fileAt(path, match[1]!), from: '*', as: '*' }))];
}

function namesIn(list: string): { from: string; as: string }[] {
  return list
    .split(',')
    .map((one) => one.trim().replace(/^type\s+/, ''))
    .filter((one) => one !== '')
    .map((one) => {
      const [from, as] = one.split(/\s+as\s+/);
      return { from: from!, as: as ?? from! };
    });
}

function fileAt(path: string, name: string): string {
  return relative(ROOT, resolve(ROOT, dirname(path), name));
}

function engineRoomOf({ path }: Pick<Source, 'path'>): string {
  return path.split('/')[2]!;
}

/** Imports of an engine file that point against the order of its rooms, or past the door of another room. */
function againstTheOrder(source: Source): string[] {
  const own = engineRoomOf(source);
  return targetsOf(source)
    .filter((target) => target.startsWith('server/engine/') && engineRoomOf({ path: target }) !== own)
    .filter((target) => {
      const room = engineRoomOf({ path: target });
      const door = room.endsWith('.ts') || target === `server/engine/${room}/index.ts`;
      return !door || ENGINE_ROOMS.indexOf(room) > ENGINE_ROOMS.indexOf(own);
    })
    .map((target) => `${source.path} imports ${target}`);
}

/** What each file imports. */
function importsOf(files: readonly Source[]): Map<string, string[]> {
  return new Map(files.map((file) => [file.path, targetsOf(file)]));
}

/**
 * Which folders import from which others that are beside them in the same folder: `a/b/c.ts` with an import of
 * `a/d/e/f.ts` makes `a/b` need `a/d`. At the top the table of what a room may import holds instead.
 */
function foldersBeside(files: readonly Source[]): Map<string, string[]> {
  const needs = new Map<string, string[]>();
  for (const file of files)
    for (const target of targetsOf(file)) {
      const [from, to] = [dirname(file.path).split('/'), dirname(target).split('/')];
      const parting = from.findIndex((name, i) => name !== to[i]);
      if (parting < 1 || to[parting] === undefined) continue;
      const [own, other] = [from, to].map((names) => names.slice(0, parting + 1).join('/')) as [string, string];
      needs.set(own, [...(needs.get(own) ?? []), other]);
      if (!needs.has(other)) needs.set(other, []);
    }
  return needs;
}

/** Files or folders that need each other in a circle: strongly connected components, by Tarjan (1972). */
function circlesAmong(targets: ReadonlyMap<string, readonly string[]>): string[][] {
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const circles: string[][] = [];
  const visit = (path: string): void => {
    index.set(path, index.size);
    low.set(path, index.get(path)!);
    open.push(path);
    for (const target of targets.get(path) ?? []) {
      if (!targets.has(target)) continue;
      if (!index.has(target)) visit(target);
      if (open.includes(target)) low.set(path, Math.min(low.get(path)!, low.get(target)!));
    }
    if (low.get(path) !== index.get(path)) return;
    const circle = open.splice(open.indexOf(path));
    if (circle.length > 1 || targets.get(path)!.includes(path)) circles.push(circle.sort());
  };
  for (const path of targets.keys()) if (!index.has(path)) visit(path);
  return circles;
}

/** Texts of four words or more that end like a sentence; what our own faults throw is for us alone. */
function sentencesIn({ path, code }: Source): string[] {
  const told = code.replace(/\bnew (Range|Type)?Error\(\s*('[^'\n]*'|`[^`\n]*`)/g, '');
  const texts = told.match(/'[^'\n]*'|`[^`\n]*`/g) ?? [];
  return texts.filter((text) => /^.[^ ].* .+ .+ .+[.?:;].$/.test(text)).map((text) => `${path}: ${text}`);
}

/**
 * Texts of four words or more, whatever they end with, and the same between tags. What our own faults throw is for us
 * alone, and the store's SQL for the database.
 */
function wordsIn({ path, code }: Source): string[] {
  const told = code.replace(/(\bnew \w+|\bsuper)\(\s*('[^'\n]*'|`[^`]*`)/g, '');
  const quoted = told.match(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g) ?? [];
  const between = path.endsWith('.tsx') ? (told.match(/(?<=[\w"}]>)[^<>{}=;]+(?=<)/g) ?? []) : [];
  const isSql = (text: string): boolean =>
    path.startsWith('server/store/') && /\b(select|insert|update|from|as)\b/.test(text);
  return [...quoted, ...between]
    .map((text) => text.replace(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, ' ').trim())
    .filter((text) => text.split(/\s+/).filter((word) => /\p{L}{2}/u.test(word)).length >= 4 && !isSql(text))
    .map((text) => `${path}: ${text}`);
}

/** Lines that a function has at most. */
const PAGE = 70;

/** Functions of a file, those within them as a part of it, that are longer: `path: name (lines)`. */
function longFunctions({ path, text }: Source): string[] {
  const begins =
    /^(?:export )?(?:default )?(?:async )?(?:function\*? (\w+)|const (\w+)[^=]*= (?:async )?(?:\(|<|\w+ =>).*=> \{$)/;
  const lines = text.split('\n');
  return lines.flatMap((line, i) => {
    const found = begins.exec(line);
    const end = found === null ? -1 : lines.findIndex((one, at) => at >= i && /^\}/.test(one));
    const length = end - i + 1;
    return found !== null && length > PAGE ? [`${path}: ${found[1] ?? found[2]} (${length})`] : [];
  });
}

function undescribed({ path, text }: Source): string[] {
  const lines = text.split('\n');
  const exported =
    /^export (?:default )?(?:async )?(?:function\*? (\w+)|const (\w+)(?:: [^=]+)? = (?:async )?(?:\(|<|\w+ =>))/;
  return lines.flatMap((line, i) => {
    const match = exported.exec(line);
    if (!match) return [];
    const above = lines[i - 1]?.trim() ?? '';
    const overload = above.startsWith('export function');
    return above.endsWith('*/') || overload ? [] : [`${path}: ${match[1] ?? match[2]}`];
  });
}

/** `path:line` of each match. */
function bad(path: string, text: string): Source {
  return { path, text, code: withoutComments(text) };
}

function offenders(files: readonly Source[], pattern: RegExp, which: 'code' | 'text' = 'code'): string[] {
  return files.flatMap((file) =>
    file[which].split('\n').flatMap((line, i) => (pattern.test(line) ? [`${file.path}:${i + 1}`] : [])),
  );
}

function filesIn(folder: string, name: RegExp): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && name.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
    .sort();
}

function sourceOf(path: string): Source {
  const text = readFileSync(join(ROOT, path), 'utf8');
  return { path, text, code: withoutComments(text) };
}

/** Comments become blank, lines keep their numbers. A `//` in a string that is an address is no comment. */
function withoutComments(text: string): string {
  return text
    .replace(/\/\*[\s\S]*?\*\//g, (comment) => comment.replace(/[^\n]/g, ' '))
    .replace(/(^|[^:'"`\\])\/\/[^\n]*/g, '$1');
}
