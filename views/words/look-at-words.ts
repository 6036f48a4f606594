/** What is to be looked at, on the Countdown and in the terminal: what is dangerous first. */
import { type Forecast, messageOf } from '../../server/model/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { doubtText } from './doubt-words.ts';
import { workHoursText } from './hours-words.ts';

/** Warnings, doubts and hours, each as its sentences. */
export function lookAtTexts(forecast: Forecast, clock: WallClock): string[] {
  const { problems, doubts, workHours } = forecast;
  const byStrength = [...workHours].sort((a, b) => Number(b.strong) - Number(a.strong));
  return [
    ...byStrength.filter(({ strong }) => strong).map((warning) => workHoursText(forecast, clock, warning)),
    ...problems.filter(({ severity }) => severity === 'warning').map(messageOf),
    ...doubts.map((doubt) => doubtText(forecast, clock, doubt)),
    ...byStrength.filter(({ strong }) => !strong).map((warning) => workHoursText(forecast, clock, warning)),
  ];
}
