/** The web room: an app as a value. It registers plugins and routes by hand and never listens. */
import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import helmet from '@fastify/helmet';
import multipart from '@fastify/multipart';
import { fastifySSE } from '@fastify/sse';
import Fastify, { type FastifyBaseLogger, type FastifyInstance, type FastifyRequest } from 'fastify';
import { renderFragment } from '../../views/render.ts';
import { ErrorPage, ErrorSheet } from '../../views/sheets/builds.tsx';
import { ContentsPage, ContentsSheet } from '../../views/sheets/contents.tsx';
import { DesignPage, DesignSheet } from '../../views/sheets/design.tsx';
import { HandsPage, HandsSheet } from '../../views/sheets/hands.tsx';
import { StepsPage, StepsSheet } from '../../views/sheets/steps.tsx';
import { texts } from '../../views/texts/index.ts';
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
  await app.register(helmet, headersOf(parts.secure ?? false));
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

/** Everything comes from this machine, nothing is inline, nobody may frame it. */
function headersOf(secure: boolean): object {
  const self = ["'self'"];
  return {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: self,
        styleSrc: self,
        imgSrc: self,
        fontSrc: self,
        connectSrc: self,
        manifestSrc: self,
        workerSrc: self,
        formAction: self,
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
      },
    },
    // A laptop that goes back to plain HTTP must stay in reach of the phones that have counts for it.
    hsts: false,
    crossOriginOpenerPolicy: secure ? { policy: 'same-origin' } : false,
    originAgentCluster: secure,
    crossOriginEmbedderPolicy: false,
    crossOriginResourcePolicy: { policy: 'same-origin' },
    referrerPolicy: { policy: 'same-origin' },
    frameguard: { action: 'deny' },
    noSniff: true,
    dnsPrefetchControl: { allow: false },
    ieNoOpen: true,
    permittedCrossDomainPolicies: { permittedPolicies: 'none' },
    xssFilter: true,
    hidePoweredBy: true,
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
