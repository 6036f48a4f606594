/** Everything a page needs besides itself, served from this machine: our styles and scripts, htmx, the lettering. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { STYLES } from '../../views/frame/styles.ts';

/** The second has the letters that the first lacks: Greek and Cyrillic. */
const LETTERING = [
  '@fontsource/barlow-semi-condensed',
  '@fontsource/roboto-condensed',
  '@fontsource/saira-stencil-one',
];
const SERVED = /^[\w-]+\.(css|js|svg|png|woff2)$/;
const THEIRS: ReadonlySet<string> = new Set([
  '/htmx.min.js',
  '/hx-sse.min.js',
  ...['latin', 'latin-ext', 'vietnamese'].flatMap((part) => bothWeights(`barlow-semi-condensed-${part}`)),
  ...['greek', 'greek-ext', 'cyrillic', 'cyrillic-ext'].flatMap((part) => bothWeights(`roboto-condensed-${part}`)),
  '/saira-stencil-one-latin-400-normal.woff2',
]);

/**
 * `/assets/NAME`, and the licences of the lettering. Browsers ask each time whether it has changed, so that a new
 * version never meets an old script.
 */
export async function registerAssets(app: FastifyInstance): Promise<void> {
  const root = projectRoot();
  const sources = join(root, 'views', 'client');
  const built = join(root, 'dist', 'views', 'client');
  const ours = [
    join(sources, 'styles'),
    join(sources, 'styles', 'sheets'),
    join(sources, 'marks'),
    built,
    join(built, 'page'),
    join(built, 'copy'),
  ];
  const allowed = new Set([...THEIRS, ...ours.flatMap(servedIn)]);
  const { resolve } = createRequire(join(root, 'package.json'));
  const htmx = dirname(resolve('htmx.org/dist/htmx.min.js'));
  const lettering = LETTERING.map((name) => dirname(resolve(`${name}/package.json`)));
  await app.register(fastifyStatic, {
    root: [...ours, htmx, join(htmx, 'ext'), ...lettering.map((folder) => join(folder, 'files'))],
    prefix: '/assets/',
    index: false,
    cacheControl: false,
    setHeaders: (reply, path) => {
      reply.setHeader('cache-control', 'no-cache');
      if (path.endsWith('service-worker.js')) reply.setHeader('service-worker-allowed', '/');
    },
    allowedPath: (path) => allowed.has(path),
  });
  registerStyles(app, [join(sources, 'styles'), join(sources, 'styles', 'sheets')]);
  const licences = lettering.map((folder) => readFileSync(join(folder, 'LICENSE'), 'utf8')).join('\n\n');
  app.get('/assets/lettering.txt', { config: { access: 'open' } }, (_request, reply) =>
    reply.type('text/plain; charset=utf-8').send(licences),
  );
}

/** Each of the style sheets that are made of others: one answer instead of two dozen, read again at every request. */
function registerStyles(app: FastifyInstance, folders: readonly string[]): void {
  for (const [name, parts] of Object.entries(STYLES)) {
    const files = parts.map((part) => folders.map((folder) => join(folder, part)).find(existsSync) ?? part);
    app.get(`/assets/${name}`, { config: { access: 'open' } }, (request, reply) => {
      const text = files.map((file) => readFileSync(file, 'utf8')).join('\n');
      const etag = `"${createHash('sha1').update(text).digest('base64url')}"`;
      reply.header('cache-control', 'no-cache').header('etag', etag);
      if (request.headers['if-none-match'] === etag) return reply.code(304).send();
      return reply.type('text/css; charset=utf-8').send(text);
    });
  }
}

function bothWeights(name: string): string[] {
  return [400, 600].map((weight) => `/${name}-${weight}-normal.woff2`);
}

/** Paths of what a browser may have of a folder: no sources, no settings. */
function servedIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => SERVED.test(name))
    .map((name) => `/${name}`);
}

/** The folder with package.json, from the sources and from dist alike. */
export function projectRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) folder = dirname(folder);
  return folder;
}
