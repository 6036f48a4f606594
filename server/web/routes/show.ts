/** Show day: ticks of the pack list, which are entries of the log, and proposals for it, which are taken as edits. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { ShowPage, ShowSheet } from '../../../views/show/show.tsx';
import { showTexts } from '../../../views/texts/paper/show.ts';
import { type NewLogEntry, type Problem, problem, type Result } from '../../model/index.ts';
import { takingChanges } from '../edits/take-proposal.ts';
import { statusOf } from '../errors.ts';
import { foundIn, foundOrSent, logPressed, pageOf, pressedId, sendSheet, type Web } from '../web.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

const say = showTexts.refused;

export function registerPacking(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'show');
  app.post(`${path}/packed`, async (request: BuildRequest, reply) => {
    const { id } = request.params;
    const read = readTick(web, id, (request.body ?? {}) as Readonly<Record<string, unknown>>);
    const problems = read.ok ? logPressed(web, request, id, read.value) : read.problems;
    if (problems.length === 0) return reply.redirect(path.replace(':id', id), 303);
    return refuse(web, request, reply, problems);
  });
  app.post(`${path}/take`, async (request: BuildRequest, reply) => {
    const problems = await take(web, request);
    if (problems.length === 0) return reply.redirect(path.replace(':id', request.params.id), 303);
    return refuse(web, request, reply, problems);
  });
}

/** Puts what is proposed into a box; the problems where that cannot be done. */
async function take(web: Web, request: BuildRequest): Promise<readonly Problem[]> {
  const { code, of, box, edit } = (request.body ?? {}) as Readonly<Record<string, unknown>>;
  const page = await pageOf(web, request, request.params.id);
  const proposal = page.forecast.show?.proposals.find((it) => it.code === code && it.of === of);
  if (proposal === undefined) return [problem('gone', 'of', String(of ?? ''), say.proposal(String(of ?? '')))];
  const changes = takingChanges(page.build, proposal, String(box ?? ''));
  if (changes === null) return [problem('gone', 'box', String(box), say.box(String(box)))];
  const expected = foundOrSent(page.revision - (page.behind?.edits ?? 0), edit);
  const taken = await web.planner.edit(page.build.id, changes, web.who(request), expected);
  return taken.ok ? [] : taken.problems;
}

async function refuse(
  web: Web,
  request: BuildRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  reply.code(statusOf(problems));
  const props = { page, open: null, problems };
  return sendSheet(
    request,
    reply,
    () => ShowSheet(props),
    () => ShowPage(props),
  );
}

/** What was ticked, or taken back, as an entry: the same one however often it is sent from the same sheet. */
function readTick(web: Web, build: string, body: Readonly<Record<string, unknown>>): Result<Omit<NewLogEntry, 'at'>> {
  const text = (name: string): string => (typeof body[name] === 'string' ? body[name] : '');
  const [box, undoes, after] = [text('box'), text('undoes'), text('after')];
  const refused = (field: string, value: string, message: string): Result<never> => ({
    ok: false,
    problems: [problem('log', field, value, message)],
  });
  if (!(foundIn(web, build).build.boxes ?? []).some(({ id }) => id === box)) return refused('box', box, say.box(box));
  const id = pressedId('packed', [build, box, undoes, after]);
  if (undoes === '') return { ok: true, value: { id, kind: 'packed', box } };
  const known = web.planner.log(build).some((entry) => entry.id === undoes && entry.kind === 'packed');
  return known ? { ok: true, value: { id, kind: 'undo', undoes } } : refused('undoes', undoes, say.entry(undoes));
}
