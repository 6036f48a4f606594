/** The plain form of Count, for a browser without scripts: what it sends as an entry of the log, or what is wrong. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { countTexts } from '../../../views/texts/count/sheet.ts';
import { type Forecast, type NewLogEntry, type Problem, type Result, wordedProblem } from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { logPressed, pressedId, snapshotOf, type Web } from '../web.ts';

const say = countTexts.plain.refused;
const MOST_UNITS = 1_000_000;
const KINDS = ['done', 'scrapped', 'scrapped-counted'] as const;

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type Show = (request: BuildRequest, reply: FastifyReply, problems: readonly Problem[]) => Promise<string>;

/** `show` draws the Count page with what was wrong. */
export function registerPlainCount(app: FastifyInstance, web: Web, show: Show): void {
  app.post('/b/:id/count', { config: { access: 'count' } }, async (request: BuildRequest, reply) => {
    const { id } = request.params;
    const { forecast } = await snapshotOf(web, id);
    const read = readPlainCount(request.body, id, forecast);
    const problems = read.ok ? logPressed(web, request, id, read.value) : read.problems;
    if (problems.length === 0) return reply.redirect(`/b/${id}/count`, 303);
    reply.code(statusOf(problems));
    return show(request, reply, problems);
  });
}

/**
 * Reads the fields of the form. The entry's id is made of what it says and of how far the log had come when the form
 * was drawn: the same press sent twice counts once, the same number after it counts again.
 */
function readPlainCount(body: unknown, build: string, forecast: Forecast): Result<Omit<NewLogEntry, 'at'>> {
  const text = (name: string): string => {
    const sent = (body as Readonly<Record<string, unknown>> | null)?.[name];
    return typeof sent === 'string' ? sent.trim() : '';
  };
  const refuse = (field: string, message: string): Result<never> => ({
    ok: false,
    problems: [wordedProblem('log', `entry.${field}`, text(field), message)],
  });
  const [kind, undoes] = [text('kind'), text('undoes')];
  const said = ['token', 'kind', 'step', 'n', 'undoes'].map(text);
  const id = pressedId('plain', [build, ...said]);
  if (kind === 'undo') return undoes === '' ? refuse('undoes', say.undoes) : { ok: true, value: { id, kind, undoes } };
  if (!KINDS.some((one) => one === kind)) return refuse('kind', say.kind(kind));
  const [own, set] = text('step').split('/');
  const step = forecast.steps.find((one) => one.id === own);
  if (step === undefined) return refuse('step', say.step(own!));
  const n = /^\d{1,7}$/.test(text('n')) ? Number(text('n')) : 0;
  if (n < 1 || n > MOST_UNITS) return refuse('n', say.number(text('n')));
  const inSet = set === undefined || set === '' ? {} : { set: Number(set) };
  if (kind === 'done' && step.kind === 'gate')
    return { ok: true, value: { id, kind: 'passed', step: step.id, ...inSet } };
  if (kind === 'done') return { ok: true, value: { id, kind, step: step.id, n, ...inSet } };
  return { ok: true, value: { id, kind: 'scrapped', step: step.id, n, counted: kind !== 'scrapped', ...inSet } };
}
