/** Tables: parts, steps, orders and the log as CSV, and a table read back, looked at before it changes anything. */
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { CsvPage, CsvSheet, type LookedAt, READ_BACK, type ReadBack } from '../../../views/paper/csv-sheet.tsx';
import { texts } from '../../../views/texts/index.ts';
import { csvTexts as say } from '../../../views/texts/paper/csv.ts';
import { orderTexts } from '../../../views/texts/paper/orders.ts';
import { lineText } from '../../../views/words/edit-words.ts';
import { supplierName } from '../../../views/words/marks.tsx';
import { unitsText } from '../../../views/words/supply-words.ts';
import {
  applyChanges,
  type Build,
  type Change,
  type Forecast,
  MOST,
  messageOf,
  type NewLogEntry,
  type Problem,
} from '../../model/index.ts';
import { inTurns, othersTurn } from '../../turns/turns.ts';
import { csvPieces, readTable, type Table, textOf, type Written } from '../edits/csv-cells.ts';
import { isLogHeading, logTable, readLog } from '../edits/csv-log.ts';
import { atLines, isThingHeading, readThings, TABLE_LISTS, type TableList, thingTable } from '../edits/csv-things.ts';
import { editLines } from '../edits/edit-lines.ts';
import { FILE_LIMIT_BYTES, Refusal, statusOf } from '../errors.ts';
import { readUpload, registerUploads, UPLOAD_LIMIT_BYTES } from '../uploads.ts';
import { foundIn, numberSent, pageOf, sendSheet, snapshotOf, type Web } from '../web.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type TableRequest = FastifyRequest<{ Params: { id: string; table: string }; Querystring: { separator?: string } }>;
type FileRequest = FastifyRequest<{ Params: { id: string }; Querystring: { list?: string } }>;

/** Lines of the log that are read at once. */
const MOST_ENTRIES = 20_000;
const AT_ONCE = 500;
/** Lines with something wrong that are shown one by one. */
const MOST_TOLD = 50;
/** What is typed into a form grows by being sent. */
const FORM_BYTES = 3 * FILE_LIMIT_BYTES;

export function registerTables(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'tables');
  app.get(path, (request: BuildRequest, reply) => show(web, request, reply, null));

  app.get(`${path}/:table`, async (request: TableRequest, reply) => {
    const { id, table } = request.params;
    const { build } = foundIn(web, id);
    const { forecast } = await snapshotOf(web, id);
    const { headings, rows } = await tableOf(web, build, forecast, table);
    const separator = request.query.separator === 'semicolon' ? ';' : ',';
    const pieces: string[] = [];
    for await (const piece of inTurns(csvPieces(headings, rows, separator))) pieces.push(piece);
    return reply
      .header('cache-control', 'no-store')
      .header('content-disposition', `attachment; filename="${build.id}-${table}"`)
      .type('text/csv; charset=utf-8')
      .send(Readable.from(inTurns(pieces)));
  });

  app.post(path, { bodyLimit: FORM_BYTES }, async (request: BuildRequest, reply) => {
    const body = (request.body ?? {}) as Readonly<Record<string, unknown>>;
    const text = typeof body.text === 'string' ? body.text : '';
    const read = await readBack(web, request, listOf(body.list), text);
    if (body.do !== 'save' || read.looked.problems.length > 0) return answer(web, request, reply, read.looked);
    const { problems, added = 0 } = await save(web, request, read, numberSent(body.edit));
    if (problems.length > 0) return answer(web, request, reply, { ...read.looked, problems, added });
    return reply.redirect(screenHref(request.params.id, 'history'), 303);
  });

  app.register(async (scope) => {
    registerUploads(scope);
    scope.post(`${path}/file`, { bodyLimit: UPLOAD_LIMIT_BYTES }, async (request: FileRequest, reply) => {
      const { bytes } = await readUpload(request);
      const read = await readBack(web, request, listOf(request.query.list), textOf(bytes));
      return answer(web, request, reply, read.looked);
    });
  });
}

function listOf(sent: unknown): ReadBack {
  return READ_BACK.find((list) => list === sent) ?? 'parts';
}

/** Throws a 404 refusal for a table that there is not. */
async function tableOf(web: Web, build: Build, forecast: Forecast, table: string): Promise<Written> {
  const list = TABLE_LISTS.find((one) => `${one}.csv` === table);
  if (list !== undefined) return thingTable(build, list);
  if (table === 'log.csv') {
    const names = new Map([...build.steps, ...(build.gates ?? [])].map(({ id, name }) => [id, name]));
    return logTable(web.planner.log(build.id), (id) => names.get(id) ?? id);
  }
  if (table === 'orders.csv') return orderTable(build, forecast);
  throw new Refusal(404, texts.errors.noPage(table));
}

function orderTable(build: Build, { supplies = [] }: Forecast): Written {
  const when = (at: number | null) => (at === null ? '' : new Date(at * 60_000).toISOString());
  return {
    headings: Object.values(orderTexts.columns),
    rows: supplies.map(({ name, supplier, toOrder, measure, orderBy, arrives, state, cost }) => [
      name,
      supplier === null ? '' : supplierName(build, supplier),
      toOrder > 0 ? unitsText(toOrder, name, measure).replaceAll(/[\u00a0\u202f]/g, ' ') : '',
      when(orderBy),
      when(arrives),
      orderTexts.states[state],
      cost === null ? '' : String(cost),
    ]),
  };
}

interface Read {
  readonly looked: LookedAt;
  readonly changes: readonly Change[];
  readonly entries: readonly NewLogEntry[];
}

/** What a table would do, wholly checked; nothing is changed. */
async function readBack(web: Web, request: BuildRequest, list: ReadBack, text: string): Promise<Read> {
  const { build } = foundIn(web, request.params.id);
  const isHeading = list === 'log' ? isLogHeading : isThingHeading(list);
  const table = await readTable(text, isHeading, list === 'log' ? MOST_ENTRIES : MOST[list]);
  const blank = { list, text, lines: [], problems: [], ignored: [], added: 0 };
  if (!table.ok) return { looked: { ...blank, problems: sentences(table.problems) }, changes: [], entries: [] };
  return list === 'log'
    ? entriesIn(web, request, build, blank, table.value)
    : thingsIn(web, build, list, blank, table.value);
}

async function entriesIn(web: Web, request: BuildRequest, build: Build, blank: LookedAt, table: Table): Promise<Read> {
  const there = new Map(web.planner.log(build.id).map((entry) => [entry.id, entry]));
  const { added, known, problems, ignored } = await readLog(build, table, (id) => there.get(id));
  const entries = added.map(({ entry }) => entry);
  const wrong = await web.planner.rehearse(build.id, entries, web.who(request));
  const told = wrong.flatMap((own, i) => own.map((one) => ({ line: added[i]!.line, problem: one })));
  const lines = entries.length === 0 ? [] : [say.entries(entries.length, known)];
  const all = [...problems, ...told].toSorted((a, b) => a.line - b.line);
  return { looked: { ...blank, lines, problems: byLine(all), ignored }, changes: [], entries };
}

/** Planned as well, so that a formula that does not work out is found before anything changes. */
async function thingsIn(web: Web, build: Build, list: TableList, blank: LookedAt, table: Table): Promise<Read> {
  const read = await readThings(build, list, table);
  const { changes, ignored } = read;
  const isRight = read.problems.length === 0 && changes.length > 0;
  const planned = isRight ? await web.planner.objections(build.id, changes) : [];
  const problems = byLine([...read.problems, ...atLines(list, read, planned)]);
  const made = applyChanges(build, changes);
  const lines =
    made.ok && problems.length === 0
      ? editLines({ before: build, after: made.value, changes: [...changes] }).map(lineText)
      : [];
  return { looked: { ...blank, lines, problems, ignored }, changes, entries: [] };
}

function byLine(problems: readonly { readonly line: number; readonly problem: Problem }[]): string[] {
  const told = problems
    .slice(0, MOST_TOLD)
    .map(({ line, problem }) => (line === 0 ? messageOf(problem) : say.row(line, inColumns(messageOf(problem)))));
  const more = problems.length - told.length;
  return more === 0 ? told : [...told, say.moreRows(more)];
}

/** The column of a table in place of the field of an entry. */
function inColumns(message: string): string {
  return message.replace(/["„]entry\.(\w+)["“]/g, (_, name: string) => texts.edit.quoted.label(name));
}

function sentences(problems: readonly Problem[]): string[] {
  return problems.map(messageOf);
}

interface Done {
  /** What was wrong with it in sentences. */
  readonly problems: readonly string[];
  /** Entries that were added all the same. */
  readonly added?: number;
}

/** One edit, or the entries. */
async function save(web: Web, request: BuildRequest, read: Read, expected: number): Promise<Done> {
  if (read.looked.list === 'log') return saveEntries(web, request, read.entries);
  if (read.changes.length === 0) return { problems: [] };
  const edited = await web.planner.edit(request.params.id, read.changes, web.who(request), expected);
  if (edited.ok) return { problems: [] };
  const isConflict = edited.problems.some(({ code, field }) => code === 'conflict' && field === 'revision');
  return { problems: isConflict ? [say.problems.conflict] : sentences(edited.problems) };
}

/** Entries that were looked at, in turns; only a change of the plan that comes between can still refuse one. */
async function saveEntries(web: Web, request: BuildRequest, entries: readonly NewLogEntry[]): Promise<Done> {
  for (let first = 0; first < entries.length; first += AT_ONCE) {
    const some = entries.slice(first, first + AT_ONCE);
    const receipts = web.planner.append(request.params.id, some, web.who(request));
    const problems = receipts.flatMap((receipt) => sentences(receipt.problems));
    const added = first + receipts.filter(({ state }) => state !== 'refused').length;
    if (problems.length > 0) return { problems, added };
    await othersTurn();
  }
  return { problems: [] };
}

async function answer(web: Web, request: BuildRequest, reply: FastifyReply, looked: LookedAt): Promise<string> {
  if (looked.problems.length > 0) reply.code(statusOf([]));
  return show(web, request, reply, looked);
}

async function show(web: Web, request: BuildRequest, reply: FastifyReply, looked: LookedAt | null): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  return sendSheet(
    request,
    reply,
    () => CsvSheet({ page, looked }),
    () => CsvPage({ page, looked }),
  );
}
