/** How the work of a step goes on its job ticket: its pattern, its figures, and what is to be known of it. */
import type { ForecastStep, LevelledDates, PhaseShape } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { paceText, runTimeText } from '../words/doubt-words.ts';
import { machineName, OriginMark, stepName, supplierName } from '../words/marks.tsx';
import { patternText } from '../words/pattern-words.ts';
import { loggedText, orderOutText } from '../words/supply-words.ts';
import {
  counted,
  figure,
  lengthText,
  minutesText,
  ofHundred,
  percent,
  roomText,
  soonText,
  spreadText,
  workText,
} from '../words/wording.ts';

const say = texts.steps;

/**
 * The chain of phases, each with the kind of line a drawing would give it: hands unbroken, run double, wait dashed,
 * lead chain-dotted.
 */
export function Pattern({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
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

export function Figures({ page, step }: { page: BuildPage; step: ForecastStep }): Html {
  const { clock, forecast } = page;
  const unlimited = step.dates?.totalSlackClock ?? null;
  const slack = step.levelled?.room ?? unlimited;
  const cells: [string, Html | string][] = [];
  if (step.kind !== 'order') cells.push(...paceCells(step));
  if (step.runMinutesPerLot !== null) cells.push([say.run, lengthText(step.runMinutesPerLot)]);
  if (step.waitMinutesPerLot !== null) cells.push([say.wait, lengthText(step.waitMinutesPerLot)]);
  if (step.left > 0) cells.push([say.left, `${loggedText(forecast, step.id, step.left)}${handsLeftWords(step)}`]);
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
    [say.decides, say.decidesIn(ofHundred(found.criticality), costs)],
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
        {span ? <span class="quiet"> {say.likely(...spreadText(minutesPerUnit, pace))}</span> : null}{' '}
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

export function Notes({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
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
      const units = loggedText(forecast, step.id, it.units);
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
