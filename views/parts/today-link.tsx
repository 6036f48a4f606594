/** The way to today's day sheet: who does what, when, in one tap from the sheets that are looked at first. */
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';

/** Null on a day that has no sheet: before the work begins, or when all is over. */
export function TodayLink({ page }: { page: BuildPage }): Html | null {
  const { forecast, build } = page;
  const today = forecast.days.find(({ start, end }) => forecast.now >= start && forecast.now < end);
  if (today === undefined) return null;
  return (
    <p class="today-link">
      <a class="day-link" href={`${screenHref(build.id, 'dates')}/${today.date}`}>
        {texts.dates.todaysSheet}
      </a>
    </p>
  );
}
