/**
 * `npm run bench -- calibration [makers] [seeds]`: simulated makers whose true pace and days lost are known, each
 * counted up to about half, forecast, and worked on to the end. Prints how often the forecast's quantiles held, how far
 * its middle and the plug-in average (what is left at the average pace so far) were off, how the beliefs of pace and of
 * days lost agree with the truth, and how often the middle 80 % of a pace hold the truth for regular and irregular
 * hands after 5, 20 and 60 units (twice as many makers each). Several seeds (`calibration 500 1,2,3,4`) are so many
 * makers each, told one by one and together: a second seed checks what was found with the first.
 */
import { curveOf, forecastOf, type Outcome, outcomeOf, summaryOf } from '../support/calibration.ts';
import { HANDS, paceHeld } from '../support/makers/pace-makers.ts';

export default function bench([makers = '500', seeds = '1']: string[]): void {
  const begin = process.cpuUsage().user;
  const all = seeds.split(',').flatMap((seed) => {
    const outcomes = outcomesOf(Number(makers), Number(seed));
    console.log(`seed ${seed}, ${makers} makers: ${curveOf(outcomes)}`);
    return outcomes;
  });
  for (const line of summaryOf(all)) console.log(line);
  for (const line of pacesHeld(2 * Number(makers), Number.parseInt(seeds, 10))) console.log(line);
  const seconds = (process.cpuUsage().user - begin) / 1e6;
  console.log(`${all.length} makers, seeds ${seeds}, ${seconds.toFixed(0)} s of processor time`);
}

function pacesHeld(makers: number, seed: number): string[] {
  const rows = Object.entries(HANDS).flatMap(([hands, spread]) =>
    [5, 20, 60].map((units) => {
      const { inside, below, above, width } = paceHeld(makers, seed, spread, units);
      const [held, faster, slower] = [inside, below, above].map((share) => (100 * share).toFixed(1).padStart(5));
      return `  ${hands.padEnd(9)} ${String(units).padStart(2)} units: ${held} held, ${faster} faster, ${slower} slower, width ${width.toFixed(2)}`;
    }),
  );
  const error = 100 * Math.sqrt((0.8 * 0.2) / makers);
  return [`middle 80 % of a pace, in 100 of ${makers} makers each (standard error ${error.toFixed(1)}):`, ...rows];
}

function outcomesOf(makers: number, seed: number): Outcome[] {
  const outcomes: Outcome[] = [];
  for (let i = 0; outcomes.length < makers; i++) {
    const outcome = outcomeOf(seed * 1_000_000 + i, (build, log, now) => forecastOf(build, log, now, 1000));
    if (outcome !== null) outcomes.push(outcome);
  }
  return outcomes;
}
