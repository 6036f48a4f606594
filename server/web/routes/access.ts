/** The ways in: the maker by key or by the link of this start, a helper by a code; and the maker's list of helpers. */
import { randomBytes } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { encode } from 'uqr';
import { EnterPage, HelpersPage, JoinPage, type OpenCode } from '../../../views/count/join.tsx';
import { accessTexts } from '../../../views/texts/access.ts';
import { texts } from '../../../views/texts/index.ts';
import { whenText } from '../../../views/words/wording.ts';
import { MAKER } from '../../planner/index.ts';
import type { JoinRefusal } from '../../store/index.ts';
import { type AccessOptions, giveHelperCookie, signInMaker, signOut } from '../access.ts';
import { Refusal } from '../errors.ts';
import { hashKey, hashOf, isKey, isOldHash, newCode, newToken, readTyped } from '../secrets.ts';
import { wallClock } from '../wall-clock.ts';
import { closedText, lightOf, refuseClosed, sendPage, type Web } from '../web.ts';

export interface WaysIn extends AccessOptions {
  /** Hash of the code in the link printed at this start; it works once. Null: there is none. */
  readonly startCodeHash: string | null;
  /** Addresses under which phones reach this server, the best one first; empty when it listens to this laptop only. */
  readonly addresses: () => readonly string[];
  /** A certificate for phones to trust, as PEM. */
  readonly certificate: string | null;
  /** Shows a code to scan where the server runs; told the link. */
  readonly show?: (link: string, buildName: string) => void;
}

const CODE_MINUTES = 15;
const MINUTE_MS = 60_000;
const LONGEST_NAME = 40;
const LONGEST_TYPED = 200;
const say = accessTexts.problems;

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerWaysIn(app: FastifyInstance, web: Web, ways: WaysIn): void {
  registerMaker(app, ways);
  registerJoin(app, ways);
  registerHelpers(app, web, ways);
  app.get('/certificate', { config: { access: 'open' } }, (_request, reply) => {
    if (ways.certificate === null) throw new Refusal(404, texts.errors.noPage('/certificate'));
    return reply
      .type('application/x-x509-ca-cert')
      .header('content-disposition', 'attachment; filename="daywright.crt"')
      .send(ways.certificate);
  });
}

/** A code for one helper on one build, kept as a hash. Null: there is no such build. */
export function openJoinCode(ways: Pick<WaysIn, 'store' | 'nowMs'>, build: string): string | null {
  const code = newCode();
  const now = ways.nowMs();
  const added = ways.store.addJoinCode({
    hash: hashOf(readTyped(code)),
    build,
    createdAt: now,
    expiresAt: now + CODE_MINUTES * MINUTE_MS,
    mostUses: 1,
  });
  return added ? code : null;
}

/** The link behind a code to scan. What comes after the # never leaves the phone by itself. */
export function joinLink(address: string, code: string): string {
  return `${address}/join#${code}`;
}

/** A right key is let in whatever else was tried: wrong ones cost their sender's time alone (see `hashKey`). */
function registerMaker(app: FastifyInstance, ways: WaysIn): void {
  let startCodeHash = ways.startCodeHash;
  const open = { config: { access: 'open' as const } };

  app.get('/enter', open, (_request, reply) => sendPage(reply, EnterPage({ problem: null })));
  app.post('/enter', open, async (request, reply) => {
    const typed = textOf(request.body, 'key');
    const usedStartCode = startCodeHash !== null && hashOf(readTyped(typed)) === startCodeHash;
    if (!usedStartCode && !(await isMakerKey(ways.store, typed))) {
      reply.code(401);
      return sendPage(reply, EnterPage({ problem: say.key }));
    }
    if (usedStartCode) startCodeHash = null;
    signInMaker(reply, ways);
    return reply.redirect('/', 303);
  });
  app.post('/leave', open, (request, reply) => {
    signOut(request, reply, ways);
    return reply.redirect('/enter', 303);
  });
}

/**
 * A key that is kept under a hash of an older Daywright is kept under one of today's from the first time it is typed.
 */
async function isMakerKey(store: WaysIn['store'], typed: string): Promise<boolean> {
  const stored = store.makerKeyHash();
  if (stored === null || typed === '' || typed.length > LONGEST_TYPED) return false;
  const right = await isKey(typed, stored);
  if (right && isOldHash(stored)) store.rehashMakerKey(hashKey(typed));
  return right;
}

/** No limit on wrong codes: a limit would keep out whoever has a right one. `newCode` says why none is guessed. */
function registerJoin(app: FastifyInstance, ways: WaysIn): void {
  const open = { config: { access: 'open' as const } };

  app.get('/join', open, (_request, reply) =>
    sendPage(reply, JoinPage({ problem: null, typed: { code: '', name: '' } })),
  );
  app.post('/join', open, (request, reply) => {
    const typed = {
      code: textOf(request.body, 'code'),
      name: textOf(request.body, 'name').replace(/\s+/g, ' ').trim(),
    };
    const again = (status: number, problem: string): Promise<string> => {
      reply.code(status);
      return sendPage(reply, JoinPage({ problem, typed }));
    };
    const wrongName = nameProblem(typed.name);
    if (wrongName !== null) return again(422, wrongName);
    // Looking takes no lock, so that wrong codes do not hold up what is being counted.
    const hash = hashOf(readTyped(typed.code.slice(0, LONGEST_TYPED)));
    const found = ways.store.checkJoinCode(hash, ways.nowMs());
    if (typeof found === 'string') return again(403, joinWords(found, typed.name));
    const token = newToken();
    const helper = { id: randomBytes(9).toString('base64url'), name: typed.name, tokenHash: hashOf(token) };
    const joined = ways.store.join(hash, helper, ways.nowMs());
    if (typeof joined === 'string') return again(joined === 'name-taken' ? 409 : 403, joinWords(joined, typed.name));
    giveHelperCookie(reply, token, ways);
    return reply.redirect(`/b/${joined.build}/count`, 303);
  });
}

function nameProblem(name: string): string | null {
  if (name.length === 0 || name.length > LONGEST_NAME || /\p{Cc}/u.test(name)) return say.name;
  return name.toLowerCase() === MAKER ? say.nameMaker : null;
}

function joinWords(refusal: JoinRefusal, name: string): string {
  switch (refusal) {
    case 'unknown-code':
      return say.unknownCode;
    case 'expired':
      return say.expired;
    case 'used-up':
      return say.usedUp;
    case 'name-taken':
      return say.nameTaken(name);
  }
}

function registerHelpers(app: FastifyInstance, web: Web, ways: WaysIn): void {
  const show = (request: BuildRequest, reply: FastifyReply, open: OpenCode | null): Promise<string> => {
    const { id } = request.params;
    const { build } = found(web, id);
    const clock = wallClock(build.zone);
    const nowMinutes = web.now();
    const helpers = ways.store.helpers(id).map((helper) => ({
      id: helper.id,
      name: helper.name,
      since: whenText(clock, Math.floor(helper.createdAt / MINUTE_MS), nowMinutes),
      ended: helper.endedAt !== null,
    }));
    const page = HelpersPage({
      build: id,
      name: build.name,
      closed: closedText(web, id),
      light: lightOf(request),
      helpers,
      open,
      reachable: ways.addresses().length > 0,
      certificate: ways.certificate !== null,
    });
    return sendPage(reply, page);
  };

  app.get('/b/:id/helpers', (request: BuildRequest, reply) => show(request, reply, null));
  app.post('/b/:id/helpers/codes', (request: BuildRequest, reply) => {
    const { build } = found(web, request.params.id);
    refuseClosed(web, build.id);
    const code = openJoinCode(ways, request.params.id);
    if (code === null) throw new Refusal(404, texts.errors.noBuild(request.params.id));
    const address = ways.addresses()[0] ?? `${request.protocol}://${request.host}`;
    const link = joinLink(address, code);
    ways.show?.(link, build.name);
    const matrix = encode(link, { border: 0 }).data;
    return show(request, reply, { code, address: `${address}/join`, matrix, minutes: CODE_MINUTES });
  });
  app.post('/b/:id/helpers/codes/end', (request: BuildRequest, reply) => {
    found(web, request.params.id);
    ways.store.endJoinCodes(request.params.id, ways.nowMs());
    return reply.redirect(`/b/${request.params.id}/helpers`, 303);
  });
  app.post(
    '/b/:id/helpers/:helper/end',
    (request: FastifyRequest<{ Params: { id: string; helper: string } }>, reply) => {
      const { id, helper } = request.params;
      found(web, id);
      if (!ways.store.endHelper(id, helper, ways.nowMs())) throw new Refusal(404, accessTexts.noHelper);
      return reply.redirect(`/b/${id}/helpers`, 303);
    },
  );
}

function found(web: Web, id: string): NonNullable<ReturnType<Web['planner']['build']>> {
  const build = web.planner.build(id);
  if (build === null) throw new Refusal(404, texts.errors.noBuild(id));
  return build;
}

function textOf(body: unknown, key: string): string {
  const value = (body as Record<string, unknown> | null | undefined)?.[key];
  return typeof value === 'string' ? value : '';
}
