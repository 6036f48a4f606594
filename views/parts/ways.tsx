/** The ways from the Countdown to the sheets that answer the next questions, in one place. */
import { ledgerHref, screenHref } from '../links.ts';
import { waitsHref } from '../pictures/picture-links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { TodayLink } from './today-link.tsx';

const say = texts.lead;
const SCREENS = ['now', 'steps', 'levers', 'options'] as const;

export function Ways({ page }: { page: BuildPage }): Html {
  const { id } = page.build;
  return (
    <nav class="ways" aria-label={say.ways}>
      <TodayLink page={page} />
      {SCREENS.map((screen) => (
        <a key={screen} class="day-link" href={screenHref(id, screen)}>
          {say.way[screen]}
        </a>
      ))}
      <a class="day-link" href={`${screenHref(id, 'hands')}#load`}>
        {say.way.load}
      </a>
      <a class="day-link" href={waitsHref(id)}>
        {say.way.waits}
      </a>
      <a class="day-link" href={ledgerHref(id)}>
        {say.way.ledger}
      </a>
    </nav>
  );
}
