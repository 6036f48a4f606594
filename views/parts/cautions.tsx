/** Cautions where the hands are: a fold with the facts, or one line for each hazard at hand. */
import type { Hazard, WorkHoursWarning } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { type Caution, cautionsFor, cautionTexts as say, TIRED_HANDS } from '../texts/cautions.ts';
import { texts } from '../texts/index.ts';
import { OriginMark } from '../words/marks.tsx';

/** The hazards by name, and folded under them what is known, on what that rests, and who publishes on it. */
export function CautionFold(props: { hazards: readonly Hazard[]; isGuessed?: boolean }): Html | null {
  const { hazards, isGuessed = false } = props;
  const cautions = cautionsFor(hazards);
  if (cautions.length === 0) return null;
  return (
    <details class="cautions">
      <summary>
        ⚠ {cautions.map(({ id }) => texts.edit.choice.hazard[id as Hazard]).join(', ')}{' '}
        {isGuessed ? <OriginMark origin="guessed" /> : null}
      </summary>
      {cautions.map((caution) => (
        <CautionFacts key={caution.id} caution={caution} />
      ))}
    </details>
  );
}

/** One line for each hazard, each hazard once; nothing where there is none. */
export function CautionLines({ hazards }: { hazards: readonly Hazard[] }): Html | null {
  const cautions = cautionsFor(hazards);
  if (cautions.length === 0) return null;
  return (
    <ul class="caution-lines">
      {cautions.map(({ id, title, line }) => (
        <li key={id}>
          ⚠ <b>{title}.</b> {line}
        </li>
      ))}
    </ul>
  );
}

/** Who decides, once at the foot of a sheet that shows a hazard; nothing where it shows none. */
export function CautionFooter({ hazards }: { hazards: readonly Hazard[] }): Html | null {
  return hazards.length === 0 ? null : <p class="quiet small caution-footer">{say.footer}</p>;
}

/** What tiredness does, folded, where hours are warned of that wear people out. */
export function TiredHands({ warnings }: { warnings: readonly WorkHoursWarning[] }): Html | null {
  if (!warnings.some(({ code, person }) => person !== null && code !== 'alone')) return null;
  return (
    <details class="cautions">
      <summary>{TIRED_HANDS.title}</summary>
      <CautionFacts caution={TIRED_HANDS} />
    </details>
  );
}

function CautionFacts({ caution: { title, line, facts, bodies } }: { caution: Caution }): Html {
  return (
    <div class="caution">
      <h3>{title}</h3>
      <p>{line}</p>
      <ul>
        {facts.map((fact) => (
          <li key={fact.text}>
            {fact.text} <span class="quiet small">({groundOf(fact)})</span>
          </li>
        ))}
      </ul>
      <p class="quiet small">{say.bodies(bodies)}</p>
    </div>
  );
}

/** On what a fact rests. */
function groundOf(fact: Caution['facts'][number]): string {
  return fact.basis === 'practice' ? say.basis.practice : say.basis[fact.basis](fact.source);
}
