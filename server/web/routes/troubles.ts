/** What goes wrong: tried first, or told. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { HELPERS_KINDS, type OpenTrouble, TroublesPage, TroublesSheet } from '../../../views/sheets/troubles.tsx';
import { troubleTexts as say } from '../../../views/texts/troubles.ts';
import type { FormValues } from '../../../views/types.ts';
import { type NewLogEntry, type Problem, wordedProblem } from '../../model/index.ts';
import { readTrouble, TROUBLES, type Trouble, type TroubleKind, troubleDefaults } from '../edits/troubles.ts';
import { statusOf } from '../errors.ts';
import { foundIn, logPressed, numberSent, pageOf, pressedId, sendSheet, type Web } from '../web.ts';

type TroubleRequest = FastifyRequest<{ Params: { id: string }; Querystring: { open?: string } }>;

export function registerTroubles(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'wrong');
  const mayCount = { config: { access: 'count' as const } };
  app.get(path, mayCount, (request: TroubleRequest, reply) => show(web, request, reply, null));
  app.post(path, mayCount, async (request: TroubleRequest, reply) => {
    const { kind, action, revision, after, values } = posted(request.body);
    const { build } = foundIn(web, request.params.id);
    const page = await pageOf(web, request, build.id);
    const form = { kind, values, problems: [], seen: null };
    const refuse = (problems: readonly Problem[]) => {
      reply.code(statusOf(problems));
      return show(web, request, reply, { ...form, problems });
    };
    if (!kindsFor(request).includes(kind)) {
      reply.code(403);
      return show(web, request, reply, {
        ...form,
        problems: [wordedProblem('shape', 'kind', kind, say.wrong.makersOnly)],
      });
    }
    const read = readTrouble(kind, values, { build, forecast: page.forecast, now: web.now() });
    if (!read.ok) return refuse(read.problems);
    const id = pressedId('trouble', [build.id, kind, values, after]);
    const entries = read.value.entries.map((entry): NewLogEntry => ({ ...entry, id }));
    if (action !== 'tell') {
      const seen = await web.planner.whatIf(build.id, read.value.changes, revision, entries);
      if (!seen.ok) return refuse(seen.problems);
      return show(web, request, reply, { ...form, seen: { ...seen.value, clock: page.clock, changes: true } });
    }
    const problems = await tell(web, request, build.id, { ...read.value, entries }, revision);
    return problems.length > 0
      ? refuse(problems)
      : reply.redirect(screenHref(build.id, isHelper(request) ? 'count' : 'countdown'), 303);
  });
}

/** A helper has no other sheets than Count and this one. */
function isHelper({ visitor }: FastifyRequest): boolean {
  return visitor?.role === 'helper';
}

function kindsFor(request: FastifyRequest): readonly TroubleKind[] {
  return isHelper(request) ? HELPERS_KINDS : TROUBLES;
}

/** Logs what has happened and makes the changes; the problems where that could not be done. */
async function tell(
  web: Web,
  request: FastifyRequest,
  id: string,
  { changes, entries }: { readonly changes: Trouble['changes']; readonly entries: readonly NewLogEntry[] },
  revision: number,
): Promise<readonly Problem[]> {
  if (entries.length > 0) return entries.flatMap((entry) => logPressed(web, request, id, entry));
  const edited = await web.planner.edit(id, changes, web.who(request), revision);
  return edited.ok ? [] : edited.problems;
}

async function show(web: Web, request: TroubleRequest, reply: FastifyReply, open: OpenTrouble | null): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const asked = TROUBLES.find((kind) => kind === request.query.open) ?? null;
  const sources = { build: page.build, forecast: page.forecast, now: web.now() };
  const defaults = Object.fromEntries(TROUBLES.map((kind) => [kind, troubleDefaults(kind, sources)]));
  const helper = isHelper(request) ? web.who(request) : null;
  const props = {
    page,
    open,
    asked,
    kinds: kindsFor(request),
    helper,
    defaults: defaults as Readonly<Record<TroubleKind, FormValues>>,
  };
  return sendSheet(
    request,
    reply,
    () => TroublesSheet(props),
    () => TroublesPage(props),
  );
}

interface Posted {
  readonly kind: TroubleKind;
  readonly action: string;
  readonly revision: number;
  /** The last entry of the log that the page knew of. */
  readonly after: string;
  readonly values: FormValues;
}

function posted(body: unknown): Posted {
  const texts = Object.entries((body ?? {}) as Record<string, unknown>).filter(
    ([, value]) => typeof value === 'string',
  );
  const { kind, do: action = '', edit, after = '', ...values } = Object.fromEntries(texts) as Record<string, string>;
  return { kind: TROUBLES.find((it) => it === kind) ?? 'evening', action, revision: numberSent(edit), after, values };
}
