/**
 * Who may do what. Every route belongs to the maker unless it says otherwise: `open` to anybody, `count` to the maker
 * and to the helpers of that one build. Programs with a key have two routes of their build and no other. Names by which
 * this server is called, and where a writing request comes from, are checked before anything else.
 */
import { isIP } from 'node:net';
import '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { EnterPage, RefusedPage } from '../../views/count/join.tsx';
import { renderPage } from '../../views/render.ts';
import { accessTexts } from '../../views/texts/access.ts';
import { MAKER } from '../planner/index.ts';
import type { AccessStore, KeyStore } from '../store/index.ts';
import { createAttempts } from './attempts.ts';
import { hashOf, newToken } from './secrets.ts';

type Visitor =
  | { readonly role: 'nobody'; readonly problem?: string }
  | { readonly role: 'maker'; readonly name: string }
  | { readonly role: 'helper'; readonly name: string; readonly build: string; readonly id: string }
  | { readonly role: 'key'; readonly name: string; readonly build: string; readonly id: string };

type Admission = 'open' | 'count' | 'maker';

declare module 'fastify' {
  interface FastifyRequest {
    visitor: Visitor;
  }
  interface FastifyContextConfig {
    /** Left out: the maker only. */
    access?: Admission;
    /** For the routes to count on: whether a program with a key of the build may use it, too. */
    keys?: boolean;
  }
}

export interface AccessOptions {
  readonly store: AccessStore;
  readonly keys: KeyStore;
  /** Milliseconds since the epoch. */
  readonly nowMs: () => number;
  /**
   * True where the server listens to this laptop alone: its own user is then the maker without a key. Never when
   * anything stands between them (a forwarding header), nor under a name that is not the laptop's own.
   */
  readonly trustLoopback: boolean;
  /** Names by which this server may be called, besides addresses and localhost: the laptop's name on the network. */
  readonly names: readonly string[];
  /** Served over TLS: cookies are then for TLS only. */
  readonly secure: boolean;
  /** Requests a minute from one address; left out: far more than pages and thumbs make. */
  readonly mostAMinute?: number;
}

const HELPER_DAYS = 60;
const MAKER_DAYS = 90;
const DAY_SECONDS = 86_400;
const MINUTE_MS = 60_000;
const MOST_A_MINUTE = 3000;
/** Styles, scripts and lettering, which say nothing of any build. */
const ASSETS = '/assets/*';
const LONGEST_BEARER = 200;
const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
const FORWARDED = ['forwarded', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip', 'via'];

const say = accessTexts.refused;

/** Puts the checks in front of every route that is registered after it. */
export function registerAccess(app: FastifyInstance, options: AccessOptions): void {
  const attempts = createAttempts({ windowMs: MINUTE_MS, most: options.mostAMinute ?? MOST_A_MINUTE });
  app.decorateRequest('visitor');
  app.addHook('onRequest', async (request, reply) => {
    request.visitor = { role: 'nobody' };
    if (!isOurName(request.host, options.names)) {
      return refuse(request, reply, 421, say.name(hostName(request.host)));
    }
    request.visitor = visitorOf(request, options);
    const wait = isWayIn(request) ? 0 : attempts.take(asker(request), options.nowMs());
    if (wait > 0) {
      return refuse(request, reply.header('retry-after', wait), 429, say.tooMany(wait));
    }
    if (isCrossSiteWrite(request)) {
      return refuse(request, reply, 403, say.otherSite);
    }
    if (request.is404) return;
    return admit(request, reply);
  });
}

/** Opens a session for the maker and gives the browser its cookie. */
export function signInMaker(reply: FastifyReply, options: AccessOptions): void {
  const token = newToken();
  options.store.openMakerSession(hashOf(token), options.nowMs());
  giveCookie(reply, token, MAKER_DAYS, options.secure);
}

export function giveHelperCookie(reply: FastifyReply, token: string, options: AccessOptions): void {
  giveCookie(reply, token, HELPER_DAYS, options.secure);
}

/**
 * Ends the session of this browser, on both sides. A helper's way in stays for another scan by the maker's leave only.
 */
export function signOut(request: FastifyRequest, reply: FastifyReply, options: AccessOptions): void {
  const token = tokenOf(request, options.secure);
  const { visitor } = request;
  if (token !== null) options.store.endMakerSession(hashOf(token), options.nowMs());
  if (visitor.role === 'helper') options.store.endHelper(visitor.build, visitor.id, options.nowMs());
  giveCookie(reply, '', 0, options.secure);
}

/** Who has been let in is counted by name as well: strangers at the same address (behind a proxy) cost them nothing. */
function asker({ visitor, ip }: FastifyRequest): string {
  return visitor.role === 'nobody' ? ip : `${visitor.role} ${'id' in visitor ? visitor.id : ''} ${ip}`;
}

/** A right key or code is let in whatever was tried before it from the same address. */
function isWayIn({ method, routeOptions }: FastifyRequest): boolean {
  return method === 'POST' && (routeOptions.url === '/enter' || routeOptions.url === '/join');
}

/** The name under which entries of this request are logged. */
export function nameOf(request: FastifyRequest): string {
  return request.visitor.role === 'nobody' ? 'nobody' : request.visitor.name;
}

function admit(request: FastifyRequest, reply: FastifyReply): FastifyReply | undefined {
  const { visitor } = request;
  const { url, config } = request.routeOptions;
  const admission = url === ASSETS ? 'open' : (config.access ?? 'maker');
  if (admission === 'open' || visitor.role === 'maker') return undefined;
  if (visitor.role === 'nobody') return refuse(request, reply, 401, visitor.problem ?? say.signIn);
  const { id } = request.params as { id?: string };
  const isOwn = admission === 'count' && id === visitor.build;
  if (visitor.role === 'key')
    return isOwn && config.keys === true ? undefined : refuse(request, reply, 403, say.keyOnly);
  if (isOwn) return undefined;
  return refuse(request, reply, 403, say.makerOnly);
}

function visitorOf(request: FastifyRequest, options: AccessOptions): Visitor {
  const { store } = options;
  const key = bearerOf(request);
  if (key !== null) return keyHolder(request, key, options);
  const token = tokenOf(request, options.secure);
  if (token !== null) {
    const hash = hashOf(token);
    const helper = store.helperByToken(hash);
    const since = (days: number): number => options.nowMs() - days * DAY_SECONDS * 1000;
    if (helper !== null && helper.createdAt > since(HELPER_DAYS)) {
      return { role: 'helper', name: helper.name, build: helper.build, id: helper.id };
    }
    if (store.isMakerSession(hash, since(MAKER_DAYS))) return { role: 'maker', name: MAKER };
  }
  return options.trustLoopback && isThisLaptop(request) ? { role: 'maker', name: MAKER } : { role: 'nobody' };
}

/** A program is what its key says, whatever cookie it sends and wherever it runs. */
function keyHolder(request: FastifyRequest, token: string, { keys, nowMs }: AccessOptions): Visitor {
  const key = keys.byToken(hashOf(token));
  if (key === null) return { role: 'nobody', problem: say.keyUnknown };
  if (key.endedAt !== null) return { role: 'nobody', problem: say.keyEnded(key.name) };
  try {
    keys.used(key.number, nowMs());
  } catch (error) {
    // A disk that does not take the note keeps no count out: it answers for the count itself.
    request.log.error(error);
  }
  return { role: 'key', name: key.name, build: key.build, id: String(key.number) };
}

/** The key of an `Authorization: Bearer` header (RFC 6750, section 2.1); null where there is no such header. */
function bearerOf({ headers }: FastifyRequest): string | null {
  const match = /^Bearer(?: +(.*))?$/i.exec(headers.authorization ?? '');
  return match === null ? null : (match[1] ?? '').trim().slice(0, LONGEST_BEARER);
}

function isThisLaptop(request: FastifyRequest): boolean {
  const name = hostName(request.host);
  const own = name === 'localhost' || LOOPBACK.has(name);
  const { remoteAddress } = request.socket;
  const direct = !FORWARDED.some((header) => request.headers[header] !== undefined);
  return own && direct && remoteAddress !== undefined && LOOPBACK.has(remoteAddress);
}

/** A page elsewhere can point a name of its own at this laptop; it cannot point an address or `localhost`. */
function isOurName(host: string, names: readonly string[]): boolean {
  const name = hostName(host);
  return name === 'localhost' || isIP(name) !== 0 || names.some((one) => one.toLowerCase() === name);
}

function hostName(host: string): string {
  const bracketed = /^\[([^\]]*)\](:\d+)?$/.exec(host);
  return (bracketed?.[1] ?? host.replace(/:\d+$/, '')).toLowerCase();
}

/**
 * Browsers say where a request comes from; what is neither said nor a browser carries no cookie that it was not given.
 */
function isCrossSiteWrite(request: FastifyRequest): boolean {
  if (request.method === 'GET' || request.method === 'HEAD') return false;
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return true;
  const { origin } = request.headers;
  return origin !== undefined && hostOf(origin) !== request.host.toLowerCase();
}

function hostOf(origin: string): string | null {
  return /^https?:\/\/([^/]+)$/.exec(origin.toLowerCase())?.[1] ?? null;
}

function refuse(request: FastifyRequest, reply: FastifyReply, status: number, message: string): FastifyReply {
  reply.code(status).header('cache-control', 'no-store');
  if (status === 401 && bearerOf(request) !== null) reply.header('www-authenticate', 'Bearer error="invalid_token"');
  if (request.method !== 'GET' || !request.headers.accept?.includes('text/html'))
    return reply.send({ problem: message });
  const page =
    status === 401
      ? EnterPage({ problem: null })
      : RefusedPage({ message, build: request.visitor.role === 'helper' ? request.visitor.build : null });
  return reply.type('text/html; charset=utf-8').send(renderPage(page));
}

function tokenOf(request: FastifyRequest, secure: boolean): string | null {
  const token = request.cookies[cookieName(secure)];
  return token !== undefined && token.length > 0 && token.length < 200 ? token : null;
}

function giveCookie(reply: FastifyReply, token: string, days: number, secure: boolean): void {
  const maxAge = days * DAY_SECONDS;
  reply.setCookie(cookieName(secure), token, { httpOnly: true, sameSite: 'strict', path: '/', maxAge, secure });
}

/** With TLS the browser itself sees to it that no other name and no plain connection has set the cookie. */
function cookieName(secure: boolean): string {
  return secure ? '__Host-daywright' : 'daywright';
}
