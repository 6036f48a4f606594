/** The web room: an app as a value. It registers plugins and routes by hand and never listens. */
import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import helmet from '@fastify/helmet';
import { fastifySSE } from '@fastify/sse';
import Fastify, { type FastifyBaseLogger, type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify';
import { renderFragment, renderPage } from '../../views/render.ts';
import { ErrorPage, ErrorSheet, WaitPage } from '../../views/sheets/builds.tsx';
import { ContentsPage, ContentsSheet } from '../../views/sheets/contents.tsx';
import { DesignPage, DesignSheet } from '../../views/sheets/design.tsx';
import { HandsPage, HandsSheet } from '../../views/sheets/hands.tsx';
import { StepsPage, StepsSheet } from '../../views/sheets/steps.tsx';
import { ShowPage, ShowSheet } from '../../views/show/show.tsx';
import { texts } from '../../views/texts/index.ts';
import { MAKER } from '../planner/index.ts';
import type { Planner } from '../planner/types.ts';
import type { Disk } from '../store/index.ts';
import { registerAssets } from './assets.ts';
import { registerBodies } from './bodies.ts';
import { registerCompression } from './compress.ts';
import { FORM_LIMIT_BYTES, refusalOf, UnderWay } from './errors.ts';
import { headersOf } from './headers.ts';
import { inLanguage, languageOf, registerLanguage } from './language.ts';
import { createLayouts } from './layouts/layouts.ts';
import { createRendered } from './rendered.ts';
import { registerAfter } from './routes/after.ts';
import { registerApi } from './routes/api.ts';
import { registerAtWork } from './routes/at-work.ts';
import { registerBuilds } from './routes/builds.ts';
import { registerEditable } from './routes/editing.ts';
import { registerFileOver } from './routes/file-over.ts';
import { registerFormulas } from './routes/formulas.ts';
import { registerHistory } from './routes/history.ts';
import { registerLedger } from './routes/ledger.ts';
import { registerLevers } from './routes/levers.ts';
import { registerLines } from './routes/lines.ts';
import { registerLive } from './routes/live.ts';
import { registerOptions } from './routes/options.ts';
import { registerOrders } from './routes/orders.ts';
import { registerSheets } from './routes/sheets.ts';
import { registerPacking } from './routes/show.ts';
import { registerTables } from './routes/tables.ts';
import { registerTroubles } from './routes/troubles.ts';
import { registerWays } from './routes/ways.ts';
import { answerStray, answerUnparsed, LONGEST_PART } from './stray.ts';
import { registerUploads } from './uploads.ts';
import { headPage, lightOf, type Web, wantsFragment } from './web.ts';

/** A request that has not arrived whole by then is given up: the largest file takes ten seconds on a weak network. */
const SLOWEST_REQUEST_MS = 120_000;

interface AppParts {
  readonly planner: Planner;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /** Builds to look at, the demo first; left out: there are none. */
  readonly examples?: Web['examples'];
  /** Who asks, as kept in the history; left out: the maker. */
  readonly who?: (request: FastifyRequest) => string;
  /** Served over HTTPS: then, and only then, browsers must keep to it. */
  readonly secure?: boolean;
  /** Certificate and key in PEM, to serve over HTTPS here; left out: plainly. */
  readonly tls?: { readonly cert: string; readonly key: string };
  /** Further routes and hooks, registered before the pages: the count, who is let in. */
  readonly before?: readonly ((app: FastifyInstance, web: Web) => void | Promise<void>)[];
  readonly logger?: FastifyBaseLogger;
  /** Takes one line for each request that could not be read; left out: nobody reads them. */
  readonly report?: (line: string) => void;
  /** When what was committed is on the disk, see `Disk`; left out: when it was committed. */
  readonly synced?: Disk['synced'];
  /** Whether `X-Forwarded-…` is believed: only behind a proxy of one's own. */
  readonly trustProxy?: boolean;
}

/** The app with all its routes, ready to listen or to be injected into. */
export async function buildApp(parts: AppParts): Promise<FastifyInstance> {
  const layouts = createLayouts();
  const synced = parts.synced ?? (() => null);
  const web: Web = {
    synced,
    rendered: createRendered(parts.planner),
    layouts,
    examples: parts.examples ?? [],
    planner: parts.planner,
    now: parts.now,
    who: parts.who ?? (() => MAKER),
  };
  const app = Fastify({
    bodyLimit: FORM_LIMIT_BYTES,
    requestTimeout: SLOWEST_REQUEST_MS,
    routerOptions: { maxParamLength: LONGEST_PART },
    trustProxy: parts.trustProxy ?? false,
    https: parts.tls ?? null,
    frameworkErrors: answerStray(parts.secure ?? false),
    clientErrorHandler: answerUnparsed(parts.secure ?? false),
    ...(parts.logger === undefined ? { logger: false } : { loggerInstance: parts.logger }),
  });
  app.addHook('onClose', layouts.close);
  holdUntilSynced(app, synced);
  await app.register(helmet, headersOf(parts.secure ?? false));
  registerCompression(app);
  await app.register(cookie);
  registerLanguage(app);
  await app.register(formbody);
  registerBodies(app);
  await app.register(fastifySSE, { serializer: (data: unknown) => String(data) });
  answerErrors(app, parts.report ?? (() => undefined));
  await registerAssets(app);
  for (const register of parts.before ?? []) await register(app, web);
  await registerPages(app, web);
  return app;
}

async function registerPages(app: FastifyInstance, web: Web): Promise<void> {
  await app.register(async (scope) => {
    registerUploads(scope);
    registerBuilds(scope, web);
    registerFileOver(scope, web);
  });
  registerSheets(app, web);
  registerHistory(app, web);
  registerLedger(app, web);
  registerLines(app, web);
  registerOptions(app, web);
  registerTroubles(app, web);
  registerOrders(app, web);
  registerTables(app, web);
  registerPacking(app, web);
  registerAfter(app, web);
  registerLevers(app, web);
  registerFormulas(app, web);
  registerWays(app, web);
  registerApi(app);
  registerLive(app, web);
  registerAtWork(app, web);
  registerEditable(app, web, {
    screen: 'design',
    lists: ['parameters', 'limits', 'parts'],
    page: DesignPage,
    sheet: DesignSheet,
  });
  registerEditable(app, web, {
    screen: 'steps',
    lists: ['steps', 'feeds', 'gates', 'decisions'],
    page: StepsPage,
    sheet: StepsSheet,
  });
  registerEditable(app, web, {
    screen: 'hands',
    lists: ['people', 'machines', 'suppliers'],
    page: HandsPage,
    sheet: HandsSheet,
  });
  registerEditable(app, web, {
    screen: 'show',
    lists: ['boxes', 'passages', 'points', 'strike'],
    page: ShowPage,
    sheet: ShowSheet,
  });
  registerEditable(app, web, { screen: 'contents', lists: ['build'], page: ContentsPage, sheet: ContentsSheet });
}

/** What an answer says that is no longer true once the disk has failed. */
const CLAIMS = ['set-cookie', 'location', 'etag', 'last-modified', 'content-disposition'] as const;

/**
 * Holds every answer until all that was committed before it is on the disk, while others are answered: after a power
 * cut nothing is missing that anybody has seen. Where the disk does not take it, the answer says so instead.
 * What failed claims nothing and waits for nothing, nor do files that are always the same. A stream that has begun is
 * not held again.
 */
function holdUntilSynced(app: FastifyInstance, synced: Disk['synced']): void {
  app.addHook('onSend', (request, reply, payload, done) => {
    const isFree = reply.statusCode >= 500 || request.url.startsWith('/assets/');
    const there = isFree ? null : synced();
    if (there === null) return done(null, payload);
    there.then(
      () => done(null, payload),
      (error: Error) => {
        for (const name of CLAIMS) reply.removeHeader(name);
        done(error);
      },
    );
    return undefined;
  });
}

function answerErrors(app: FastifyInstance, report: (line: string) => void): void {
  // What is wrong with a body is found while it is read, and nothing is said of languages then.
  app.setErrorHandler((error: Error, request, reply) =>
    inLanguage(languageOf(request), () => answer(error, request, reply)),
  );
  app.setNotFoundHandler((request, reply) => {
    const plain = withoutSlash(request);
    if (plain !== null) return reply.redirect(plain, 308);
    return reply.code(404).send(errorAnswer(request, reply, texts.errors.noPage(request.url.split('?')[0] ?? '')));
  });
  const answer = (error: Error, request: FastifyRequest, reply: FastifyReply): unknown => {
    if (error instanceof UnderWay) return sendWait(request, reply, error.message);
    const refusal = refusalOf(error, request.routeOptions.bodyLimit ?? FORM_LIMIT_BYTES);
    if (refusal === null) {
      request.log.error(error);
      console.error(error);
    }
    if (refusal?.status === 400) report(`400 ${request.method} ${request.url.slice(0, 200)}: ${refusal.sentence}`);
    const { status, sentence } = refusal ?? { status: 500, sentence: texts.errors.bug };
    return reply.code(status).send(errorAnswer(request, reply, sentence));
  };
}

/**
 * The address without a slash at its end, of a page that is asked for with one; null where there is none, and where
 * another machine's address would come of it.
 */
function withoutSlash({ method, url }: FastifyRequest): string | null {
  const [path, ...query] = url.split('?');
  const plain = path!.replace(/\/+$/, '');
  if (method !== 'GET' || plain === path || !/^\/[^/\\]/.test(plain)) return null;
  return [plain, ...query].join('?');
}

/** Seconds after which what is not there yet is asked for again. */
const AGAIN_SECONDS = 2;

/**
 * A page that is worked out fetches itself again; a sheet has its whole page fetched, and data says when to come again.
 */
function sendWait(request: FastifyRequest, reply: FastifyReply, sentence: string): unknown {
  reply.header('retry-after', AGAIN_SECONDS).header('cache-control', 'no-store');
  if (wantsData(request)) return reply.code(503).send(errorAnswer(request, reply, sentence));
  reply.code(202);
  if (wantsFragment(request)) reply.header('hx-refresh', 'true');
  else reply.header('refresh', AGAIN_SECONDS);
  headPage(reply);
  return reply.send(renderPage(WaitPage({ sentence, light: lightOf(request) })));
}

/** Whether data was asked for: by the address, by what is accepted, or by a program, which says nothing of that. */
function wantsData(request: FastifyRequest): boolean {
  const { accept = '', authorization = '' } = request.headers;
  if (/^Bearer\b/i.test(authorization)) return true;
  return /\.json($|\?)|\/count\/now($|\?)/.test(request.url) || (accept.includes('json') && !accept.includes('html'));
}

/** A sentence as a page, as a sheet where a page is open already, or as data where data was asked for. */
function errorAnswer(request: FastifyRequest, reply: FastifyReply, sentence: string): unknown {
  if (wantsData(request)) {
    reply.type('application/json; charset=utf-8');
    return { problem: sentence };
  }
  if (wantsFragment(request)) {
    reply.type('text/html; charset=utf-8');
    return renderFragment(ErrorSheet({ sentence }));
  }
  headPage(reply);
  return renderPage(ErrorPage({ sentence, light: lightOf(request) }));
}
