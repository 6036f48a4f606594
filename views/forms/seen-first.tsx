/**
 * What an edit would do, shown in its form before it is saved; and what the last edit did, on the sheets that are
 * edited.
 */
import { type PlanOnRule, PlansRule } from '../pictures/plans-rule.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, SeenFirst } from '../types.ts';
import {
  averageText,
  beyondTexts,
  effectText,
  figuresOf,
  type PlanFigures,
  pointsText,
} from '../words/what-if-words.ts';
import { chanceText, figure } from '../words/wording.ts';

const say = texts.options;

/** The answer in the form; what was typed stays in its fields. */
export function Seen({ seen }: { seen: SeenFirst }): Html {
  const { present, forecast, compared, clock, changes } = seen;
  const [before, after] = [figuresOf(present), figuresOf(forecast)];
  const row = (name: string, { readyAt, chance }: PlanFigures, { readyBy }: typeof forecast): PlanOnRule => {
    return { key: name, name, readyAt, readyBy, chance, differs: '' };
  };
  return (
    <section class="seen" role="status" tabindex={-1} autofocus aria-label={say.seen}>
      <h3>{changes ? say.seen : say.changesNothing}</h3>
      <p>
        <strong>{firstUpper(effectText(clock, forecast.now, before, after))}</strong>
      </p>
      <PlansRule
        clock={clock}
        now={forecast.now}
        label={say.rooms}
        plans={[row(say.present, before, present), row(say.withThis, after, forecast)]}
      />
      {beyondTexts(present, forecast).map((text) => (
        <p key={text} class="threat">
          {text}
        </p>
      ))}
      {compared === null ? null : (
        <>
          <p>
            {say.figure.chance}: {after.chance === null ? say.noChance : chanceText(after.chance)},{' '}
            {pointsText(compared.readyBy, compared.futures)}
          </p>
          {after.installed === null ? null : (
            <p>
              {firstUpper(say.installed(chanceText(after.installed)))}, {pointsText(compared.event, compared.futures)}
            </p>
          )}
          <p>
            {say.readyAverage}: {averageText(compared)}
          </p>
          <p class="quiet">{say.differences(figure(compared.futures))}</p>
        </>
      )}
      <p class="quiet">{say.notSaved}</p>
    </section>
  );
}

/** `Edit 12: ready Thu 3 Dec 20:10, 6 h earlier; 71 % to 84 %.` for a while after it was saved. */
export function SavedLine({ page }: { page: BuildPage }): Html | null {
  const { saved, forecast, clock, revision } = page;
  if (saved === undefined) return null;
  const after = figuresOf(forecast);
  const effect = effectText(clock, forecast.now, saved, after);
  const isDrawing = after.chance === null && saved.chance !== null && forecast.complete;
  return (
    <p class="saved" role="status">
      {say.editDid(revision, isDrawing ? `${effect}; ${say.drawing}` : effect)}
    </p>
  );
}

function firstUpper(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}
