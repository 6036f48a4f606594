/** Steps: job tickets on a numbered list, with what feeds them and what they feed; then feeds, gates and decisions. */
import type { ForecastStep, HazardGuess, LevelledDates, PhaseShape, StepLink } from '../../server/model/index.ts';
import { ChangeLink, EditForm, openHref } from '../forms/form.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { CautionFold, CautionFooter } from '../parts/cautions.tsx';
import { Soundness } from '../parts/soundness.tsx';
import { StepLine } from '../parts/step-line.tsx';
import { DecisionList, FeedList, GateList } from '../parts/step-lists.tsx';
import { UncheckedMark } from '../parts/unchecked.tsx';
import { stepHref } from '../pictures/picture-links.ts';
import type { Html } from '../render.ts';
import { cautionTexts } from '../texts/cautions.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, EditList, OpenForm } from '../types.ts';
import { paceText, runTimeText } from '../words/doubt-words.ts';
import { machineName, OriginMark, stepName, supplierName } from '../words/marks.tsx';
import { patternText } from '../words/pattern-words.ts';
import { packsText } from '../words/schedule-words.ts';
import { orderOutText } from '../words/supply-words.ts';
import {
  counted,
  figure,
  lengthText,
  minutesText,
  percent,
  roomText,
  soonText,
  thing,
  workText,
} from '../words/wording.ts';

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
      <Soundness page={page} />
      <NewForm page={page} open={open} list="steps" />
      <ol class="tickets">
        {page.forecast.steps.map((step, i) => (
          <StepRow key={step.id} page={page} step={step} number={i + 1} open={open} />
        ))}
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

/** The job ticket: what is done, how, how long, when, with what feeds it and what it feeds. */
export function Ticket({ page, step, number }: Omit<TicketProps, 'open'>): Html {
  return (
    <div class={`ticket ${step.state} ${step.kind}`}>
      <Links page={page} links={step.fedBy} title={say.fedBy} none={say.nothingBefore} />
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
        <CautionFold hazards={step.hazards} />
        <PerhapsAlso page={page} step={step} />
        <PicturesLink page={page} step={step} />
      </article>
      <Links page={page} links={step.feeds} title={say.feeds} none={say.nothingAfter} />
    </div>
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
    <a class="change" href={openHref(screenHref(page.build.id, 'design'), 'parts', step.part)}>
      {say.changePart}
      <span class="heard"> {name}</span>
    </a>
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

function Links(props: { page: BuildPage; links: readonly StepLink[]; title: string; none: string }): Html {
  const { page, links, title, none } = props;
  return (
    <div class="links">
      <h3>{title}</h3>
      {links.length === 0 ? (
        <p class="quiet small">{none}</p>
      ) : (
        <ul>
          {links.map((link) => (
            <li key={`${link.step}-${link.type}-${link.given}`}>
              <a href={`#steps-${link.step}`}>{stepName(page.forecast, link.step)}</a>
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
    ratioWords(link.ratio),
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
  return (
    <div class="progress">
      <p>
        <span class="stamp stamp-s">{say.unitsDone(figure(step.done), figure(step.total))}</span>{' '}
        {thing(step.total, step.unit)}
        {step.scrapped === 0 ? null : <span class="quiet">, {say.scrapped(figure(step.scrapped))}</span>}
        <Packs page={page} step={step} />
      </p>
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
        <pattern id={hatch} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" x2="0" y1="0" y2="5" class="hatch" />
        </pattern>
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

/**
 * The chain of phases, each with the kind of line a drawing would give it: hands unbroken, run double, wait dashed,
 * lead chain-dotted.
 */
function Pattern({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const own = page.build.steps.find((it) => it.id === step.id);
  if (own?.phases === undefined) {
    if (step.pattern.length > 0) return <p class="pattern">{patternText(page.build, step.pattern)}</p>;
    return own === undefined || own.setup !== undefined ? null : <p class="threat">{say.noTime}</p>;
  }
  return (
    <ol class="pattern" aria-label={say.pattern}>
      {own.phases.map((phase, i) => (
        <li key={i} class={`phase-${phase.kind}`}>
          <svg width="3rem" height="0.5rem" aria-hidden="true" focusable="false">
            {phase.kind === 'run' ? (
              <>
                <line x1="0" x2="100%" y1="0.1rem" y2="0.1rem" />
                <line x1="0" x2="100%" y1="0.4rem" y2="0.4rem" />
              </>
            ) : (
              <line x1="0" x2="100%" y1="0.25rem" y2="0.25rem" />
            )}
          </svg>
          {phaseWords(page, phase)}
        </li>
      ))}
    </ol>
  );
}

function phaseWords(page: BuildPage, phase: PhaseShape): string {
  const name = texts.edit.phase[phase.kind];
  if (phase.kind === 'lead') return `${name} ${supplierName(page.build, phase.supplier)}`;
  const machine = phase.kind === 'run' ? machineName(page.build, phase.machine) : undefined;
  const minutes = [phase.minutes === undefined ? null : spanWords(phase.minutes), perUnitWords(phase)].filter(Boolean);
  return `${machine ?? name} ${minutes.join(' + ')}`;
}

function spanWords(span: number | string): string {
  return typeof span === 'number' ? minutesText(span) : span;
}

function perUnitWords(phase: PhaseShape): string | null {
  if (!('perUnit' in phase) || phase.perUnit === undefined) return null;
  const { perUnit } = phase;
  if (typeof perUnit === 'number') return say.each(minutesText(perUnit));
  if (typeof perUnit === 'string') return say.each(perUnit);
  if ('units' in perUnit) return `${figure(perUnit.units)} in ${minutesText(perUnit.minutes)}`;
  return say.each(say.range(figure(perUnit.low), minutesText(perUnit.high)));
}

function Figures({ page, step }: { page: BuildPage; step: ForecastStep }): Html {
  const { clock, forecast } = page;
  const unlimited = step.dates?.totalSlackClock ?? null;
  const slack = step.levelled?.room ?? unlimited;
  const cells: [string, Html | string][] = [];
  if (step.kind !== 'order') cells.push(...paceCells(step));
  if (step.runMinutesPerLot !== null) cells.push([say.run, lengthText(step.runMinutesPerLot)]);
  if (step.waitMinutesPerLot !== null) cells.push([say.wait, lengthText(step.waitMinutesPerLot)]);
  if (step.left > 0) cells.push([say.left, `${counted(step.left, step.unit)}${handsLeftWords(step)}`]);
  if (step.levelled !== null && step.left > 0) {
    cells.push([say.starts, soonText(clock, step.levelled.start, forecast.now)]);
    cells.push([say.ends, soonText(clock, step.levelled.finish, forecast.now)]);
    const [word, last] = lastMoment(step.state, step.levelled);
    if (last !== null) cells.push([word, soonText(clock, last, forecast.now)]);
  }
  if (slack !== null && step.left > 0) {
    cells.push([texts.room.word, <span class={slack < 0 ? 'threat' : undefined}>{roomText(slack)}</span>]);
    if (unlimited !== null && unlimited > slack) cells.push([say.unlimited, roomText(unlimited)]);
  }
  if (step.left > 0) cells.push(...riskCells(page, step));
  return (
    <dl class="figures">
      {cells.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** When it must begin at the latest, or of what has begun when it must be finished. */
function lastMoment(state: ForecastStep['state'], { lastStart, lastFinish }: LevelledDates): [string, number | null] {
  return state === 'under-way' ? [say.lastEnd, lastFinish] : [say.last, lastStart];
}

/**
 * How often the step drives the end, what it costs, and how much of the end's spread is its own; nothing while its
 * chance is old.
 */
function riskCells({ forecast }: BuildPage, step: ForecastStep): [string, string][] {
  const found = forecast.riskFrom === undefined ? forecast.risk?.steps.find((one) => one.step === step.id) : undefined;
  if (found === undefined || found.criticality < 0.005) return [];
  const costs = found.costMinutes > 2 * found.costError ? lengthText(found.costMinutes) : null;
  const { sensitivity } = found;
  return [
    [say.decides, say.decidesIn(Math.round(100 * found.criticality), costs)],
    ...(sensitivity === null ? [] : [[say.moves, say.movesBy(percent(sensitivity))] as [string, string]]),
  ];
}

/** How long one takes, how sure that is, and what was assumed before it was timed. */
function paceCells({ pace, handsMinutesPerUnit, origin }: ForecastStep): [string, Html | string][] {
  const minutesPerUnit = pace?.minutesPerUnit ?? handsMinutesPerUnit;
  if (minutesPerUnit === null) return [];
  const span = pace != null && figure(pace.low, 1) !== figure(pace.high, 1);
  const cells: [string, Html | string][] = [
    [
      say.hands,
      <>
        {minutesText(minutesPerUnit, 1)}
        {span ? <span class="quiet"> {say.likely(figure(pace.low, 1), figure(pace.high, 1))}</span> : null}{' '}
        <OriginMark origin={pace?.origin ?? origin} />
      </>,
    ],
  ];
  if (pace != null && pace.units > 0) {
    const assumed = minutesText(pace.estimate, 1);
    cells.push([say.timed, say.timedWords(figure(pace.units), workText(pace.minutes), assumed)]);
  }
  if (pace?.learningRate !== undefined && pace.learningRate < 1) {
    cells.push([say.learning, say.learningWords(percent(pace.learningRate))]);
  }
  return cells;
}

function handsLeftWords(step: ForecastStep): string {
  return step.handsMinutesLeft > 0 ? `, ${workText(step.handsMinutesLeft)}` : '';
}

function Notes({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const { clock, forecast } = page;
  const supply = forecast.supplies?.find((one) => one.step === step.id);
  const notes = [
    step.kind !== 'order' && step.readyNow !== null && step.readyNow > 0
      ? say.readyNow(counted(step.readyNow, step.unit))
      : null,
    step.waitsFor === null ? null : say.waitsFor(stepName(forecast, step.waitsFor)),
    paceText(page.forecast, page.clock, step.pace?.notes ?? []),
    runTimeText(forecast, clock, step.runTime),
    step.peopleAtOnce > 1 ? say.people(step.peopleAtOnce) : null,
    step.onSite ? say.onSite : null,
    ...pinNotes(page, step),
    step.dates?.critical === true && step.left > 0 ? say.critical : null,
    ...step.underWay.map((it) => {
      const units = counted(it.units, step.unit);
      const back = `${soonText(clock, it.backAt, forecast.now)}${it.promised ? `, ${say.promised}` : ''}`;
      const machine = machineName(page.build, it.machine ?? '');
      if (it.kind === 'loaded') return say.loaded(machine, units, back);
      return supply === undefined ? say.ordered(units, back) : orderOutText(forecast, clock, supply, it.entry);
    }),
  ].filter((it) => it !== null);
  if (notes.length === 0) return null;
  return (
    <ul class="notes">
      {notes.map((note) => (
        <li key={note}>{note}</li>
      ))}
    </ul>
  );
}

/** Hazards guessed by the words in names, with a button that marks them and one that says there are none. */
function PerhapsAlso({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const { perhaps = [] } = step;
  if (perhaps.length === 0 || page.build.steps.find(({ id }) => id === step.id)?.hazards !== undefined) return null;
  const names = (from: HazardGuess['from']) =>
    perhaps.filter((guess) => guess.from === from).map(({ hazard }) => texts.edit.choice.hazard[hazard]);
  const machine = machineName(page.build, step.machine ?? '');
  return (
    <form class="perhaps" {...sheetForm(openHref(screenHref(page.build.id, 'steps'), 'steps', step.id))}>
      <input type="hidden" name="edit" value={page.revision} />
      {perhaps.map(({ hazard }) => (
        <input key={hazard} type="hidden" name="hazards" value={hazard} />
      ))}
      <p>
        {cautionTexts.perhaps(names('name'), names('machine'), machine)} <OriginMark origin="guessed" />
      </p>
      <p class="buttons">
        <button type="submit" name="do" value="hazards">
          {cautionTexts.mark}
          <span class="heard"> {step.name}</span>
        </button>
        <button type="submit" name="do" value="no-hazards">
          {cautionTexts.none}
          <span class="heard"> {step.name}</span>
        </button>
      </p>
    </form>
  );
}

/** What the maker fixed of a step, one note a pin. */
function pinNotes({ build, forecast }: BuildPage, step: ForecastStep): string[] {
  const own = build.steps.find((it) => it.id === step.id);
  const person = (id: string) => build.people?.find((it) => it.id === id)?.name ?? id;
  return (own?.pins ?? []).map(({ set, from, to, start, people }) => {
    const units =
      from === undefined && to === undefined
        ? null
        : say.pinUnits(String(from ?? 1), to === undefined ? null : String(to));
    const parts = [
      units,
      set === undefined ? null : texts.dates.set(forecast.setName, set),
      start === undefined ? null : say.pinStart(start.slice(0, 10), start.slice(11, 16)),
      people === undefined ? null : people.map(person).join(', '),
    ];
    return say.pinned(parts.filter((it) => it !== null).join(', '));
  });
}

/** Steps that the forecast had to leave out are still there to be mended. */
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
