/** Which step waits for which: the picture, how to read it, what else it can show, and the same as a table. */
import { type ForecastStep, messageOf, type StepLink } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { stepHref, waitsHref } from '../pictures/picture-links.ts';
import { leftText, roomOf } from '../pictures/waits-box.tsx';
import { drivingSteps, type WaitsAsked, type WaitsShown, waitsShown } from '../pictures/waits-facts.ts';
import type { WaitsLayout } from '../pictures/waits-layout.ts';
import { WaitsKey, WaitsPicture } from '../pictures/waits-picture.tsx';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { Scroll, stepName } from '../words/marks.tsx';

const say = texts.waits;
/** With fewer steps nobody has to choose. */
const FEWEST_TO_CHOOSE = 4;

interface WaitsProps {
  page: BuildPage;
  asked: WaitsAsked;
  /** Where the boxes of the wide picture lie; left out: worked out as it is drawn. */
  layout?: WaitsLayout;
}

export function WaitsPage(props: WaitsProps): Html {
  return (
    <BuildLayout page={props.page} screen="steps">
      <WaitsSheet {...props} />
    </BuildLayout>
  );
}

export function WaitsSheet({ page, asked, layout }: WaitsProps): Html {
  const { steps } = page.forecast;
  const shown = waitsShown(page.forecast, asked);
  return (
    <Sheet page={page} screen="steps" refresh={waitsHref(page.build.id, asked)}>
      <h1>{say.heading}</h1>
      <Circles page={page} />
      {steps.length === 0 ? (
        <p>{say.noSteps}</p>
      ) : (
        <>
          <p class="quiet">{noteOf(page, shown, asked)}</p>
          <Choice page={page} shown={shown} asked={asked} />
          <InTurns>
            <WaitsPicture page={page} shown={shown} layout={layout} />
          </InTurns>
          <WaitsKey />
          <WaitsTable page={page} />
        </>
      )}
    </Sheet>
  );
}

/** Links that would make steps wait for each other are in no plan; the sentence names them. */
function Circles({ page }: { page: BuildPage }): Html | null {
  const circles = page.forecast.problems.filter(({ code }) => code === 'feed-circle');
  if (circles.length === 0) return null;
  return (
    <div class="problems">
      <p>{say.brokenLine}</p>
      {circles.map((it) => (
        <p class="threat" key={it.value}>
          {messageOf(it)}
        </p>
      ))}
    </div>
  );
}

function noteOf({ forecast }: BuildPage, shown: WaitsShown, { around }: WaitsAsked): string {
  const [drawn, all] = [shown.steps.length + shown.alone.length, forecast.steps.length];
  const notes = {
    all: () => say.noteAll(all),
    chain: () => say.noteChain(drawn, all),
    part: () => say.notePart(drawn, drivingSteps(forecast).length, all),
    open: () => say.noteOpen(drawn, all),
    around: () => say.noteAround(stepName(forecast, around ?? ''), drawn, all),
  };
  const rest = [
    shown.lines.length === 0 ? say.noLines : say.note,
    ...(drivingSteps(forecast).length === 0 ? [say.noChain] : []),
  ];
  return [notes[shown.of](), ...rest].join(' ');
}

interface ChoiceProps extends WaitsProps {
  shown: WaitsShown;
}

/** The other pictures, one tap away. */
function Choice({ page, shown, asked }: ChoiceProps): Html | null {
  const { id } = page.build;
  const { steps } = page.forecast;
  if (steps.length < FEWEST_TO_CHOOSE) return null;
  const isWhole = shown.steps.length + shown.alone.length === steps.length;
  return (
    <div class="waits-choice">
      <form action={waitsHref(id)} method="get">
        <label>
          {say.around}{' '}
          <select name="around">
            {steps.map((step) => (
              <option key={step.id} value={step.id} selected={step.id === asked.around}>
                {step.name}
              </option>
            ))}
          </select>
        </label>{' '}
        <button type="submit">{say.show}</button>
      </form>
      {isWhole ? null : (
        <a class="day-link" href={waitsHref(id, { around: null, all: true })}>
          {say.showAll}
        </a>
      )}
      {asked.around !== null || asked.all ? (
        <a class="day-link" href={waitsHref(id)}>
          {say.showChain}
        </a>
      ) : null}
    </div>
  );
}

/** All steps, those that the picture leaves out too. */
function WaitsTable({ page }: { page: BuildPage }): Html {
  const { columns } = say;
  const driving = new Set(drivingSteps(page.forecast));
  return (
    <details class="in-figures waits-table">
      <summary>{say.table}</summary>
      <Scroll label={say.table}>
        <table>
          <thead>
            <tr>
              {(['step', 'waitsFor', 'waitedForBy', 'left', 'room', 'drives'] as const).map((column) => (
                <th key={column} scope="col">
                  {columns[column]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <ListInTurns>
              {page.forecast.steps.map((step) => (
                <Row key={step.id} page={page} step={step} drives={driving.has(step.id)} />
              ))}
            </ListInTurns>
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}

function Row({ page, step, drives }: { page: BuildPage; step: ForecastStep; drives: boolean }): Html {
  return (
    <tr>
      <th scope="row">
        <a href={stepHref(page.build.id, step.id)} dir="auto">
          {step.name}
        </a>
      </th>
      <td>{linksText(page, step.fedBy)}</td>
      <td>{linksText(page, step.feeds)}</td>
      <td>{leftText(step)}</td>
      <td>{roomOf(step)}</td>
      <td>{drives ? say.yes : say.no}</td>
    </tr>
  );
}

function linksText({ forecast }: BuildPage, links: readonly StepLink[]): string {
  if (links.length === 0) return say.nothing;
  return links.map(({ step, type }) => `${stepName(forecast, step)} (${typeWords(type)})`).join(', ');
}

function typeWords(type: string): string {
  return say.link[type as keyof typeof say.link];
}
