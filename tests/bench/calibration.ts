/**
 * `npm run bench -- calibration [makers] [seed]`: simulated makers whose true pace and days lost are known, each counted up to about half,
 * forecast, and worked on to the end. Prints how often the forecast's quantiles held, and how far its middle and the plug-in average
 * (what is left at the average pace so far) were off. A second seed checks what was found with the first.
 */
import { forecastOf, type Outcome, outcomeOf, summaryOf } from '../support/calibration.ts';

export default function bench([makers = '500', seed = '1']: string[]): void {
  const begin = process.cpuUsage().user;
  const outcomes: Outcome[] = [];
  for (let i = 0; outcomes.length < Number(makers); i++) {
    const outcome = outcomeOf(Number(seed) * 1_000_000 + i, (build, log, now) => forecastOf(build, log, now, 1000));
    if (outcome !== null) outcomes.push(outcome);
  }
  for (const line of summaryOf(outcomes)) console.log(line);
  console.log(
    `${makers} makers, seed ${seed}, ${((process.cpuUsage().user - begin) / 1e6).toFixed(0)} s of processor time`,
  );
}
