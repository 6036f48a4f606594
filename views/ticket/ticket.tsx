/** The job ticket of a step: what is done, with what feeds it and what it feeds. */
import type { ForecastStep, HazardGuess, StepLink } from '../../server/model/index.ts';
import { openHref } from '../forms/form.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { CautionFold } from '../parts/cautions.tsx';
import { UncheckedMark } from '../parts/unchecked.tsx';
import { Hatch } from '../pictures/drawing.tsx';
import { stepHref } from '../pictures/picture-links.ts';
import type { Html } from '../render.ts';
import { cautionTexts } from '../texts/cautions.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { yieldText } from '../words/design-words.ts';
import { machineName, OriginMark, stepName } from '../words/marks.tsx';
import { packsText } from '../words/schedule-words.ts';
import { thingOfStep } from '../words/supply-words.ts';
import { figure, lengthText } from '../words/wording.ts';
import { Figures, Notes, Pattern } from './ticket-work.tsx';

const say = texts.steps;

interface TicketProps {
  page: BuildPage;
  step: ForecastStep;
  number: number;
  /** Whether it is on the step's own sheet, away from the other tickets. */
  alone?: boolean;
}

/** The job ticket: what is done, how, how long, when, with what feeds it and what it feeds. */
export function Ticket({ page, step, number, alone = false }: TicketProps): Html {
  const tickets = alone ? screenHref(page.build.id, 'steps') : '';
  return (
    <div class={`ticket ${step.state} ${step.kind}`}>
      <Links page={page} tickets={tickets} links={step.fedBy} title={say.fedBy} none={say.nothingBefore} />
      <article class="job" aria-labelledby={`name-${step.id}`}>
        <header>
          <span class="stamp stamp-s number">{number}</span>
          <h2 id={`name-${step.id}`}>{step.name}</h2>
          <span class="quiet small state">{stateWords(step)}</span>
        </header>
        <UncheckedMark page={page} part={step.part} />
        <Progress page={page} step={step} />
        <Pattern page={page} step={step} />
        {step.isLotAssumed === true && step.left > 0 ? (
          <p class="pattern">{say.lotAssumed(figure(step.lotSize))}</p>
        ) : null}
        <Figures page={page} step={step} />
        <Notes page={page} step={step} />
        <CautionFold hazards={step.hazards} isGuessed={hasGuessedHazards(page, step)} />
        <HazardsAsked page={page} step={step} />
        {alone ? null : <PicturesLink page={page} step={step} />}
      </article>
      <Links page={page} tickets={tickets} links={step.feeds} title={say.feeds} none={say.nothingAfter} />
    </div>
  );
}

/** A gate has no units to draw. */
function PicturesLink({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  if (step.kind === 'gate') return null;
  return (
    <a class="day-link" href={stepHref(page.build.id, step.id)}>
      {texts.pictures.toStep}
      <span class="heard"> {step.name}</span>
    </a>
  );
}

function stateWords(step: ForecastStep): string {
  const kind = step.kind === 'step' ? '' : `${say.kinds[step.kind]}, `;
  return `${kind}${say.states[step.state]}`;
}

interface LinksProps {
  page: BuildPage;
  /** Address of the sheet with the tickets; empty: this one. */
  tickets: string;
  links: readonly StepLink[];
  title: string;
  none: string;
}

function Links({ page, tickets, links, title, none }: LinksProps): Html {
  return (
    <div class="links">
      <h3>{title}</h3>
      {links.length === 0 ? (
        <p class="quiet small">{none}</p>
      ) : (
        <ul>
          {links.map((link) => (
            <li key={`${link.step}-${link.type}-${link.given}`}>
              <a href={`${tickets}#steps-${link.step}`}>{stepName(page.forecast, link.step)}</a>
              <span class="quiet small">{linkWords(link)}</span>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function linkWords(link: StepLink): string {
  const parts = [
    link.type === 'units' ? null : texts.edit.choice.link[link.type as keyof typeof texts.edit.choice.link],
    ratioWords(link.each ?? link.ratio),
    link.lagMinutes === 0 ? null : say.lag(`${link.lagMinutes < 0 ? '−' : ''}${lengthText(link.lagMinutes)}`),
  ];
  return parts.filter((it) => it !== null && it !== undefined).join(', ');
}

/** One for one goes without saying, and so does what rounds to nothing. */
function ratioWords(ratio: number | null): string | null {
  if (ratio === null || ratio === 1) return null;
  const text = figure(ratio);
  return text === '0' || text === '1' ? null : say.ratio(text);
}

/** What is made, as a strip that is hatched as far as the work is done; where there are sets, set by set. */
function Progress({ page, step }: { page: BuildPage; step: ForecastStep }): Html {
  const failing = yieldText(page.forecast, step.part);
  return (
    <div class="progress">
      <p>
        <span class="stamp stamp-s">{say.unitsDone(figure(step.done), figure(step.total))}</span>{' '}
        {thingOfStep(page.forecast, step)}
        {step.scrapped === 0 ? null : <span class="quiet">, {say.scrapped(figure(step.scrapped))}</span>}
        <Packs page={page} step={step} />
      </p>
      {failing === null || step.left === 0 ? null : <p class="quiet small">{failing}</p>}
      <Strip step={step} />
      {step.sets.length < 2 ? null : (
        <ul class="sets small">
          {step.sets.map(({ set, done, total }) => (
            <li key={set}>
              {page.forecast.setName} {set}: {say.unitsDone(figure(done), figure(total))}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** What is to be ordered, where whole packs are more than is needed. */
function Packs({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const order = page.forecast.orders.find((one) => one.step === step.id);
  const packs = order === undefined ? null : packsText(page.build, page.forecast, order);
  return packs === null ? null : <span class="quiet">, {say.toOrder(figure(order!.units), packs)}</span>;
}

function Strip({ step }: { step: ForecastStep }): Html {
  const percent = (units: number) => `${((100 * units) / Math.max(1, step.total)).toFixed(2)}%`;
  const hatch = `hatch-${step.id}`;
  let before = 0;
  const sets = step.sets.map(({ set, done, total }) => {
    const from = before;
    before += total;
    return { set, from, done: Math.min(done, total) };
  });
  return (
    <svg width="100%" height="0.9rem" aria-hidden="true" focusable="false">
      <defs>
        <Hatch id={hatch} />
      </defs>
      <rect class="strip" x="0" y="0.1rem" width="100%" height="0.7rem" />
      {sets.map(({ set, from, done }) => (
        <g key={set}>
          <rect x={percent(from)} y="0.1rem" width={percent(done)} height="0.7rem" fill={`url(#${hatch})`} />
          <line class="strip-end" x1={percent(from + done)} x2={percent(from + done)} y1="0" y2="0.9rem" />
          {from === 0 ? null : <line class="strip-set" x1={percent(from)} x2={percent(from)} y1="0" y2="0.9rem" />}
        </g>
      ))}
    </svg>
  );
}

function hasGuessedHazards({ build }: BuildPage, { id }: ForecastStep): boolean {
  return build.steps.find((step) => step.id === id)?.hazardsGuessed === true;
}

/** Hazards guessed by the words in names, saved or not, with a button that marks them and one that says: none. */
function HazardsAsked({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const { perhaps = [], hazards } = step;
  const isGuessed = hasGuessedHazards(page, step);
  const isSaid = page.build.steps.find(({ id }) => id === step.id)?.hazards !== undefined;
  if (!isGuessed && (perhaps.length === 0 || isSaid)) return null;
  const names = (from: HazardGuess['from']) =>
    perhaps.filter((guess) => guess.from === from).map(({ hazard }) => texts.edit.choice.hazard[hazard]);
  const machine = machineName(page.build, step.machine ?? '');
  const asked = isGuessed ? hazards : perhaps.map(({ hazard }) => hazard);
  return (
    <WhileOpen>
      <form class="perhaps" {...sheetForm(openHref(screenHref(page.build.id, 'steps'), 'steps', step.id))}>
        <input type="hidden" name="edit" value={page.revision} />
        {asked.map((hazard) => (
          <input key={hazard} type="hidden" name="hazards" value={hazard} />
        ))}
        <p>
          {isGuessed ? cautionTexts.guessed : cautionTexts.perhaps(names('name'), names('machine'), machine)}{' '}
          <OriginMark origin="guessed" />
        </p>
        <p class="buttons">
          <button type="submit" name="do" value="hazards">
            {isGuessed ? cautionTexts.right : cautionTexts.mark}
            <span class="heard"> {step.name}</span>
          </button>
          <button type="submit" name="do" value="no-hazards">
            {cautionTexts.none}
            <span class="heard"> {step.name}</span>
          </button>
        </p>
      </form>
    </WhileOpen>
  );
}
