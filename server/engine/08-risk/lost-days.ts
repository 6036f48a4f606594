/** Days that get lost: how often, to whom, in each future. */

import { daysBetween, nextOpen, openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant, Lot, Minutes } from '../types.ts';
import type { OtherDraw } from './futures.ts';
import { lossSampler } from './samplers.ts';
import { keyOf } from './streams.ts';

/** Before anything is logged: half a day lost in fourteen (common practice, no source). */
const PRIOR = { lost: 0.5, days: 14 };
/** Days ahead that are drawn, and lost days in one future, at most. */
const MOST_DAYS = 120;
const MOST_LOST = 10;

/** How often a working day is lost: a gamma belief, `shape` days lost in `days`. */
export interface LossRate {
  readonly shape: number;
  readonly days: number;
}

/**
 * The rate at which this build loses working days: the days its log says were lost of those since the start, joined with a weak
 * belief (gamma and Poisson). An evening lost counts by its length against a usual day; one person's loss as that share of all.
 */
export function lossRateOf({ setting, tally, now }: Planned): LossRate {
  const from = setting.start ?? tally.firstAt;
  if (from === null || from >= now) return { shape: PRIOR.lost, days: PRIOR.days };
  const open = daysBetween(from, now, setting.zone)
    .map(({ start, end }) => openMinutesBetween(setting.working, Math.max(from, start), Math.min(end, now)))
    .filter((minutes) => minutes > 0);
  const usual = open.length === 0 ? 240 : open.reduce((sum, minutes) => sum + minutes, 0) / open.length;
  let lost = 0;
  for (const { person, from: begin, until } of tally.lost) {
    const length = Math.max(0, Math.min(until, now) - begin);
    const days = length / 1440 > 1 ? Math.ceil(length / 1440) : Math.min(1, length / usual);
    lost += days * (person === null ? 1 : 1 / Math.max(1, setting.people.size));
  }
  return { shape: PRIOR.lost + lost, days: PRIOR.days + open.length + lost };
}

/**
 * Lost days as lots under way: `lots` stand at the end of the work's and take everybody for the whole of a drawn day. `drawOf` is
 * given the number of the first of them and, for the compiled work, the arrays of begins and of phase numbers.
 */
export function lostDaysOf(
  planned: Planned,
  until: Instant,
): {
  readonly lots: readonly Lot[];
  readonly rate: LossRate;
  drawOf(firstLot: number, begun: Int32Array, phaseFirst: Int32Array): OtherDraw | null;
} {
  const { setting } = planned;
  const rate = lossRateOf(planned);
  const people = [...setting.people.values()];
  const days = daysBetween(setting.from, until, setting.zone)
    .slice(0, MOST_DAYS)
    .map(({ start, end }) =>
      people.map(({ open }): readonly [Instant, Minutes] => {
        const from = Math.max(start, setting.from);
        return [nextOpen(open, from), openMinutesBetween(open, from, end)];
      }),
    )
    .filter((day) => day.some(([, minutes]) => minutes > 0));
  const slots = days.length === 0 ? 0 : MOST_LOST;
  const lots = Array.from({ length: slots }, () => people.map((person) => lostLot(planned, person.resource))).flat();
  return {
    lots,
    rate,
    drawOf: (firstLot, begun, phaseFirst) => {
      if (lots.length === 0) return null;
      const daily = lossSampler(rate.shape, rate.days);
      return {
        step: -1,
        key: keyOf('lost days'),
        reset: () => {},
        draw: (stream, minutes) => {
          const chance = 1 - Math.exp(-daily(stream.unit()));
          let slot = 0;
          for (const day of days) {
            if (stream.unit() >= chance || slot === MOST_LOST) continue;
            day.forEach(([begin, length], person) => {
              const lot = firstLot + slot * people.length + person;
              begun[lot] = begin;
              minutes[phaseFirst[lot]!] = length;
            });
            slot++;
          }
          return 0;
        },
      };
    },
  };
}

function lostLot({ setting, plans }: Planned, person: number): Lot {
  return {
    id: `lost-${person}`,
    step: plans.length,
    set: null,
    number: 1,
    firstUnit: 0,
    lastUnit: -1,
    phases: [
      {
        kind: 'hands',
        minutes: 0,
        people: 1,
        eligible: [person],
        oneGo: false,
        open: setting.resources[person]!.open,
      },
    ],
    release: setting.from,
    deadline: setting.event,
    begunAt: setting.from,
    pinnedStart: null,
    pinnedPeople: null,
    station: null,
    onSite: false,
  };
}
