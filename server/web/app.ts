/** The web room: an app as a value. It registers plugins and routes by hand and never listens. */
import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import multipart from '@fastify/multipart';
import { fastifySSE } from '@fastify/sse';
import Fastify, { type FastifyBaseLogger, type FastifyInstance, type FastifyRequest } from 'fastify';
import { ErrorPage, ErrorSheet } from '../../views/builds.tsx';
import { ContentsPage, ContentsSheet } from '../../views/contents.tsx';
import { DesignPage, DesignSheet } from '../../views/design.tsx';
import { HandsPage, HandsSheet } from '../../views/hands.tsx';
import { renderFragment } from '../../views/render.ts';
import { StepsPage, StepsSheet } from '../../views/steps.tsx';
import { texts } from '../../views/texts.ts';
import type { Planner } from '../planner/types.ts';
import { registerAssets } from './assets.ts';
import { registerCompression } from './compress.ts';
import { FILE_LIMIT_BYTES, FORM_LIMIT_BYTES, refusalOf } from './errors.ts';
import { registerBuilds } from './routes/builds.ts';
import { registerEditable } from './routes/editing.ts';
import { registerHistory } from './routes/history.ts';
import { registerLedger } from './routes/ledger.ts';
import { registerLive } from './routes/live.ts';
import { registerSheets } from './routes/sheets.ts';
import { lightOf, sendPage, type Web, wantsFragment } from './web.ts';

export interface AppParts {
  readonly planner: Planner;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /** Who asks, as kept in the history; left out: the maker. */
  readonly who?: (request: FastifyRequest) => string;
  /** Served over HTTPS: then, and only then, browsers are told to keep to it. */
  readonly secure?: boolean;
  /** Certificate and key in PEM, to serve over HTTPS here; left out: plainly. */
  readonly tls?: { readonly cert: string; readonly key: string };
  /** Further routes and hooks, registered before the pages: the count, who is let in. */
  readonly before?: readonly ((app: FastifyInstance, web: Web) => void | Promise<void>)[];
  readonly logger?: FastifyBaseLogger;
  /** Whether `X-Forwarded-…` is believed: only behind a proxy of one's own. */
  readonly trustProxy?: boolean;
}

/** The app with all its routes, ready to listen or to be injected into. */
export async function buildApp(parts: AppParts): Promise<FastifyInstance> {
  const web: Web = { planner: parts.planner, now: parts.now, who: parts.who ?? (() => texts.maker) };
  const app = Fastify({
    bodyLimit: FORM_LIMIT_BYTES,
    routerOptions: { maxParamLength: 200 },
    trustProxy: parts.trustProxy ?? false,
    https: parts.tls ?? null,
    ...(parts.logger === undefined ? { logger: false } : { loggerInstance: parts.logger }),
  });
  const headers = headersOf(parts.secure ?? false);
  app.addHook('onRequest', (_request, reply, done) => {
    reply.headers(headers);
    done();
  });
  registerCompression(app);
  await app.register(cookie);
  await app.register(formbody);
  await app.register(fastifySSE, { serializer: (data: unknown) => String(data) });
  answerErrors(app);
  await registerAssets(app);
  for (const register of parts.before ?? []) await register(app, web);
  await registerPages(app, web);
  return app;
}

async function registerPages(app: FastifyInstance, web: Web): Promise<void> {
  // What takes files looks at every request, so it stands where files are sent and nowhere else.
  await app.register(async (scope) => {
    await scope.register(multipart, { limits: { fileSize: FILE_LIMIT_BYTES, files: 1, fields: 10, parts: 12 } });
    registerBuilds(scope, web);
  });
  registerSheets(app, web);
  registerHistory(app, web);
  registerLedger(app, web);
  registerLive(app, web);
  registerEditable(app, web, {
    screen: 'design',
    lists: ['parameters', 'parts'],
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
  registerEditable(app, web, { screen: 'contents', lists: ['build'], page: ContentsPage, sheet: ContentsSheet });
}

/** Kinds of things that a page may have, and from where: from this machine, and nothing inline. */
const POLICY = [
  "default-src 'none'",
  ...['script', 'style', 'img', 'font', 'connect', 'manifest', 'worker'].map((kind) => `${kind}-src 'self'`),
  "form-action 'self'",
  "frame-ancestors 'none'",
  "base-uri 'none'",
].join(';');

/**
 * What every answer tells the browser: nothing comes from elsewhere, nobody frames a page or reads it from another site, and
 * nothing is guessed. Not that it shall keep to HTTPS: a laptop that goes back to plain HTTP must stay in reach of the phones
 * that have counts for it.
 */
function headersOf(secure: boolean): Record<string, string> {
  return {
    'content-security-policy': POLICY,
    ...(secure ? { 'cross-origin-opener-policy': 'same-origin', 'origin-agent-cluster': '?1' } : {}),
    'cross-origin-resource-policy': 'same-origin',
    'referrer-policy': 'same-origin',
    'x-content-type-options': 'nosniff',
    'x-dns-prefetch-control': 'off',
    'x-download-options': 'noopen',
    'x-frame-options': 'DENY',
    'x-permitted-cross-domain-policies': 'none',
    'x-xss-protection': '0',
  };
}

function answerErrors(app: FastifyInstance): void {
  app.setErrorHandler((error: Error, request, reply) => {
    const refusal = refusalOf(error);
    if (refusal === null) {
      request.log.error(error);
      console.error(error);
    }
    const { status, sentence } = refusal ?? { status: 500, sentence: texts.errors.bug };
    return reply.code(status).send(errorAnswer(request, reply, sentence));
  });
  app.setNotFoundHandler((request, reply) =>
    reply.code(404).send(errorAnswer(request, reply, texts.errors.noPage(request.url.split('?')[0] ?? ''))),
  );
}

/** A sentence as a page, as a sheet where a page is open already, or as data where data was asked for. */
function errorAnswer(request: FastifyRequest, reply: Parameters<typeof sendPage>[0], sentence: string): unknown {
  const accept = request.headers.accept ?? '';
  if (/\.json($|\?)/.test(request.url) || (accept.includes('json') && !accept.includes('html'))) {
    reply.type('application/json; charset=utf-8');
    return { problem: sentence };
  }
  if (wantsFragment(request)) {
    reply.type('text/html; charset=utf-8');
    return renderFragment(ErrorSheet({ sentence }));
  }
  return sendPage(reply, ErrorPage({ sentence, light: lightOf(request) }));
}
