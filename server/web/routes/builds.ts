/** The list of builds, a new build, a build read in from a file, and the light of this device. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { BuildsPage, type BuildsProps } from '../../../views/sheets/builds.tsx';
import { texts } from '../../../views/texts/index.ts';
import { LIGHTS } from '../../../views/types.ts';
import { whenText } from '../../../views/words/wording.ts';
import { isZone, readWall } from '../../engine/index.ts';
import { type Build, checkBuild, freeId, problem } from '../../model/index.ts';
import { FILE_LIMIT_BYTES, sizeText, statusOf } from '../errors.ts';
import { readUpload, UPLOAD_LIMIT_BYTES } from '../uploads.ts';
import { wallClock } from '../wall-clock.ts';
import { LIGHT_COOKIE, lightOf, sendPage, type Web } from '../web.ts';

const say = texts.builds;
const YEAR_SECONDS = 365 * 24 * 3600;
const ZONES = Intl.supportedValuesOf('timeZone');
/** The place is most often where this machine stands. */
const NOTHING_TYPED = { name: '', zone: Intl.DateTimeFormat().resolvedOptions().timeZone, event: '' };

export function registerBuilds(app: FastifyInstance, web: Web): void {
  app.get('/', (request, reply) => show(web, request, reply, {}));

  app.post('/builds', async (request, reply) => {
    const typed = typedBuild(request.body);
    const build = newBuild(web, typed);
    const checked = checkBuild(build);
    const made = checked.ok ? await web.planner.create(build, [], web.who(request)) : checked;
    if (made.ok) return reply.redirect(`/b/${made.value.id}/hands?open=people/new`, 303);
    reply.code(statusOf(made.problems));
    const problems = made.problems.map((it) =>
      it.code === 'event-past' ? { ...it, message: say.eventPast(eventText(build.event, build.zone)) } : it,
    );
    return show(web, request, reply, { typed, problems });
  });

  app.post('/builds/file', { bodyLimit: UPLOAD_LIMIT_BYTES }, async (request, reply) => {
    const { name, bytes } = await readUpload(request);
    if (bytes.length === 0) {
      reply.code(422);
      const fileProblems = [problem('shape', 'file', name, say.noFile)];
      return show(web, request, reply, { fileProblems });
    }
    const read = await web.planner.read(bytes, 'The file');
    const made = read.ok ? await web.planner.create(read.value.build, read.value.log ?? [], web.who(request)) : read;
    if (made.ok) return reply.redirect(`/b/${made.value.id}`, 303);
    reply.code(statusOf(made.problems));
    return show(web, request, reply, { fileProblems: made.problems });
  });

  app.post('/light', (request, reply) => {
    const { light, back } = (request.body ?? {}) as { light?: unknown; back?: unknown };
    const chosen = LIGHTS.find((it) => it === light);
    if (chosen !== undefined) {
      reply.setCookie(LIGHT_COOKIE, chosen, { path: '/', maxAge: YEAR_SECONDS, sameSite: 'lax', httpOnly: true });
    }
    return reply.redirect(isOwnPath(back) ? back : '/', 303);
  });
}

/** A path of this server and nothing else: `//elsewhere` and `/\elsewhere` lead away. */
function isOwnPath(path: unknown): path is string {
  return typeof path === 'string' && /^\/(?![/\\])[\w/?=&.#-]*$/.test(path);
}

function show(web: Web, request: FastifyRequest, reply: FastifyReply, props: Partial<BuildsProps>): string {
  const builds = web.planner.builds().map(({ id, name, event, zone, entries }) => {
    return { id, name, event: eventText(event, zone), entries };
  });
  return sendPage(
    reply,
    BuildsPage({
      builds,
      light: lightOf(request),
      typed: NOTHING_TYPED,
      problems: [],
      fileProblems: [],
      fileLimit: sizeText(FILE_LIMIT_BYTES),
      zones: ZONES,
      ...props,
    }),
  );
}

function eventText(event: string, zone: string): string {
  const read = isZone(zone) ? readWall(event, zone) : null;
  return read?.ok ? whenText(wallClock(zone), read.value) : event;
}

function typedBuild(body: unknown): BuildsProps['typed'] {
  const text = (key: string) => {
    const value = (body as Record<string, unknown> | null | undefined)?.[key];
    return typeof value === 'string' ? value.trim() : '';
  };
  return { name: text('name'), zone: text('zone'), event: text('event') };
}

function newBuild(web: Web, { name, zone, event }: BuildsProps['typed']): Build {
  const taken = new Set(web.planner.builds().map((it) => it.id));
  return { id: freeId(name, taken) ?? 'build', name, zone, event, steps: [] };
}
