/** One line on the Countdown: what is missing this week, and the way to all orders. */
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { orderTexts as say } from '../texts/paper/orders.ts';
import type { BuildPage } from '../types.ts';
import { missingText } from '../words/supply-words.ts';

/** Null where nothing comes from outside. */
export function MissingThisWeek({ page }: { page: BuildPage }): Html | null {
  const text = missingText(page.forecast, page.clock);
  if (text === null) return null;
  return (
    <p>
      {text}{' '}
      <a class="day-link" href={screenHref(page.build.id, 'orders')}>
        {say.toOrders}
      </a>
    </p>
  );
}
