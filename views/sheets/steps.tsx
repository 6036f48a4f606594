/** Steps: job tickets on a numbered list, with what feeds them and what they feed; then feeds, gates and decisions. */
import type { ForecastStep } from '../../server/model/index.ts';
import { ChangeLink, EditForm, openHref } from '../forms/form.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { CautionFooter } from '../parts/cautions.tsx';
import { Soundness } from '../parts/soundness.tsx';
import { StepLine } from '../parts/step-line.tsx';
import { DecisionList, FeedList, GateList } from '../parts/step-lists.tsx';
import { stepHref, waitsHref } from '../pictures/picture-links.ts';
import { type Html, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { Ticket } from '../ticket/ticket.tsx';
import type { BuildPage, EditList, OpenForm } from '../types.ts';

const say = texts.steps;
/** With more steps their tickets would weigh too much for one page. */
const MOST_TICKETS = 80;

interface StepsProps {
  page: BuildPage;
  open: OpenForm | null;
}

export function StepsPage(props: StepsProps): Html {
  return (
    <BuildLayout page={props.page} screen="steps">
      <StepsSheet {...props} />
    </BuildLayout>
  );
}

export function StepsSheet({ page, open }: StepsProps): Html {
  const href = screenHref(page.build.id, 'steps');
  return (
    <Sheet page={page} screen="steps" refresh={open === null ? href : null}>
      <div class="heading">
        <h1>{say.heading}</h1>
        <ChangeLink href={href} list="steps" id={null} of="" />
      </div>
      <p class="quiet">{say.note}</p>
      {page.forecast.steps.length === 0 ? null : (
        <p>
          <a class="day-link" href={waitsHref(page.build.id)}>
            {texts.waits.toPicture}
          </a>
        </p>
      )}
      <Soundness page={page} />
      <NewForm page={page} open={open} list="steps" />
      <ol class="tickets">
        <ListInTurns>
          {page.forecast.steps.map((step, i) => (
            <StepRow key={step.id} page={page} step={step} number={i + 1} open={open} />
          ))}
        </ListInTurns>
      </ol>
      <UnplannedSteps page={page} open={open} />
      <FeedList page={page} open={open} href={href} />
      <GateList page={page} open={open} href={href} />
      <DecisionList page={page} open={open} href={href} />
      <CautionFooter hazards={page.forecast.steps.flatMap(({ hazards }) => hazards)} />
    </Sheet>
  );
}

/** The form for a new thing of a list, when that is what is open. */
function NewForm({ page, open, list }: StepsProps & { list: EditList }): Html | null {
  if (open?.list !== list || open.key !== null) return null;
  return <EditForm build={page.build} form={open} href={screenHref(page.build.id, 'steps')} />;
}

interface TicketProps extends StepsProps {
  step: ForecastStep;
  number: number;
}

/** A line, with its ticket folded under it; of very many steps the ticket is on the step's own sheet. */
function StepRow({ page, step, number, open }: TicketProps): Html {
  const href = screenHref(page.build.id, 'steps');
  if (open?.list === 'steps' && open.key === step.id) {
    return (
      <li id={`steps-${step.id}`} class="ticket open">
        <EditForm build={page.build} form={open} href={href} />
      </li>
    );
  }
  if (page.forecast.steps.length > MOST_TICKETS) {
    return (
      <li id={`steps-${step.id}`} class="step-row">
        <a class="step-line" href={stepHref(page.build.id, step.id)}>
          <StepLine page={page} step={step} number={number} />
        </a>
        <TicketLink page={page} step={step} />
      </li>
    );
  }
  return (
    <li id={`steps-${step.id}`} class="step-row">
      <details>
        <summary class="step-line">
          <StepLine page={page} step={step} number={number} />
        </summary>
        <Ticket page={page} step={step} number={number} />
      </details>
      <TicketLink page={page} step={step} />
    </li>
  );
}

/** Orders and gates that the plan lays beside the maker's steps are changed where they come from. */
function TicketLink({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const { id, name } = step;
  const steps = screenHref(page.build.id, 'steps');
  if (page.build.steps.some((it) => it.id === id)) return <ChangeLink href={steps} list="steps" id={id} of={name} />;
  if (page.build.gates?.some((it) => it.id === id)) return <ChangeLink href={steps} list="gates" id={id} of={name} />;
  if (step.part === null) return null;
  return (
    <WhileOpen>
      <a class="change" href={openHref(screenHref(page.build.id, 'design'), 'parts', step.part)}>
        {say.changePart}
        <span class="heard"> {name}</span>
      </a>
    </WhileOpen>
  );
}

/** Steps that the forecast had to leave out are still there to be put right. */
function UnplannedSteps({ page, open }: StepsProps): Html | null {
  const known = new Set(page.forecast.steps.map((step) => step.id));
  const missing = page.build.steps.filter((step) => !known.has(step.id));
  if (missing.length === 0) return null;
  const href = screenHref(page.build.id, 'steps');
  return (
    <ul class="unplanned">
      {missing.map((step) => (
        <li key={step.id} id={`steps-${step.id}`}>
          {open?.list === 'steps' && open.key === step.id ? (
            <EditForm build={page.build} form={open} href={href} />
          ) : (
            <>
              <span class="threat">{step.name}</span>{' '}
              <ChangeLink href={href} list="steps" id={step.id} of={step.name} />
            </>
          )}
        </li>
      ))}
    </ul>
  );
}
