/** Counting by a plain form, for a browser that runs no scripts: one step, a number, and the last entry taken back. */
import type { CountState, CountStep } from '../client/outbox/count-wire.ts';
import type { Html } from '../render.ts';
import { phoneTexts } from '../texts/count/phone.ts';
import { countTexts } from '../texts/count/sheet.ts';

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
          <label>
            {say.step}
            <select name="step">
              {choices(state).map(({ value, text }) => (
                <option key={value} value={value}>
                  {text}
                </option>
              ))}
            </select>
          </label>
          <label>
            {say.number}
            <input name="n" inputmode="numeric" autocomplete="off" value="1" />
          </label>
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
      </section>
    </noscript>
  );
}

function LastUndone({ state, action }: { state: CountState; action: string }): Html | null {
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

/**
 * What there is to count, what has something left first: steps and gates, each set by itself. Orders have their own
 * page.
 */
function choices({ steps, setName }: CountState): Choice[] {
  const all = steps.flatMap((step) => choicesOf(step, setName));
  return [...all.filter(({ left }) => left > 0), ...all.filter(({ left }) => left <= 0)];
}

interface Choice {
  readonly value: string;
  readonly text: string;
  readonly left: number;
}

function choicesOf({ id, name, kind, sets }: CountStep, setName: string): Choice[] {
  if (kind === 'order') return [];
  return sets
    .filter(({ left, counted }) => left > 0 || counted > 0)
    .map(({ set, left }) => ({
      left,
      value: `${id}/${set ?? ''}`,
      text: say.choice(set === null ? name : `${name}, ${setName} ${set}`, phoneTexts.left(left)),
    }));
}

function nameOf({ steps, build }: CountState, step: string | null): string {
  return steps.find(({ id }) => id === step)?.name ?? build;
}
