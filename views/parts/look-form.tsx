/** The press that has something worked out beside the plan, and how far that has come. */

import { WhileOpen } from '../forms/while-open.tsx';
import { sheetForm } from '../hx.ts';
import type { Html } from '../render.ts';

interface LookFormProps {
  href: string;
  /** What is on the button. */
  button: string;
  /** Nothing is found yet, so that this is what to do here. */
  isFirst: boolean;
  state: string;
}

export function LookForm({ href, button, isFirst, state }: LookFormProps): Html {
  return (
    <WhileOpen>
      <form class="buttons" {...sheetForm(href)}>
        <button type="submit" name="look" value="yes" class={isFirst ? 'main' : undefined}>
          {button}
        </button>
        <span class="quiet" role="status">
          {state}
        </span>
      </form>
    </WhileOpen>
  );
}
