/** What a change reaches, shown in its form before it is saved, with what is asked about the units that are made. */
import { type MadeUnits, messageOf, type Problem, type Ripple, type RippleAsked } from '../../server/model/index.ts';
import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { RippleForm } from '../types.ts';
import { boundsText, measure } from '../words/design-words.ts';
import { counted, figure } from '../words/wording.ts';

const say = texts.ripple;

interface RippleProps {
  ripple: RippleForm;
  problems: readonly Problem[];
}

/** The ripple of a form: everything that depends on it, then a question for each state of the units that are made. */
export function RippleView({ ripple, problems }: RippleProps): Html {
  const { asked } = ripple;
  const lines = asked.isAnswer ? [] : linesOf(ripple, asked.ripple);
  return (
    <section class="ripple" tabindex={-1} autofocus={ripple.isNew} aria-label={headingOf(asked)}>
      <input type="hidden" name="ripple-shown" value="yes" />
      <h3>{headingOf(asked)}</h3>
      {asked.isAnswer ? null : lines.length === 0 ? <p>{say.nothing}</p> : <ReachedList lines={lines} />}
      {asked.ripple.limits
        .filter(({ isBroken, wasBroken }) => isBroken !== wasBroken)
        .map((limit) => (
          <p key={limit.limit} class={limit.isBroken ? 'threat' : undefined}>
            {limit.isBroken
              ? say.breaks(limit.name, limit.value === null ? '' : measure(limit.value, limit.unit), boundsText(limit))
              : say.mends(limit.name)}
          </p>
        ))}
      {asked.made.length === 0 ? null : <Made ripple={ripple} problems={problems} />}
      {ripple.isNew && !asked.isAnswer ? <p class="quiet">{say.again}</p> : null}
    </section>
  );
}

function headingOf({ isAnswer }: RippleAsked): string {
  return isAnswer ? say.headingLater : say.heading;
}

interface Line {
  readonly label: string;
  readonly items: readonly string[];
}

function ReachedList({ lines }: { lines: readonly Line[] }): Html {
  return (
    <dl class="reached">
      {lines.map(({ label, items }) => (
        <div key={label}>
          <dt>
            <span class="stamp stamp-s">{figure(items.length)}</span> {label}
          </dt>
          {items.map((item) => (
            <dd key={item}>{item}</dd>
          ))}
        </div>
      ))}
    </dl>
  );
}

function linesOf(form: RippleForm, { sets, parameters, parts, steps, boxes, points, strike }: Ripple): Line[] {
  const counts = parts.filter(({ count }) => count);
  const lines: Line[] = [
    { label: say.parameters, items: parameters.map(({ name, ...values }) => becomes(name, values)) },
    { label: say.gates, items: sets === null ? [] : [becomes(say.gates, sets)] },
    { label: say.drawings, items: parts.filter(({ drawing }) => drawing).map(({ part }) => form.partName(part)) },
    { label: say.counts, items: counts.map(({ part, ...values }) => becomes(form.partName(part), values)) },
    {
      label: say.steps,
      items: steps.map(({ step, ...why }) =>
        say.stepBy(
          form.stepName(step),
          WHYS.filter((one) => why[one]).map((one) => say.why[one]),
        ),
      ),
    },
    {
      label: say.boxes,
      items: boxes.map(({ name, parts: inside }) =>
        say.boxWith(
          name,
          inside.map(({ part, spare, ...values }) => {
            const of = form.partName(part);
            return becomes(spare ? say.spare(of) : of, values);
          }),
        ),
      ),
    },
    { label: say.points, items: points.map(({ name, ...loads }) => becomes(name, loads)) },
    { label: say.strike, items: strike.map(({ name, ...minutes }) => becomes(name, minutes)) },
  ];
  return lines.filter(({ items }) => items.length > 0);
}

const WHYS = ['units', 'work', 'time', 'link'] as const;

function becomes(name: string, { before, after }: { before: number | null; after: number | null }): string {
  const text = (value: number | null) => (value === null ? texts.unknown : figure(value, 4));
  return before === after ? say.sameCount(name, text(after)) : say.becomes(name, text(before), text(after));
}

function Made({ ripple, problems }: RippleProps): Html {
  const { asked } = ripple;
  const parts = [...new Set(asked.made.map(({ part }) => part))];
  const byPart = new Map(parts.map((part): [string, MadeUnits[]] => [part, []]));
  for (const units of asked.made) byPart.get(units.part)!.push(units);
  return (
    <>
      {asked.isAnswer ? null : (
        <h3>
          <span class="stamp stamp-s">{figure(asked.made.reduce((sum, { units }) => sum + units, 0))}</span> {say.made}
        </h3>
      )}
      <p class="quiet">{asked.isAnswer ? say.laterNote : say.madeNote}</p>
      {parts.map((part) => (
        <InTurns key={part}>
          <fieldset class="made">
            <legend>{ripple.partName(part)}</legend>
            <p class="quiet small">{useText(ripple, part)}</p>
            {(byPart.get(part) ?? []).map((units) => (
              <MadeState key={nameOf(units)} ripple={ripple} units={units} problems={problems} />
            ))}
          </fieldset>
        </InTurns>
      ))}
    </>
  );
}

function useText({ asked, partName }: RippleForm, part: string): string {
  const uses = asked.couldUse[part];
  if (uses === undefined || uses.count === 0) return say.noUse;
  return say.couldUse(
    uses.parts.map(({ part: other, left, materials, parameters }) =>
      say.couldUsePart(partName(other), figure(left), [...materials.map(partName), ...parameters]),
    ),
    uses.count,
  );
}

interface StateProps extends RippleProps {
  units: MadeUnits;
}

function MadeState({ ripple, units, problems }: StateProps): Html {
  const name = nameOf(units);
  const wrong = problems.filter(({ field }) => field === name.replace(/\.-$/, ''));
  const redo = ripple.redoOf(units);
  return (
    <fieldset class="made-state">
      <legend>{stateText(ripple, units)}</legend>
      {wrong.map(messageOf).map((message) => (
        <p key={message} class="threat" role="alert">
          {message}
        </p>
      ))}
      <div class="answers">
        <AnswerInput ripple={ripple} name={`${name}.good`} label={say.good} isWrong={wrong.length > 0} />
        {redo.length === 0 ? null : (
          <AnswerInput ripple={ripple} name={`${name}.rework`} label={say.rework} isWrong={wrong.length > 0} />
        )}
        <AnswerInput ripple={ripple} name={`${name}.scrap`} label={say.scrap} isWrong={wrong.length > 0} />
      </div>
      {redo.length === 0 ? null : (
        <details open={redo.some(({ step }) => (ripple.values[`${name}.redo.${step}`] ?? '') !== '')}>
          <summary>{say.redo}</summary>
          <div class="answers">
            {redo.map(({ step, minutes }) => (
              <AnswerInput
                key={step}
                ripple={ripple}
                name={`${name}.redo.${step}`}
                label={ripple.stepName(step)}
                {...(minutes === null ? {} : { hint: say.redoNow(figure(minutes)) })}
                isWrong={wrong.length > 0}
              />
            ))}
          </div>
        </details>
      )}
    </fieldset>
  );
}

interface InputProps {
  ripple: RippleForm;
  name: string;
  label: string;
  hint?: string;
  isWrong: boolean;
}

function AnswerInput({ ripple, name, label, hint, isWrong }: InputProps): Html {
  return (
    <p class="field number">
      <label for={`f-${name}`}>{label}</label>
      <input
        id={`f-${name}`}
        name={name}
        value={ripple.values[name] ?? ''}
        inputMode="decimal"
        autocomplete="off"
        aria-invalid={isWrong ? 'true' : undefined}
      />
      {hint === undefined ? null : <span class="hint">{hint}</span>}
    </p>
  );
}

/** What the inputs of a state begin with: `ripple.post.passed.sand`. */
function nameOf({ part, at, step }: MadeUnits): string {
  return `ripple.${part}.${at}.${step ?? '-'}`;
}

function stateText({ partName, stepName }: RippleForm, { part, at, step, units }: MadeUnits): string {
  return say.state[at](counted(units, partName(part)), step === null ? '' : stepName(step));
}
