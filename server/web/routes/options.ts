/** Options: changes kept beside the plan, compared with it, adopted or dropped. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { OptionsPage, OptionsSheet } from '../../../views/sheets/options.tsx';
import { texts } from '../../../views/texts/index.ts';
import { type Problem, wordedProblem } from '../../model/index.ts';
import { editLines } from '../edits/edit-lines.ts';
import { statusOf } from '../errors.ts';
import { foundIn, minutesOf, numberSent, pageOf, sendSheet, type Web } from '../web.ts';

type OptionsRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerOptions(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'options');
  app.get(path, (request: OptionsRequest, reply) => show(web, request, reply, []));
  app.post(path, async (request: OptionsRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const problems = await pressed(web, id, request);
    if (problems.length === 0) return reply.redirect(screenHref(id, 'options'), 303);
    reply.code(statusOf(problems));
    return show(web, request, reply, problems);
  });
}

/** What the button that was pressed asks for; the problems where that could not be done. */
async function pressed({ planner, who }: Web, id: string, request: OptionsRequest): Promise<readonly Problem[]> {
  const { adopt, drop, edit } = (request.body ?? {}) as { adopt?: unknown; drop?: unknown; edit?: unknown };
  if (drop !== undefined) return planner.dropOption(id, numberSent(drop)) ? [] : [gone(drop)];
  if (adopt === undefined) return [gone('')];
  const adopted = await planner.adoptOption(id, numberSent(adopt), who(request), numberSent(edit));
  return adopted.ok ? [] : adopted.problems;
}

function gone(sent: unknown): Problem {
  return wordedProblem('gone', 'option', String(sent), texts.options.gone);
}

async function show(
  web: Web,
  request: OptionsRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const { present, options } = await web.planner.options(page.build.id);
  const shown = options.map(({ edit, savedAt, ...option }) => ({
    ...option,
    savedAt: minutesOf(savedAt),
    lines: editLines(edit),
  }));
  const props = { page, present, options: shown, problems };
  return sendSheet(
    request,
    reply,
    () => OptionsSheet(props),
    () => OptionsPage(props),
  );
}
