/** Simulated makers who time units whose true pace is known, and what is then believed of it. */

import { quantitiesOf } from '../../../server/engine/01-quantities/quantities.ts';
import { plannedStepsOf } from '../../../server/engine/02-steps/planned-steps.ts';
import { pacesOf } from '../../../server/engine/03-pace/pace.ts';
import { type Surroundings, surroundingsOf } from '../../../server/engine/calendar/surroundings.ts';
import { tallyLog, timedEntries } from '../../../server/engine/log/log-tally.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';

/** Coefficient of variation of a single unit around the maker's own pace. */
export const HANDS = { regular: 0.25, irregular: 1 } as const;

const GUESS_MINUTES = 20;
/** A guess is off by half, as the engine takes it: the true pace is a gamma of this shape. */
const GUESS_SHAPE = 6;
const BEGIN = Date.parse('2026-01-05T09:00Z') / 60_000;
/** Minutes of an evening of those who go home. */
const EVENING = 240;
/** What the engine takes a given learning rate for: the standard deviation of its log2. */
const RATE_SPREAD = 0.08;

export interface Held {
  readonly inside: number;
  readonly below: number;
  readonly above: number;
  /** Mean of the interval's width over the truth. */
  readonly width: number;
}

interface Habits {
  /** The step they work on, with minutes a unit or minutes a lot. */
  readonly shape?: Partial<Step>;
  /** Units of one count; 1 unless given. */
  readonly together?: number;
  /** They go home after four hours, count what is done, and leave a unit half made. */
  readonly goHome?: boolean;
  /** Minutes that a unit is thought to take; GUESS_MINUTES unless given. */
  readonly minutes?: number;
  /** They start no run clock. */
  readonly noClock?: boolean;
}

/**
 * For so many makers who tap `units` while their run clock is on: the share whose true minutes of the next unit lie
 * inside the middle 80 %, and on either side of it. Where the step has a learning rate, theirs is about as much.
 */
export function paceHeld(makers: number, seed: number, spread: number, units: number, habits: Habits = {}): Held {
  const { shape = {}, together = 1, goHome = false, minutes = GUESS_MINUTES, noClock = false } = habits;
  const random = new Random(seed);
  const build = buildOf(shape, minutes, goHome ? 'daily 18:00-22:00' : 'always');
  // When they are there is the same for each of them, whenever the last unit was counted.
  const surroundings = surroundingsOf(build, BEGIN);
  let [inside, below, above, width] = [0, 0, 0, 0];
  for (let maker = 0; maker < makers; maker++) {
    const truth = (minutes * (GUESS_SHAPE - 1)) / gamma(random, GUESS_SHAPE);
    const exponent = shape.learning === undefined ? 0 : Math.log2(shape.learning) + RATE_SPREAD * normal(random);
    const ends: number[] = [];
    for (let unit = 1, clock = 0; unit <= (goHome ? 2 * units + EVENING : units); unit++) {
      clock += truth * unit ** exponent * spread ** 2 * gamma(random, 1 / spread ** 2);
      ends.push(clock);
    }
    const clocked = goHome ? tappedByEvening(ends, units, together) : tapped(ends, together);
    const log = noClock ? clocked.filter(({ kind }) => kind === 'done') : clocked;
    const { low, high } = believed(build, surroundings, log);
    const next = truth * (log.reduce((sum, { n = 0 }) => sum + n, 0) + 1) ** exponent;
    if (next < low) below++;
    else if (next > high) above++;
    else inside++;
    width += (high - low) / next;
  }
  return { inside: inside / makers, below: below / makers, above: above / makers, width: width / makers };
}

function buildOf(shape: Partial<Step>, minutes: number, hours: string): Build {
  const step: Step = { id: 'file', name: 'file', count: 200, phases: [{ kind: 'hands', perUnit: minutes }] };
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    people: [{ id: 'ria', name: 'Ria', hours }],
    steps: [{ ...step, ...shape }],
  };
}

const stamp = (minute: number) => new Date(Math.round(minute) * 60_000).toISOString();

/** Units that were done after so many minutes of work, counted `together` at a time. */
function tapped(ends: readonly number[], together: number): LogEntry[] {
  const log: LogEntry[] = [{ id: 'entry-began', kind: 'began', step: 'file', at: stamp(BEGIN), seq: 1 }];
  ends.forEach((end, i) => {
    const at = stamp(BEGIN + end);
    if ((i + 1) % together === 0)
      log.push({ id: `entry-${1001 + i}`, kind: 'done', step: 'file', n: together, at, seq: i + 2 });
  });
  return log;
}

/**
 * The same through the evening in which `units` are done; whoever goes home counts what is done since their last count.
 */
function tappedByEvening(ends: readonly number[], units: number, together: number): LogEntry[] {
  const log: LogEntry[] = [];
  const tap = (kind: 'began' | 'done' | 'paused', at: number, n?: number): void => {
    const seq = log.length + 1;
    const entry = { id: `entry-${1000 + seq}`, kind, step: 'file', who: 'ria', at: stamp(at), seq };
    log.push(n === undefined ? entry : { ...entry, n });
  };
  let counted = 0;
  for (let evening = 0; counted < units; evening++) {
    const begins = BEGIN + evening * 1440 + 9 * 60;
    tap('began', begins);
    for (; ; counted += together) {
      const end = (ends[counted + together - 1] ?? Number.POSITIVE_INFINITY) - evening * EVENING;
      if (end >= EVENING) break;
      tap('done', begins + end, together);
    }
    const left = ends.filter((end) => end < (evening + 1) * EVENING).length - counted;
    if (left > 0) tap('done', begins + EVENING, left);
    counted += left;
    tap('paused', begins + EVENING);
  }
  return log;
}

function believed(build: Build, surroundings: Surroundings, log: readonly LogEntry[]): { low: number; high: number } {
  const tally = tallyLog(timedEntries(log).entries);
  return pacesOf(plannedStepsOf(build, surroundings, quantitiesOf(build), tally).steps, tally, surroundings).get(
    'file',
  )!;
}

/** Marsaglia and Tsang, "A simple method for generating gamma variables" (2000); below 1 by one shape more. */
export function gamma(random: Random, shape: number): number {
  if (shape < 1) return gamma(random, shape + 1) * random.unit() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random.unit()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

export function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random.unit())) * Math.cos(2 * Math.PI * random.unit());
}
