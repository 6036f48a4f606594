/**
 * Textbook instances as works: activities with durations and demands, links finish to start, a calendar that never
 * closes.
 */
import { alwaysOpen } from '../../server/engine/calendar/working-time.ts';
import type { Lot, Work } from '../../server/engine/types.ts';

export interface TextbookActivity {
  readonly minutes: number;
  /** One amount per resource. */
  readonly demands: readonly number[];
  readonly successors: readonly number[];
}

/** A work of one demand phase an activity; time starts at 0. Activities without minutes become milestones. */
export function textbookWork(capacities: readonly number[], activities: readonly TextbookActivity[]): Work {
  const horizon = activities.reduce((sum, activity) => sum + activity.minutes, 0) + 1;
  const open = alwaysOpen(0, horizon);
  return {
    now: 0,
    readyBy: horizon,
    loadIn: null,
    event: horizon,
    resources: capacities.map((capacity, r) => ({ id: `R${r + 1}`, name: `R${r + 1}`, kind: 'pool', capacity, open })),
    lots: activities.map(({ minutes, demands }, i): Lot => {
      const asked = demands.map((amount, resource) => ({ resource, amount })).filter(({ amount }) => amount > 0);
      return {
        id: `${i + 1}`,
        step: i,
        set: null,
        number: 1,
        firstUnit: 1,
        lastUnit: 1,
        phases: minutes === 0 ? [] : [{ kind: 'demand', minutes, demands: asked }],
        release: 0,
        deadline: horizon,
        begunAt: null,
        pinnedStart: null,
        pinnedPeople: null,
        station: null,
        onSite: false,
      };
    }),
    links: activities.flatMap(({ successors }, from) =>
      successors.map((to) => ({
        from,
        to,
        type: 'finish-start' as const,
        lagMinutes: 0,
        lagOpen: null,
        reason: 'feed' as const,
      })),
    ),
  };
}
