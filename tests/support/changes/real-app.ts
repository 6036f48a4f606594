/** The pages and the count over a store, with the engine at its quickest behind them and everything in this thread. */
import type { FastifyInstance } from 'fastify';
import { EXAMPLES } from '../../../seed/index.ts';
import { createPlanner, type RunningPlanner } from '../../../server/planner/index.ts';
import type { Store } from '../../../server/store/index.ts';
import { registerAccess } from '../../../server/web/access.ts';
import { buildApp } from '../../../server/web/app.ts';
import { registerCount } from '../../../server/web/routes/count.ts';
import { quickly, SHORT_PAUSES } from '../../planner/at-once.ts';

export interface RealApp {
  readonly app: FastifyInstance;
  readonly planner: RunningPlanner;
  close(): Promise<void>;
}

/**
 * An app over what is in the store, at an instant in minutes since the epoch or at what a clock says; who asks from
 * this machine is the maker.
 */
export async function realApp(store: Store, at: number | (() => number)): Promise<RealApp> {
  const now = typeof at === 'number' ? () => at : at;
  const nowMs = (): number => now() * 60_000;
  const planner = createPlanner({ store, now, background: quickly, pauses: SHORT_PAUSES });
  const app = await buildApp({
    planner,
    now,
    examples: EXAMPLES,
    before: [
      (one) =>
        registerAccess(one, {
          store: store.access,
          keys: store.keys,
          nowMs,
          trustLoopback: true,
          names: [],
          secure: false,
        }),
      (one, web) => registerCount(one, web, { counting: planner, nowMs }),
    ],
  });
  return {
    app,
    planner,
    close: async () => {
      planner.close();
      await app.close();
      await planner.settled();
      store.close();
    },
  };
}
