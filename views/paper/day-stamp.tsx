/** The number of a day as it is stamped on a sheet or on paper. */
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { WallDay } from '../wall-clock.ts';

/** The number of the day, stamped, with weekday and month. */
export function DayStamp({ day }: { day: Pick<WallDay, 'day' | 'weekday' | 'month'> }): Html {
  return (
    <p class="day-stamp">
      <span class="small">{texts.weekdays[day.weekday - 1]}</span>
      <span class="stamp">{day.day}</span>
      <span class="small">{texts.months[day.month - 1]}</span>
    </p>
  );
}
