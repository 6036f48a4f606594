/** Make or send out: laying the ways of parts beside each other, and keeping or adopting one, or a split. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { WaysPage, WaysSheet, wayKey } from '../../../views/sheets/ways.tsx';
import { texts } from '../../../views/texts/index.ts';
import { splitText } from '../../../views/words/way-words.ts';
import {
  asRead,
  type Build,
  type Change,
  LONGEST_OPTION_NAME,
  type PartWays,
  type Problem,
  type Result,
  splitChanges,
  type WaysBeside,
  type WaysOutline,
  wordedProblem,
} from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { foundIn, foundOrSent, pageOf, sendSheet, type Web } from '../web.ts';

type WaysRequest = FastifyRequest<{ Params: { id: string } }>;

const say = texts.ways;

export function registerWays(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'ways');
  app.get(path, (request: WaysRequest, reply) => {
    const { id, parts = [] } = foundIn(web, request.params.id).build;
    const hasWays = parts.some(({ ways = [] }) => ways.length > 1);
    // Whoever opens the sheet wants to see it: the first time it is worked out without a press.
    if (hasWays && web.planner.partWays(id) === null) web.planner.layWaysBeside(id);
    return show(web, request, reply, []);
  });
  app.get('/b/:id/ways.json', (request: WaysRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const answer: WaysOutline = web.planner.partWays(id)?.found ?? null;
    reply.header('cache-control', 'no-store').type('application/json; charset=utf-8');
    return reply.send(JSON.stringify(answer, asRead));
  });
  app.post(path, async (request: WaysRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    const done = await pressed(web, build, request);
    if (done.ok) return reply.redirect(done.value, 303);
    reply.code(statusOf(done.problems));
    return show(web, request, reply, done.problems);
  });
}

/** What the button that was pressed asks for: where it leads, or the problems where that could not be done. */
async function pressed({ planner, who }: Web, build: Build, request: WaysRequest): Promise<Result<string>> {
  const body = (request.body ?? {}) as Record<string, unknown>;
  const { look, adopt, edit } = body;
  const { id } = build;
  if (look !== undefined) {
    planner.layWaysBeside(id);
    return { ok: true, value: screenHref(id, 'ways') };
  }
  const shown = planner.partWays(id);
  const asked = askedFor(build, shown?.found ?? null, body);
  if (!asked.ok) return asked;
  const { name, changes } = asked.value;
  const expected = foundOrSent(shown?.foundOn ?? null, edit);
  if (adopt === undefined) {
    const kept = planner.keepOption(id, { name, changes, who: who(request), expected });
    return kept.ok ? { ok: true, value: `${screenHref(id, 'options')}#option-${kept.value.number}` } : kept;
  }
  const adopted = await planner.edit(id, changes, who(request), expected, { code: 'option', name });
  return adopted.ok ? { ok: true, value: screenHref(id, 'ways') } : adopted;
}

interface AskedFor {
  readonly name: string;
  readonly changes: readonly Change[];
}

/** The way or the split that was pressed, or the units that were typed. */
function askedFor(build: Build, found: WaysBeside | null, body: Record<string, unknown>): Result<AskedFor> {
  const { keep, adopt, split, part, way, units } = body;
  const gone = (value: string): Result<never> => refused('part', value, say.gone);
  if (split !== undefined) {
    const own = found?.parts.find((one) => one.part === part && one.between?.other === way);
    return own === undefined ? gone(String(part ?? '')) : typedSplit(build, own, String(units ?? '').trim());
  }
  const key = String(keep ?? adopt ?? '');
  for (const one of found?.parts ?? []) {
    const its = one.ways.find((it) => wayKey(one.part, it.way) === key && it.changes.length > 0);
    if (its !== undefined) return named(one, its.name, its.changes);
    const share = one.splits.find((it) => wayKey(one.part, one.between!.other, it.units) === key);
    if (share !== undefined) return named(one, splitText(one, share), share.changes);
  }
  return gone(key);
}

function typedSplit(build: Build, own: PartWays, typed: string): Result<AskedFor> {
  const most = own.units - own.made;
  const units = /^\d{1,6}$/.test(typed) ? Number(typed) : 0;
  if (units < 1 || units > most) return refused('units', typed, say.wrongUnits(typed, most));
  const part = build.parts?.find(({ id }) => id === own.part);
  if (part === undefined) return refused('part', own.part, say.gone);
  const changes = splitChanges(part, new Map([[own.between!.other, units]]));
  return named(own, splitText(own, { rest: own.units - units, units }), changes);
}

function named({ name }: PartWays, way: string, changes: readonly Change[]): Result<AskedFor> {
  const words = say.option(name, way);
  const fits = words.length <= LONGEST_OPTION_NAME;
  return { ok: true, value: { name: fits ? words : `${words.slice(0, LONGEST_OPTION_NAME - 1)}…`, changes } };
}

function refused(field: string, value: string, message: string): Result<never> {
  return { ok: false, problems: [wordedProblem(field === 'units' ? 'range' : 'gone', field, value, message)] };
}

async function show(
  web: Web,
  request: WaysRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const props = { page, ways: web.planner.partWays(page.build.id), problems };
  return sendSheet(
    request,
    reply,
    () => WaysSheet(props),
    () => WaysPage(props),
  );
}
