/** History: the edits of a build, and taking it back to one of them. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { HistoryPage, HistorySheet, type PastEdit } from '../../../views/sheets/history.tsx';
import { texts } from '../../../views/texts/index.ts';
import { type Problem, problem } from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { minutesOf, pageOf, sendSheet, type Web } from '../web.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerHistory(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'history');
  app.get(path, (request: BuildRequest, reply) => show(web, request, reply, []));
  app.post(path, async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const typed = (request.body as { revision?: unknown } | undefined)?.revision;
    const revision = Number(typed);
    if (!web.planner.revisions(page.build.id).some((it) => it.revision === revision)) {
      const message = texts.edit.gone(texts.history.revision.toLowerCase(), String(typed ?? ''));
      reply.code(422);
      return show(web, request, reply, [problem('unknown-name', 'revision', typed, message)]);
    }
    const taken = await web.planner.takeBack(page.build.id, revision, web.who(request));
    if (taken.ok) return reply.redirect(screenHref(page.build.id, 'history'), 303);
    reply.code(statusOf(taken.problems));
    return show(web, request, reply, taken.problems);
  });
}

async function show(
  web: Web,
  request: BuildRequest,
  reply: Parameters<typeof sendSheet>[1],
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const edits: PastEdit[] = web.planner
    .revisions(page.build.id)
    .map(({ revision, savedAt, who, cause }) => ({ revision, savedAt: minutesOf(savedAt), who, cause }))
    .sort((a, b) => b.revision - a.revision);
  return sendSheet(
    request,
    reply,
    () => HistorySheet({ page, edits, problems }),
    () => HistoryPage({ page, edits, problems }),
  );
}
