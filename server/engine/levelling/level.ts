import type { Schedule, Work } from '../types.ts';
import { type Compiled, compile } from './compiled.ts';
import { generateSerial } from './generate.ts';
import { dependencyOrderOf, Sorter, unlimitedTimes } from './orders.ts';
import { lotsBeyond, scheduleOf } from './schedule.ts';

export interface LevelOptions {
  readonly seed: number;
  /** Passes of the generator at most; 1,000 unless given. */
  readonly schedules?: number;
}

export interface Levelled {
  readonly schedule: Schedule;
  /** Passes of the generator spent. */
  readonly schedules: number;
  /** Lots for which the calendars had no room: they lie beyond them in the schedule. */
  readonly beyond: readonly number[];
}

/** One schedule that the hands and machines there are can really do. */
export function level(work: Work, options: LevelOptions, compiled: Compiled = compile(work)): Levelled {
  const { forward } = compiled;
  void options;
  const order = latestFinishOrder(compiled);
  generateSerial(forward, order);
  return { schedule: scheduleOf(compiled, forward, order), schedules: 1, beyond: lotsBeyond(forward) };
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
