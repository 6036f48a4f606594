/**
 * A week of hours beside the field in which it is typed: picked by a tap, or ticked by the hour; where a script runs,
 * drawn by the quarter hour.
 */
import type { Html } from '../render.ts';
import { weekTexts as say } from '../texts/begin/week.ts';
import { texts } from '../texts/index.ts';
import { type Context, many, one } from './form-context.ts';

/** The week as ticks, `0-18` for Monday from 18:00, and the text that they were drawn from, as a form sends them. */
export const WEEK_FIELD = 'week';
export const WEEK_FROM = 'week-from';

const PICKS = {
  people: ['evenings', 'weekend', 'working'],
  machines: ['daytime', 'always', 'working'],
} as const;

/** What a pick puts into the field, as hours are typed in every language. */
export const PICKED_HOURS = {
  evenings: 'Mon to Fri 18:00 to 22:00',
  weekend: 'Sat, Sun 09:00 to 18:00',
  working: 'Mon to Fri 09:00 to 17:00',
  daytime: 'daily 07:00 to 22:00',
  always: 'always',
} as const;

const HOURS = Array.from({ length: 24 }, (_, hour) => hour);

/** Whether the hours of a list can be picked and drawn. */
export function hasWeek(list: string): list is keyof typeof PICKS {
  return list in PICKS;
}

interface WeekPickerProps {
  context: Pick<Context, 'list' | 'values'>;
  /** Where a pick sends the form, if not where the form goes by itself. */
  picksAt?: string;
}

export function WeekPicker({ context, picksAt }: WeekPickerProps): Html | null {
  const { list, values } = context;
  if (!hasWeek(list)) return null;
  const ticked = new Set(many(values[WEEK_FIELD]));
  return (
    <div class="week">
      <p class="buttons">
        <span>{say.picks}</span>
        {PICKS[list].map((pick) => (
          <button key={pick} type="submit" name="do" value={`week:${pick}`} id={`do-week-${pick}`} formaction={picksAt}>
            {say.pick[pick]}
            <span class="heard">{say.adds(PICKED_HOURS[pick])}</span>
          </button>
        ))}
      </p>
      <details class="week-drawing">
        <summary>{say.draw}</summary>
        <p class="hint">{say.drawNote}</p>
        <input type="hidden" name={WEEK_FROM} value={one(values[WEEK_FROM])} />
        {texts.weekdays.map((day, at) => (
          <fieldset key={day} class="week-day">
            <legend>
              {day} <span class="week-said" />
            </legend>
            <div class="week-strip">
              {HOURS.map((hour) => (
                <label key={hour}>
                  <input
                    type="checkbox"
                    name={WEEK_FIELD}
                    value={`${at}-${hour}`}
                    checked={ticked.has(`${at}-${hour}`)}
                    aria-label={say.hour(day, String(hour).padStart(2, '0'))}
                  />
                  <span aria-hidden="true">{hour}</span>
                </label>
              ))}
              <span class="week-spans" aria-hidden="true" />
            </div>
          </fieldset>
        ))}
      </details>
    </div>
  );
}
