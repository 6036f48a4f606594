/** After the show: the sheet, its table, the maker's own shelf, and what earlier builds offer. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { AfterPage, type AfterProps, AfterSheet } from '../../../views/after/after.tsx';
import { type AfterLine, afterLines } from '../../../views/after/after-facts.ts';
import { screenHref } from '../../../views/links.ts';
import { afterTexts as say } from '../../../views/texts/paper/after.ts';
import { measuredIn, offersFor, type Problem, type Result, wordedProblem } from '../../model/index.ts';
import { csvText } from '../edits/csv-cells.ts';
import { statusOf } from '../errors.ts';
import { foundIn, numberSent, pageOf, sendSheet, type Web } from '../web.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerAfter(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'after');
  app.get(path, (request: BuildRequest, reply) => show(web, request, reply, []));

  app.get(`${path}.csv`, async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    reply
      .header('cache-control', 'no-store')
      .header('content-disposition', `attachment; filename="${page.build.id}-after.csv"`)
      .type('text/csv; charset=utf-8');
    return csvText(say.csvColumns, afterLines(page).map(cellsOf), ',');
  });

  app.post('/b/:id/close', (request: BuildRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const done = web.planner.closeBuild(id, web.who(request));
    if (done.ok) return reply.redirect(path.replace(':id', id), 303);
    reply.code(statusOf(done.problems));
    return show(web, request, reply, done.problems);
  });
  app.post('/b/:id/reopen', (request: BuildRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    web.planner.reopenBuild(id);
    return reply.redirect(path.replace(':id', id), 303);
  });

  app.post(path, async (request: BuildRequest, reply) => {
    const body = (request.body ?? {}) as Readonly<Record<string, unknown>>;
    const done = body.do === 'keep' ? await keep(web, request) : await take(web, request, body);
    if (done.ok) return reply.redirect(path.replace(':id', request.params.id), 303);
    reply.code(statusOf(done.problems));
    return show(web, request, reply, done.problems);
  });
}

function cellsOf({ kind, id, name, estimated, real, counted }: AfterLine): string[] {
  const places = (value: number): string => String(Number(value.toFixed(4)));
  const times = estimated === null || estimated === 0 ? '' : places(real / estimated);
  const thought = estimated === null ? '' : places(estimated);
  return [kind, id, name, say.kinds[kind], thought, places(real), times, places(counted)];
}

async function keep(web: Web, request: BuildRequest): Promise<Result<null>> {
  const { build, forecast } = await pageOf(web, request, request.params.id);
  web.planner.keepFigures(build.id, measuredIn(forecast, build));
  return { ok: true, value: null };
}

/** Takes one offer as an edit; one that is not there any more is said. */
async function take(
  web: Web,
  request: BuildRequest,
  { list, key, edit }: Readonly<Record<string, unknown>>,
): Promise<Result<unknown>> {
  const { build } = foundIn(web, request.params.id);
  const offer = offersFor(build, web.planner.figures()).find((one) => one.list === list && one.key === key);
  if (offer === undefined) {
    const named = String(key ?? 'nothing').slice(0, 60);
    return { ok: false, problems: [wordedProblem('unknown-name', 'key', named, say.offers.gone(named))] };
  }
  const expected = numberSent(edit);
  return web.planner.edit(build.id, offer.changes, web.who(request), expected);
}

async function show(
  web: Web,
  request: BuildRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const figures = web.planner.figures();
  const props: AfterProps = {
    page,
    measured: measuredIn(page.forecast, page.build),
    kept: figures.filter(({ build }) => build === page.build.id).length,
    offers: offersFor(page.build, figures),
    problems,
  };
  return sendSheet(
    request,
    reply,
    () => AfterSheet(props),
    () => AfterPage(props),
  );
}
