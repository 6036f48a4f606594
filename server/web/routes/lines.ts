/** Quick lines: typed text is read and shown as it was understood, then added to the build as one edit. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { FILLS } from '../../../views/parts/lines-to-fill.tsx';
import { isGood, LinesPage, type LinesProps, LinesSheet } from '../../../views/sheets/lines.tsx';
import { texts } from '../../../views/texts/index.ts';
import type { BuildPage, SeenFirst } from '../../../views/types.ts';
import {
  applyChanges,
  type LinesRead,
  LONGEST_LINE,
  MOST_LINES,
  offersFor,
  type Problem,
  readLines,
  wordedProblem,
} from '../../model/index.ts';
import { statusOf } from '../errors.ts';
import { numberSent, pageOf, sendSheet, type Web } from '../web.ts';

const say = texts.lines;

type LinesRequest = FastifyRequest<{ Params: { id: string } }>;
type Shown = Omit<LinesProps, 'page' | 'offers'>;

const BLANK: Shown = { text: '', read: null, seen: null, problems: [], added: null };

export function registerLines(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'lines');
  app.get(path, async (request: LinesRequest, reply) =>
    show(web, request, reply, await pageOf(web, request, request.params.id), BLANK),
  );
  app.post(path, async (request: LinesRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const { lines, action, edit } = (request.body ?? {}) as Record<string, unknown>;
    const text = filled(typeof lines === 'string' ? lines : '', action);
    const wrong = tooMuch(text);
    if (wrong !== null) return refuse(web, request, reply, page, { ...BLANK, text, problems: [wrong] });
    const read = readLines(text, page.build);
    const asked = { page, read, text, expected: numberSent(edit) };
    return action === 'add' ? add(web, request, reply, asked) : look(web, request, reply, asked);
  });
}

/** The text with the line behind it that a button fills in. */
function filled(text: string, action: unknown): string {
  if (typeof action !== 'string' || !action.startsWith(FILLS)) return text;
  const line = action.slice(FILLS.length);
  return text.trim() === '' ? line : `${text.trimEnd()}\n${line}`;
}

interface Asked {
  readonly page: BuildPage;
  readonly read: LinesRead;
  readonly text: string;
  /** The edit that the page showed. */
  readonly expected: number;
}

/** Shows what was understood, and what it would do to the date. */
async function look(
  web: Web,
  request: LinesRequest,
  reply: FastifyReply,
  { page, read, text, expected }: Asked,
): Promise<string> {
  if (read.changes.length === 0) return show(web, request, reply, page, { ...BLANK, text, read });
  const seen = await web.planner.whatIf(page.build.id, read.changes, page.revision);
  if (!seen.ok) {
    const fits = withoutRefused(page, text, seen.problems);
    if (fits !== null) return look(web, request, reply, { page, read: fits, text, expected });
    return refuse(web, request, reply, page, { ...BLANK, text, read, problems: refusals(page, seen.problems) });
  }
  const shown: SeenFirst = { ...seen.value, clock: page.clock, changes: true };
  return show(web, request, reply, page, { ...BLANK, text, read, seen: shown });
}

/** Adds the lines that were understood as one edit; the others stay in the field. */
async function add(web: Web, request: LinesRequest, reply: FastifyReply, asked: Asked): Promise<string> {
  const { page, read, text, expected } = asked;
  const good = read.lines.filter(isGood);
  if (good.length === 0) {
    const problems = [wordedProblem('shape', 'lines', text, say.nothing)];
    return refuse(web, request, reply, page, { ...BLANK, text, read, problems });
  }
  if (read.changes.length > 0) {
    const made = await web.planner.edit(page.build.id, read.changes, web.who(request), expected);
    if (!made.ok) {
      const fits = withoutRefused(page, text, made.problems);
      if (fits !== null) return add(web, request, reply, { ...asked, read: fits });
      return refuse(web, request, reply, page, { ...BLANK, text, read, problems: refusals(page, made.problems) });
    }
  }
  const left = read.lines.filter((line) => !isGood(line)).map((line) => line.text);
  const after = await pageOf(web, request, page.build.id);
  const added = read.changes.length === 0 ? 0 : good.length;
  return show(web, request, reply, after, { ...BLANK, text: left.join('\n'), read, added });
}

/**
 * The lines but for those that the plan does not take, so that one that needs two people keeps no others out; null
 * where it is not known which these are, or where nobody helps yet and the rest follows from that.
 */
function withoutRefused({ build }: BuildPage, text: string, problems: readonly Problem[]): LinesRead | null {
  if ((build.people ?? []).length === 0) return null;
  const read = readLines(text, build, problems);
  return read.changes.length > 0 && read.lines.some((line) => line.problems.length > 0) ? read : null;
}

/** Why the build does not take the lines; where nobody helps yet, that alone, since the rest follows from it. */
function refusals({ build }: BuildPage, problems: readonly Problem[]): readonly Problem[] {
  const isNobody = (build.people ?? []).length === 0 && problems.some(({ code }) => code === 'nobody');
  return isNobody ? [wordedProblem('nobody', 'people', 'nobody', say.nobody)] : problems;
}

function tooMuch(text: string): Problem | null {
  const lines = text.split(/\r?\n/);
  const long = lines.findIndex((line) => line.length > LONGEST_LINE);
  if (long >= 0) return wordedProblem('shape', 'lines', lines[long]!.slice(0, 60), say.tooLong(long + 1, LONGEST_LINE));
  const typed = lines.filter((line) => line.trim() !== '');
  return typed.length > MOST_LINES ? wordedProblem('too-large', 'lines', typed.length, say.tooMany(MOST_LINES)) : null;
}

function refuse(web: Web, request: LinesRequest, reply: FastifyReply, page: BuildPage, shown: Shown): Promise<string> {
  reply.code(statusOf(shown.problems));
  return show(web, request, reply, page, shown);
}

function show(web: Web, request: LinesRequest, reply: FastifyReply, page: BuildPage, shown: Shown): Promise<string> {
  const made = applyChanges(page.build, shown.read?.changes ?? []);
  const offers = offersFor(made.ok ? made.value : page.build, web.planner.figures()).length;
  return sendSheet(
    request,
    reply,
    () => LinesSheet({ page, offers, ...shown }),
    () => LinesPage({ page, offers, ...shown }),
  );
}
