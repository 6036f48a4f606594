/**
 * `npm run bench -- calibration [makers] [seeds]`: simulated makers whose true pace and days lost are known, each counted up to about half,
 * forecast, and worked on to the end. Prints how often the forecast's quantiles held, how far its middle and the plug-in average (what is
 * left at the average pace so far) were off, and how the beliefs of pace and of days lost agree with the truth. Several seeds
 * (`calibration 500 1,2,3,4`) are so many makers each, told one by one and together: a second seed checks what was found with the first.
 */
import { curveOf, forecastOf, type Outcome, outcomeOf, summaryOf } from '../support/calibration.ts';

export default function bench([makers = '500', seeds = '1']: string[]): void {
  const begin = process.cpuUsage().user;
  const all = seeds.split(',').flatMap((seed) => {
    const outcomes = outcomesOf(Number(makers), Number(seed));
    console.log(`seed ${seed}, ${makers} makers: ${curveOf(outcomes)}`);
    return outcomes;
  });
  for (const line of summaryOf(all)) console.log(line);
  const seconds = (process.cpuUsage().user - begin) / 1e6;
  console.log(`${all.length} makers, seeds ${seeds}, ${seconds.toFixed(0)} s of processor time`);
}

function outcomesOf(makers: number, seed: number): Outcome[] {
  const outcomes: Outcome[] = [];
  for (let i = 0; outcomes.length < makers; i++) {
    const outcome = outcomeOf(seed * 1_000_000 + i, (build, log, now) => forecastOf(build, log, now, 1000));
    if (outcome !== null) outcomes.push(outcome);
  }
  return outcomes;
}
