/** Two buttons beside what was found: kept as an option beside the plan, or adopted into it. */

import { sheetForm } from '../hx.ts';
import { type Screen, screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { WhileOpen } from './while-open.tsx';

const say = texts.levers;

interface KeepAdoptProps {
  page: BuildPage;
  /** The sheet that takes the answer, and what it is sent of the thing that was found. */
  screen: Screen;
  name: string;
  /** What is kept or adopted, for those who hear the buttons. */
  heard: string;
}

export function KeepAdopt({ page, screen, name, heard }: KeepAdoptProps): Html {
  return (
    <WhileOpen>
      <form class="buttons" {...sheetForm(screenHref(page.build.id, screen))}>
        <input type="hidden" name="edit" value={page.revision} />
        <button type="submit" name="keep" value={name}>
          {say.keep}
          <span class="heard">{heard}</span>
        </button>
        <button type="submit" name="adopt" value={name}>
          {say.adopt}
          <span class="heard">{heard}</span>
        </button>
      </form>
    </WhileOpen>
  );
}
