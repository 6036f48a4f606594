/**
 * The stream of changes of a build: it only says that something has changed; the open sheet then fetches itself again,
 * and the line of background work likewise.
 */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { hasOwnChance, type Snapshot } from '../../planner/index.ts';
import { seenText, snapshotOf, type Web } from '../web.ts';
import { shownWork } from './at-work.ts';

/** Changes that come together are announced once. */
const GATHER_MILLISECONDS = 120;
/** A forecast with its chance is announced sooner: nothing that belongs to it follows. */
const WHOLE_MILLISECONDS = 5;
/**
 * A tap or an edit is announced with its forecast; where that takes longer than this, without it: what is shown is old.
 */
const OLD_MILLISECONDS = 1_500;
/** Background work is announced this long after it has changed: what is over by then is never shown. */
const WORK_MILLISECONDS = 700;
/** Time goes by too: a page that stays open is drawn again every so often. */
const TICK_MILLISECONDS = 5 * 60_000;

type LiveRequest = FastifyRequest<{ Params: { id: string }; Querystring: { seen?: string } }>;

export function registerLive(app: FastifyInstance, web: Web): void {
  const streams = openStreams();
  app.addHook('preClose', async () => streams.end());
  app.get('/b/:id/live', { sse: 'only' }, async (request: LiveRequest, reply) => {
    const { id } = request.params;
    const state = web.planner.latest(id) ?? (await snapshotOf(web, id));
    const lookAway = web.planner.look(id);

    const send = async (message: { event: string; id?: string }): Promise<void> => {
      if (reply.sse.isConnected) await reply.sse.send({ ...message, data: '' }).catch(() => undefined);
    };
    const tell = async (event: 'changed' | 'open'): Promise<void> => {
      const now = web.planner.latest(id);
      const isOnDisk = await Promise.resolve(web.synced()).then(
        () => true,
        () => false,
      );
      if (now !== null && isOnDisk) await send({ event, id: seenText(now) });
    };
    // A stream that is taken up again may have missed the end of what the line shows.
    let shown = reply.sse.lastEventId ? '' : '[]';
    // Without an id, which names the state that the sheet shows.
    const tellWork = (): void => {
      const work = JSON.stringify(shownWork(web.planner, id));
      if (work !== shown) void send({ event: 'work' });
      shown = work;
    };
    const change = soonest(() => void tell('changed'));
    const work = soonest(tellWork);
    const stop = web.planner.onChange((changed, what) => {
      if (changed !== id) return;
      if (what === 'work') work.within(WORK_MILLISECONDS);
      else change.within(announcedWithin(what, web.planner.latest(id)));
    });
    const tick = setInterval(() => void tell('changed'), TICK_MILLISECONDS);
    tick.unref();
    reply.sse.onClose(() => {
      stop();
      lookAway();
      clearInterval(tick);
      change.end();
      work.end();
    });

    reply.sse.keepAlive();
    streams.add(reply);
    // The first message opens the stream for the browser and says what state it begins with.
    const seen = reply.sse.lastEventId ?? request.query.seen;
    await tell(seen === undefined || seen === seenText(state) ? 'open' : 'changed');
    work.within(WORK_MILLISECONDS);
  });
}

/** Milliseconds after a change within which it is announced; `latest`: the forecast that is shown then. */
export function announcedWithin(what: 'ground' | 'forecast', latest: Snapshot | null): number {
  if (what === 'ground') return OLD_MILLISECONDS;
  const isWhole = latest !== null && !latest.stale && hasOwnChance(latest.forecast);
  return isWhole ? WHOLE_MILLISECONDS : GATHER_MILLISECONDS;
}

/**
 * The streams that are open: they end with the server, which waits for every answer under way, and would wait for as
 * long as somebody keeps a page open.
 */
function openStreams(): { add(reply: FastifyReply): void; end(): void } {
  const open = new Set<FastifyReply>();
  let isOver = false;
  const endOne = (reply: FastifyReply): void => {
    const { socket } = reply.raw;
    reply.sse.close();
    socket?.destroySoon();
  };
  return {
    add: (reply) => {
      if (isOver) return endOne(reply);
      open.add(reply);
      reply.sse.onClose(() => open.delete(reply));
      return undefined;
    },
    end: () => {
      isOver = true;
      for (const reply of [...open]) endOne(reply);
    },
  };
}

/** Does something once after it was asked for, within the shortest time that was asked for meanwhile. */
function soonest(act: () => void): { within(milliseconds: number): void; end(): void } {
  let next: { readonly at: number; readonly timer: NodeJS.Timeout } | null = null;
  const end = (): void => {
    if (next !== null) clearTimeout(next.timer);
    next = null;
  };
  const within = (milliseconds: number): void => {
    const at = performance.now() + milliseconds;
    if (next !== null && next.at <= at) return;
    end();
    const timer = setTimeout(() => {
      next = null;
      act();
    }, milliseconds);
    next = { at, timer };
  };
  return { within, end };
}
