/** The run sheet, from the load-in to the event; and the power-ons, with what to do when one fails. */

import type { Hazard, PowerOn, RunLine } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { CautionFooter, CautionLines } from '../parts/cautions.tsx';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { namesOfPeople, namesOfSteps } from '../words/names.ts';
import { dayText, figure, hoursText, whenText } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';
import { nameOf } from './show-words.ts';
import { stopText } from './stops.tsx';

const say = showTexts.run;

export function RunSheet({ page, show }: ShowSection): Html {
  const hazards = hazardsOf(page, show.run);
  return (
    <section class="show-part show-run" aria-labelledby="run-title">
      <div class="heading">
        <h2 id="run-title">{say.heading}</h2>
      </div>
      {show.run.length + show.notYet.length === 0 ? <p class="quiet">{emptyText(page)}</p> : null}
      <Unsigned page={page} show={show} />
      {show.run.length === 0 ? null : <Run page={page} run={show.run} />}
      {show.notYet.length === 0 ? null : <p class="threat">{say.notYet(namesOfSteps(page.forecast, show.notYet))}</p>}
      <CautionLines hazards={hazards} />
      <CautionFooter hazards={hazards} />
    </section>
  );
}

/**
 * For what nobody signs yet who is named, at a gate; until then the run sheet says of itself that it is not complete.
 */
function Unsigned({ page, show }: Pick<ShowSection, 'page' | 'show'>): Html | null {
  const open = [
    ...show.stops.flatMap((stop) => (stop.code === 'unsigned' ? stopText(page, stop) : [])),
    ...show.points.flatMap(({ id, signedBy, gate }) => {
      const name = nameOf(page.build.points, id);
      if (signedBy === null) return say.pointUnnamed(name);
      return gate === null ? say.pointUngated(name, signedBy) : [];
    }),
  ];
  if (open.length === 0) return null;
  return (
    <div class="run-incomplete">
      <p class="threat">{say.incomplete}</p>
      <ul class="findings">
        {open.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  );
}

/** The hazards of what the run holds. */
function hazardsOf({ forecast }: BuildPage, run: readonly RunLine[]): Hazard[] {
  const steps = new Set(run.map(({ step }) => step));
  return forecast.steps.flatMap(({ id, hazards }) => (steps.has(id) ? hazards : []));
}

function emptyText({ forecast }: BuildPage): string {
  return forecast.steps.some(({ onSite }) => onSite) ? say.past : say.none;
}

function Run({ page, run }: { page: BuildPage; run: readonly RunLine[] }): Html {
  return (
    <>
      <p class="quiet">{say.note}</p>
      {daysOf(page, run).map(([day, marks]) => (
        <div key={day} class="run-day">
          <h3>{day}</h3>
          <ol class="run">
            {marks.map((mark, i) => (
              <RunMark key={i} page={page} mark={mark} />
            ))}
          </ol>
        </div>
      ))}
    </>
  );
}

interface Instant {
  readonly at: number;
  readonly name: string;
}

type Mark = RunLine | Instant;

/** Lines and fixed instants by day, in their order. */
function daysOf({ forecast, clock }: BuildPage, run: readonly RunLine[]): [string, Mark[]][] {
  const fixed: Instant[] = [
    ...(forecast.loadIn === null ? [] : [{ at: forecast.loadIn, name: say.loadIn }]),
    { at: forecast.event, name: say.event },
  ];
  const marks: Mark[] = [...fixed, ...run];
  const days = new Map<string, Mark[]>();
  for (const mark of marks.sort((a, b) => atOf(a) - atOf(b))) {
    const day = dayText(clock, atOf(mark), forecast.now);
    days.set(day, [...(days.get(day) ?? []), mark]);
  }
  return [...days];
}

function atOf(mark: Mark): number {
  return 'at' in mark ? mark.at : mark.start;
}

function RunMark({ page, mark }: { page: BuildPage; mark: Mark }): Html {
  const { clock } = page;
  if ('at' in mark)
    return (
      <li class="run-fixed">
        <span class="run-time">{clock.read(mark.at).time}</span> <strong>{mark.name}</strong>
      </li>
    );
  return <Line page={page} line={mark} />;
}

function Line({ page, line }: { page: BuildPage; line: RunLine }): Html {
  const { forecast, clock } = page;
  const { start, finish, people, last, kind, units, step: id } = line;
  const step = byId(forecast.steps, id);
  const names = people.length === 0 ? [say.nobody] : namesOfPeople(forecast, people);
  const isLate = last !== null && last < start;
  return (
    <li class="run-line">
      <span class="run-time">
        {clock.read(start).time}–{clock.read(finish).time}
      </span>
      <span>
        <strong>
          {(step?.total ?? 1) > 1 && step?.kind !== 'gate' ? `${say.units(figure(units))} ` : ''}
          {setText(page, line)}
          {stepName(forecast, id)}
        </strong>
        {step?.kind === 'gate' ? <span class="order-state run-gate">{say.gate}</span> : null}
        {say.kinds[kind] === '' || (kind === 'run' && people.length > 0) ? null : (
          <span class="quiet"> {say.kinds[kind]}</span>
        )}
        <br />
        {say.who(names, hoursText(finish - start))}
        {last === null ? null : (
          <>
            {', '}
            <span class={isLate ? 'threat' : 'quiet'}>{say.last(whenText(clock, last, forecast.now))}</span>
          </>
        )}
      </span>
    </li>
  );
}

function setText({ forecast }: BuildPage, { set }: RunLine): string {
  return set === null ? '' : `${forecast.setName} ${set}: `;
}

export function PowerOns({ page, show }: ShowSection): Html {
  const words = showTexts.power;
  return (
    <section class="show-part" aria-labelledby="power-title">
      <div class="heading">
        <h2 id="power-title">{words.heading}</h2>
      </div>
      {show.power.length === 0 ? <p class="quiet">{words.none}</p> : null}
      {show.power.map((power) => (
        <Power key={power.gate} page={page} power={power} />
      ))}
    </section>
  );
}

function Power({ page, power }: { page: BuildPage; power: PowerOn }): Html {
  const words = showTexts.power;
  const { forecast, clock, build } = page;
  const { gate, onSite, passed, start, last, dayBefore } = power;
  const lines = (build.gates?.find(({ id }) => id === gate)?.note ?? '')
    .split('\n')
    .filter((line) => line.trim() !== '');
  const facts = [
    onSite ? words.venue : dayBefore === true ? words.homeBefore(forecast.loadIn !== null) : words.home,
    ...(passed ? [words.passed] : start === null ? [] : [whenText(clock, start, forecast.now)]),
    ...(last === null ? [] : [words.last(whenText(clock, last, forecast.now))]),
  ];
  return (
    <div class="power">
      <h3>{stepName(forecast, gate)}</h3>
      <p>{facts.join(', ')}</p>
      {dayBefore === false ? <p class="threat">{words.tooLate(forecast.loadIn !== null)}</p> : null}
      {lines.length === 0 ? (
        <p class="quiet">{words.noNote}</p>
      ) : (
        <>
          <p>{words.fails}</p>
          <ol>
            {lines.map((line, i) => (
              <li key={i}>{line}</li>
            ))}
          </ol>
        </>
      )}
    </div>
  );
}
