/** History: the edits of a build, what each changed, and taking one back or the whole plan. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { HistoryPage, HistorySheet, historyHref, type PastEdit } from '../../../views/sheets/history.tsx';
import { texts } from '../../../views/texts/index.ts';
import { type Problem, type Result, wordedProblem } from '../../model/index.ts';
import type { Turn } from '../../planner/index.ts';
import { editLines } from '../edits/edit-lines.ts';
import { FILE_LIMIT_BYTES, sizeText, statusOf } from '../errors.ts';
import { minutesOf, pageOf, sendSheet, type Web } from '../web.ts';

type HistoryRequest = FastifyRequest<{ Params: { id: string }; Querystring: { before?: unknown } }>;

const EDITS = 40;

export function registerHistory(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'history');
  app.get(path, (request: HistoryRequest, reply) => showHistory(web, request, reply, []));
  app.post(path, async (request: HistoryRequest, reply) => {
    const { id } = (await pageOf(web, request, request.params.id)).build;
    const taken = await takeBack(web, id, request);
    if (taken.ok) return reply.redirect(screenHref(id, 'history'), 303);
    reply.code(statusOf(taken.problems));
    return showHistory(web, request, reply, taken.problems);
  });
}

/** `revision`: the plan back to that edit; `undo`: that edit alone taken back. */
function takeBack(web: Web, id: string, request: HistoryRequest): Promise<Result<unknown>> | Result<unknown> {
  const { revision, undo } = (request.body ?? {}) as { revision?: unknown; undo?: unknown };
  const typed = String(undo ?? revision ?? '');
  if (!web.planner.revisions(id).some((it) => String(it.revision) === typed)) {
    const message = texts.history.noSuchEdit(typed);
    return { ok: false, problems: [wordedProblem('unknown-name', 'revision', typed, message)] };
  }
  const who = web.who(request);
  return undo === undefined ? web.planner.takeBack(id, Number(typed), who) : web.planner.undo(id, Number(typed), who);
}

/** The sheet of the edits, with what kept something from being done. */
export async function showHistory(
  web: Web,
  request: HistoryRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const { id } = page.build;
  const all = web.planner.revisions(id);
  const did = whatEditsDid(web.planner.history(id));
  const before = beforeOf(request.query.before, all.length);
  const edits = all
    .slice(Math.max(0, before - 1 - EDITS), before - 1)
    .map(({ revision, savedAt, who, cause }): PastEdit => {
      const past = web.planner.pastEdit(id, revision);
      return {
        revision,
        savedAt: minutesOf(savedAt),
        who,
        cause,
        lines: past === null ? [] : editLines(past),
        did: did.get(revision) ?? null,
      };
    });
  const props = {
    page,
    edits: edits.reverse(),
    problems,
    fileLimit: sizeText(FILE_LIMIT_BYTES),
    at: historyHref(id, before > all.length ? undefined : before),
    newer: before > all.length ? null : historyHref(id, Math.min(before + EDITS, all.length + 1)),
    older: before - EDITS > 1 ? historyHref(id, before - EDITS) : null,
  };
  return sendSheet(
    request,
    reply,
    () => HistorySheet(props),
    () => HistoryPage(props),
  );
}

/**
 * By edit, the answers before and after it, where the ledger of room has a line for it that nothing else had a part in.
 */
function whatEditsDid(turns: readonly Turn[]): Map<number, NonNullable<PastEdit['did']>> {
  const did = new Map<number, NonNullable<PastEdit['did']>>();
  for (const [i, after] of turns.entries()) {
    const before = turns[i - 1];
    if (before === undefined || after.revision !== before.revision + 1 || after.logSeq !== before.logSeq) continue;
    did.set(after.revision, { before, after });
  }
  return did;
}

/** The number of an edit that is there, or one past the newest. */
function beforeOf(asked: unknown, edits: number): number {
  const number = typeof asked === 'string' && /^\d{1,9}$/.test(asked) ? Number(asked) : edits + 1;
  return Math.min(Math.max(2, number), edits + 1);
}
