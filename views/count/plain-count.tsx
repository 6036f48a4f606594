/**
 * Counting by plain forms, for a browser that runs no scripts: units, what is set going, gates, lost time, and the last
 * entry taken back.
 */
import type { ComponentChildren } from 'preact';
import type { CountState, CountStep } from '../client/outbox/count-wire.ts';
import { type Html, ListInTurns } from '../render.ts';
import { phoneTexts } from '../texts/count/phone.ts';
import { countTexts } from '../texts/count/sheet.ts';
import { LostChoices } from './lost-choices.tsx';

const say = countTexts.plain;

export function PlainCount({ state }: { state: CountState }): Html {
  const action = `/b/${state.build}/count`;
  return (
    <noscript>
      <section class="plain-count" aria-labelledby="plain-count-title">
        <h2 id="plain-count-title">{say.heading}</h2>
        <p class="quiet">{say.note}</p>
        <form method="post" action={action}>
          <input type="hidden" name="token" value={state.logSeq} />
          <StepField choices={choices(state)} />
          <NumberField />
          <p class="buttons">
            <button type="submit" name="kind" value="done" class="main">
              {countTexts.countTyped}
            </button>
            <button type="submit" name="kind" value="scrapped">
              {say.scrapped}
            </button>
            <button type="submit" name="kind" value="scrapped-counted">
              {say.scrappedCounted}
            </button>
          </p>
        </form>
        <LastUndone state={state} action={action} />
        <Loading state={state} action={action} />
        {state.steps.flatMap((step) => gateForms(step, state, action))}
        <Lost state={state} action={action} />
      </section>
    </noscript>
  );
}

interface FormProps {
  readonly state: CountState;
  readonly action: string;
}

/** What runs on a machine or waits by itself once it is begun. */
function Loading({ state, action }: FormProps): Html | null {
  const steps = state.steps.filter(({ kind, machine, runMinutesPerLot, waitMinutes }) => {
    return kind === 'step' && ((machine !== null && runMinutesPerLot !== null) || waitMinutes !== null);
  });
  if (steps.length === 0) return null;
  return (
    <Fold heading={say.loading}>
      <form method="post" action={action}>
        <input type="hidden" name="token" value={state.logSeq} />
        <StepField choices={choices({ ...state, steps })} />
        <NumberField />
        <p class="buttons">
          <button type="submit" name="kind" value="loaded">
            {say.load}
          </button>
        </p>
      </form>
    </Fold>
  );
}

/** A gate that is still to be passed, each set by itself: passed, or failed with what goes back. */
function gateForms(step: CountStep, state: CountState, action: string): Html[] {
  if (step.kind !== 'gate') return [];
  return step.sets
    .filter(({ left }) => left > 0)
    .map(({ set }) => (
      <Fold key={`${step.id}/${set}`} heading={setName(state, step.name, set)}>
        <form method="post" action={action}>
          <input type="hidden" name="token" value={state.logSeq} />
          <input type="hidden" name="step" value={`${step.id}/${set ?? ''}`} />
          {step.sendsBack.map((back) => (
            <label key={back.step}>
              {say.goesBack(back.name)}
              <input
                name={`back-${back.step}/${setOf(state, back.step, set) ?? ''}`}
                inputmode="numeric"
                autocomplete="off"
                value={back.units}
              />
            </label>
          ))}
          <label>
            {countTexts.reason}
            <input name="reason" maxlength={200} />
          </label>
          <p class="buttons">
            <button type="submit" name="kind" value="passed" class="main">
              {countTexts.pass}
            </button>
            <button type="submit" name="kind" value="failed">
              {countTexts.failIt}
            </button>
          </p>
        </form>
      </Fold>
    ));
}

/** The same set of another step, where that is counted by sets. */
function setOf({ steps }: CountState, step: string, set: number | null): number | null {
  return steps.find(({ id }) => id === step)?.sets.some((one) => one.set === set) ? set : null;
}

function Lost({ state, action }: FormProps): Html {
  const { zone } = state;
  return (
    <Fold heading={say.lost}>
      <form method="post" action={action}>
        <input type="hidden" name="token" value={state.logSeq} />
        <label>
          {countTexts.lostOf}
          <select name="of">
            <LostChoices state={state} />
          </select>
        </label>
        <label>
          {countTexts.lostFrom}
          <input name="from" type="datetime-local" />
        </label>
        <label>
          {countTexts.lostUntil}
          <input name="until" type="datetime-local" />
        </label>
        <p class="quiet">{say.clock(zone)}</p>
        <p class="buttons">
          <button type="submit" name="kind" value="lost">
            {countTexts.lostIt}
          </button>
        </p>
      </form>
    </Fold>
  );
}

function Fold({ heading, children }: { heading: string; children: ComponentChildren }): Html {
  return (
    <details class="more">
      <summary>{heading}</summary>
      {children}
    </details>
  );
}

function StepField({ choices: all }: { choices: readonly Choice[] }): Html {
  return (
    <label>
      {say.step}
      <select name="step">
        <ListInTurns>
          {all.map(({ value, text }) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </ListInTurns>
      </select>
    </label>
  );
}

function NumberField(): Html {
  return (
    <label>
      {say.number}
      <input name="n" inputmode="numeric" autocomplete="off" value="1" />
    </label>
  );
}

function LastUndone({ state, action }: FormProps): Html | null {
  const undone = new Set(state.mine.flatMap(({ undoes }) => undoes ?? []));
  const last = state.mine.find(({ id, kind }) => kind !== 'undo' && !undone.has(id));
  if (last === undefined) return null;
  return (
    <form method="post" action={action} class="buttons">
      <input type="hidden" name="token" value={state.logSeq} />
      <input type="hidden" name="undoes" value={last.id} />
      <span>{say.last(nameOf(state, last.step), last.n ?? 1)}</span>
      <button type="submit" name="kind" value="undo">
        {say.undo}
      </button>
    </form>
  );
}

/** What there is to count, what has something left first, each set by itself. Orders have their own page. */
function choices(state: CountState): Choice[] {
  const all = state.steps.flatMap((step) => choicesOf(step, state));
  return [...all.filter(({ left }) => left > 0), ...all.filter(({ left }) => left <= 0)];
}

interface Choice {
  readonly value: string;
  readonly text: string;
  readonly left: number;
}

function choicesOf({ id, name, kind, sets }: CountStep, state: CountState): Choice[] {
  if (kind !== 'step') return [];
  return sets
    .filter(({ left, counted }) => left > 0 || counted > 0)
    .map(({ set, left }) => ({
      left,
      value: `${id}/${set ?? ''}`,
      text: say.choice(setName(state, name, set), phoneTexts.left(left)),
    }));
}

function setName(state: CountState, name: string, set: number | null): string {
  return set === null ? name : `${name}, ${state.setName} ${set}`;
}

function nameOf({ steps, build }: CountState, step: string | null): string {
  return steps.find(({ id }) => id === step)?.name ?? build;
}
