/** The plain form of Count, for a browser without scripts: what it sends as entries of the log, or what is wrong. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { phoneTexts } from '../../../views/texts/count/phone.ts';
import { countTexts } from '../../../views/texts/count/sheet.ts';
import { readWall } from '../../engine/index.ts';
import { type Forecast, type NewLogEntry, type Problem, type Result, wordedProblem } from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { foundIn, logPressed, pressedId, snapshotOf, type Web } from '../web.ts';

const say = countTexts.plain.refused;
const MOST_UNITS = 1_000_000;
const KINDS = ['done', 'scrapped', 'scrapped-counted', 'loaded', 'passed', 'failed', 'lost', 'undo'] as const;
/** A field of this name and a step, with its set: how many go back there when the gate fails. */
const BACK = 'back-';
const MINUTE_MS = 60_000;

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;
type Show = (request: BuildRequest, reply: FastifyReply, problems: readonly Problem[]) => Promise<string>;
/** An entry whose id is still to come, of now where it does not say when. */
type Pressed = Omit<NewLogEntry, 'at' | 'id'> & { readonly at?: string };
type Read = Result<readonly Pressed[]>;

/** `show` draws the Count page with what was wrong. */
export function registerPlainCount(app: FastifyInstance, web: Web, show: Show): void {
  app.post('/b/:id/count', { config: { access: 'count' } }, async (request: BuildRequest, reply) => {
    const { id } = request.params;
    const { forecast } = await snapshotOf(web, id);
    const sent = formOf(request.body);
    const read = readPlainCount(sent, { forecast, zone: foundIn(web, id).build.zone, now: web.now() });
    const problems = read.ok
      ? logPressed(web, request, id, ...read.value.map((entry, at) => ({ ...entry, id: idOf(id, sent, at) })))
      : read.problems;
    if (problems.length === 0) return reply.redirect(`/b/${id}/count`, 303);
    reply.code(statusOf(problems));
    return show(request, reply, problems);
  });
}

type Sent = Readonly<Record<string, string>>;

function formOf(body: unknown): Sent {
  const texts = Object.entries((body as object | null) ?? {}).filter(([, value]) => typeof value === 'string');
  return Object.fromEntries(texts.map(([name, value]) => [name, (value as string).trim()]));
}

/**
 * An entry's id is made of what the form says and of how far the log had come when it was drawn: the same press sent
 * twice counts once, the same number after it counts again.
 */
function idOf(build: string, sent: Sent, at: number): string {
  const said = Object.entries(sent).sort(([one], [other]) => (one < other ? -1 : 1));
  return pressedId('plain', [build, said, at]);
}

interface Seen {
  readonly forecast: Forecast;
  readonly zone: string;
  readonly now: number;
}

function readPlainCount(sent: Sent, { forecast, zone, now }: Seen): Read {
  const kind = KINDS.find((one) => one === sent.kind);
  if (kind === undefined) return refuse(sent, 'kind', say.kind(sent.kind ?? ''));
  if (kind === 'undo')
    return sent.undoes ? { ok: true, value: [{ kind, undoes: sent.undoes }] } : refuse(sent, 'undoes', say.undoes);
  if (kind === 'lost') return readLost(sent, zone, now);
  const [own, set = ''] = (sent.step ?? '').split('/');
  const step = forecast.steps.find(({ id }) => id === own);
  if (step === undefined) return refuse(sent, 'step', say.step(own!));
  const at = { step: step.id, ...inSet(set) };
  if (kind === 'failed') return readFailure(sent, at);
  if (step.kind === 'gate' && (kind === 'passed' || kind === 'done'))
    return { ok: true, value: [{ kind: 'passed', ...at }] };
  const n = unitsIn(sent.n ?? '');
  if (n === null || n === 0) return refuse(sent, 'n', say.number(sent.n ?? ''));
  if (kind === 'scrapped' || kind === 'scrapped-counted')
    return { ok: true, value: [{ kind: 'scrapped', ...at, n, counted: kind !== 'scrapped' }] };
  return { ok: true, value: [{ kind, ...at, n }] };
}

/** A gate that failed, with what goes back for it. */
function readFailure(sent: Sent, at: { readonly step: string }): Read {
  const why = sent.reason ? { reason: sent.reason.slice(0, 200) } : {};
  const entries: Pressed[] = [{ kind: 'failed', ...at, ...why }];
  for (const [name, typed] of Object.entries(sent).filter(([field]) => field.startsWith(BACK))) {
    const [step, set = ''] = name.slice(BACK.length).split('/');
    const n = unitsIn(typed === '' ? '0' : typed);
    if (n === null) return refuse(sent, name, say.number(typed));
    if (n > 0) entries.push({ kind: 'sent-back', step: step!, ...inSet(set), n, ...why });
  }
  return { ok: true, value: entries };
}

/** Time that somebody lost, or a machine, on the clock of the build: from an hour that is not ahead until any later. */
function readLost(sent: Sent, zone: string, now: number): Read {
  const [from, until] = [sent.from, sent.until].map((wall = '') => {
    const read = readWall(wall, zone);
    return read.ok ? read.value : null;
  });
  if (from == null || until == null || until <= from || from > now) return refuse(sent, 'from', phoneTexts.lostWhen);
  const [what, id, n] = (sent.of ?? '').split(' ');
  const of = what === 'person' ? { person: id! } : what === 'machine' ? { machine: id! } : {};
  const some = n === undefined ? {} : { n: Number(n) };
  const instant = (minutes: number): string => new Date(minutes * MINUTE_MS).toISOString();
  return { ok: true, value: [{ kind: 'lost', ...of, ...some, at: instant(from), until: instant(until) }] };
}

function inSet(set: string): { readonly set?: number } {
  return set === '' ? {} : { set: Number(set) };
}

function unitsIn(typed: string): number | null {
  const n = /^\d{1,7}$/.test(typed) ? Number(typed) : null;
  return n === null || n > MOST_UNITS ? null : n;
}

function refuse(sent: Sent, field: string, message: string): Result<never> {
  return { ok: false, problems: [wordedProblem('log', `entry.${field}`, sent[field] ?? '', message)] };
}
