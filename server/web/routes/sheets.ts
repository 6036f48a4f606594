/** The sheets of a build that are read: Countdown, the burn-down, Dates, a day's sheet; and the build and its forecast as data. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { BalancePage, BalanceSheet } from '../../../views/sheets/balance.tsx';
import { BurnPage, BurnSheet, StepPage, StepSheet } from '../../../views/sheets/burn-down.tsx';
import { CountdownPage, CountdownSheet } from '../../../views/sheets/countdown.tsx';
import { DatesPage, DatesSheet } from '../../../views/sheets/dates.tsx';
import { DaySheetPage, DaySheetSheet } from '../../../views/sheets/day-sheet.tsx';
import { texts } from '../../../views/texts/index.ts';
import { type BuildFile, FILE_FORMAT, FILE_VERSION } from '../../model/index.ts';
import { Refusal } from '../errors.ts';
import { foundIn, pageOf, sendSheet, snapshotOf, type Web } from '../web.ts';
import { roomSinceYesterday } from './ledger.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type StepRequest = FastifyRequest<{ Params: { id: string; step: string } }>;
type DayRequest = FastifyRequest<{ Params: { id: string; date: string } }>;

export function registerSheets(app: FastifyInstance, web: Web): void {
  app.get('/b/:id', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const since = roomSinceYesterday(web, page);
    return sendSheet(
      request,
      reply,
      () => CountdownSheet({ page, since }),
      () => CountdownPage({ page, since }),
    );
  });

  app.get('/b/:id/burn-down', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendSheet(
      request,
      reply,
      () => BurnSheet({ page }),
      () => BurnPage({ page }),
    );
  });

  app.get('/b/:id/balance', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendSheet(
      request,
      reply,
      () => BalanceSheet({ page }),
      () => BalancePage({ page }),
    );
  });

  app.get('/b/:id/steps/:step', async (request: StepRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const step = page.forecast.steps.find((it) => it.id === request.params.step);
    if (step === undefined) throw new Refusal(404, texts.errors.noStep(request.params.step));
    return sendSheet(
      request,
      reply,
      () => StepSheet({ page, step }),
      () => StepPage({ page, step }),
    );
  });

  app.get('/b/:id/dates', async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendSheet(
      request,
      reply,
      () => DatesSheet({ page }),
      () => DatesPage({ page }),
    );
  });

  app.get('/b/:id/dates/:date', async (request: DayRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const day = page.forecast.days.find((it) => it.date === request.params.date);
    if (day === undefined) throw new Refusal(404, texts.errors.noDay(request.params.date));
    return sendSheet(
      request,
      reply,
      () => DaySheetSheet({ page, day }),
      () => DaySheetPage({ page, day }),
    );
  });

  app.get('/b/:id/forecast.json', async (request: BuildRequest, reply) => {
    const { forecast } = await snapshotOf(web, request.params.id);
    return reply.header('cache-control', 'no-store').send(forecast);
  });

  app.get('/b/:id/file.json', async (request: BuildRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    const file: BuildFile = { format: FILE_FORMAT, version: FILE_VERSION, build, log: web.planner.log(build.id) };
    return reply
      .header('cache-control', 'no-store')
      .header('content-disposition', `attachment; filename="${build.id}.json"`)
      .send(file);
  });
}
