/**
 * Makers who exist only here: a build that is drawn, the truth about it that nobody knows beforehand, and somebody who
 * works it off greedily, minute by minute, and taps as they go. Shares nothing with the engine's own schedules: people
 * see to the machine, else take the lot that is ready and has the longest way behind it, and do nothing that no sheet
 * could ask of them. What is drawn is what the estimates claim, so that a forecast that believes them can be held to
 * it.
 */
import { gammaQuantile } from '../../../server/engine/numbers/distributions.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import { betaPertQuantile } from '../../../server/engine/numbers/three-point.ts';
import type { Build, Estimate, Origin, Person, Step } from '../../../server/model/index.ts';

/** Mon 2 Mar 2026 00:00 UTC, when all of them begin. */
export const BEGIN = Date.UTC(2026, 2, 2) / 60_000;

/** Minutes of a lot: nobody leaves one lying for long, so a plan of whole lots is near to what people do. */
const HOUR = 60;
/** Units in a timed trial. */
const TRIED = 10;

export interface Job {
  readonly id: string;
  readonly kind: 'hands' | 'print' | 'paint';
  readonly units: number;
  readonly lotSize: number;
  /** Minutes of hands: a lot's own and a unit's, as estimated. */
  readonly lotMinutes: number;
  readonly unitMinutes: number;
  readonly runMinutes: number;
  readonly waitMinutes: number;
  readonly learning: number;
  readonly origin: Origin;
  readonly estimate: Estimate;
  /** Steps before, with units of theirs for one of this. */
  readonly after: readonly { readonly job: number; readonly ratio: number }[];
  /** What it really takes: minutes of the first unit, and by how much hands and machine differ from the estimate. */
  readonly firstUnitMinutes: number;
  readonly truth: number;
  readonly runTruth: number;
}

export interface Maker {
  readonly build: Build;
  readonly jobs: readonly Job[];
  readonly week: readonly (readonly Span[])[];
  readonly lostADay: number;
}

export type Span = readonly [from: number, to: number];

const WEEKS: readonly { readonly text: string; readonly spans: (weekday: number) => readonly Span[] }[] = [
  { text: 'daily 18:00-22:00', spans: () => [[1080, 1320]] },
  {
    text: 'mon-fri 18:00-22:00; sat-sun 10:00-13:00 14:00-18:00',
    spans: (day) =>
      day < 5
        ? [[1080, 1320]]
        : [
            [600, 780],
            [840, 1080],
          ],
  },
  {
    text: 'mon-sat 09:00-13:00 14:00-18:00',
    spans: (day) =>
      day === 6
        ? []
        : [
            [540, 780],
            [840, 1080],
          ],
  },
];

/**
 * A maker by number: two routes of a part each, put together and finished; one to three people, a machine that runs
 * alone.
 */
export function drawMaker(seed: number): Maker {
  const random = new Random(seed);
  const among = <T>(list: readonly T[]): T => list[random.below(list.length)]!;
  const units = 48 + 12 * random.below(9);
  const chosen = Array.from({ length: 1 + random.below(3) }, () => among(WEEKS));
  const jobs: Job[] = [];
  const add = (id: string, kind: Job['kind'], count: number, after: Job['after']): number => {
    const { origin, estimate, minutes, truth } = drawEstimate(random, 3 + 9 * random.unit());
    const learning = kind === 'hands' && random.unit() < 0.3 ? 0.9 : 1;
    jobs.push({
      id,
      kind,
      units: count,
      lotSize: kind === 'print' ? among([6, 8, 12, 16]) : Math.round(HOUR / minutes),
      lotMinutes: kind === 'print' ? 12 : 0,
      unitMinutes: kind === 'print' ? 0 : minutes,
      runMinutes: kind === 'print' ? 60 * (2 + random.below(5)) : 0,
      waitMinutes: kind === 'paint' ? 120 : 0,
      learning,
      firstUnitMinutes: truth * (origin === 'trial' ? firstOf(minutes, learning) : minutes),
      origin: kind === 'print' ? 'handbook' : origin,
      estimate,
      after,
      truth: kind === 'print' ? spread(random, 0.3) : truth,
      runTruth: spread(random, 0.05),
    });
    return jobs.length - 1;
  };
  const cut = add('cut', 'hands', units, []);
  const file = add('file', 'hands', units, [{ job: cut, ratio: 1 }]);
  const paint = add('paint', 'paint', units, [{ job: file, ratio: 1 }]);
  const print = add('print', 'print', 2 * units, []);
  const clean = add('clean', 'hands', 2 * units, [{ job: print, ratio: 1 }]);
  const fit = add('fit', 'hands', units, [
    { job: paint, ratio: 1 },
    { job: clean, ratio: 2 },
  ]);
  add('test', 'hands', units, [{ job: fit, ratio: 1 }]);
  const lostADay = 1 - Math.exp(-gammaQuantile(Math.max(1e-6, random.unit()), 0.5, 14));
  const people = chosen.map(({ text }, i): Person => ({ id: `p${i + 1}`, name: `P ${i + 1}`, hours: text }));
  const week = Array.from({ length: 7 * chosen.length }, (_, i) =>
    chosen[i % chosen.length]!.spans(Math.floor(i / chosen.length)),
  );
  return { build: buildOf(jobs, units, people), jobs, week, lostADay };
}

function drawEstimate(
  random: Random,
  minutes: number,
): { origin: Origin; estimate: Estimate; minutes: number; truth: number } {
  const u = Math.min(1 - 1e-9, Math.max(1e-9, random.unit()));
  const given = Math.round(10 * minutes) / 10;
  switch (random.below(4)) {
    case 0:
      return { origin: 'guessed', estimate: given, minutes: given, truth: spread(random, 0.5) };
    case 1:
      return { origin: 'handbook', estimate: given, minutes: given, truth: spread(random, 0.3) };
    case 2: {
      const trial = { units: TRIED, minutes: Math.round(TRIED * given) };
      return { origin: 'trial', estimate: trial, minutes: trial.minutes / TRIED, truth: inverseGamma(u, TRIED + 1) };
    }
    default: {
      const range = { low: 0.6 * given, likely: given, high: 2.2 * given };
      const mean = (range.low + 4 * range.likely + range.high) / 6;
      return { origin: 'guessed', estimate: range, minutes: mean, truth: betaPertQuantile(u, range) / mean };
    }
  }
}

/** For a trial of ten with so many minutes each: the first unit's. */
function firstOf(minutes: number, learning: number): number {
  const falls = Array.from({ length: TRIED }, (_, i) => (i + 1) ** Math.log2(learning));
  return (minutes * TRIED) / falls.reduce((sum, share) => sum + share, 0);
}

/** Mean 1 and this coefficient of variation, as a gamma belief of a pace has it. */
function spread(random: Random, variation: number): number {
  return inverseGamma(Math.min(1 - 1e-9, Math.max(1e-9, random.unit())), 2 + 1 / variation ** 2);
}

function inverseGamma(u: number, shape: number): number {
  return (shape - 1) / gammaQuantile(u, shape, 1);
}

function buildOf(jobs: readonly Job[], units: number, people: readonly Person[]): Build {
  const steps = jobs.map((job): Step => {
    const after = job.after.map(({ job: from, ratio }) => ({ step: jobs[from]!.id, type: 'units' as const, ratio }));
    const phases: Step['phases'] =
      job.kind === 'print'
        ? [
            { kind: 'hands', minutes: 8 },
            { kind: 'run', machine: 'printer', minutes: job.runMinutes },
            { kind: 'hands', minutes: 4 },
          ]
        : [
            { kind: 'hands', perUnit: job.estimate },
            ...(job.kind === 'paint' ? [{ kind: 'wait' as const, minutes: job.waitMinutes }] : []),
          ];
    return {
      id: job.id,
      name: job.id,
      count: job.units,
      lotSize: job.lotSize,
      origin: job.origin,
      phases,
      ...(job.learning < 1 ? { learning: job.learning } : {}),
      ...(after.length > 0 ? { after } : {}),
    };
  });
  return {
    id: 'simulated',
    name: `Simulated, ${units} units`,
    zone: 'UTC',
    start: '2026-03-02T00:00',
    event: '2026-06-30T20:00',
    people: [...people],
    machines: [{ id: 'printer', name: 'Printer', hours: 'always', unattended: true, overnight: true }],
    steps,
  };
}
