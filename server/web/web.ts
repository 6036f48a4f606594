/** What every route is given, and the page it hands to a view. */
import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Html } from '../../views/render.ts';
import { fragmentInTurns, pageInTurns } from '../../views/render.ts';
import { texts } from '../../views/texts/index.ts';
import { type BuildPage, LIGHTS, type Light } from '../../views/types.ts';
import { type BuildFile, messageOf, type NewLogEntry, type Problem } from '../model/index.ts';
import { closedProblem } from '../planner/index.ts';
import type { Planner, Snapshot } from '../planner/types.ts';
import type { Disk } from '../store/index.ts';
import { Refusal, UnderWay } from './errors.ts';
import { VARY } from './language.ts';
import type { Layouts } from './layouts/layouts.ts';
import type { Rendered } from './rendered.ts';
import { wallClock } from './wall-clock.ts';

export interface Web {
  readonly planner: Planner;
  /** When what was committed is on the disk, so that somebody may be told of it. */
  readonly synced: Disk['synced'];
  readonly rendered: Rendered;
  readonly layouts: Pick<Layouts, 'of'>;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /** Builds to look at, each as a build file for an instant: the demo first, where there are any. */
  readonly examples: readonly { readonly id: string; readonly file: (now: number) => BuildFile }[];
  /** Who asks, for the history. */
  readonly who: (request: FastifyRequest) => string;
}

export const LIGHT_COOKIE = 'light';

/**
 * The page of a build as it is now. Throws a 404 refusal where there is no such build, and says that it is under way
 * where there is no forecast of it yet.
 *
 *     (await pageOf(web, request, 'arch')).build.id // 'arch'
 */
export async function pageOf(web: Web, request: FastifyRequest, id: string): Promise<BuildPage> {
  const snapshot = await snapshotOf(web, id);
  // Read after the wait: an edit may have come meanwhile.
  const found = foundIn(web, id);
  const { version, stale, failedAt } = snapshot;
  const behind = () => ({
    edits: found.revision - version.revision,
    entries: web.planner.log(id).length - version.logSeq,
  });
  return {
    build: found.build,
    revision: found.revision,
    forecast: snapshot.forecast,
    entries: version.logSeq,
    computedAt: snapshot.forecast.now,
    stale,
    ...(stale ? { behind: behind() } : {}),
    ...(failedAt === null ? {} : { failedAt }),
    ...savedOf(web, id, snapshot),
    ...closedOf(web, id),
    seen: seenText(snapshot),
    clock: wallClock(snapshot.forecast.build.zone),
    light: lightOf(request),
  };
}

/** Why nothing new is let in to a closed build: no key, no helper, no address; null where it is open. */
export function closedText(web: Web, id: string): string | null {
  const closed = web.planner.closed(id);
  return closed === null ? null : messageOf(closedProblem(foundIn(web, id).build, closed));
}

/** Throws the refusal of what would let something new in to a closed build. */
export function refuseClosed(web: Web, id: string): void {
  const closed = closedText(web, id);
  if (closed !== null) throw new Refusal(423, closed);
}

function closedOf({ planner }: Web, id: string): Pick<BuildPage, 'closed'> {
  const closed = planner.closed(id);
  return closed === null ? {} : { closed: { who: closed.who, at: minutesOf(closed.at) } };
}

/** Minutes for which the sheets say what the last edit did. */
const SAID_MINUTES = 15;

/** What was said before the last edit, where the forecast is of that edit and of nothing that came after it. */
function savedOf({ planner, now }: Web, id: string, { version }: Snapshot): Pick<BuildPage, 'saved'> {
  const last = planner.lastEdit(id);
  if (last === null || now() - last.at > SAID_MINUTES) return {};
  return last.revision === version.revision && last.logSeq === version.logSeq ? { saved: last.before } : {};
}

/**
 * A build as it is, and its edit. Throws a 404 refusal where there is no such build.
 *
 *     foundIn({ planner: { build: () => ({ revision: 3 }) } }, 'arch') // { revision: 3 }
 */
export function foundIn({ planner }: Web, id: string): NonNullable<ReturnType<Planner['build']>> {
  const found = planner.build(id);
  if (found === null) throw new Refusal(404, texts.errors.noBuild(id));
  return found;
}

/** The forecast of a build, waited for where it is not there yet. Throws as `pageOf` does. */
export async function snapshotOf(web: Web, id: string): Promise<Snapshot> {
  const { planner } = web;
  const snapshot = await planner.snapshot(id);
  if (snapshot !== null) return snapshot;
  const { name } = foundIn(web, id).build;
  throw new UnderWay(planner.failedAt(id) === null ? texts.wait.underWay(name) : texts.wait.failed(name));
}

/** Names the state that a page shows. */
export function seenText({ version, computedAt, failedAt }: Snapshot): string {
  return `${version.revision}.${version.logSeq}.${computedAt}${failedAt === null ? '' : `.${failedAt}`}`;
}

export function lightOf(request: FastifyRequest): Light | null {
  const cookie = request.cookies[LIGHT_COOKIE];
  return LIGHTS.find((light) => light === cookie) ?? null;
}

/** Whether the answer is swapped into a page that is open: then only the sheet is wanted. */
export function wantsFragment(request: FastifyRequest): boolean {
  return request.headers['hx-request-type'] === 'partial';
}

/**
 * Answers with the sheet alone or with the whole page around it, as was asked.
 *
 *     await sendSheet(request, reply, () => sheet, () => page) // '<main id="sheet" …', of a partial request
 */
export async function sendSheet(
  request: FastifyRequest,
  reply: FastifyReply,
  sheet: () => Html | Promise<Html>,
  page: () => Html | Promise<Html>,
): Promise<string> {
  headSheet(reply);
  return wantsFragment(request) ? fragmentInTurns(await sheet()) : pageInTurns(await page());
}

/** A piece of a page that its own script puts in. */
export function sendFragment(reply: FastifyReply, fragment: Html): Promise<string> {
  headPage(reply);
  return fragmentInTurns(fragment);
}

/**
 * Answers as `sendSheet` does, with a sheet that depends on the build and its address alone: it is rendered once for
 * all who see it.
 */
export async function sendCommonSheet(
  web: Web,
  request: FastifyRequest,
  reply: FastifyReply,
  page: BuildPage,
  sheets: { readonly sheet: () => Html | Promise<Html>; readonly page: () => Html | Promise<Html> },
): Promise<string> {
  const address = `${wantsFragment(request) ? 'sheet' : 'page'} ${request.url}`;
  const make = (): Promise<string> => sendSheet(request, reply, sheets.sheet, sheets.page);
  const text = await web.rendered.of(page, address, make);
  headSheet(reply);
  return text;
}

/** A whole page that is no sheet of a build. */
export function sendPage(reply: FastifyReply, page: Html): Promise<string> {
  headPage(reply);
  return pageInTurns(page);
}

/** The headers of a page that is no sheet of a build. */
export function headPage(reply: FastifyReply): void {
  reply.type('text/html; charset=utf-8').header('vary', VARY).header('cache-control', 'no-store');
}

/** An ISO 8601 instant in minutes since the epoch. */
export function minutesOf(instant: string): number {
  return Math.floor(Date.parse(instant) / 60_000);
}

function headSheet(reply: FastifyReply): void {
  reply.type('text/html; charset=utf-8').header('vary', `hx-request-type, ${VARY}`).header('cache-control', 'no-store');
}

/**
 * Logs what was pressed on a sheet, as of now where it does not say when; the problems where it was refused. What is
 * sent again is the entry that it was, however much later it comes.
 */
export function logPressed(
  { planner, now, who }: Web,
  request: FastifyRequest,
  build: string,
  ...entries: readonly (Omit<NewLogEntry, 'at'> & { readonly at?: string })[]
): readonly Problem[] {
  const log = planner.log(build);
  const timed = entries.map((entry) => {
    const before = log.find(({ id }) => id === entry.id);
    return { ...entry, at: before?.at ?? entry.at ?? new Date(now() * 60_000).toISOString() };
  });
  return planner.append(build, timed, who(request)).flatMap(({ problems }) => problems);
}

/** The id of the entry that a press stands for: the same for what says the same, whoever sends it however often. */
export function pressedId(kind: string, said: readonly unknown[]): string {
  const hash = createHash('sha256').update(JSON.stringify(said)).digest('base64url');
  return `${kind}-${hash.slice(0, 24)}`;
}

/** The number that a page sent, of an edit, an option or a row; 0, which none of them has, for anything else. */
export function numberSent(sent: unknown): number {
  return typeof sent === 'string' && /^\d{1,9}$/.test(sent) ? Number(sent) : 0;
}

/**
 * The edit on which changes are made that were found for the plan as it was at `foundOn`: an older one than the page
 * shows keeps them from being made over what was edited since.
 */
export function foundOrSent(foundOn: number | null, sent: unknown): number {
  return Math.min(foundOn ?? 0, numberSent(sent));
}
