/** Days that get lost: how often, to whom, in each future. */

import { type CompiledForward, loseDays } from '../07-levelling/index.ts';
import { daysBetween, openMinutesBetween } from '../calendar/index.ts';
import type { Remaining } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import type { OtherDraw } from './futures.ts';
import { lossSampler } from './samplers.ts';
import { keyOf } from './streams.ts';

/** Before anything is logged: half a day lost in fourteen (common practice, no source). */
const PRIOR = { lost: 0.5, days: 14 };

/** How often a working day is lost: a gamma belief, `shape` days lost in `days`. */
export interface LossRate {
  readonly shape: number;
  readonly days: number;
}

/**
 * The rate at which this build loses working days: the days its log says were lost of those since the start, joined
 * with a weak belief (gamma and Poisson). An evening lost counts by its length against a usual day; one person's loss
 * as that share of all.
 */
export function lossRateOf({ surroundings, tally, now }: Remaining): LossRate {
  const from = surroundings.start ?? tally.firstAt;
  if (from === null || from >= now) return { shape: PRIOR.lost, days: PRIOR.days };
  const open = daysBetween(from, now, surroundings.zone)
    .map(({ start, end }) => openMinutesBetween(surroundings.working, Math.max(from, start), Math.min(end, now)))
    .filter((minutes) => minutes > 0);
  const usual = open.length === 0 ? 240 : open.reduce((sum, minutes) => sum + minutes, 0) / open.length;
  let lost = 0;
  for (const { person, from: begin, until } of tally.lost) {
    const length = Math.max(0, Math.min(until, now) - begin);
    const days = length / 1440 > 1 ? Math.ceil(length / 1440) : Math.min(1, length / usual);
    lost += days * (person === null ? 1 : 1 / Math.max(1, surroundings.people.size));
  }
  return { shape: PRIOR.lost + lost, days: PRIOR.days + open.length + lost };
}

/** The days on which somebody is there, from now to where the calendars of a work end. */
interface LosableDays {
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** Every day that the build can lose: what is left of today, and the days after it until `until`. */
export function losableDays({ surroundings }: Remaining, until: Instant): LosableDays {
  const people = [...surroundings.people.values()];
  const days = daysBetween(surroundings.from, until, surroundings.zone)
    .map(({ start, end }) => ({ start: Math.max(start, surroundings.from), end }))
    .filter(({ start, end }) => people.some(({ open }) => openMinutesBetween(open, start, end) > 0));
  return {
    starts: Int32Array.from(days, ({ start }) => start),
    ends: Int32Array.from(days, ({ end }) => end),
  };
}

/**
 * Draws the days that a future loses: each by the same chance, for everybody and for the whole of it, and work under
 * way pauses over it as over any night. To be called with a problem that was compiled with these days. Null where there
 * are none.
 */
export function lostDaysOf(problem: CompiledForward['forward'], days: LosableDays, rate: LossRate): OtherDraw | null {
  if (days.starts.length === 0) return null;
  const daily = lossSampler(rate.shape, rate.days);
  const starts = new Int32Array(days.starts.length);
  const ends = new Int32Array(days.starts.length);
  return {
    step: -1,
    key: keyOf('lost days'),
    reset: () => {},
    draw: (stream) => {
      const chance = 1 - Math.exp(-daily(stream.unit()));
      let count = 0;
      for (let day = 0; day < days.starts.length; day++) {
        if (stream.unit() >= chance) continue;
        starts[count] = days.starts[day]!;
        ends[count++] = days.ends[day]!;
      }
      loseDays(problem, starts, ends, count);
      return 0;
    },
  };
}
