/**
 * Tables for a spreadsheet: what goes out comes back the same, nobody's spreadsheet runs it, and what is wrong is said
 * by line.
 */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { applyChanges, type Build, type LogEntry, type Part } from '../../../server/model/index.ts';
import { NewLogEntry } from '../../../server/model/log-entry.ts';
import {
  csvText,
  harmless,
  plainNumber,
  readCell,
  readTable,
  type Separator,
  textOf,
} from '../../../server/web/edits/csv-cells.ts';
import { isLogHeading, logTable, readLog } from '../../../server/web/edits/csv-log.ts';
import {
  isThingHeading,
  readThings,
  TABLE_LISTS,
  type TableList,
  thingTable,
} from '../../../server/web/edits/csv-things.ts';
import { texts } from '../../../views/texts/index.ts';
import { type FakeApp, fakeApp } from '../../support/fake-app.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { FAKE_NOW } from '../../support/fake-forecast.ts';
import { anyBuild } from '../../support/random-builds.ts';

const label = texts.edit.field;
const separators = fc.constantFrom<Separator>(',', ';', '\t');
/** Any text that a form keeps: not empty, without blanks around it. */
const anyText = fc
  .oneof(
    fc.string({ unit: 'grapheme', maxLength: 30 }),
    fc.constantFrom('=1+1', '+2', '-x', '@sum', '"a";b,c', 'a\nb', "'=x", 'שלום, עולם', '٣ 🪵'),
  )
  .map((text) => text.replaceAll('\r', '').trim())
  .filter((text) => text !== '');

async function readBack(build: Build, list: TableList, text: string) {
  const table = await readTable(text, isThingHeading(list), 2000);
  return table.ok
    ? readThings(build, list, table.value)
    : { changes: [], ignored: [], problems: table.problems.map((one) => ({ line: 0, problem: one })) };
}

const messages = (read: Awaited<ReturnType<typeof readBack>>) =>
  read.problems.map(({ line, problem }) => `${line}: ${problem.message}`);

describe('a cell', () => {
  it('is never run as a formula, and comes back as it was, whatever it holds', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, fc.string()), (text) => {
        expect(readCell(harmless(text))).toBe(text);
        expect(/^\s*[=+@\t\r]/.test(harmless(text))).toBe(false);
      }),
    );
    expect(['=cmd()', ' +1', '@x', '-2+3', '-2.5', '＝1', 'a=b'].map(harmless)).toEqual([
      "'=cmd()",
      "' +1",
      "'@x",
      "'-2+3",
      '-2.5',
      "'＝1",
      'a=b',
    ]);
  });

  it('is not run either by a program that parts lines at another sign, whatever it holds', () => {
    expect(
      ['x;=1+1', 'x,"=1+1', 'x\t@sum', 'a|-cmd', 'a\n=b', 'max(2, -3)', '18:00; -2.5', 'x;', 'a,b;c'].map(harmless),
    ).toEqual(["x;'=1+1", `x,"'=1+1`, "x\t'@sum", "a|'-cmd", "a\n'=b", 'max(2, -3)', '18:00; -2.5', 'x;', 'a,b;c']);
    const pieces = fc.array(fc.constantFrom(...'=+-@＝;,|\t\n\r"\' ab1.)'.split('')), { maxLength: 12 });
    const cells = fc.tuple(pieces, anyText, pieces).map(([a, b, c]) => `${a.join('')}${b}${c.join('')}`);
    fc.assert(
      fc.property(fc.array(cells, { minLength: 2, maxLength: 4 }), separators, (row, separator) => {
        expect(row.map((cell) => readCell(harmless(cell)))).toEqual(row);
        const text = csvText(['a', 'b'], [row], separator).slice(1);
        for (const other of [',', ';', '\t', '|'].filter((one) => one !== separator)) {
          // At the worst it knows no quotes at all.
          const parted = text.split(/[\r\n]/).flatMap((line) => line.split(other));
          const run = parted.map((cell) => cell.replace(/^[\s"]+/, '')).filter((cell) => /^[=+@＝]/.test(cell));
          expect(run).toEqual([]);
        }
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    ['2,5', '2.5'],
    ['0,125', '0.125'],
    ['1.234,5', '1234.5'],
    ['1,234.5', '1234.5'],
    ['1 234,5', '1234.5'],
    ['12', '12'],
    ['2 * slats', '2 * slats'],
    ['1,234', null],
  ])('reads the number %s as %s', (text, number) => {
    expect(plainNumber(text)).toBe(number);
  });

  it('is quoted wherever it would else end its cell or its line', () => {
    const saved = csvText(
      ['Note', 'x'],
      [
        ['a\nb', 'c,d'],
        ['e\rf', '"g"'],
      ],
      ',',
    );
    expect(saved).toBe('\ufeffNote,x\r\n"a\nb","c,d"\r\n"e\rf","""g"""\r\n');
  });

  it('is read in UTF-8, in UTF-16 and in the old western code page', () => {
    expect(textOf(new TextEncoder().encode('Öl'))).toBe('Öl');
    expect(textOf(Uint8Array.of(0xff, 0xfe, 0xd6, 0, 0x6c, 0))).toBe('Öl');
    expect(textOf(Uint8Array.of(0xd6, 0x6c))).toBe('Öl');
  });
});

describe('a table that was saved', () => {
  it.each(TABLE_LISTS)('of %s has no heading twice', async (list) => {
    const { headings } = await thingTable(fakeBuild(), list);
    expect(new Set(headings).size).toBe(headings.length);
  });

  it('changes nothing when it is read back, over random builds and all separators', async () => {
    await fc.assert(
      fc.asyncProperty(anyBuild, separators, fc.constantFrom(...TABLE_LISTS), async (random, separator, list) => {
        const build = random as unknown as Build;
        const { headings, rows } = await thingTable(build, list);
        const read = await readBack(build, list, csvText(headings, rows, separator));
        expect([messages(read), read.changes, read.ignored]).toEqual([[], [], []]);
      }),
      { numRuns: 150 },
    );
  });

  it('brings an edit made in it into the plan, and nothing else, over random texts and numbers', async () => {
    const edit = fc.record({
      name: anyText,
      note: anyText,
      spares: fc.nat(99),
      unitCost: fc.nat(9999),
      count: anyText,
    });
    await fc.assert(
      fc.asyncProperty(fc.array(edit, { minLength: 5, maxLength: 5 }), separators, async (edits, separator) => {
        const before = fakeBuild();
        const parts = before.parts!.map((part, i): Part => {
          const { name, note, spares, unitCost } = edits[i]!;
          return { ...part, name: `${name} ${i}`, note, spares, unitCost: unitCost / 100 };
        });
        const { headings, rows } = await thingTable({ ...before, parts }, 'parts');
        const read = await readBack(before, 'parts', csvText(headings, rows, separator));
        expect(messages(read)).toEqual([]);
        const made = applyChanges(before, read.changes);
        expect(made.ok && made.value).toEqual({ ...before, parts });
      }),
      { numRuns: 60 },
    );
  });

  it('makes the same parts and steps in a build that has none of them', async () => {
    const build = fakeBuild();
    const tables = await Promise.all(TABLE_LISTS.map((list) => thingTable(build, list)));
    let made: Build = { ...build, parts: [], steps: [], feeds: [], gates: [], decisions: [] };
    for (const [i, list] of TABLE_LISTS.entries()) {
      const read = await readBack(made, list, csvText(tables[i]!.headings, tables[i]!.rows, ';'));
      expect(messages(read)).toEqual([]);
      const applied = applyChanges(made, read.changes);
      made = applied.ok ? applied.value : made;
    }
    expect([made.parts, made.steps]).toEqual([build.parts, build.steps]);
  });

  it('of the log comes back entry by entry, or is known where the log has it, over random entries of every field', async () => {
    const instant = fc.constantFrom('2026-11-24T10:00:00Z', '2026-11-24T11:30+01:00');
    const id = fc.constantFrom('press', 'crate-2');
    const entry: fc.Arbitrary<Partial<LogEntry>> = fc.record(
      {
        set: fc.integer({ min: 1, max: 9 }),
        n: fc.integer({ min: 1, max: 999 }),
        counted: fc.boolean(),
        step: id,
        person: id,
        machine: id,
        box: id,
        until: instant,
        undoes: fc.constant('entry-of-nobody'),
        confirms: fc.constant('entry-of-nobody'),
        reason: fc.oneof(anyText, fc.constant('')),
        note: fc.oneof(anyText, fc.constant('line\r\nline')),
        phoneAt: instant,
        who: anyText.map((text) => [...text].slice(0, 20).join('').trim() || 'x'),
      },
      { requiredKeys: [] },
    );
    const fields = Object.keys(NewLogEntry.properties);
    expect(logTable([], String).headings).toEqual(expect.arrayContaining(fields));
    await fc.assert(
      fc.asyncProperty(fc.array(entry, { maxLength: 20 }), separators, async (told, separator) => {
        const log = told.map((one, i): LogEntry => {
          return { ...one, id: `entry-of-${i}`, kind: 'done', at: '2026-11-24T10:00:00Z' };
        });
        const { headings, rows } = logTable(log, (id) => id);
        const table = await readTable(csvText(headings, rows, separator), isLogHeading, 100);
        if (!table.ok) throw new Error(table.problems[0]!.message);
        const fresh = await readLog(fakeBuild(), table.value, () => undefined);
        expect(fresh.added.map((one) => one.entry)).toEqual(log.map(plainly));
        const again = await readLog(fakeBuild(), table.value, (id) => log.find((one) => one.id === id));
        expect(again).toEqual({ added: [], known: log.length, problems: [], ignored: [] });
      }),
      { numRuns: 40 },
    );
  });
});

/** As a cell can say it: nothing of what is empty, and lines ended one way. */
function plainly({ reason, note, ...entry }: LogEntry): LogEntry {
  return {
    ...entry,
    ...(reason ? { reason } : {}),
    ...(note === undefined ? {} : { note: note.replaceAll('\r\n', '\n') }),
  };
}

describe('a table that was pasted', () => {
  const build = fakeBuild();

  it('finds columns by their headings in any order and names by their names, with decimal commas', async () => {
    const read = await readBack(
      build,
      'parts',
      '\ufeffSupplier;Cost of one;NAME;colour\nthe mill;3,75;fish;blue\n;;Glue, white;\n',
    );
    expect(read.ignored).toEqual(['colour']);
    expect(messages(read)).toEqual(['3: “Comes from” is not chosen yet.']);
    expect(read.changes).toEqual([
      { kind: 'set', list: 'parts', key: 'fish', field: 'unitCost', value: 3.75 },
      { kind: 'set', list: 'parts', key: 'fish', field: 'supplier', value: 'mill' },
    ]);
  });

  it('takes yes and no in German too, as a German spreadsheet writes what is true', async () => {
    const said = async (cell: string) => (await readBack(build, 'steps', `id;onSite\npress;${cell}\n`)).changes;
    const yes = [{ kind: 'set', list: 'steps', key: 'press', field: 'onSite', value: true }];
    expect(await Promise.all(['ja', 'WAHR', 'yes', 'nein', 'FALSCH'].map(said))).toEqual([yes, yes, yes, [], []]);
  });

  it('empties a field whose cell is empty, and leaves alone what has no column', async () => {
    expect((await readBack(build, 'parts', 'id,Spares\nfish,\n')).changes).toEqual([
      { kind: 'set', list: 'parts', key: 'fish', field: 'spares' },
    ]);
  });

  it.each([
    ['nothing', '', /The table is empty/],
    ['the wrong separator', 'id|Spares\nfish|3\n', /No heading of the first line is known/],
    ['an open quote', 'id,Name\nfish,"a\n', /a quote that opens is never closed/],
    ['no name', 'Spares\n3\n', /No column says which thing a line is about/],
    ['a line without a name', 'id,Spares\nfish,3\n,4\n', /^3: The line names nothing/],
    ['a thing twice', 'id,Spares\nfish,3\nfish,4\n', /^3: “fish” is on line 2 too/],
    ['a name twice', 'Name,From\nfish,x\nFISH,y\n', /is on line 2 too/],
    ['two columns of one heading', 'id,Spares,spares\nfish,3,4\n', /^1: “spares” is the heading of two columns/],
    [
      'what may be either',
      'id;Cost of one\nfish;1,234\n',
      /^2: “Cost of one” is “1,234”, which may be .*; write 1234 or 1\.234\./,
    ],
    ['no number', 'id;Cost of one\nfish;cheap\n', /^2: “Cost of one” must be a number; it is "cheap"/],
    ['no heading that a table of parts has', 'x', /No heading/],
  ])('with %s is refused by line with what would be right', async (_, text, message) => {
    const read = await readBack(build, 'parts', text);
    expect(messages(read).some((one) => message.test(one.replace(/^0: /, '')))).toBe(true);
  });

  it.each(['yes', 'x', 'TRUE', '1', 'ja', 'Ja'])(
    'takes %s for a tick, in whatever language it is written',
    async (cell) => {
      const { changes, problems } = await readBack(build, 'steps', `id,"${label.onSite}"\npress,${cell}`);
      expect(problems).toEqual([]);
      expect(changes).toMatchObject([{ kind: 'set', key: 'press', field: 'onSite', value: true }]);
    },
  );

  it.each([
    ['no', /^$/],
    ['nein', /^$/],
    ['perhaps', /^2: “.*” is “perhaps”; write yes, or leave it empty\./],
  ])('takes %s for no tick, or says what would be right', async (cell, message) => {
    const read = await readBack(build, 'steps', `id,"${label.onSite}"\npress,${cell}`);
    expect([read.changes, messages(read).join()]).toEqual([[], expect.stringMatching(message)]);
  });

  it('of 10,000 lines is read in the log, and refused among parts with the most there may be', async () => {
    const lines = Array.from({ length: 10_000 }, (_, i) => `done,press,${i + 1},2026-11-24 10:00`);
    const table = await readTable(`kind,step,n,at\n${lines.join('\n')}`, isLogHeading, 20_000);
    const read = table.ok ? await readLog(build, table.value, () => undefined) : null;
    expect([read?.added.length, read?.problems]).toEqual([10_000, []]);
    expect(read?.added[0]?.entry.at).toBe('2026-11-24T09:00:00.000Z');
    const parts = Array.from({ length: 10_000 }, (_, i) => `part ${i},buy`).join('\n');
    expect(messages(await readBack(build, 'parts', `Name,source\n${parts}`))[0]).toContain(
      'The table has more than 2000 lines',
    );
  });

  it('lets others have their turn while it is read', async () => {
    const note = 'x'.repeat(300);
    const lines = Array.from({ length: 2000 }, (_, i) => `Part ${i},${note},buy`).join('\n');
    let turns = 0;
    let isRead = false;
    const other = (): void => {
      turns += 1;
      if (!isRead) setImmediate(other);
    };
    setImmediate(other);
    const read = await readBack(build, 'parts', `Name,Note,Comes from\n${lines}`);
    isRead = true;
    expect([read.changes.length, messages(read)]).toEqual([2000, []]);
    expect(turns).toBeGreaterThan(20);
  });

  it('names the line on which what is wrong begins, though cells hold several lines', async () => {
    const text = '\n;;\nid;Note;Cost of one\nfish;"a\r\nb\nc";2\nscrew;"d\ne";x\n';
    expect(messages(await readBack(build, 'parts', text))).toEqual([expect.stringMatching(/^7: .*Cost of one/)]);
  });

  it('without ids is the same entries in whichever order its columns are', async () => {
    const ids = async (text: string) => {
      const table = await readTable(text, isLogHeading, 10);
      return table.ok && (await readLog(build, table.value, () => undefined)).added.map(({ entry }) => entry.id);
    };
    const one = await ids('kind,step,n,at\ndone,press,2,2026-11-24 10:00\n');
    expect(one).toHaveLength(1);
    expect(await ids('at;n;step;kind\n2026-11-24 10:00;2;press;done\n')).toEqual(one);
  });

  it('with twins in the build asks for the id', async () => {
    const twins = { ...build, parts: [...build.parts!, { ...build.parts![1]!, id: 'fish-2' }] };
    expect(messages(await readBack(twins, 'parts', 'Name,Spares\nfish,3\n'))[0]).toContain(
      '(fish, fish-2); say by “id”',
    );
  });
});

describe('the sheet of tables', () => {
  let fake: FakeApp;
  beforeAll(async () => {
    fake = await fakeApp();
  });
  afterAll(() => fake.close());

  const post = (fields: Record<string, string>) =>
    fake.app.inject({
      method: 'POST',
      url: '/b/tide-wall/tables',
      payload: new URLSearchParams(fields).toString(),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });

  it('shows what would change before anything does, then makes one edit of it', async () => {
    const edit = String(fake.planner.build('tide-wall')!.revision);
    const text = 'id;Spares;Cost of one\nfish;6;3,5\nscrew;;\n';
    const looked = await post({ list: 'parts', text, do: 'look' });
    expect(looked.statusCode).toBe(200);
    expect(looked.body).toContain('spares 4 → 6; cost of one 3.2 → 3.5');
    expect(fake.planner.build('tide-wall')!.revision).toBe(Number(edit));
    expect((await post({ list: 'parts', text, do: 'save', edit })).statusCode).toBe(303);
    const { build, revision } = fake.planner.build('tide-wall')!;
    expect(revision).toBe(Number(edit) + 1);
    expect(build.parts!.find(({ id }) => id === 'fish')).toMatchObject({ spares: 6, unitCost: 3.5 });
    expect((await post({ list: 'parts', text: 'id,Spares\nfish,9\n', do: 'save', edit })).body).toContain(
      'Look at it again',
    );
  });

  it('plans what is pasted before anything changes, and says on which line what does not work out', async () => {
    const { revision } = fake.planner.build('tide-wall')!;
    fake.find((build) => planBuild(build, [], FAKE_NOW).problems.filter(({ code }) => code === 'unknown-name'));
    const text = 'id,Name,Comes from,How many\nnew-beam,Beam,make,2 * bems\nrod,Rod,make,four\n';
    for (const what of ['look', 'save']) {
      const { statusCode, body } = await post({ list: 'parts', text, do: what, edit: String(revision) });
      expect(statusCode).toBe(422);
      expect(body).toMatch(/Line 2: .*bems/);
      expect(body).toMatch(/Line 3: .*four/);
      expect(body).not.toContain('Make these changes');
    }
    expect(fake.planner.build('tide-wall')!.revision).toBe(revision);
  });

  it('changes nothing while a line is wrong, and keeps what was typed', async () => {
    const before = fake.planner.build('tide-wall')!.revision;
    const answer = await post({
      list: 'parts',
      text: 'id,Spares,Cost of one\nfish,9,\nscrew,,=cmd\n',
      do: 'save',
      edit: String(before),
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('screw,,=cmd');
    expect(fake.planner.build('tide-wall')!.revision).toBe(before);
  });

  it('adds entries to the log once, however often the table is read', async () => {
    const text = 'kind\tstep\tn\tat\ndone\tpaint-fish\t3\t2026-11-24 10:00\n';
    expect((await post({ list: 'log', text, do: 'look' })).body).toContain('1 entry would be added.');
    expect((await post({ list: 'log', text, do: 'save' })).statusCode).toBe(303);
    expect((await post({ list: 'log', text, do: 'look' })).body).toContain('The table changes nothing');
    expect(fake.planner.log('tide-wall')).toHaveLength(1);
  });

  it('adds no entry where one of the table cannot be used or says other than the log, and says which', async () => {
    const log = fake.planner.log('tide-wall');
    const looks = async (text: string) => {
      const answers = [await post({ list: 'log', text, do: 'look' }), await post({ list: 'log', text, do: 'save' })];
      expect(answers.map(({ statusCode }) => statusCode)).toEqual([422, 422]);
      for (const { body } of answers) expect(body).toContain('Nothing was changed');
      expect(fake.planner.log('tide-wall')).toEqual(log);
      return answers[0]!.body;
    };
    const good = 'kind,step,n,at\ndone,paint-fish,2,2026-11-24 10:05\n';
    expect(await looks(`${good}done,no-such-step,1,2026-11-24 10:06\n`)).toMatch(/Line 3: There is no step or gate/);
    const other = `id,kind,step,n,at\n${log[0]!.id},done,paint-fish,33,2026-11-24 10:00\n`;
    expect(await looks(other)).toMatch(/Line 2: The entry “table-[^”]*” is in the log and says something else/);
  });

  it('tells the first fifty lines that are wrong, by the names of their columns, and how many more there are', async () => {
    const rows = Array.from({ length: 60 }, (_, row) => `no ${row},done,paint-fish,1,2026-11-24 10:05`);
    const { body } = await post({ list: 'log', text: `id,kind,step,n,at\n${rows.join('\n')}\n`, do: 'look' });
    expect(body).toMatch(/Line 2: “id” must be an id of 8 to 64 letters/);
    expect(body.match(/Line \d+: /g)).toHaveLength(50);
    expect(body).toContain('10 more lines have something wrong; mend these first.');
  });

  it('saves parts, steps, orders and the log with a mark for UTF-8, parted as asked', async () => {
    for (const table of ['parts', 'steps', 'log', 'orders']) {
      const { body, headers } = await fake.app.inject({ url: `/b/tide-wall/tables/${table}.csv?separator=semicolon` });
      expect([body.charCodeAt(0), headers['content-type'], body.split('\r\n')[0]!.includes(';')]).toEqual([
        0xfeff,
        'text/csv; charset=utf-8',
        true,
      ]);
    }
    expect((await fake.app.inject({ url: '/b/tide-wall/tables/people.csv' })).statusCode).toBe(404);
  });
});
