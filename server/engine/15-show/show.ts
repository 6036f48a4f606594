/** The show of a planned build: boxes, ways to the site, points, run sheet, work after the event, open points. */
import type { ForecastShow } from '../../model/index.ts';
import { createEvaluator } from '../01-quantities/index.ts';
import { boxesAnswer } from './boxes.ts';
import { passagesAnswer } from './passages.ts';
import { pointsAnswer, powerAnswer } from './points.ts';
import { proposalsOf } from './proposals.ts';
import { runAnswer } from './run.ts';
import type { ShowGiven } from './show-given.ts';
import { stopsOf } from './stops.ts';
import { strikeAnswer } from './strike.ts';

/**
 * The show of a planned build. What cannot be counted or computed is left out of it and named by `showProblems`. Takes
 * the spells of the plan, so that nobody is asked twice at once. O(boxes x (parts + passages) + spells).
 */
export function showAnswer(given: ShowGiven): ForecastShow {
  const { planned } = given;
  const evaluator = createEvaluator(planned.quantities.values);
  const { boxes, unpacked } = boxesAnswer(planned, evaluator);
  const show = {
    boxes,
    unpacked,
    proposals: proposalsOf(given, boxes, unpacked),
    passages: passagesAnswer(planned.build, boxes),
    points: pointsAnswer(planned, evaluator),
    ...runAnswer(given),
    power: powerAnswer(planned),
    strike: strikeAnswer(planned, evaluator),
  };
  return { ...show, stops: stopsOf(given, show) };
}
