/**
 * `npm run bench -- calibration [makers]`: simulated makers whose true pace and days lost are known, each counted up to
 * about half, forecast, and worked on to the end. Prints how often the forecast's quantiles held, how far its middle
 * and the plug-in average (what is left at the average pace so far) were off, how the beliefs of pace and of days lost
 * agree with the truth, and how often the middle 80 % of a pace hold the truth for regular and irregular hands after 5,
 * 20 and 60 units counted one by one, after 24 and 60 counted six at a time, and for hands that go home in the middle
 * of a unit or whose learning rate is read from their counts (twice as many makers each).
 *
 * In pieces: `calibration FROM-TO FILE` looks at the makers of these numbers alone and adds what became of them to the
 * file; `calibration FILE` prints what the file holds. The same numbers are the same makers: others check what was
 * found with the first.
 */
import { appendFileSync, readFileSync } from 'node:fs';
import { groupedBy } from '../../server/engine/numbers/group.ts';
import { curveOf, forecastOf, type Outcome, outcomeOf, summaryOf } from '../support/calibration.ts';
import { HANDS, paceHeld } from '../support/makers/pace-makers.ts';

/** Units that are counted before a pace is asked for, and how many of them at a time. */
const COUNTED = [
  [5, 1],
  [20, 1],
  [60, 1],
  [24, 6],
  [60, 6],
] as const;

/** The same for regular hands with other habits, one and four at a time. */
const HABITS: Readonly<Record<string, Parameters<typeof paceHeld>[4]>> = {
  'go home': { together: 4, goHome: true },
  learn: { shape: { learning: 0.9 } },
};

/** One line of a file: a maker of a whole build, or some makers of one kind whose pace was asked for. */
type Row = { readonly outcome: Outcome } | { readonly pace: PaceRow };

interface PaceRow {
  readonly hands: string;
  readonly units: number;
  /** Units of one count; 1 unless said. */
  readonly together?: number;
  readonly makers: number;
  readonly inside: number;
  readonly below: number;
  readonly above: number;
  readonly width: number;
}

export default function bench([makers = '500', file]: string[]): void {
  if (file === undefined && !/^\d+$/.test(makers)) {
    tell(readRows(makers));
    return;
  }
  const begin = process.cpuUsage().user;
  const [from, to] = makers.includes('-') ? makers.split('-').map(Number) : [0, Number(makers)];
  const rows = rowsOf(from!, to!);
  if (file === undefined) tell(rows);
  else appendFileSync(file, rows.map((row) => `${JSON.stringify(row)}\n`).join(''));
  const seconds = (process.cpuUsage().user - begin) / 1e6;
  console.log(`makers ${from} to ${to! - 1}: ${seconds.toFixed(0)} s of processor time`);
}

function readRows(file: string): Row[] {
  const lines = readFileSync(file, 'utf8').split('\n');
  return lines.filter((line) => line !== '').map((line): Row => JSON.parse(line));
}

/** Makers `from` to `to` (left out): what became of each, and twice as many of each kind of hands. */
function rowsOf(from: number, to: number): Row[] {
  const rows: Row[] = [];
  for (let maker = from; maker < to; maker++) {
    const outcome = outcomeOf(1_000_000 + maker, (build, log, now) => forecastOf(build, log, now, 1000));
    if (outcome !== null) rows.push({ outcome: withoutFans(outcome) });
  }
  for (const [hands, spread] of Object.entries(HANDS)) {
    for (const [units, together] of COUNTED) {
      const makers = 2 * (to - from);
      const held = paceHeld(makers, 1_000_000 + from, spread, units, { together });
      rows.push({ pace: { hands, units, together, makers, ...held } });
    }
  }
  for (const [hands, habits] of Object.entries(HABITS)) {
    for (const units of [20, 60]) {
      const makers = 2 * (to - from);
      const held = paceHeld(makers, 1_000_000 + from, HANDS.regular, units, habits);
      rows.push({ pace: { hands, units, together: habits?.together ?? 1, makers, ...held } });
    }
  }
  return rows;
}

/** What is asked of an outcome, without what only pictures need. */
function withoutFans({ risk, ...rest }: Outcome): Outcome {
  const { readyAt, lostDaysPerHundred } = risk;
  return { ...rest, risk: { readyAt, lostDaysPerHundred } as Outcome['risk'] };
}

function tell(rows: readonly Row[]): void {
  const outcomes = rows.flatMap((row) => ('outcome' in row ? [row.outcome] : []));
  console.log(`${outcomes.length} makers: ${curveOf(outcomes)}`);
  for (const line of summaryOf(outcomes)) console.log(line);
  console.log('middle 80 % of a pace, in 100 makers:');
  for (const line of pacesHeld(rows.flatMap((row) => ('pace' in row ? [row.pace] : [])))) console.log(line);
}

function pacesHeld(rows: readonly PaceRow[]): string[] {
  const kinds = groupedBy(
    rows,
    ({ hands, units, together = 1 }) => `${hands.padEnd(9)} ${String(units).padStart(2)} units, ${together} at a time`,
  );
  return [...kinds].map(([kind, own]) => {
    const makers = own.reduce((sum, row) => sum + row.makers, 0);
    const mean = (of: (row: PaceRow) => number) => own.reduce((sum, row) => sum + row.makers * of(row), 0) / makers;
    const [held, faster, slower, error] = [
      mean(({ inside }) => inside),
      mean(({ below }) => below),
      mean(({ above }) => above),
      Math.sqrt((0.8 * 0.2) / makers),
    ].map((share) => (100 * share).toFixed(1).padStart(5));
    const width = mean((row) => row.width).toFixed(2);
    return `  ${kind}: ${held} held (standard error ${error}), ${faster} faster, ${slower} slower, width ${width}, ${makers} makers`;
  });
}
