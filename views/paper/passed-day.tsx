/** A day that has passed: the sheet says that, and lists what was logged on it. */
import type { Forecast, LogKind } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { TodayLink } from '../parts/today-link.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { dayTexts as say } from '../texts/paper/day.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { dayText, figure } from '../words/wording.ts';
import { DayStamp } from './day-stamp.tsx';

interface PassedProps {
  page: BuildPage;
  date: string;
  /** Any instant of the day. */
  at: number;
  /** What was logged, the same of one step together: units, or how often. */
  told: readonly { readonly kind: LogKind; readonly step: string | null; readonly n: number }[];
}

export function PassedDayPage(props: PassedProps): Html {
  return (
    <BuildLayout page={props.page} screen="dates">
      <PassedDaySheet {...props} />
    </BuildLayout>
  );
}

export function PassedDaySheet({ page, date, at, told }: PassedProps): Html {
  const base = screenHref(page.build.id, 'dates');
  const { year: _year, ...stamp } = page.clock.read(at);
  return (
    <Sheet page={page} screen="dates" refresh={`${base}/${date}`}>
      <div class="day-head">
        <DayStamp day={stamp} />
        <h1>{texts.dates.daySheetOf(dayText(page.clock, at, page.forecast.now))}</h1>
        <p class="turns">
          <a href={base}>{texts.dates.allDates}</a>
        </p>
      </div>
      <p class="threat">{say.passed}</p>
      <TodayLink page={page} />
      <h2>{say.toldOn}</h2>
      {told.length === 0 ? <p>{say.nothingTold}</p> : null}
      <ul>
        {told.map((one) => (
          <li key={`${one.step}-${one.kind}`}>{toldText(page.forecast, one)}</li>
        ))}
      </ul>
    </Sheet>
  );
}

function toldText(forecast: Forecast, { kind, step, n }: PassedProps['told'][number]): string {
  const what = say.told[kind](figure(n));
  return step === null ? what : `${stepName(forecast, step)}: ${what}`;
}
