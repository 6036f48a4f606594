/** What may come and the line of balance of the wall of fake-forecast.ts, made by hand. */
import type { BurnLine, ForecastBalance, ForecastRisk, ForecastStep, Quantiles } from '../../server/model/index.ts';

const DAY = 1440;
const INSTANTS = 12;

/** Futures that all end about a day after `ready`, with a fan for each line. */
export function fakeRisk(now: number, ready: number, event: number, burn: readonly BurnLine[]): ForecastRisk {
  const end: Quantiles = around(ready);
  return {
    futures: 2000,
    seed: 1,
    readyBy: { target: ready + DAY, chance: 0.82, error: 0.0086 },
    loadIn: null,
    event: { target: event, chance: 0.97, error: 0.0038 },
    readyAt: end,
    finishAt: around(event - 300),
    steps: [],
    lostDaysPerHundred: 9,
    beyond: 0,
    fans: burn.map(({ step, left }) => {
      const instants = Array.from(
        { length: INSTANTS },
        (_, i) => now + Math.round((i * (end.p95 - now)) / (INSTANTS - 1)),
      );
      const falling = (until: number) =>
        instants.map((at) => Math.round(Math.max(0, left * (1 - (at - now) / (until - now)))));
      return { step, instants, p10: falling(end.p10), p50: falling(end.p50), p90: falling(end.p90), lastUnitAt: end };
    }),
  };
}

function around(at: number): Quantiles {
  return { p10: at - DAY, p50: at, p80: at + DAY / 2, p90: at + DAY, p95: at + 1.5 * DAY };
}

/** Press runs out of bushings the day after `now`; fish pile up before it; painting is short of its line. */
export function fakeBalance(now: number, steps: readonly ForecastStep[]): ForecastBalance {
  return {
    steps: steps
      .filter(({ kind }) => kind !== 'gate')
      .map(({ id, done, total, levelled }) => ({
        step: id,
        passed: done,
        due: id === 'paint-fish' ? Math.min(total, done + 12) : Math.floor(done / 2),
        enoughUntil: done === total ? null : now + DAY,
        scheduled: [
          [now, done],
          [now + 600, done],
          [Math.max(now + 601, levelled?.finish ?? now), total],
        ],
      })),
    feeds: [
      {
        from: 'print-bushings',
        to: 'press',
        ratio: 2,
        waiting: 8,
        starves: { at: now + DAY, until: now + DAY + 240, workingMinutes: 180, times: 2, inAllMinutes: 300 },
        pile: null,
      },
      {
        from: 'paint-fish',
        to: 'press',
        ratio: 1,
        waiting: 16,
        starves: null,
        pile: { at: now + 2 * DAY, units: 40 },
      },
    ],
    chains: [
      {
        end: 'press',
        steps: [
          { step: 'print-bushings', perEnd: 2 },
          { step: 'paint-fish', perEnd: 1 },
          { step: 'press', perEnd: 1 },
        ],
      },
    ],
  };
}
