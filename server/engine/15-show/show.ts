/** The show of a planned build: boxes, ways to the site, points, run sheet, work after the event, open points. */
import type { ForecastShow, PowerProposal, ShowStop } from '../../model/index.ts';
import { createEvaluator } from '../01-quantities/index.ts';
import { answersIn } from './answers.ts';
import { boxesAnswer } from './boxes.ts';
import { passagesAnswer } from './passages.ts';
import { pointsAnswer, powerAnswer } from './points.ts';
import { proposalsOf } from './proposals.ts';
import { runAnswer } from './run.ts';
import type { ShowSources } from './show-sources.ts';
import { stopsOf } from './stops.ts';
import { strikeAnswer } from './strike.ts';

/**
 * The show of a planned build. What cannot be counted or computed is left out of it and named by `showProblems`. Takes
 * the spells of the plan, so that nobody is asked twice at once. O(boxes x (parts + passages) + spells).
 */
export function showAnswer(sources: ShowSources): ForecastShow {
  const { planned } = sources;
  const evaluator = createEvaluator(planned.quantities.values);
  const { boxes, unpacked } = boxesAnswer(planned, evaluator);
  const answers = answersIn(planned.asked.build);
  const [proposals, notNeeded] = parted(
    proposalsOf(sources, boxes, unpacked),
    ({ code, of }) => !answers.isNotNeeded(code, of),
  );
  const show = {
    boxes,
    unpacked,
    proposals,
    passages: passagesAnswer(planned.build, boxes),
    points: pointsAnswer(planned, evaluator),
    ...runAnswer(sources),
    power: powerAnswer(planned),
    strike: strikeAnswer(planned, evaluator),
  };
  const stops = stopsOf(sources, show);
  const left = stops.flatMap((stop) => answers.leftOf(stop) ?? []);
  const settled = stops.filter((stop) => answers.leftOf(stop) === null);
  return { ...show, stops: left, notNeeded: [...notNeeded, ...powerOnsIn(settled)] };
}

function powerOnsIn(stops: readonly ShowStop[]): PowerProposal[] {
  return stops.flatMap((stop) => (stop.code === 'no-power-on' ? [{ code: 'power-on', of: stop.where }] : []));
}

/** What passes, and what does not. */
function parted<T>(all: readonly T[], passes: (one: T) => boolean): [T[], T[]] {
  return [all.filter(passes), all.filter((one) => !passes(one))];
}
