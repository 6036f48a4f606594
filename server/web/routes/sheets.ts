/**
 * The sheets of a build that are read: Countdown, the burn-down, Dates, a day's sheet; and the build and its forecast
 * as data.
 */
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { NowPage, NowSheet } from '../../../views/now/now.tsx';
import { BalancePage, BalanceSheet } from '../../../views/sheets/balance.tsx';
import { BurnPage, BurnSheet, StepPage, StepSheet } from '../../../views/sheets/burn-down.tsx';
import { CountdownPage, CountdownSheet } from '../../../views/sheets/countdown.tsx';
import { DatesPage, DatesSheet } from '../../../views/sheets/dates.tsx';
import { DaySheetPage, DaySheetSheet } from '../../../views/sheets/day-sheet.tsx';
import { texts } from '../../../views/texts/index.ts';
import { type Build, FILE_FORMAT, FILE_VERSION, type LogEntry } from '../../model/index.ts';
import { Refusal } from '../errors.ts';
import { foundIn, pageOf, sendCommonSheet, snapshotOf, type Web } from '../web.ts';
import { roomSinceYesterday } from './ledger.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type StepRequest = FastifyRequest<{ Params: { id: string; step: string } }>;
type DayRequest = FastifyRequest<{ Params: { id: string; date: string } }>;

export function registerSheets(app: FastifyInstance, web: Web): void {
  app.get('/b/:id', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const since = roomSinceYesterday(web, page);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => CountdownSheet({ page, since, levers: web.planner.levers(page.build.id) }),
      page: () => CountdownPage({ page, since, levers: web.planner.levers(page.build.id) }),
    });
  });

  app.get('/b/:id/now', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => NowSheet({ page }),
      page: () => NowPage({ page }),
    });
  });

  app.get('/b/:id/burn-down', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => BurnSheet({ page }),
      page: () => BurnPage({ page }),
    });
  });

  app.get('/b/:id/balance', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => BalanceSheet({ page }),
      page: () => BalancePage({ page }),
    });
  });

  app.get('/b/:id/steps/:step', async (request: StepRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const step = page.forecast.steps.find((it) => it.id === request.params.step);
    if (step === undefined) throw new Refusal(404, texts.errors.noStep(request.params.step));
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => StepSheet({ page, step }),
      page: () => StepPage({ page, step }),
    });
  });

  app.get('/b/:id/dates', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => DatesSheet({ page }),
      page: () => DatesPage({ page }),
    });
  });

  app.get('/b/:id/dates/:date', async (request: DayRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const day = page.forecast.days.find((it) => it.date === request.params.date);
    if (day === undefined) throw new Refusal(404, texts.errors.noDay(request.params.date));
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => DaySheetSheet({ page, day }),
      page: () => DaySheetPage({ page, day }),
    });
  });

  app.get('/b/:id/forecast.json', async (request: BuildRequest, reply) => {
    const { forecast } = await snapshotOf(web, request.params.id);
    return reply.header('cache-control', 'no-store').send(forecast);
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

/** Log entries that are written at once; then it is others' turn. */
const ENTRIES_AT_ONCE = 500;

/** A build file as JSON, piece by piece: however long the log, no other request waits for it. */
async function* fileText(build: Build, log: readonly LogEntry[]): AsyncGenerator<string> {
  yield `${JSON.stringify({ format: FILE_FORMAT, version: FILE_VERSION, build }).slice(0, -1)},"log":[`;
  for (let first = 0; first < log.length; first += ENTRIES_AT_ONCE) {
    const some = log.slice(first, first + ENTRIES_AT_ONCE).map((entry) => JSON.stringify(entry));
    yield `${first === 0 ? '' : ','}${some.join(',')}`;
    await new Promise((resolve) => setImmediate(resolve));
  }
  yield ']}';
}
