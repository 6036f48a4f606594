/** A step in the picture of what waits: a small title block with its number, kind, name, what is left and the room. */
import type { ForecastStep, StepLink, WhyLine } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure, lengthText, roomText } from '../words/wording.ts';
import { numberOf, stepHref, waitsHref } from './picture-links.ts';

const say = texts.waits;

/** What a box says beside its step. */
export interface BoxMarks {
  readonly drives: boolean;
  /** What it waits for that no line shows. */
  readonly taken: WhyLine['waited'] | null;
  /** Links whose other ends are not shown. */
  readonly beyond: number;
}

interface WaitBoxProps {
  page: BuildPage;
  step: ForecastStep;
  marks: BoxMarks;
  /** Words of the lines that come in, where they have no room of their own. */
  words?: readonly string[];
}

export function WaitBox({ page, step, marks, words = [] }: WaitBoxProps): Html {
  const { drives, taken, beyond } = marks;
  const { id } = page.build;
  return (
    <div class={`wait-box ${step.kind} ${step.state}${drives ? ' drives' : ''}`}>
      <a class="wait-step" href={`${stepHref(id, step.id)}#name-${step.id}`}>
        <span class="wait-strip">
          <span class="wait-number">{numberOf(page, step.id)}</span>
          <span>{kindWords(step).join(' · ')}</span>
          {drives ? (
            <span class="wait-drives">
              <span aria-hidden="true">◆</span>
              <span class="heard">{say.drives}</span>
            </span>
          ) : null}
        </span>
        <strong dir="auto">{step.name}</strong>
        <span class={step.waitMinutesPerLot === null ? 'wait-cells' : 'wait-cells dries'}>
          <span>{leftText(step)}</span>
          <span>{roomOf(step)}</span>
        </span>
      </a>
      {taken === null ? null : <span class="wait-note">{takenText(page, taken)}</span>}
      {words.map((word) => (
        <span key={word} class="wait-note" dir="auto">
          {word}
        </span>
      ))}
      {beyond === 0 ? null : (
        <a class="wait-beyond" href={waitsHref(id, { around: step.id, all: false })}>
          {say.beyond(beyond)}
          <span class="heard"> {say.beyondOf(step.name)}</span>
        </a>
      )}
    </div>
  );
}

/** What a step is, where it is no plain step here. */
function kindWords({ kind, onSite, waitMinutesPerLot }: ForecastStep): string[] {
  return [
    ...(kind === 'step' ? [] : [texts.steps.kinds[kind]]),
    ...(onSite ? [texts.steps.onSite] : []),
    ...(waitMinutesPerLot === null ? [] : [say.waits(lengthText(waitMinutesPerLot))]),
  ];
}

export function leftText({ total, left }: ForecastStep): string {
  if (total === 0) return texts.steps.noneNeeded;
  return left === 0 ? say.done : say.left(figure(left));
}

/** Nothing where nothing is left: nothing can slip. */
export function roomOf({ left, levelled, dates }: ForecastStep): string {
  if (left === 0) return '';
  return `${texts.room.word} ${roomText(levelled?.room ?? dates?.totalSlackClock ?? null)}`;
}

function takenText({ forecast }: BuildPage, { kind, step, who }: WhyLine['waited']): string {
  const { taken } = say;
  if (who !== null && (kind === 'hands' || kind === 'machine' || kind === 'station')) return taken[kind](who);
  return taken.other(stepName(forecast, step ?? texts.unknown));
}

/** What is to be said at a line: the kinds of its links that are not plain, and their lags; empty for plain ones. */
export function lineWords(links: readonly StepLink[]): string {
  return links
    .map(({ type, lagMinutes }) => [signOf(type), lagText(lagMinutes)].filter((it) => it !== '').join(' '))
    .filter((it) => it !== '')
    .join(', ');
}

function signOf(type: string): string {
  return type in say.sign ? say.sign[type as keyof typeof say.sign] : '';
}

function lagText(minutes: number): string {
  if (minutes === 0) return '';
  return `${minutes < 0 ? '−' : '+'}${lengthText(Math.abs(minutes))}`;
}

/** Whether a line goes on unit by unit, before all of what comes first is done. */
export function isByUnits(links: readonly StepLink[]): boolean {
  return links.some(({ type }) => type === 'units');
}
