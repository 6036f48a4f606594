/** Simulated makers who load a machine whose true minutes are known, and what is then believed of its runs. */

import { quantitiesOf } from '../../../server/engine/01-quantities/quantities.ts';
import { plannedStepsOf } from '../../../server/engine/02-steps/planned-steps.ts';
import { runTimesOf } from '../../../server/engine/03-pace/run-times.ts';
import { surroundingsOf } from '../../../server/engine/calendar/surroundings.ts';
import { tallyLog, timedEntries } from '../../../server/engine/log/log-tally.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';
import { gamma, type Held, normal } from './pace-makers.ts';

const THOUGHT = 200;
/** Single runs scatter around the machine's own minutes by this share. */
const SCATTER = 0.03;
const BEGIN = Date.parse('2026-01-05T09:00Z') / 60_000;

interface Machine {
  readonly origin: Step['origin'] & string;
  readonly loads: number;
  /** The coefficient of variation of the true minutes around those thought. */
  readonly spread: number;
  /** Minutes from the end of a run until somebody comes, on average; 0: they wait for it. */
  readonly late: number;
  /** Minutes to load it and to empty it, each; a load is logged when it is in, and counted before it is emptied. */
  readonly hands?: number;
  /** The share of loads of which somebody waits for the end all the same. */
  readonly awaited?: number;
}

/** The share of so many makers whose machine's true minutes are inside the middle 80 %, and on either side of it. */
export function runsHeld(
  makers: number,
  seed: number,
  { origin, loads, spread, late, awaited = 0, hands = 0 }: Machine,
): Held {
  const random = new Random(seed);
  const step: Step = {
    id: 'print',
    name: 'print',
    count: 4 * loads + 40,
    lotSize: 4,
    origin,
    phases: [
      { kind: 'hands', minutes: hands },
      { kind: 'run', machine: 'printer', minutes: THOUGHT },
      { kind: 'hands', minutes: hands },
    ],
  };
  const build: Build = {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'always' }],
    machines: [{ id: 'printer', name: 'printer', overnight: true, unattended: true }],
    steps: [step],
  };
  const surroundings = surroundingsOf(build, BEGIN);
  let [inside, below, above, width] = [0, 0, 0, 0];
  for (let maker = 0; maker < makers; maker++) {
    const shape = 2 + 1 / spread ** 2;
    const truth = (THOUGHT * (shape - 1)) / gamma(random, shape);
    const log: LogEntry[] = [];
    const tap = (kind: 'loaded' | 'done', minute: number): void => {
      const seq = log.length + 1;
      const at = new Date(Math.round(minute) * 60_000).toISOString();
      log.push({ id: `entry-${1000 + seq}`, kind, step: 'print', n: 4, at, seq });
    };
    for (let load = 0, at = BEGIN; load < loads; load++) {
      tap('loaded', at);
      at += truth * (1 + SCATTER * normal(random));
      if (random.unit() >= awaited) at -= late * Math.log(1 - random.unit());
      tap('done', at);
      at += 5;
    }
    const tally = tallyLog(timedEntries(log).entries);
    const { steps } = plannedStepsOf(build, surroundings, quantitiesOf(build), tally);
    const { low, high } = runTimesOf(steps, tally, surroundings).get('print')!;
    if (truth < low) below++;
    else if (truth > high) above++;
    else inside++;
    width += (high - low) / truth;
  }
  return { inside: inside / makers, below: below / makers, above: above / makers, width: width / makers };
}
