/** Figures of a plan, each with what it differs by from the plan beside it. */
import type { Html } from '../render.ts';

export interface FigureRow {
  readonly name: string;
  readonly is: string;
  /** Empty: nothing. */
  readonly differs: string;
}

/** More letters than that are a sentence, not a figure. */
const LONG = 60;

export function FigureRows({ rows }: { rows: readonly FigureRow[] }): Html {
  return (
    <dl class="figures">
      {rows.map(({ name, is, differs }) => (
        <div key={name} class={is.length > LONG ? 'long' : undefined}>
          <dt>{name}</dt>
          <dd>
            <strong>{is}</strong>
            {differs === '' ? null : <span class="differs">{differs}</span>}
          </dd>
        </div>
      ))}
    </dl>
  );
}
