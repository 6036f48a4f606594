/** What is tight on the Countdown: the steps with the least room, with how fast they go and must go. */
import type { ForecastStep } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { OriginMark, openSteps } from '../words/marks.tsx';
import { loggedText } from '../words/supply-words.ts';
import { figure, hourly, minutesText, roomText, spreadText } from '../words/wording.ts';
import { UncheckedMark } from './unchecked.tsx';

const say = texts.countdown;
const TIGHT_SHOWN = 4;

/** The open steps with the least room, with how fast they go and must go. */
export function Tight({ page }: { page: BuildPage }): Html {
  const steps = openSteps(page.forecast)
    .filter((step) => step.dates !== null)
    .sort((a, b) => tightness(a) - tightness(b))
    .slice(0, TIGHT_SHOWN);
  const isLate = (page.forecast.room.readyBy.clock ?? 0) < 0;
  if (steps.length === 0) return <p>{page.forecast.steps.length === 0 ? say.nothingPlanned : say.nothingLeft}.</p>;
  return (
    <ol class="tight-list">
      {steps.map((step, i) => (
        <li key={step.id} class={i === 0 ? 'tightest' : undefined}>
          <a href={`${screenHref(page.build.id, 'steps')}#steps-${step.id}`}>{step.name}</a>
          <SlackMark minutes={slackOf(step)} isNews={!isLate} />
          <UncheckedMark page={page} part={step.part} />
          <PaceLine page={page} step={step} />
        </li>
      ))}
    </ol>
  );
}

/** Room of a step under hands and machines where known, otherwise that of the unlimited network. */
function slackOf(step: ForecastStep): number {
  const { levelled, dates } = step;
  const byNetwork = dates?.totalSlackClock ?? Number.POSITIVE_INFINITY;
  return levelled?.room ?? byNetwork;
}

/** Work on site has its own day and is tight only when it misses the event. */
function tightness(step: ForecastStep): number {
  const slack = slackOf(step);
  return step.onSite && slack >= 0 ? slack + FAR : slack;
}

const FAR = 10_000_000;

/** Where the whole plan is late each row is: that is no news, and stays unmarked. */
function SlackMark({ minutes, isNews }: { minutes: number; isNews: boolean }): Html {
  const room = Number.isFinite(minutes) ? roomText(minutes) : texts.unknown;
  return <span class={minutes < 0 && isNews ? 'room-mark threat' : 'room-mark'}>{`${texts.room.word} ${room}`}</span>;
}

/** `96 × fish left, 11 an hour, needs 14`. */
function PaceLine({ page, step }: { page: BuildPage; step: ForecastStep }): Html {
  const line = page.forecast.burn.find((burn) => burn.step === step.id);
  const needs = step.total < FEWEST_PACED || step.kind !== 'step' ? null : (line?.neededPerHour ?? null);
  const has = step.done > 0 ? (line?.countedPerHour ?? null) : null;
  const slow = needs !== null && has !== null && has < needs;
  return (
    <p class={slow ? 'pace slow' : 'pace'}>
      {say.left(loggedText(page.forecast, step.id, step.left), figure(step.done))}
      {needs === null
        ? null
        : `, ${has === null ? say.paceNeeds(hourly(needs)) : say.pace(hourly(has), hourly(needs))}`}
      {eachWords(step)} <OriginMark origin={step.origin} />
    </p>
  );
}

/**
 * `, 3 min each (1.6 to 4.8)` or `, 5 h each (2 h 42 min to 7 h 56 min)`: hands of the next unit, and the middle 80 %.
 */
function eachWords({ pace }: ForecastStep): string {
  if (pace == null || figure(pace.low, 1) === figure(pace.high, 1)) return '';
  return `, ${say.each(minutesText(pace.minutesPerUnit, 1), ...spreadText(pace.minutesPerUnit, pace))}`;
}

/** The pace of a handful in an hour says nothing. */
const FEWEST_PACED = 10;
