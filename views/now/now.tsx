/**
 * Now: who is here, what to do in the next two hours, what must run before the last one leaves, what to order and to
 * decide.
 */

import type { ComponentChildren } from 'preact';
import { type ForecastDecision, type ForecastOrder, type Hazard, UNWATCHED_HAZARDS } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { CautionFooter, CautionLines } from '../parts/cautions.tsx';
import { decideText, type OpenDue, openDues } from '../parts/due.tsx';
import { TodayLink } from '../parts/today-link.tsx';
import { UncheckedWords } from '../parts/unchecked.tsx';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { listOf } from '../texts/grammar.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { questionText } from '../words/design-words.ts';
import { openSteps, stepName } from '../words/marks.tsx';
import { missingTexts } from '../words/missing-words.ts';
import { nameOfMachine, nameOfPerson, namesOfPeople, namesOfSteps } from '../words/names.ts';
import { orderedText, unitsOfStep } from '../words/supply-words.ts';
import { threatText } from '../words/threat-words.ts';
import { whenText } from '../words/wording.ts';
import { isShown, type NowFacts, type NowTask, nowFacts, type Span } from './now-facts.ts';

const say = texts.now;
/** Last moments are listed this many minutes ahead; of what comes later the first is named. */
const DUE_AHEAD = 2 * 1440;
const OLD_AFTER = 30;
/** This many days ahead a weekday means one day only. */
const DAYS_BY_NAME = 6;
const EVER = Number.MAX_SAFE_INTEGER;

interface NowProps {
  page: BuildPage;
  /** What of the forecast is said; left out: picked as it is drawn. */
  facts?: NowFacts;
}

export function NowPage(props: NowProps): Html {
  return (
    <BuildLayout page={props.page} screen="now" modules={['now.js']}>
      <NowSheet {...props} />
    </BuildLayout>
  );
}

/** The fragment that is fetched again when the build changes. */
export function NowSheet({ page, facts }: NowProps): Html {
  const { forecast, clock, build } = page;
  const { now } = forecast;
  return (
    <Sheet page={page} screen="now" refresh={screenHref(build.id, 'now')}>
      <h1 class="heard">{say.heading}</h1>
      <p class="threat" data-drawn={now} hidden>
        {say.behind(whenText(clock, now, now))}
      </p>
      <InTurns>
        <Content page={page} {...(facts ? { facts } : {})} />
      </InTurns>
      <p class="quiet small">
        {say.planOf(whenText(clock, now, now))}{' '}
        <Shown spans={[[now + OLD_AFTER, EVER]]} now={now}>
          {say.old}
        </Shown>
      </p>
      <ul class="now-ways">
        <li>
          <a class="day-link" href={screenHref(build.id, 'count')}>
            {say.toCount}
          </a>
        </li>
        <li>
          <TodayLink page={page} />
        </li>
        <li>
          <a class="day-link" href={screenHref(build.id, 'dates')}>
            {say.toDates}
          </a>
        </li>
      </ul>
    </Sheet>
  );
}

function Content({ page, facts: picked }: NowProps): Html {
  const { forecast, clock, build } = page;
  if (forecast.steps.length === 0 && forecast.parts.length === 0) {
    return (
      <p class="now-word">
        {say.nothingPlanned} <a href={screenHref(build.id, 'lines')}>{say.toLines}</a>
      </p>
    );
  }
  const left = openSteps(forecast).length;
  if (forecast.now >= forecast.event) {
    return (
      <p class="now-word">
        {say.passed(whenText(clock, forecast.event, forecast.now))} {left === 0 ? say.allMade : say.passedLeft(left)}
      </p>
    );
  }
  if (left === 0) return <p class="now-word">{say.allMade}</p>;
  const facts = picked ?? nowFacts(forecast);
  const hazards = hazardsOf(facts, forecast.now);
  return (
    <>
      <Missing page={page} />
      <Here page={page} facts={facts} />
      <div class="now-columns">
        <InTurns>
          <Tasks page={page} facts={facts} />
        </InTurns>
        <div>
          <InTurns>
            <BeforeLeaving page={page} facts={facts} />
          </InTurns>
          <Due page={page} />
        </div>
      </div>
      <CautionLines hazards={hazards} />
      <CautionFooter hazards={hazards} />
    </>
  );
}

function Missing({ page }: { page: BuildPage }): Html | null {
  const missing = missingTexts(page.forecast);
  if (missing.length === 0) return null;
  return (
    <ul class="threats">
      {missing.map((text) => (
        <li key={text} class="threat">
          {text}
        </li>
      ))}
    </ul>
  );
}

interface ShownProps {
  spans: readonly Span[];
  now: number;
  children: ComponentChildren;
}

/** What is seen at some times only: here by the server, in a page that stays open or a copy by its script. */
function Shown({ spans, now, children }: ShownProps): Html {
  return <span {...seenAt(spans, now)}>{children}</span>;
}

function seenAt(shown: readonly Span[], now: number): { 'data-shown': string; hidden: boolean } {
  return { 'data-shown': shown.map((span) => span.join('-')).join(' '), hidden: !isShown({ shown }, now) };
}

interface FactsProps {
  page: BuildPage;
  facts: NowFacts;
}

function Here({ page, facts }: FactsProps): Html {
  const { forecast, clock, build } = page;
  const when = (instant: number) => whenText(clock, instant, forecast.now);
  return (
    <ul class="now-here">
      {facts.away.map(({ shown, until, comers }) => (
        <li key={shown.join()} class="now-word" {...seenAt(shown, forecast.now)}>
          {until === null ? (
            <>
              {say.nobodyAhead} <a href={screenHref(build.id, 'hands')}>{say.addHours}</a>
            </>
          ) : (
            say.nobody(when(until), namesOfPeople(forecast, comers))
          )}
        </li>
      ))}
      {facts.people.map(({ id, isHere, at, shown }) => (
        <li key={`${id} ${at} ${isHere}`} class={isHere ? 'now-word' : 'quiet'} {...seenAt(shown, forecast.now)}>
          {(isHere ? say.here : say.comes)(nameOfPerson(forecast, id), when(at))}
        </li>
      ))}
      <li class="threat" {...seenAt([[facts.end, EVER]], forecast.now)}>
        {say.over}
      </li>
      <li class="now-word" {...seenAt([[forecast.event, EVER]], forecast.now)}>
        {say.passed(when(forecast.event))}
      </li>
    </ul>
  );
}

function Tasks({ page, facts }: FactsProps): Html {
  const { forecast } = page;
  const { now } = forecast;
  const away = facts.away.flatMap(({ shown }) => shown);
  return (
    <section aria-labelledby="tasks-title">
      <h2 id="tasks-title">
        <Shown spans={facts.here} now={now}>
          {say.tasks}
        </Shown>
        <Shown spans={away} now={now}>
          {say.tasksLater}
        </Shown>
      </h2>
      <ol class="now-list">
        <ListInTurns>
          {facts.tasks.map((task) => (
            <Task
              key={`${task.start} ${task.step} ${task.set} ${task.kind} ${task.people.join()}`}
              page={page}
              task={task}
            />
          ))}
        </ListInTurns>
      </ol>
      {facts.idle.map(({ id, until, instead, shown }) => (
        <p key={`${id} ${shown.join()}`} {...seenAt(shown, now)}>
          {say.idle(nameOfPerson(forecast, id), shortWhen(page, until))}
          {instead.length === 0 ? '' : ` ${say.instead(namesOfSteps(forecast, instead))}`}
        </p>
      ))}
    </section>
  );
}

/**
 * `Tue 18:40`: a weekday stays right in a copy that is looked at the day after. Where the same weekday comes before it,
 * with its day and month.
 */
function shortWhen({ clock, forecast: { now } }: BuildPage, instant: number): string {
  if (Math.abs(clock.daysApart(now, instant)) > DAYS_BY_NAME) return whenText(clock, instant, now);
  const { weekday, time } = clock.read(instant);
  return `${texts.weekdays[weekday - 1]} ${time}`;
}

/** `to 21:00`, with the day where that is another than it begins on. */
function tillText(page: BuildPage, { start, finish }: NowTask): string {
  const isThatDay = page.clock.daysApart(start, finish - 1) === 0;
  return say.till(isThatDay ? page.clock.read(finish).time : shortWhen(page, finish));
}

function Task({ page, task }: { page: BuildPage; task: NowTask }): Html {
  const { forecast } = page;
  const { start, people, kind, hazards, shown } = task;
  return (
    <li {...seenAt(shown, forecast.now)}>
      <span class="now-when">{shortWhen(page, start)}</span>
      <span>
        <strong>{taskText(page, task)}</strong>
        <span class="quiet">
          {people.length === 0 ? '' : ` ${listOf(namesOfPeople(forecast, people))}`}
          {kind === 'run' ? '' : ` ${tillText(page, task)}`}
        </span>
        <UncheckedWords page={page} part={byId(forecast.steps, task.step)?.part ?? null} />
        <AfterLine page={page} task={task} />
        {hazards.length === 0 ? null : <HazardWords hazards={hazards} />}
      </span>
    </li>
  );
}

function taskText(page: BuildPage, { kind, step, units, set, machine }: NowTask): string {
  const { forecast } = page;
  const found = byId(forecast.steps, step);
  const verb = kind === 'hands' ? '' : `${texts.dates[kind === 'run' ? 'load' : kind]} `;
  const on = kind === 'hands' || machine === null ? '' : `${nameOfMachine(forecast, machine)}: `;
  const many = units > 0 && (found?.total ?? 0) > 1 ? `, ${unitsOfStep(forecast, step, units)}` : '';
  const of = set === null ? '' : `, ${texts.dates.set(forecast.setName, set)}`;
  return `${capital(`${verb}${on}`)}${stepName(forecast, step)}${many}${of}`;
}

function capital(words: string): string {
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

/** What goes on by itself behind the hands, and what must be heeded where it does so with nobody here. */
function AfterLine({
  page,
  task: { after, outlasts, hazards, kind },
}: {
  page: BuildPage;
  task: NowTask;
}): Html | null {
  if (after === null) return null;
  const until = shortWhen(page, after.until);
  const machine = after.machine === null ? '' : nameOfMachine(page.forecast, after.machine);
  const says = {
    run: (kind === 'run' ? say.running : say.runs)(machine, until),
    wait: say.rests(until),
    lead: say.ships(until),
  };
  return (
    <span class="now-after">
      {says[after.kind]}
      {after.kind === 'run' && outlasts ? <b> {unwatchedText(hazards)}</b> : null}
    </span>
  );
}

/** The words without which nobody is asked to leave a machine running. */
function unwatchedText(hazards: readonly Hazard[]): string {
  const watched = hazards.filter((hazard) => UNWATCHED_HAZARDS.includes(hazard));
  if (watched.length === 0) return texts.threats.loadSafely;
  return texts.threats.loadWatched(watched.map((hazard) => texts.edit.choice.hazard[hazard]));
}

function HazardWords({ hazards }: { hazards: readonly Hazard[] }): Html {
  return <span class="now-hazards">⚠ {hazards.map((hazard) => texts.edit.choice.hazard[hazard]).join(', ')}</span>;
}

function BeforeLeaving({ page, facts }: FactsProps): Html {
  const { forecast, clock } = page;
  const { now } = forecast;
  const lines = facts.leaving.flatMap(({ at, begins, empty }) => [
    { key: `${at}`, spans: begins, text: say.leaveAt(whenText(clock, at, now)) },
    { key: `${at} empty`, spans: empty, text: say.nothingToLeave },
  ]);
  return (
    <section aria-labelledby="leaving-title">
      <h2 id="leaving-title">{say.leaving}</h2>
      {lines
        .filter(({ spans }) => spans.length > 0)
        .map(({ key, spans, text }) => (
          <p key={key} class="quiet" {...seenAt(spans, now)}>
            {text}
          </p>
        ))}
      <ol class="now-list">
        {facts.beforeLeaving.map((task) => (
          <Task key={`${task.step} ${task.set} ${task.start}`} page={page} task={task} />
        ))}
        {facts.unloaded.map(({ threat, shown }) => (
          <li key={threat.step} {...seenAt(shown, now)}>
            <span class="now-when">{shortWhen(page, threat.values.loadBy)}</span>
            <span>{threatText(forecast, clock, threat)}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}

function Due({ page }: { page: BuildPage }): Html {
  const { now } = page.forecast;
  const rows = openDues(page.forecast);
  const missed = rows.filter(({ by }) => by < now);
  const soon = rows.filter(({ by }) => by >= now && by < now + DUE_AHEAD);
  const next = rows.find(({ by }) => by >= now + DUE_AHEAD);
  return (
    <section aria-labelledby="due-title">
      <h2 id="due-title">{say.due}</h2>
      {missed.length === 0 ? null : (
        <details open={missed.length === 1}>
          <summary class="threat">{say.missed(missed.length)}</summary>
          <DueList page={page} rows={missed} />
        </details>
      )}
      {soon.length > 0 ? <DueList page={page} rows={soon} /> : missed.length === 0 ? <p>{say.nothingDue}</p> : null}
      {next === undefined ? null : <p class="quiet">{say.next(dueText(page, next))}</p>}
    </section>
  );
}

function DueList({ page, rows }: { page: BuildPage; rows: readonly OpenDue[] }): Html {
  return (
    <ul class="now-due">
      {rows.map((due) => (
        <li key={due.key}>{dueText(page, due)}</li>
      ))}
    </ul>
  );
}

function dueText(page: BuildPage, due: OpenDue): string {
  return 'order' in due ? orderText(page, due.order) : decisionText(page, due.decision);
}

function orderText({ forecast, clock }: BuildPage, order: ForecastOrder): string {
  const { kind, orderBy } = order;
  const missed = orderBy < forecast.now;
  const words = kind === 'buy' ? (missed ? say.orderMissed : say.order) : missed ? say.sendOutMissed : say.sendOut;
  return words(orderedText(order), whenText(clock, orderBy, forecast.now));
}

function decisionText(page: BuildPage, decision: ForecastDecision): string {
  const { forecast, clock } = page;
  const { decideBy } = decision;
  if (decideBy === null) return decideText(page, decision);
  const words = decideBy < forecast.now ? say.decideMissed : say.decide;
  return words(questionText(forecast, decision), whenText(clock, decideBy, forecast.now)).trim();
}

function hazardsOf({ tasks, beforeLeaving }: NowFacts, now: number): Hazard[] {
  return [...tasks, ...beforeLeaving].filter((task) => isShown(task, now)).flatMap(({ hazards }) => hazards);
}
