/**
 * The sheets of a build that are read: Countdown, the burn-down, Dates, a day's sheet; and the build and its forecast
 * as data.
 */
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { NowPage, NowSheet } from '../../../views/now/now.tsx';
import { nowFactsInParts } from '../../../views/now/now-facts.ts';
import { PassedDayPage, PassedDaySheet } from '../../../views/paper/passed-day.tsx';
import { WholePlanPage, WholePlanSheet } from '../../../views/paper/whole-plan.tsx';
import { type WaitsAsked, waitsShown } from '../../../views/pictures/waits-facts.ts';
import { toLayOut } from '../../../views/pictures/waits-picture.tsx';
import { BalancePage, BalanceSheet } from '../../../views/sheets/balance.tsx';
import { BurnPage, BurnSheet, StepPage, StepSheet } from '../../../views/sheets/burn-down.tsx';
import { CountdownPage, CountdownSheet } from '../../../views/sheets/countdown.tsx';
import { DatesPage, DatesSheet } from '../../../views/sheets/dates.tsx';
import { DaySheetPage, DaySheetSheet } from '../../../views/sheets/day-sheet.tsx';
import { WaitsPage, WaitsSheet } from '../../../views/sheets/waits.tsx';
import { texts } from '../../../views/texts/index.ts';
import { dayTexts } from '../../../views/texts/paper/day.ts';
import type { BuildPage } from '../../../views/types.ts';
import {
  type Build,
  FILE_FORMAT,
  FILE_VERSION,
  type ForecastOutline,
  inWords,
  type LogEntry,
  type LogKind,
} from '../../model/index.ts';
import { standingAmong } from '../../model/log/index.ts';
import { doneInTurns, flatMapInTurns, inTurns, othersTurn } from '../../turns/turns.ts';
import { jsonParts } from '../api/json-parts.ts';
import { Refusal } from '../errors.ts';
import { foundIn, minutesOf, pageOf, sendCommonSheet, sendSheet, snapshotOf, type Web } from '../web.ts';
import { roomSinceYesterday } from './ledger.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type StepRequest = FastifyRequest<{ Params: { id: string; step: string } }>;
type WaitsRequest = FastifyRequest<{ Params: { id: string }; Querystring: { around?: string; all?: string } }>;
type DayRequest = FastifyRequest<{ Params: { id: string; date: string }; Querystring: { person?: string } }>;
type PaperRequest = FastifyRequest<{ Params: { id: string }; Querystring: { person?: string } }>;

export function registerSheets(app: FastifyInstance, web: Web): void {
  registerCountdown(app, web);
  for (const [path, Sheet, Page] of PLAIN_SHEETS) {
    app.get(path, async (request: BuildRequest, reply) => {
      const page = await pageOf(web, request, request.params.id);
      return sendCommonSheet(web, request, reply, page, {
        sheet: () => Sheet({ page }),
        page: () => Page({ page }),
      });
    });
  }
  registerNow(app, web);
  registerWaits(app, web);
  registerStep(app, web);
  registerDays(app, web);
  registerFiles(app, web);
}

/** Sheets that show the plan and nothing besides. */
const PLAIN_SHEETS = [
  ['/b/:id/burn-down', BurnSheet, BurnPage],
  ['/b/:id/balance', BalanceSheet, BalancePage],
  ['/b/:id/dates', DatesSheet, DatesPage],
] as const;

function registerCountdown(app: FastifyInstance, web: Web): void {
  app.get('/b/:id', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const since = roomSinceYesterday(web, page);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => CountdownSheet({ page, since, levers: web.planner.levers(page.build.id) }),
      page: () => CountdownPage({ page, since, levers: web.planner.levers(page.build.id) }),
    });
  });
}

function registerNow(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/now', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const facts = () => doneInTurns(nowFactsInParts(page.forecast));
    return sendCommonSheet(web, request, reply, page, {
      sheet: async () => NowSheet({ page, facts: await facts() }),
      page: async () => NowPage({ page, facts: await facts() }),
    });
  });
}

function registerWaits(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/waits', async (request: WaitsRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const asked = waitsAsked(page, request.query);
    const layout = async () => {
      const shown = waitsShown(page.forecast, asked);
      await othersTurn();
      const asks = toLayOut(page, shown);
      await othersTurn();
      return web.layouts.of(asks);
    };
    return sendCommonSheet(web, request, reply, page, {
      sheet: async () => WaitsSheet({ page, asked, layout: await layout() }),
      page: async () => WaitsPage({ page, asked, layout: await layout() }),
    });
  });
}

function registerStep(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/steps/:step', async (request: StepRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const step = page.forecast.steps.find((it) => it.id === request.params.step);
    if (step === undefined) throw new Refusal(404, texts.errors.noStep(request.params.step));
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => StepSheet({ page, step }),
      page: () => StepPage({ page, step }),
    });
  });
}

/** A day on paper, and all of them. */
function registerDays(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/dates/:date', async (request: DayRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const { date } = request.params;
    const person = personIn(page, request.query.person);
    const day = page.forecast.days.find((it) => it.date === date);
    if (day === undefined) return showPassed(web, request, reply, page, date);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => DaySheetSheet({ page, day, person }),
      page: () => DaySheetPage({ page, day, person }),
    });
  });

  app.get(screenHref(':id', 'paper'), async (request: PaperRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const person = personIn(page, request.query.person);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => WholePlanSheet({ page, person }),
      page: () => WholePlanPage({ page, person }),
    });
  });
}

/** The build and its forecast as data. */
function registerFiles(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/forecast.json', async (request: BuildRequest, reply) => {
    const { forecast } = await snapshotOf(web, request.params.id);
    const answer: ForecastOutline = { ...forecast, problems: forecast.problems.map((it) => inWords(it)) };
    return reply
      .header('cache-control', 'no-store')
      .type('application/json; charset=utf-8')
      .send(Readable.from(inTurns(jsonParts(answer))));
  });

  app.get('/b/:id/file.json', async (request: BuildRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    return reply
      .header('cache-control', 'no-store')
      .header('content-disposition', `attachment; filename="${build.id}.json"`)
      .type('application/json; charset=utf-8')
      .send(Readable.from(fileText(build, web.planner.log(build.id))));
  });
}

/** Throws a 404 refusal for a step that is not in the plan. */
function waitsAsked({ forecast }: BuildPage, { around, all }: WaitsRequest['query']): WaitsAsked {
  if (!around) return { around: null, all: all === '1' };
  if (forecast.steps.every(({ id }) => id !== around)) throw new Refusal(404, texts.errors.noStep(around));
  return { around, all: false };
}

/** Throws a 404 refusal for somebody who is not in the build. */
function personIn({ build }: BuildPage, person: string | undefined): string | null {
  if (!person) return null;
  const ids = (build.people ?? []).map(({ id }) => id);
  if (!ids.includes(person)) throw new Refusal(404, dayTexts.noPerson(person, ids.join(', ')));
  return person;
}

/** What was logged on a day that has passed since the build began; a 404 refusal for any other. */
async function showPassed(
  web: Web,
  request: FastifyRequest,
  reply: FastifyReply,
  page: BuildPage,
  date: string,
): Promise<string> {
  const log = web.planner.log(page.build.id);
  const { counts } = standingAmong(log);
  const moments = await flatMapInTurns(log, (entry) => (counts(entry) ? [{ entry, at: minutesOf(entry.at) }] : []));
  const begun = page.forecast.start ?? page.forecast.now;
  const from = moments.reduce((least, { at }) => Math.min(least, at), begun);
  const day = page.clock.days(from, page.forecast.now).find((one) => one.date === date);
  if (day === undefined) throw new Refusal(404, texts.errors.noDay(date));
  const told = new Map<string, { kind: LogKind; step: string | null; n: number }>();
  for (const { entry, at } of moments) {
    if (at < day.start || at >= day.end) continue;
    const { kind, step = null, n = 1 } = entry;
    const before = told.get(`${step} ${kind}`)?.n ?? 0;
    told.set(`${step} ${kind}`, { kind, step, n: before + n });
  }
  const props = { page, date, at: day.start, told: [...told.values()] };
  return sendSheet(
    request,
    reply,
    () => PassedDaySheet(props),
    () => PassedDayPage(props),
  );
}

/** Log entries that are written at once; then it is others' turn. */
const ENTRIES_AT_ONCE = 500;

/** A build file as JSON, piece by piece: however long the log, no other request waits for it. */
async function* fileText(build: Build, log: readonly LogEntry[]): AsyncGenerator<string> {
  yield `${JSON.stringify({ format: FILE_FORMAT, version: FILE_VERSION, build }).slice(0, -1)},"log":[`;
  for (let first = 0; first < log.length; first += ENTRIES_AT_ONCE) {
    const some = log.slice(first, first + ENTRIES_AT_ONCE).map((entry) => JSON.stringify(entry));
    yield `${first === 0 ? '' : ','}${some.join(',')}`;
    await othersTurn();
  }
  yield ']}';
}
