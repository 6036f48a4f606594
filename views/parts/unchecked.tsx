/** The mark of a part whose units nobody has looked at since a change, with the way to say what becomes of them. */
import { openHref } from '../forms/form.tsx';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { uncheckedText } from '../words/design-words.ts';

const say = texts.ripple;

/** The same inside a line: `35 units unchecked`. */
export function UncheckedWords({ page, part }: { page: BuildPage; part: string | null }): Html | null {
  const text = uncheckedText(page.forecast, part);
  return text === null ? null : <span class="threat small"> {text}</span>;
}

/** Nothing where all units of the part are looked at, and for what is of no part. */
export function UncheckedMark({ page, part }: { page: BuildPage; part: string | null }): Html | null {
  const text = uncheckedText(page.forecast, part);
  if (text === null) return null;
  const known = page.forecast.parts.find(({ id }) => id === part)!;
  const because = known.unchecked?.[0]?.because;
  return (
    <p class="unchecked">
      <span class="threat">{text}</span>
      {because === undefined ? null : <span class="quiet small"> {say.because(because)}</span>}{' '}
      <a href={`${openHref(screenHref(page.build.id, 'design'), 'parts', known.id)}#edit`}>
        {say.lookAt}
        <span class="heard"> {known.name}</span>
      </a>
    </p>
  );
}
