/** How long what is to be ordered and decided can wait before it costs the planned finish something. */
import type { Forecast } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { freeTexts } from '../words/lever-words.ts';

const say = texts.levers;

/** Nothing where nothing waits, or where the date is kept and the last moments of Dates count. */
export function FreeUntil({ page, of }: { page: BuildPage; of: Pick<Forecast, 'freeUntil' | 'now'> }): Html | null {
  const words = freeTexts(of, page.clock);
  if (words.length === 0) return null;
  return (
    <section aria-labelledby="levers-free">
      <h2 id="levers-free">{say.freeUntil}</h2>
      <ul>
        {words.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      <p class="quiet">{say.freeUntilNote}</p>
    </section>
  );
}
