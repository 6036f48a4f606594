/** Countdown: will it be ready, when, with how much room, what is tight, what is left, what is due, what is wrong. */
import type { CapacityGroup, ForecastStep, Problem } from '../server/model/index.ts';
import { BalanceWords } from './balance.tsx';
import { Burn } from './burn-down.tsx';
import { BuildLayout, Sheet, screenHref } from './layout.tsx';
import { machineName, OriginMark, openSteps, Scroll, stepName, supplierName } from './marks.tsx';
import type { Html } from './render.ts';
import { arrivalText } from './schedule-words.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import { Verdict, type VerdictProps } from './verdict.tsx';
import { Why } from './why.tsx';
import { counted, figure, roomText, shownWork, soonText, workText } from './wording.ts';

const say = texts.countdown;
const TIGHT_SHOWN = 4;
const PROBLEMS_SHOWN = 30;
const WARNINGS_SHOWN = 2;

export function CountdownPage({ page, since }: VerdictProps): Html {
  return (
    <BuildLayout page={page} screen="countdown">
      <CountdownSheet page={page} since={since} />
    </BuildLayout>
  );
}

/** The fragment that a tap on the phone changes. */
export function CountdownSheet({ page, since }: VerdictProps): Html {
  return (
    <Sheet page={page} screen="countdown" refresh={screenHref(page.build.id, 'countdown')}>
      <Verdict page={page} since={since} />
      <Errors page={page} />
      <div class="columns">
        <section aria-labelledby="due-title">
          <h2 id="due-title">{say.due}</h2>
          <Due page={page} />
        </section>
        <section class="tight" aria-labelledby="tight-title">
          <h2 id="tight-title">{say.tight}</h2>
          <Tight page={page} />
        </section>
      </div>
      <Warnings page={page} />
      <Why page={page} />
      <Burn page={page} />
      <div class="columns">
        <section aria-labelledby="enough-title">
          <h2 id="enough-title">{say.enough}</h2>
          <Capacity page={page} />
        </section>
        <section aria-labelledby="left-title">
          <h2 id="left-title">{say.whatIsLeft}</h2>
          <Left page={page} />
        </section>
      </div>
      <BalanceWords page={page} />
    </Sheet>
  );
}

/** The open steps with the least room, with how fast they go and must go. */
function Tight({ page }: { page: BuildPage }): Html {
  const steps = openSteps(page.forecast)
    .filter((step) => step.dates !== null)
    .sort((a, b) => tightness(a) - tightness(b))
    .slice(0, TIGHT_SHOWN);
  if (steps.length === 0) return <p>{page.forecast.steps.length === 0 ? say.nothingPlanned : say.nothingLeft}.</p>;
  return (
    <ol class="tight-list">
      {steps.map((step, i) => (
        <li key={step.id} class={i === 0 ? 'tightest' : undefined}>
          <a href={`${screenHref(page.build.id, 'steps')}#steps-${step.id}`}>{step.name}</a>
          <SlackMark minutes={slackOf(step)} />
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

function SlackMark({ minutes }: { minutes: number }): Html {
  return (
    <span class={minutes < 0 ? 'room-mark threat' : 'room-mark'}>{`${texts.room.word} ${roomText(minutes)}`}</span>
  );
}

/** `96 × fish left, 11 an hour, needs 14`. */
function PaceLine({ page, step }: { page: BuildPage; step: ForecastStep }): Html {
  const line = page.forecast.burn.find((burn) => burn.step === step.id);
  const needs = step.total < FEWEST_PACED || step.kind !== 'step' ? null : (line?.neededPerHour ?? null);
  const has = step.done > 0 ? (line?.countedPerHour ?? null) : null;
  const slow = needs !== null && has !== null && has < needs;
  return (
    <p class={slow ? 'pace slow' : 'pace'}>
      {say.left(counted(step.left, step.unit), figure(step.done))}
      {needs === null
        ? null
        : `, ${has === null ? say.paceNeeds(figure(needs, 1)) : say.pace(figure(has, 1), figure(needs, 1))}`}
      {eachWords(step)} <OriginMark origin={step.origin} />
    </p>
  );
}

/** `, 3 min each (1.6 to 4.8)`: the hands of the next unit, and the middle 80 % of what they may be. */
function eachWords({ pace }: ForecastStep): string {
  if (pace == null || figure(pace.low, 1) === figure(pace.high, 1)) return '';
  return `, ${say.each(figure(pace.minutesPerUnit, 1), figure(pace.low, 1), figure(pace.high, 1))}`;
}

/** Of a handful an hour's pace says nothing. */
const FEWEST_PACED = 10;

/** Orders and decisions by their last moment, with what has been missed first. */
function Due({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const orders = forecast.orders.filter((order) => order.state === 'to-order' || order.state === 'late');
  const decisions = forecast.decisions.filter((decision) => decision.decided === null);
  if (orders.length === 0 && decisions.length === 0) return <p>{say.nothingDue}</p>;
  const rows = [
    ...orders.map((order) => {
      const text = order.kind === 'buy' ? say.orderBefore : say.sendBefore;
      return {
        key: order.step,
        by: order.orderBy,
        text: text(counted(order.units, order.name), soonText(clock, order.orderBy, forecast.now)),
        more: `${say.from(supplierName(page.build, order.supplier))}, ${arrivalText(forecast, clock, order)}`,
      };
    }),
    ...decisions.map((decision) => ({
      key: decision.id,
      by: decision.decideBy ?? forecast.now,
      text: say.decideBefore(decision.question, decideWhen(page, decision.decideBy)),
      more: say.waiting(decision.waits.map((id) => stepName(forecast, id)).join(', ')),
    })),
  ].sort((a, b) => a.by - b.by);
  return (
    <ul class="due-list">
      {rows.map((row) => (
        <li key={row.key}>
          <span class={row.by < forecast.now ? 'threat' : undefined}>{row.text}</span>{' '}
          <span class="quiet">
            {row.by < forecast.now ? `${say.tooLate}; ` : ''}
            {row.more}
          </span>
        </li>
      ))}
    </ul>
  );
}

function decideWhen(page: BuildPage, by: number | null): string {
  return by === null ? texts.unknown : soonText(page.clock, by, page.forecast.now);
}

/** The first evening's answer: all work against all hours, for each group of hands and each machine. */
function Capacity({ page }: { page: BuildPage }): Html {
  if (page.forecast.capacity.length === 0) return <p>{say.noHands}</p>;
  return (
    <>
      <p class="quiet small">{say.enoughNote}</p>
      <ul class="capacity">
        {page.forecast.capacity.map((group) => (
          <li key={`${group.kind}-${group.id}`}>
            <strong>{group.name}</strong> {say.offered(workText(group.neededMinutes), workText(group.offeredMinutes))}
            <br />
            <CapacityAnswer page={page} group={group} />
          </li>
        ))}
      </ul>
      <HoursByDay page={page} />
    </>
  );
}

function CapacityAnswer({ page, group }: { page: BuildPage; group: CapacityGroup }): Html {
  if (group.shortMinutes > 0) {
    const text = group.kind === 'people' ? say.shortBy : say.machineShortBy;
    return <span class="threat">{text(workText(apart(group.neededMinutes, group.offeredMinutes)))}</span>;
  }
  return (
    <span>
      {say.spare(workText(apart(group.offeredMinutes, group.neededMinutes)))}
      {group.coveredAt === null ? null : `, ${say.enoughBy(soonText(page.clock, group.coveredAt, page.forecast.now))}`}
    </span>
  );
}

/** What lies between two lengths of work as they are shown, so that the three add up for whoever reads them. */
function apart(more: number, less: number): number {
  return Math.max(0, shownWork(more) - shownWork(less));
}

function HoursByDay({ page }: { page: BuildPage }): Html {
  const groups = page.forecast.capacity;
  const dates = groups[0]?.days.map((day) => day.date) ?? [];
  return (
    <details>
      <summary>{say.hoursByDay}</summary>
      <Scroll label={say.hoursByDay}>
        <table>
          <thead>
            <tr>
              <th scope="col" />
              {groups.map((group) => (
                <th key={group.id} scope="col" class="n">
                  {group.name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {dates.map((date, i) => (
              <tr key={date}>
                <th scope="row">{dateWords(page, date)}</th>
                {groups.map((group) => (
                  <td key={group.id} class="n">
                    {workText(group.days[i]?.offeredMinutes ?? 0)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}

/** A date of the forecast in words: the first of its days is found among the day sheets. */
function dateWords(page: BuildPage, date: string): string {
  const [, month, day] = date.split('-').map(Number);
  const sheet = page.forecast.days.find((it) => it.date === date);
  const weekday = sheet === undefined ? '' : `${texts.weekdays[page.clock.read(sheet.start).weekday - 1]} `;
  return `${weekday}${day} ${texts.months[month! - 1]}`;
}

function Left({ page }: { page: BuildPage }): Html {
  const { steps } = page.forecast;
  const open = openSteps(page.forecast);
  const hands = open.reduce((sum, step) => sum + step.handsMinutesLeft, 0);
  return (
    <>
      <p class="sums">
        <span class="sum">
          <span class="stamp">{workText(hands)}</span> {say.handsLeft}
        </span>
        {machineSums(page).map(([name, minutes]) => (
          <span class="sum" key={name}>
            <span class="stamp">{workText(minutes)}</span> {name}
          </span>
        ))}
      </p>
      {open.length === 0 ? null : (
        <details>
          <summary>{say.stepsLeft(open.length, steps.length)}</summary>
          <ul class="left-list">
            {open.map((step) => (
              <li key={step.id}>
                <span>{step.name}</span>
                <span class="figure">{counted(step.left, step.unit)}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function machineSums(page: BuildPage): [string, number][] {
  const sums = new Map<string, number>();
  for (const step of openSteps(page.forecast)) {
    if (step.machine === null || step.machineMinutesLeft === 0) continue;
    sums.set(step.machine, (sums.get(step.machine) ?? 0) + step.machineMinutesLeft);
  }
  return [...sums].map(([id, minutes]) => [machineName(page.build, id), minutes]);
}

/** What has to be mended, each as its sentence. */
function Errors({ page }: { page: BuildPage }): Html | null {
  const errors = page.forecast.problems.filter((it) => it.severity === 'error');
  if (errors.length === 0) return null;
  return (
    <section class="problems" aria-labelledby="problems-title">
      <h2 id="problems-title">{say.problems}</h2>
      <ProblemList problems={errors} />
    </section>
  );
}

/** What to look at, each as its sentence. */
function Warnings({ page }: { page: BuildPage }): Html | null {
  const { problems, workHours } = page.forecast;
  const warnings = problems.filter((it) => it.severity === 'warning');
  const sentences = [...warnings, ...workHours].map((it) => it.message);
  if (sentences.length === 0) return null;
  return (
    <section class="problems" aria-labelledby="warnings-title">
      <h2 id="warnings-title">{say.warnings}</h2>
      <Sentences sentences={sentences} />
    </section>
  );
}

function ProblemList({ problems }: { problems: readonly Problem[] }): Html {
  return (
    <ul>
      {problems.slice(0, PROBLEMS_SHOWN).map((it) => (
        <li key={`${it.field}-${it.code}-${it.value}`}>
          <span class="threat">{it.message}</span>
        </li>
      ))}
    </ul>
  );
}

/** The first few, the rest folded away. */
function Sentences({ sentences }: { sentences: readonly string[] }): Html {
  const list = (shown: readonly string[]) => (
    <ul>
      {shown.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
  const rest = sentences.slice(WARNINGS_SHOWN);
  return (
    <>
      {list(sentences.slice(0, WARNINGS_SHOWN))}
      {rest.length === 0 ? null : (
        <details>
          <summary>{say.furtherWarnings(rest.length)}</summary>
          {list(rest)}
        </details>
      )}
    </>
  );
}
