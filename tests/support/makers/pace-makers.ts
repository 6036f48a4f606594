/** Simulated makers who time units whose true pace is known, and what is then believed of it. */

import { quantitiesOf } from '../../../server/engine/01-quantities/quantities.ts';
import { plannedStepsOf } from '../../../server/engine/02-steps/planned-steps.ts';
import { pacesOf } from '../../../server/engine/03-pace/pace.ts';
import { surroundingsOf } from '../../../server/engine/calendar/surroundings.ts';
import { tallyLog, timedEntries } from '../../../server/engine/log/log-tally.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';

/** Coefficient of variation of a single unit around the maker's own pace. */
export const HANDS = { regular: 0.25, irregular: 1 } as const;

const GUESS_MINUTES = 20;
/** A guess is off by half, as the engine takes it: the true pace is a gamma of this shape. */
const GUESS_SHAPE = 6;
const BEGIN = Date.parse('2026-01-05T09:00Z') / 60_000;

export interface Held {
  readonly inside: number;
  readonly below: number;
  readonly above: number;
  /** Mean of the interval's width over the truth. */
  readonly width: number;
}

/**
 * For so many makers who tap `units` while their run clock is on, `together` of them at a time: the share whose true
 * minutes a unit lie inside the middle 80 %, and on either side of it. `shape`: the step they work on, with minutes a
 * unit or minutes a lot.
 */
export function paceHeld(
  makers: number,
  seed: number,
  spread: number,
  units: number,
  { shape = {}, together = 1 }: { readonly shape?: Partial<Step>; readonly together?: number } = {},
): Held {
  const random = new Random(seed);
  const build = buildOf(shape);
  let [inside, below, above, width] = [0, 0, 0, 0];
  for (let maker = 0; maker < makers; maker++) {
    const truth = (GUESS_MINUTES * (GUESS_SHAPE - 1)) / gamma(random, GUESS_SHAPE);
    const { low, high } = believed(build, tapped(random, truth, spread, units, together));
    if (truth < low) below++;
    else if (truth > high) above++;
    else inside++;
    width += (high - low) / truth;
  }
  return { inside: inside / makers, below: below / makers, above: above / makers, width: width / makers };
}

function buildOf(shape: Partial<Step>): Build {
  const step: Step = { id: 'file', name: 'file', count: 200, phases: [{ kind: 'hands', perUnit: GUESS_MINUTES }] };
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'always' }],
    steps: [{ ...step, ...shape }],
  };
}

function tapped(random: Random, truth: number, spread: number, units: number, together: number): LogEntry[] {
  const stamp = (minute: number) => new Date(Math.round(minute) * 60_000).toISOString();
  const log: LogEntry[] = [{ id: 'entry-began', kind: 'began', step: 'file', at: stamp(BEGIN), seq: 1 }];
  let clock = BEGIN;
  for (let unit = 1; unit <= units; unit++) {
    clock += truth * spread ** 2 * gamma(random, 1 / spread ** 2);
    if (unit % together !== 0) continue;
    log.push({ id: `entry-${1000 + unit}`, kind: 'done', step: 'file', n: together, at: stamp(clock), seq: unit + 1 });
  }
  return log;
}

function believed(build: Build, log: readonly LogEntry[]): { low: number; high: number } {
  const { entries } = timedEntries(log);
  const tally = tallyLog(entries);
  const surroundings = surroundingsOf(build, entries.at(-1)!.at);
  return pacesOf(plannedStepsOf(build, surroundings, quantitiesOf(build), tally).steps, tally, surroundings).get(
    'file',
  )!;
}

/** Marsaglia and Tsang, "A simple method for generating gamma variables" (2000); below 1 by one shape more. */
function gamma(random: Random, shape: number): number {
  if (shape < 1) return gamma(random, shape + 1) * random.unit() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random.unit()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random.unit())) * Math.cos(2 * Math.PI * random.unit());
}
