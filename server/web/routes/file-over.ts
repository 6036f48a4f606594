/** A changed file read over the plan of a build: an edit like any other, with its changes in History. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { fileOverHref } from '../../../views/sheets/history.tsx';
import { texts } from '../../../views/texts/index.ts';
import { changesBetween, type Problem, problem, problemTexts, wordedProblem } from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { readUpload, UPLOAD_LIMIT_BYTES } from '../uploads.ts';
import { foundIn, type Web } from '../web.ts';
import { showHistory } from './history.ts';

type FileRequest = FastifyRequest<{ Params: { id: string }; Querystring: { before?: unknown } }>;

const say = problemTexts.edits.file;

export function registerFileOver(scope: FastifyInstance, web: Web): void {
  scope.post(
    fileOverHref(':id'),
    { bodyLimit: UPLOAD_LIMIT_BYTES },
    async (request: FileRequest, reply: FastifyReply) => {
      const { id } = foundIn(web, request.params.id).build;
      const problems = await readOver(web, id, request);
      if (problems.length === 0) return reply.redirect(screenHref(id, 'history'), 303);
      reply.code(statusOf(problems));
      return showHistory(web, request, reply, problems);
    },
  );
}

/** What keeps the plan in the file from taking the place of the one here; its log is not read. */
async function readOver(web: Web, id: string, request: FileRequest): Promise<readonly Problem[]> {
  const { name, bytes } = await readUpload(request);
  if (bytes.length === 0) return [wordedProblem('shape', 'file', name, texts.builds.noFile)];
  const read = await web.planner.read(bytes, texts.history.theFile);
  if (!read.ok) return read.problems;
  const { build } = read.value;
  if (build.id !== id) return [problem('conflict', 'file', build.id, say.ofAnother(build.id, id))];
  const present = foundIn(web, id);
  const changes = changesBetween(present.build, build);
  if (changes.length === 0) return [problem('shape', 'file', name, say.same)];
  const made = await web.planner.edit(id, changes, web.who(request), present.revision, { code: 'file' });
  return made.ok ? [] : made.problems;
}
