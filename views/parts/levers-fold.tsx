/** What would buy time, on the Countdown: the best row, the next few folded away, and the way to all of them. */
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, ShownLevers } from '../types.ts';
import { leverText, worthText } from '../words/lever-words.ts';

const say = texts.levers;
const SHOWN = 4;

interface FoldProps {
  page: BuildPage;
  /** Null: it was not looked for. */
  levers: ShownLevers | null;
}

export function LeversFold({ page, levers }: FoldProps): Html {
  const gaining = (levers?.search?.rows ?? []).filter(({ verdict }) => verdict === 'gains');
  const [best, ...others] = gaining.slice(0, SHOWN);
  const link = <a href={screenHref(page.build.id, 'levers')}>{best === undefined ? say.link : say.all}</a>;
  if (best === undefined || levers?.isStale) return <p>{link}</p>;
  const line = (row: typeof best) => say.fold(leverText(row.lever), worthText(row));
  return (
    <details class="levers-fold">
      <summary>
        {say.heading}: {line(best)}
      </summary>
      <ul>
        {others.map((row) => (
          <li key={leverText(row.lever)}>{line(row)}</li>
        ))}
      </ul>
      <p>{link}</p>
    </details>
  );
}
