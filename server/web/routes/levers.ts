/** What would buy time: looking for it, and keeping or adopting what was found. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { LeversPage, LeversSheet, rowKey } from '../../../views/sheets/levers.tsx';
import { texts } from '../../../views/texts/index.ts';
import { leversText } from '../../../views/words/lever-words.ts';
import {
  asRead,
  type LeverRow,
  type LeverSearch,
  type LeversOutline,
  LONGEST_OPTION_NAME,
  type Problem,
  wordedProblem,
} from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { foundIn, foundOrSent, pageOf, sendSheet, type Web } from '../web.ts';

type LeversRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerLevers(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'levers');
  app.get(path, (request: LeversRequest, reply) => show(web, request, reply, []));
  app.get('/b/:id/levers.json', (request: LeversRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const answer: LeversOutline = web.planner.levers(id)?.search ?? null;
    reply.header('cache-control', 'no-store').type('application/json; charset=utf-8');
    return reply.send(JSON.stringify(answer, asRead));
  });
  app.post(path, async (request: LeversRequest, reply) => {
    const { id } = foundIn(web, request.params.id).build;
    const done = await pressed(web, id, request);
    if ('to' in done) return reply.redirect(done.to, 303);
    reply.code(statusOf(done.problems));
    return show(web, request, reply, done.problems);
  });
}

type Done = { readonly to: string } | { readonly problems: readonly Problem[] };

/** What the button that was pressed asks for: where it leads, or the problems where that could not be done. */
async function pressed({ planner, who }: Web, id: string, request: LeversRequest): Promise<Done> {
  const { look, size, keep, adopt, edit } = (request.body ?? {}) as Record<string, unknown>;
  if (look !== undefined) {
    planner.findLevers(id);
    return { to: screenHref(id, 'levers') };
  }
  if (size !== undefined) {
    if (planner.rightSize(id, String(size))) return { to: screenHref(id, 'levers') };
    return { problems: [wordedProblem('gone', 'parameter', String(size), texts.levers.size.gone(String(size)))] };
  }
  const shown = planner.levers(id);
  const rows = rowsNamed(shown?.search ?? null, String(keep ?? adopt ?? ''));
  if (rows.length === 0)
    return { problems: [wordedProblem('gone', 'lever', String(keep ?? adopt ?? ''), texts.levers.gone)] };
  const changes = rows.flatMap(({ lever }) => lever.changes);
  const name = shortened(leversText(rows), rows.length);
  const expected = foundOrSent(shown?.foundOn ?? null, edit);
  if (keep !== undefined) {
    const kept = planner.keepOption(id, { name, changes, who: who(request), expected });
    return kept.ok ? { to: `${screenHref(id, 'options')}#option-${kept.value.number}` } : kept;
  }
  const adopted = await planner.edit(id, changes, who(request), expected, { code: 'option', name });
  return adopted.ok ? { to: screenHref(id, 'levers') } : adopted;
}

/** The rows that a button names: one by its lever, or those of a set. */
function rowsNamed(search: LeverSearch | null, name: string): readonly LeverRow[] {
  if (search === null) return [];
  if (name === 'pair' || name === 'triple' || name === 'takes') {
    return (search[name]?.rows ?? []).map((place) => search.rows[place]!);
  }
  return search.rows.filter((row) => rowKey(row) === name);
}

/** A name for an option: as much of the words as fits. */
function shortened(words: string, rows: number): string {
  if (words.length <= LONGEST_OPTION_NAME) return words;
  return rows > 1 ? texts.levers.noName(rows) : `${words.slice(0, LONGEST_OPTION_NAME - 1)}…`;
}

async function show(
  web: Web,
  request: LeversRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const props = {
    page,
    levers: web.planner.levers(page.build.id),
    sizing: web.planner.sizing(page.build.id),
    problems,
  };
  return sendSheet(
    request,
    reply,
    () => LeversSheet(props),
    () => LeversPage(props),
  );
}
