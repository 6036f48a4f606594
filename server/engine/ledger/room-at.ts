/** The room that a state of a build leaves, its work taken in the order in which it was planned before. */
import type { Build, Forecast, LogEntry } from '../../model/index.ts';
import { roomAnswer } from '../answers/room.ts';
import { stepsAnswer } from '../answers/steps.ts';
import { level, type PreviousPlan } from '../levelling/index.ts';
import type { TimedEntry } from '../log-tally.ts';
import { measuredPaces } from '../pace.ts';
import { runStages } from '../plan.ts';
import type { MeasuredPace } from '../step-phases.ts';
import type { Instant, Minutes } from '../types.ts';
import type { BuildWork } from '../work.ts';
import { groupedBy } from './group.ts';

/** A build, its log and an instant; the paces are those of the log unless given. */
export interface RoomState {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: Instant;
  readonly paces?: ReadonlyMap<string, MeasuredPace>;
}

/** When each lot was to start in the plan before, by its step, set and units: lots are numbered anew as units are counted. */
export type OrderOfWork = readonly {
  readonly step: string;
  readonly set: number | null;
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly start: Instant;
}[];

/** What the parts of a change are asked of. */
export interface Answers {
  /** Clock minutes from the ready finish to the ready-by; null where something cannot be placed. */
  room(state: RoomState): Minutes | null;
  survey(state: RoomState): Survey;
}

export interface Survey {
  /** By step, those that rest on a count. */
  readonly paces: ReadonlyMap<string, MeasuredPace>;
  /** By step with hands a unit: minutes of the first, units left. */
  readonly steps: ReadonlyMap<string, { readonly firstUnitMinutes: number; readonly left: number }>;
  /** Entries that are not undone, as they happened. */
  readonly standing: readonly TimedEntry[];
  /** Orders that should be here by now and are not. */
  readonly overdue: readonly { readonly step: string; readonly set: number | null }[];
}

/** The order of work of a forecast. */
export function orderOfWork(forecast: Pick<Forecast, 'lots'>): OrderOfWork {
  return forecast.lots.flatMap(({ step, set, firstUnit, lastUnit, levelled }) =>
    levelled === null ? [] : [{ step, set, firstUnit, lastUnit, start: levelled.start }],
  );
}

/**
 * The engine's own answers: the better of a schedule in the order given and of a short search, so that two states differ by
 * what they are and not by the luck of a long one. Deterministic.
 */
export function answersInOrder(order: OrderOfWork): Answers {
  const planned = ({ build, log, now, paces }: RoomState) =>
    runStages(build, log, now, {
      levelling: { ...ONE_PASS, schedules: FREE_SCHEDULES },
      ...(paces === undefined ? {} : { paces }),
    }).planned;
  return {
    room: (state) => {
      const of = planned(state);
      const free = roomAnswer(of).readyBy.clock;
      const { work } = of;
      if (work.lots.length === 0 || order.length === 0) return free;
      const { schedule, beyond } = level(work, { ...ONE_PASS, previous: previousOf(work, of.plans, order) });
      if (beyond.some((lot) => !work.lots[lot]!.onSite)) return free;
      const kept = work.readyBy - schedule.readyAt;
      return free === null ? kept : Math.max(free, kept);
    },
    survey: (state) => {
      const of = planned(state);
      const left = new Map(of.plans.map((plan) => [plan.id, plan.left]));
      return {
        paces: measuredPaces(of.paces),
        steps: new Map(
          [...of.paces].map(([step, { firstUnitMinutes }]) => [step, { firstUnitMinutes, left: left.get(step) ?? 0 }]),
        ),
        standing: of.tally.standing,
        overdue: stepsAnswer(of).flatMap(({ id, underWay }) =>
          underWay.flatMap(({ kind, backAt, set }) =>
            kind === 'ordered' && backAt < state.now ? [{ step: id, set }] : [],
          ),
        ),
      };
    },
  };
}

/** With one pass alone the answer jumps by a day where a sitting is missed by minutes. */
const FREE_SCHEDULES = 20;
const ONE_PASS = { seed: 1, schedules: 1, nodes: 0 };

function previousOf(work: BuildWork, plans: readonly { readonly id: string }[], order: OrderOfWork): PreviousPlan {
  const before = groupedBy(order, ({ step, set }) => `${step} ${set}`);
  return new Map(
    work.lots.flatMap((lot) => {
      const lots = before.get(`${plans[lot.step]!.id} ${lot.set}`) ?? [];
      const same = lots.find(({ firstUnit, lastUnit }) => firstUnit <= lot.lastUnit && lot.firstUnit <= lastUnit);
      return same === undefined ? [] : [[lot.id, { start: same.start, people: [] }] as const];
    }),
  );
}
