import { Random } from '../random.ts';
import type { Schedule, Work } from '../types.ts';
import { type Compiled, compile } from './compiled.ts';
import { generateSerial } from './generate.ts';
import { dependencyOrderOf, Sorter, unlimitedTimes } from './orders.ts';
import { lotsBeyond, scheduleOf } from './schedule.ts';
import { search } from './search.ts';

export interface LevelOptions {
  readonly seed: number;
  /** Passes of the generator at most; one, by latest finish, unless given. Only forwards: backwards it is always one. */
  readonly schedules?: number;
}

export interface Levelled {
  readonly schedule: Schedule;
  /** Passes of the generator spent. */
  readonly schedules: number;
  /** Lots for which the calendars had no room: they lie beyond them in the schedule. */
  readonly beyond: readonly number[];
}

/**
 * A schedule that the hands and machines there are can really do: the lots by latest finish, then the best order that a
 * search within the budget finds. Deterministic for a seed and a budget; never later than the one pass by latest finish.
 */
export function level(work: Work, options: LevelOptions, compiled: Compiled = compile(work)): Levelled {
  const { forward } = compiled;
  const schedules = options.schedules ?? 1;
  const first = latestFinishOrder(compiled);
  let order = first;
  let spent = 1;
  if (schedules > 1 && work.lots.length > 1) {
    const budget = {
      schedules: schedules - 1,
      milliseconds: Number.POSITIVE_INFINITY,
      clock: null,
      bound: Number.NEGATIVE_INFINITY,
    };
    const found = search(compiled, new Random(options.seed), budget, [first]);
    order = found.order;
    spent += found.schedules;
  }
  generateSerial(forward, order);
  return { schedule: scheduleOf(compiled, forward, order), schedules: spent, beyond: lotsBeyond(forward) };
}

/** Every lot's last moment under hands and machines: the schedule that starts as late as the deadlines allow. */
export function levelBackwards(work: Work, options: LevelOptions, compiled: Compiled = compile(work)): Levelled {
  const { forward, mirrored } = compiled;
  void options;
  const order = dependencyOrderOf(mirrored);
  new Sorter(work.lots.length).falling(order, unlimitedTimes(forward).finishes);
  generateSerial(mirrored, order);
  return {
    schedule: scheduleOf(compiled, mirrored, order.slice().reverse()),
    schedules: 1,
    beyond: lotsBeyond(mirrored),
  };
}

function latestFinishOrder({ forward, mirrored }: Compiled): Int32Array {
  const order = dependencyOrderOf(forward);
  new Sorter(forward.lots).falling(order, unlimitedTimes(mirrored).starts);
  return order;
}
