/** A step in one line: its number, name, count, room, and a gauge of how far it is. */
import type { ForecastStep } from '../../server/model/index.ts';
import { Hatch } from '../pictures/drawing.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { figure, roomText } from '../words/wording.ts';

const say = texts.steps;

interface StepLineProps {
  page: BuildPage;
  step: ForecastStep;
  number: number;
}

export function StepLine({ page, step, number }: StepLineProps): Html {
  return (
    <>
      <span class="stamp stamp-s step-number">{number}</span>
      <StepGauge step={step} />
      <span class="step-name">
        {step.name}
        {step.kind === 'step' ? null : <span class="quiet small"> {say.kinds[step.kind]}</span>}
      </span>
      <span class="step-count">
        {step.total === 0 ? say.noneNeeded : say.unitsDone(figure(step.done), figure(step.total))}
      </span>
      <StepRoom page={page} step={step} />
    </>
  );
}

/** Nothing left: nothing can slip. Where the whole plan is late a short step is no news, and stays unmarked. */
function StepRoom({ page: { forecast }, step }: Pick<StepLineProps, 'page' | 'step'>): Html {
  if (step.total === 0) return <span class="step-room" />;
  if (step.left === 0) return <span class="step-room quiet">{say.states.done}</span>;
  const slack = step.levelled?.room ?? step.dates?.totalSlackClock ?? null;
  const isNews = slack !== null && slack < 0 && (forecast.room.readyBy.clock ?? -1) >= 0;
  return <span class={isNews ? 'step-room threat' : 'step-room'}>{`${texts.room.word} ${roomText(slack)}`}</span>;
}

/** A gauge that is hatched as far as the step is done, a mark at its edge. Its words stand beside it. */
function StepGauge({ step }: Pick<StepLineProps, 'step'>): Html {
  const share = (100 * Math.min(step.done, step.total)) / Math.max(1, step.total);
  const done = `${share.toFixed(1)}%`;
  const hatch = `gauge-${step.id}`;
  return (
    <svg class="step-gauge" width="100%" height="1rem" aria-hidden="true" focusable="false">
      <defs>
        <Hatch id={hatch} />
      </defs>
      <rect x="0" y="0.2rem" width={done} height="0.6rem" fill={`url(#${hatch})`} />
      <line class="edge" x1="0" x2="100%" y1="0.8rem" y2="0.8rem" />
      <line class="edge" x1="0" x2="0" y1="0.2rem" y2="0.8rem" />
      <line class="edge" x1="100%" x2="100%" y1="0.2rem" y2="0.8rem" />
      {share > 0 && share < 100 ? <line class="reached" x1={done} x2={done} y1="0" y2="1rem" /> : null}
    </svg>
  );
}
