/**
 * The burn-down: what is left over time with what may come of it, in all and for each step; every step can be picked
 * below it.
 */
import type { BurnFan, BurnLine, ForecastStep } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { UncheckedMark } from '../parts/unchecked.tsx';
import { BurnPicture } from '../pictures/burn-picture.tsx';
import { type DayColumn, DayTable } from '../pictures/day-table.tsx';
import { PenKey } from '../pictures/pens.tsx';
import { burnHref, stepHref, waitsHref } from '../pictures/picture-links.ts';
import { pointsOf, valueAt } from '../pictures/plot.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { Ticket } from '../ticket/ticket.tsx';
import type { BuildPage } from '../types.ts';
import { futuresOf } from '../words/futures.ts';
import { hasSiteWork, stepName } from '../words/marks.tsx';
import { loggedText } from '../words/supply-words.ts';
import { figure, hourly, minutesText, shownWork, soonText, workText } from '../words/wording.ts';
import { NeighbourBalance, StatusLine } from './balance.tsx';

const say = texts.pictures;
const TALL = 13;
const ON_COUNTDOWN = 9;
const OPEN_PENS = ['counted', 'planned', 'needed', 'fan', 'middle'] as const;
/** Work in hours is said to be behind or ahead by the quarter hour. */
const QUARTER = 15;

/** All steps in one picture, with the way to those of each step. */
export function Burn({ page }: { page: BuildPage }): Html {
  return (
    <section class="burn" aria-labelledby="burn-title">
      <h2 id="burn-title">{say.burn}</h2>
      <BurnAnswer page={page} step={null} height={ON_COUNTDOWN} />
      <p class="turns">
        <a href={burnHref(page.build.id)}>{say.toBurn}</a>
      </p>
    </section>
  );
}

export function BurnPage({ page }: { page: BuildPage }): Html {
  return (
    <BuildLayout page={page} screen="countdown">
      <BurnSheet page={page} />
    </BuildLayout>
  );
}

/** All steps together, then every step with where it should be by now. */
export function BurnSheet({ page }: { page: BuildPage }): Html {
  return (
    <Sheet page={page} screen="countdown" refresh={burnHref(page.build.id)}>
      <h1>{say.burnOf(say.allSteps)}</h1>
      <BurnAnswer page={page} step={null} height={TALL} />
      <BurnTable page={page} step={null} />
      <StatusLine page={page} current={null} linked />
    </Sheet>
  );
}

interface StepSheetProps {
  page: BuildPage;
  step: ForecastStep;
}

export function StepPage(props: StepSheetProps): Html {
  return (
    <BuildLayout page={props.page} screen="steps">
      <StepSheet {...props} />
    </BuildLayout>
  );
}

/** One step: what is left of it, what it needs and what needs it. */
export function StepSheet({ page, step }: StepSheetProps): Html {
  const { id } = page.build;
  return (
    <Sheet page={page} screen="steps" refresh={stepHref(id, step.id)}>
      <h1>{say.burnOf(step.name)}</h1>
      <UncheckedMark page={page} part={step.part} />
      <BurnAnswer page={page} step={step.id} height={TALL} />
      <Turns page={page} step={step} />
      <BurnTable page={page} step={step.id} />
      <NeighbourBalance page={page} step={step} />
      <StatusLine page={page} current={step.id} linked />
      <Ticket page={page} step={step} number={page.forecast.steps.indexOf(step) + 1} alone />
    </Sheet>
  );
}

/** From step to step in the order of the route, with one thumb. */
function Turns({ page, step }: StepSheetProps): Html {
  const lines = page.forecast.burn.filter((line) => line.step !== null);
  const at = lines.findIndex((line) => line.step === step.id);
  const [before, after] = [lines[at - 1]?.step ?? null, lines[at + 1]?.step ?? null];
  const { id } = page.build;
  return (
    <nav class="turns step-turns" aria-label={say.toStep}>
      {before === null ? (
        <span />
      ) : (
        <a href={stepHref(id, before)}>
          <span class="quiet small">{say.before}</span> {stepName(page.forecast, before)}
        </a>
      )}
      {after === null ? (
        <span />
      ) : (
        <a href={stepHref(id, after)}>
          <span class="quiet small">{say.after}</span> {stepName(page.forecast, after)}
        </a>
      )}
      <a href={burnHref(id)}>{say.toAll}</a>
      <a href={`${screenHref(id, 'steps')}#steps-${step.id}`}>{say.toTicket}</a>
      <a href={waitsHref(id, { around: step.id, all: false })}>{texts.waits.ofStep}</a>
    </nav>
  );
}

/** What comes from a supplier has no pace: it is here or it is not. */
function burnOf({ forecast }: BuildPage, step: string | null): BurnLine | null {
  const burn = forecast.burn.find((line) => line.step === step) ?? null;
  return burn !== null && isOrder(forecast, step) ? { ...burn, needed: [] } : burn;
}

function isOrder({ steps }: BuildPage['forecast'], step: string | null): boolean {
  return steps.some(({ id, kind }) => id === step && kind === 'order');
}

interface ShownFan {
  readonly fan: BurnFan | null;
  /** Words for a fan that is not of this hour's count. */
  readonly old: string | null;
}

/** What may come of a step; of one that is all counted nothing more. */
function fanOf(page: BuildPage, burn: BurnLine | null): ShownFan {
  const futures = futuresOf(page);
  const fan =
    burn === null || burn.left <= 0 || !isPlaced(page, burn)
      ? undefined
      : futures?.risk.fans?.find(({ step }) => step === burn.step);
  return { fan: fan ?? null, old: fan === undefined ? null : futures!.old };
}

/** Whether the schedule found time for all that is left of it. */
function isPlaced({ forecast }: BuildPage, { step }: BurnLine): boolean {
  return forecast.lots.every((lot) => lot.levelled !== null || (step !== null && lot.step !== step));
}

/** The picture with its numbers beside it. */
function BurnAnswer({ page, step, height }: { page: BuildPage; step: string | null; height: number }): Html {
  const burn = burnOf(page, step);
  if (burn === null || burn.total <= 0) return <p>{say.noBurn}</p>;
  const { fan, old } = fanOf(page, burn);
  return (
    <div class="burn-answer">
      <BurnFigures page={page} burn={burn} fan={fan} old={old} />
      <figure>
        <figcaption class="heard">{captionOf(page, burn)}</figcaption>
        <BurnPicture page={page} burn={burn} fan={fan} old={old !== null} height={height} />
        <PenKey pens={pensOf(burn)} />
      </figure>
    </div>
  );
}

function pensOf({ left, needed }: BurnLine): readonly (typeof OPEN_PENS)[number][] {
  if (left <= 0) return ['counted', 'planned'];
  return needed.length > 0 ? OPEN_PENS : OPEN_PENS.filter((pen) => pen !== 'needed');
}

function captionOf({ forecast }: BuildPage, { step }: BurnLine): string {
  return say.burnOf(step === null ? say.allSteps : stepName(forecast, step));
}

/** Units of a step, or of all steps together the work in them. */
function amount({ forecast }: BuildPage, { step }: BurnLine, value: number): string {
  return step === null ? workText(value) : loggedText(forecast, step, value);
}

interface FiguresProps {
  page: BuildPage;
  burn: BurnLine;
  fan: BurnFan | null;
  old: string | null;
}

/** Left, when the last one is likely, against the first plan, pace so far and pace needed. */
function BurnFigures({ page, burn, fan, old }: FiguresProps): Html {
  const last = burn.step !== null ? say.lastUnit : hasSiteWork(page) ? say.lastWorkOnSite : say.lastWork;
  return (
    <dl class="burn-figures">
      <div>
        <dt>{say.left}</dt>
        <dd>
          <span class="stamp">{burn.step === null ? workText(burn.left) : figure(burn.left)}</span>{' '}
          <span class="quiet">{say.leftOf(amount(page, burn, burn.total))}</span>
        </dd>
      </div>
      <div>
        <dt>{say.plan}</dt>
        <dd>
          <PlanWords page={page} burn={burn} />
        </dd>
      </div>
      <div class="wide">
        <dt>{fan === null ? last : say.evenChance(last)}</dt>
        <dd>
          <LastUnitWords page={page} burn={burn} fan={fan} old={old} />
        </dd>
      </div>
      {isOrder(page.forecast, burn.step) ? null : <PaceWords burn={burn} />}
    </dl>
  );
}

function LastUnitWords({ page, burn, fan, old }: FiguresProps): Html {
  const { now, risk, steps } = page.forecast;
  const when = (instant: number) => soonText(page.clock, instant, now);
  if (burn.left <= 0) return <>{say.allDone}</>;
  if (fan !== null) {
    const { p10, p90 } = fan.lastUnitAt;
    const isOpen = (instant: number) => instant > (risk?.until ?? instant);
    const spread = isOpen(p90) ? say.spreadOpen(when(p10)) : say.spread(when(p10), when(p90));
    return (
      <>
        <strong>{isOpen(fan.lastUnitAt.p50) ? texts.lead.noHours : when(fan.lastUnitAt.p50)}</strong>{' '}
        <span class="quiet">{spread}</span>
        {old === null ? null : <span class="stale"> {old}</span>}
      </>
    );
  }
  const finishes = steps.filter(({ id }) => burn.step === null || id === burn.step).map(({ levelled }) => levelled);
  const finish = Math.max(...finishes.map((levelled) => levelled?.finish ?? Number.NEGATIVE_INFINITY));
  if (!Number.isFinite(finish) || !isPlaced(page, burn)) return <span class="threat">{say.notPlaced}</span>;
  return (
    <>
      <strong>{when(finish)}</strong> <span class="quiet">{risk === undefined ? say.anew : say.asScheduled}</span>
    </>
  );
}

/** What the first schedule said would be left at this hour, and by how much the count differs from it. */
function PlanWords({ page, burn }: Omit<FiguresProps, 'fan' | 'old'>): Html {
  const planned = burn.plannedLeft ?? null;
  if (planned === null) return <>{page.forecast.firstPlan?.kind === 'kept' ? say.notInPlan : say.noPlan}</>;
  const whole = burn.step === null ? planned : Math.ceil(planned);
  const apartBy = burn.step === null ? shownWork(burn.left) - shownWork(whole) : burn.left - whole;
  const behind = burn.step === null && Math.abs(apartBy) < QUARTER ? 0 : apartBy;
  const apart = amount(page, burn, Math.abs(behind));
  return (
    <>
      {behind > 0 ? <span class="threat">{say.behind(apart)}</span> : behind < 0 ? say.ahead(apart) : say.onPlan}{' '}
      <span class="quiet">{say.planLeft(burn.step === null ? workText(whole) : figure(whole))}</span>
      <WhichPlan page={page} burn={burn} />
    </>
  );
}

/** Which plan that was, and of how much where that has changed. */
function WhichPlan({ page, burn }: Omit<FiguresProps, 'fan' | 'old'>): Html | null {
  const which = page.forecast.firstPlan ?? null;
  const [begin, total] = burn.planned[0] ?? [null, 0];
  if (which === null || begin === null) return null;
  const other = burn.step !== null && Math.round(total) !== burn.total ? say.planOf(figure(Math.round(total))) : null;
  const words =
    which.kind === 'kept'
      ? say.planKept(soonText(page.clock, begin, page.forecast.now), which.revision, page.revision)
      : which.kind === 'open'
        ? say.planOpen
        : say.planPresent;
  return <p class="quiet small">{other === null ? words : `${words}; ${other}`}</p>;
}

function PaceWords({ burn }: Pick<FiguresProps, 'burn'>): Html {
  const { countedPerHour, neededPerHour } = burn;
  const rate = (value: number) => (burn.step === null ? say.workAnHour(minutesText(Math.round(value))) : hourly(value));
  const paced = burn.left > 0 && neededPerHour !== null && countedPerHour !== null;
  const slow = paced && countedPerHour < neededPerHour;
  const needed = burn.left <= 0 ? say.nothingNeeded : neededPerHour === null ? say.noTimeLeft : rate(neededPerHour);
  return (
    <>
      {/* Of all steps together the hours so far were spent on waiting too, so they are no measure of what hands can do. */}
      {burn.step === null ? null : (
        <div>
          <dt>{say.pace}</dt>
          <dd>
            {countedPerHour !== null ? rate(countedPerHour) : burn.left < burn.total ? say.tooSoon : say.notCounted}
          </dd>
        </div>
      )}
      <div>
        <dt>{say.paceNeeded}</dt>
        <dd>
          <span class={burn.left > 0 && neededPerHour === null ? 'threat' : undefined}>{needed}</span>{' '}
          {slow && burn.step !== null ? <span class="threat">{say.slower}</span> : null}
        </dd>
      </div>
    </>
  );
}

function BurnTable({ page, step }: { page: BuildPage; step: string | null }): Html | null {
  const burn = burnOf(page, step);
  if (burn === null || burn.total <= 0) return null;
  const { now } = page.forecast;
  const { fan } = fanOf(page, burn);
  const read = (value: number) => (step === null ? workText(value) : figure(Math.ceil(value)));
  const ofFan = (values: readonly number[]) => (at: number) =>
    fan === null || at < fan.instants[0]! ? '' : read(valueAt(pointsOf(fan.instants, values), at, 'line'));
  const { counted: past, planned } = burn;
  const names = say.columns;
  const columns: DayColumn[] = [
    { key: 'counted', name: names.counted, read: (at) => (at > now ? '' : read(valueAt(past, at, 'step'))) },
    {
      key: 'planned',
      name: names.planned,
      read: (at) => (planned.length === 0 ? '' : read(valueAt(planned, at, 'step'))),
    },
    { key: 'low', name: names.low, read: ofFan(fan?.p10 ?? []) },
    { key: 'middle', name: names.middle, read: ofFan(fan?.p50 ?? []) },
    { key: 'high', name: names.high, read: ofFan(fan?.p90 ?? []) },
  ];
  const ends = [fan?.lastUnitAt.p90 ?? now, planned.at(-1)?.[0] ?? now, burn.needed.at(-1)?.[0] ?? now];
  return <DayTable page={page} from={past[0]?.[0] ?? now} to={Math.max(now, ...ends)} columns={columns} />;
}
