/** The list of builds, a new build, a build read in from a file, and the light of this device. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { WEEK_FIELD, WEEK_FROM } from '../../../views/forms/week.tsx';
import { screenHref } from '../../../views/links.ts';
import { BuildsPage, type BuildsProps } from '../../../views/sheets/builds.tsx';
import { firstTexts } from '../../../views/texts/begin/first.ts';
import { texts } from '../../../views/texts/index.ts';
import { LIGHTS, type TypedBuild } from '../../../views/types.ts';
import { dateWords, whenText } from '../../../views/words/wording.ts';
import { isZone, readWall } from '../../engine/index.ts';
import { type Build, checkBuild, freeId, inWords, messageOf, wordedProblem } from '../../model/index.ts';
import { LANGUAGES } from '../../model/texts/language.ts';
import { fieldOnForm, firstHands, withDrawnWeek, withPickedHours } from '../edits/first-hands.ts';
import { FILE_LIMIT_BYTES, sizeText, statusOf } from '../errors.ts';
import { LANGUAGE_COOKIE } from '../language.ts';
import { zoneNames, zoneOf } from '../places/zones.ts';
import { readUpload, UPLOAD_LIMIT_BYTES } from '../uploads.ts';
import { wallClock } from '../wall-clock.ts';
import { foundIn, LIGHT_COOKIE, lightOf, numberSent, sendPage, type Web } from '../web.ts';

const say = texts.builds;
const YEAR_SECONDS = 365 * 24 * 3600;
const TYPED = ['name', 'zone', 'event', 'readyBy', 'loadIn', 'who', 'hours', 'others', 'machines'] as const;

export function registerBuilds(app: FastifyInstance, web: Web): void {
  app.get('/', (request, reply) => show(web, request, reply, {}));
  registerMaking(app, web);
  registerBringing(app, web);
  registerRemoving(app, web);
  keptByDevice(app, '/light', 'light', LIGHT_COOKIE, LIGHTS);
  keptByDevice(app, '/language', 'language', LANGUAGE_COOKIE, LANGUAGES);
}

/** A build that is typed into the form of the first page. */
function registerMaking(app: FastifyInstance, web: Web): void {
  app.post('/builds', async (request, reply) => {
    const typed = typedBuild(request.body);
    const { do: action } = (request.body ?? {}) as { do?: unknown };
    if (typeof action === 'string' && action.startsWith('week:')) {
      return show(web, request, reply, { typed: withPickedHours(typed, action) });
    }
    const hands = firstHands(typed);
    const build = newBuild(web, typed, hands.ok ? hands.value : {});
    const checked = checkBuild(build);
    const made = checked.ok && hands.ok ? await web.planner.create(build, [], web.who(request)) : checked;
    if (made.ok && hands.ok) {
      return reply.redirect(nextHref({ ...build, id: made.value.id }), 303);
    }
    const wrong = [...(made.ok ? [] : made.problems), ...(hands.ok ? [] : hands.problems)];
    reply.code(statusOf(wrong));
    const problems = wrong.map((it) => {
      const message = it.code === 'event-past' ? say.eventPast(eventText(build.event, build.zone)) : messageOf(it);
      return inWords({ ...it, field: fieldOnForm(it.field, build) }, message);
    });
    return show(web, request, reply, { typed: withDrawnWeek(typed), problems });
  });
}

/** A build that is there already: in a file, or an example. */
function registerBringing(app: FastifyInstance, web: Web): void {
  app.post('/builds/file', { bodyLimit: UPLOAD_LIMIT_BYTES }, async (request, reply) => {
    const { name, bytes } = await readUpload(request);
    if (bytes.length === 0) {
      reply.code(422);
      const fileProblems = [wordedProblem('shape', 'file', name, say.noFile)];
      return show(web, request, reply, { fileProblems });
    }
    const read = await web.planner.read(bytes, 'The file');
    const made = read.ok ? await web.planner.create(read.value.build, read.value.log ?? [], web.who(request)) : read;
    if (made.ok) return reply.redirect(`/b/${made.value.id}`, 303);
    reply.code(statusOf(made.problems));
    return show(web, request, reply, { fileProblems: made.problems });
  });

  app.post('/builds/example', async (request, reply) => {
    const { id } = (request.body ?? {}) as { id?: unknown };
    const example = web.examples.find((one) => one.id === id);
    if (example === undefined) {
      reply.code(422);
      const unknown = wordedProblem('unknown-name', 'id', String(id ?? 'nothing'), say.noExample);
      return show(web, request, reply, { exampleProblems: [unknown] });
    }
    const { build, log = [] } = example.file(web.now());
    const made = await web.planner.create(build, log, web.who(request));
    if (made.ok) return reply.redirect(`/b/${made.value.id}`, 303);
    reply.code(statusOf(made.problems));
    return show(web, request, reply, { exampleProblems: made.problems });
  });
}

/** A build is removed, and brought back. */
function registerRemoving(app: FastifyInstance, web: Web): void {
  app.post('/b/:id/remove', (request: FastifyRequest<{ Params: { id: string } }>, reply) => {
    const { build, revision } = foundIn(web, request.params.id);
    const { edit } = (request.body ?? {}) as { edit?: unknown };
    if (edit !== String(revision)) {
      reply.code(409);
      const changed = wordedProblem('conflict', 'edit', String(edit ?? ''), say.changedMeanwhile(build.name));
      return show(web, request, reply, { backProblems: [changed] });
    }
    web.planner.remove(build.id);
    return reply.redirect('/#removed', 303);
  });

  app.post('/builds/back', (request, reply) => {
    const { key } = (request.body ?? {}) as { key?: unknown };
    const back = web.planner.bringBack(numberSent(key));
    if (back.ok) return reply.redirect(`/b/${back.value.id}`, 303);
    reply.code(statusOf(back.problems));
    return show(web, request, reply, { backProblems: back.problems });
  });
}

/** A choice of this device, in a cookie; then back to where it was made. */
function keptByDevice(app: FastifyInstance, url: string, field: string, name: string, among: readonly string[]): void {
  app.post(url, (request, reply) => {
    const { [field]: sent, back } = (request.body ?? {}) as Readonly<Record<string, unknown>>;
    const chosen = among.find((it) => it === sent);
    if (chosen !== undefined) {
      reply.setCookie(name, chosen, { path: '/', maxAge: YEAR_SECONDS, sameSite: 'lax', httpOnly: true });
    }
    return reply.redirect(isOwnPath(back) ? back : '/', 303);
  });
}

/** A path of this server and nothing else: `//elsewhere` and `/\elsewhere` lead away. */
function isOwnPath(path: unknown): path is string {
  return typeof path === 'string' && /^\/(?![/\\])[\w/?=&.#-]*$/.test(path);
}

function show(web: Web, request: FastifyRequest, reply: FastifyReply, props: Partial<BuildsProps>): Promise<string> {
  const builds = web.planner.builds().map(({ id, name, event, zone, entries }) => {
    return {
      id,
      name,
      event: eventText(event, zone),
      entries,
      isDemo: id === web.examples[0]?.id,
      isClosed: web.planner.closed(id) !== null,
    };
  });
  return sendPage(
    reply,
    BuildsPage({
      builds,
      light: lightOf(request),
      typed: typedBuild({ who: firstTexts.me }),
      problems: [],
      fileProblems: [],
      fileLimit: sizeText(FILE_LIMIT_BYTES),
      zones: zoneNames(),
      backProblems: [],
      removed: web.planner.removed().map(({ key, name, removedAt }) => ({ key, name, removedAt: dayOf(removedAt) })),
      exampleProblems: [],
      examples: examplesOf(web, builds),
      ...props,
    }),
  );
}

/** Those that are not among the builds. */
function examplesOf(web: Web, builds: readonly { readonly id: string }[]): BuildsProps['examples'] {
  return web.examples
    .filter(({ id }) => !builds.some((build) => build.id === id))
    .map(({ id, file }) => ({ id, name: file(web.now()).build.name, isDemo: id === web.examples[0]?.id }));
}

/** Who helps, where nobody is there yet; then what there is to make. */
function nextHref({ id, people = [] }: Build): string {
  return people.length === 0 ? `${screenHref(id, 'hands')}?open=people/new` : screenHref(id, 'lines');
}

function eventText(event: string, zone: string): string {
  const read = isZone(zone) ? readWall(event, zone) : null;
  return read?.ok ? whenText(wallClock(zone), read.value) : event;
}

/**
 * What the form sends. No zone is proposed here: the browser proposes its own
 * (`views/client/page/own-zone.ts`); that of the laptop may be none.
 */
function typedBuild(body: unknown): TypedBuild {
  const sent = (body ?? {}) as Readonly<Record<string, unknown>>;
  const text = (key: string): string => (typeof sent[key] === 'string' ? sent[key].trim() : '');
  const typed = Object.fromEntries(TYPED.map((key) => [key, text(key)])) as Record<(typeof TYPED)[number], string>;
  const week = [sent[WEEK_FIELD] ?? []].flat().map(String);
  return { ...typed, zone: zoneOf(typed.zone), week, 'week-from': text(WEEK_FROM) };
}

function newBuild(
  web: Web,
  { name, zone, event, readyBy, loadIn }: TypedBuild,
  hands: Pick<Build, 'people' | 'machines'>,
): Build {
  const taken = new Set(web.planner.builds().map((it) => it.id));
  const dates = { ...(readyBy === '' ? {} : { readyBy }), ...(loadIn === '' ? {} : { loadIn }) };
  return { id: freeId(name, taken) ?? 'build', name, zone, event, ...dates, ...hands, steps: [] };
}

/** `2026-11-29`, the day of an instant. */
function dayOf(instant: string): string {
  return dateWords(instant.slice(0, 10));
}
