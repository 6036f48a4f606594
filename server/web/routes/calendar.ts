/** The calendar: a feed for each secret address, a file to download, and the page where addresses are made or ended. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { CalendarPage, type NewAddress } from '../../../views/sheets/calendar.tsx';
import { calendarTexts as say } from '../../../views/texts/paper/calendar.ts';
import { whenText } from '../../../views/words/wording.ts';
import { type Build, messageOf } from '../../model/index.ts';
import { language } from '../../model/texts/language.ts';
import type { FeedStore } from '../../store/index.ts';
import { inTurns } from '../../turns/turns.ts';
import { type CalendarChoice, calendarChoice, calendarOwner, calendarParts } from '../calendar-file.ts';
import { Refusal } from '../errors.ts';
import { hashOf, newToken } from '../secrets.ts';
import { wallClock } from '../wall-clock.ts';
import { closedText, foundIn, lightOf, refuseClosed, sendPage, snapshotOf, type Web } from '../web.ts';

interface CalendarParts {
  readonly feeds: FeedStore;
  /** Milliseconds since the epoch. */
  readonly nowMs: () => number;
  /** Addresses under which phones reach this server, the best one first. */
  readonly addresses: () => readonly string[];
}

const MINUTE_MS = 60_000;

type BuildRequest = FastifyRequest<{ Params: { id: string }; Querystring: { person?: string; alarm?: string } }>;
type FeedRequest = FastifyRequest<{ Params: { token: string } }>;

export function registerCalendar(app: FastifyInstance, web: Web, parts: CalendarParts): void {
  const { feeds, nowMs, addresses } = parts;

  app.get('/calendar/:token', { config: { access: 'open' } }, async (request: FeedRequest, reply) => {
    const feed = feeds.byToken(hashOf(request.params.token.replace(/\.ics$/, '')));
    if (feed === null) throw new Refusal(404, say.unknown);
    if (feed.endedAt !== null) throw new Refusal(410, say.ended);
    return sendCalendar(web, feeds, reply, feed.build, feed);
  });

  app.get('/b/:id/calendar.ics', async (request: BuildRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    const asked = choiceOf(build, request.query.person, request.query.alarm);
    reply.header('content-disposition', `attachment; filename="${build.id}.ics"`);
    return sendCalendar(web, feeds, reply, build.id, asked);
  });

  app.get('/b/:id/calendar', (request: BuildRequest, reply) => show(web, parts, request, reply, null));

  app.post('/b/:id/calendar', (request: BuildRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    const { person, alarm, end } = (request.body ?? {}) as Readonly<Record<string, unknown>>;
    if (end !== undefined) {
      const number = /^\d{1,9}$/.test(String(end)) ? Number(end) : -1;
      if (!feeds.end(build.id, number, nowMs())) throw new Refusal(404, say.noFeed);
      return reply.redirect(`/b/${build.id}/calendar`, 303);
    }
    refuseClosed(web, build.id);
    const asked = choiceOf(build, person, alarm);
    const token = newToken();
    feeds.add(build.id, { ...asked, tokenHash: hashOf(token), createdAt: nowMs() });
    const origin = addresses()[0] ?? `${request.protocol}://${request.host}`;
    return show(web, parts, request, reply, {
      address: `${origin}/calendar/${token}.ics`,
      whose: calendarOwner(build, asked.person),
    });
  });
}

/** Throws a 422 refusal for a person or an alarm that there is not. */
function choiceOf(build: Build, person: unknown, alarm: unknown): CalendarChoice {
  const choice = calendarChoice(build, textOf(person), textOf(alarm));
  if (!choice.ok) throw new Refusal(422, choice.problems.map(messageOf).join(' '));
  return choice.value;
}

async function sendCalendar(
  web: Web,
  feeds: FeedStore,
  reply: FastifyReply,
  id: string,
  choice: CalendarChoice,
): Promise<FastifyReply> {
  const { forecast } = await snapshotOf(web, id);
  reply.type('text/calendar; charset=utf-8').header('cache-control', 'private, no-cache');
  // What is over rings no more.
  const rings = web.planner.closed(id) === null ? choice : { ...choice, alarmMinutes: null };
  const parts = calendarParts(foundIn(web, id).build, forecast, rings, (events) => {
    try {
      return feeds.stamped(id, language(), events, forecast.now);
    } catch {
      // A disk that is full keeps no calendar from a phone: it is then of the plan's own instant.
      return [];
    }
  });
  let text = '';
  for await (const part of inTurns(parts)) text += part;
  return reply.send(text);
}

function show(
  web: Web,
  { feeds, addresses }: CalendarParts,
  request: BuildRequest,
  reply: FastifyReply,
  made: NewAddress | null,
): Promise<string> {
  const { build } = foundIn(web, request.params.id);
  const clock = wallClock(build.zone);
  return sendPage(
    reply,
    CalendarPage({
      build,
      light: lightOf(request),
      made,
      closed: closedText(web, build.id),
      reachable: addresses().length > 0,
      feeds: feeds.of(build.id).map(({ number, person, alarmMinutes, createdAt }) => ({
        number,
        whose: calendarOwner(build, person),
        alarmMinutes,
        since: whenText(clock, Math.floor(createdAt / MINUTE_MS), web.now()),
      })),
    }),
  );
}

function textOf(value: unknown): string | undefined {
  return value === undefined ? undefined : String(value);
}
