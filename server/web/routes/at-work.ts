/** What is being worked out for a build, as a line under its sheet, and the stopping of it. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { AtWork, atWorkHref, type WorkShown } from '../../../views/frame/at-work.tsx';
import { screenHref } from '../../../views/links.ts';
import { texts } from '../../../views/texts/index.ts';
import type { Planner } from '../../planner/types.ts';
import { foundIn, sendFragment, type Web, wantsFragment } from '../web.ts';

type WorkRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerAtWork(app: FastifyInstance, web: Web): void {
  const path = atWorkHref(':id');
  app.get(path, (request: WorkRequest, reply) => show(web, request, reply, null));
  app.post(path, (request: WorkRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const problem = stop(web.planner, id, (request.body ?? {}) as { job?: unknown });
    if (!wantsFragment(request) && problem === null) return reply.redirect(screenHref(id, 'countdown'), 303);
    if (problem !== null) reply.code(422);
    return show(web, request, reply, problem);
  });
}

/**
 * The work of a build that takes long enough to be shown, the most urgent first: no first answers, and no checks of an
 * edit, for which somebody waits anyway.
 */
export function shownWork(planner: Pick<Planner, 'jobs'>, id: string): WorkShown[] {
  return planner.jobs(id).flatMap(({ job, kind, isRunning, done, total }) => {
    if (kind === 'answer' || kind === 'see-first') return [];
    return [{ job, kind, isRunning, share: isRunning && total > 0 ? done / total : null }];
  });
}

/** Null: it was stopped. */
function stop(planner: Planner, id: string, { job }: { job?: unknown }): string | null {
  const there = shownWork(planner, id).find((one) => String(one.job) === job);
  return there !== undefined && planner.stop(there.job) ? null : texts.atWork.gone;
}

function show(web: Web, request: WorkRequest, reply: FastifyReply, problem: string | null): Promise<string> {
  const { id } = foundIn(web, request.params.id).build;
  return sendFragment(reply, AtWork({ build: id, work: shownWork(web.planner, id), problem }));
}
