/** Show day: ticks of the pack list, which are entries of the log, and proposals for it, which are taken as edits. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { ShowPage, ShowSheet } from '../../../views/show/show.tsx';
import { showTexts } from '../../../views/texts/paper/show.ts';
import type { BuildPage } from '../../../views/types.ts';
import { type Change, type NewLogEntry, type Problem, type Result, wordedProblem } from '../../model/index.ts';
import { answeringChange, takingChanges } from '../edits/take-proposal.ts';
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

/** Puts what is proposed into a box, or keeps that it is not needed; the problems where that cannot be done. */
async function take(web: Web, request: BuildRequest): Promise<readonly Problem[]> {
  const body = (request.body ?? {}) as Readonly<Record<string, unknown>>;
  const page = await pageOf(web, request, request.params.id);
  const changes = changesAsked(page, body);
  if (!changes.ok) return changes.problems;
  const expected = foundOrSent(page.revision - (page.behind?.edits ?? 0), body.edit);
  const taken = await web.planner.edit(page.build.id, changes.value, web.who(request), expected);
  return taken.ok ? [] : taken.problems;
}

function changesAsked(
  { build, forecast }: BuildPage,
  { code, of, box, answer = 'take' }: Readonly<Record<string, unknown>>,
): Result<readonly Change[]> {
  const refused = (field: string, value: unknown, message: string): Result<never> => ({
    ok: false,
    problems: [wordedProblem('gone', field, String(value ?? ''), message)],
  });
  if (answer !== 'take' && answer !== 'not-needed' && answer !== 'again')
    return refused('answer', answer, say.answer(String(answer)));
  const isIt = (it: { readonly code: string; readonly of: string }): boolean => it.code === code && it.of === of;
  const { proposals = [], notNeeded = [], stops = [] } = forecast.show ?? {};
  const proposal = proposals.find(isIt);
  if (answer === 'take' && proposal !== undefined) {
    const changes = takingChanges(build, proposal, String(box ?? ''));
    return changes === null ? refused('box', box, say.box(String(box))) : { ok: true, value: changes };
  }
  const powerOns = stops.flatMap((stop) =>
    stop.code === 'no-power-on' ? [{ code: 'power-on', of: stop.where } as const] : [],
  );
  const answered = (answer === 'again' ? notNeeded : [...proposals, ...powerOns]).find(isIt);
  if (answer === 'take' || answered === undefined) return refused('of', of, say.proposal(String(of ?? '')));
  return { ok: true, value: [answeringChange(build, answered, answer === 'again')] };
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
    problems: [wordedProblem('log', field, value, message)],
  });
  if (!(foundIn(web, build).build.boxes ?? []).some(({ id }) => id === box)) return refused('box', box, say.box(box));
  const id = pressedId('packed', [build, box, undoes, after]);
  if (undoes === '') return { ok: true, value: { id, kind: 'packed', box } };
  const known = web.planner.log(build).some((entry) => entry.id === undoes && entry.kind === 'packed');
  return known ? { ok: true, value: { id, kind: 'undo', undoes } } : refused('undoes', undoes, say.entry(undoes));
}
