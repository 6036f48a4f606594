/**
 * The stream of changes of a build: it only says that something has changed; the open sheet then fetches itself anew.
 */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { seenText, snapshotOf, type Web } from '../web.ts';

/** Changes that come together are told once. */
const GATHER_MILLISECONDS = 120;
/**
 * A tap or an edit is told with its forecast; where that takes longer than this, without it, as what is shown is old.
 */
const OLD_MILLISECONDS = 1_500;
/** Time goes by too: a page that stays open is drawn anew every so often. */
const TICK_MILLISECONDS = 5 * 60_000;

type LiveRequest = FastifyRequest<{ Params: { id: string }; Querystring: { seen?: string } }>;

export function registerLive(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/live', { sse: 'only' }, async (request: LiveRequest, reply) => {
    const { id } = request.params;
    const state = web.planner.latest(id) ?? (await snapshotOf(web, id));
    const lookAway = web.planner.look(id);
    let next: { readonly at: number; readonly timer: NodeJS.Timeout } | null = null;

    const tell = async (event: 'changed' | 'open'): Promise<void> => {
      const now = web.planner.latest(id);
      if (now === null || !reply.sse.isConnected) return;
      await reply.sse.send({ event, id: seenText(now), data: '' }).catch(() => undefined);
    };
    const tellIn = (milliseconds: number): void => {
      const at = performance.now() + milliseconds;
      if (next !== null && next.at <= at) return;
      if (next !== null) clearTimeout(next.timer);
      const timer = setTimeout(() => {
        next = null;
        void tell('changed');
      }, milliseconds);
      next = { at, timer };
    };
    const stop = web.planner.onChange((changed, what) => {
      if (changed === id) tellIn(what === 'ground' ? OLD_MILLISECONDS : GATHER_MILLISECONDS);
    });
    const tick = setInterval(() => void tell('changed'), TICK_MILLISECONDS);
    tick.unref();
    reply.sse.onClose(() => {
      stop();
      lookAway();
      clearInterval(tick);
      if (next !== null) clearTimeout(next.timer);
    });

    reply.sse.keepAlive();
    // The first message opens the stream for the browser and says what state it begins with.
    const seen = reply.sse.lastEventId ?? request.query.seen;
    await tell(seen === undefined || seen === seenText(state) ? 'open' : 'changed');
  });
}
