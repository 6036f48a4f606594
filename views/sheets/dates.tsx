/** Dates: the last moment for everything, day under day like the pages of a job book, the event at the foot. */
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { DayStamp } from '../paper/day-stamp.tsx';
import { FreeUntil } from '../parts/free-until.tsx';
import { TodayLink } from '../parts/today-link.tsx';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { calendarTexts } from '../texts/paper/calendar.ts';
import type { BuildPage } from '../types.ts';
import type { WallDay } from '../wall-clock.ts';
import { FIXED_MOMENTS, type Moment, momentsOf } from '../words/moments.ts';
import { spareRows } from '../words/spare-words.ts';
import { dayText, lateFromStart, lengthText, soonText } from '../words/wording.ts';
import { CalendarForm } from './calendar.tsx';

const say = texts.dates;

export function DatesPage({ page }: { page: BuildPage }): Html {
  return (
    <BuildLayout page={page} screen="dates">
      <DatesSheet page={page} />
    </BuildLayout>
  );
}

export function DatesSheet({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const moments = momentsOf(page);
  const missed = moments.filter((it) => it.at < forecast.now && !FIXED_MOMENTS.has(it.kind));
  const coming = moments.filter((it) => !missed.includes(it));
  const last = Math.max(forecast.now, forecast.event, ...coming.map((it) => it.at));
  const days = clock.days(Math.min(forecast.now, forecast.event), last + 1);
  return (
    <Sheet page={page} screen="dates" refresh={screenHref(page.build.id, 'dates')}>
      <h1>{texts.screens.dates}</h1>
      <p class="quiet">
        {say.intro} {say.moves}
      </p>
      <TodayLink page={page} />
      <details class="calendar">
        <summary>{calendarTexts.fold}</summary>
        <p class="quiet">{calendarTexts.intro}</p>
        <InTurns>
          <CalendarForm build={page.build} isClosed={page.closed !== undefined} />
        </InTurns>
        <p>
          <a href={`/b/${page.build.id}/calendar`}>{calendarTexts.addresses}</a>
        </p>
      </details>
      {missed.length === 0 ? null : (
        <section class="missed" aria-labelledby="missed-title">
          <h2 id="missed-title" class="threat">
            {say.missed}
          </h2>
          <MomentList page={page} moments={missed} withDay />
        </section>
      )}
      <FreeUntil page={page} of={forecast} />
      <SinglePoints page={page} />
      <ol class="book-days">
        <ListInTurns>
          {groupDays(page, days, coming).map((group) =>
            group.moments.length > 0 ? (
              <BookDay key={group.days[0]!.date} page={page} day={group.days[0]!} moments={group.moments} />
            ) : (
              <li key={group.days[0]!.date} class="blank-days quiet small">
                {blankWords(page, group.days)}
              </li>
            ),
          )}
        </ListInTurns>
      </ol>
    </Sheet>
  );
}

/** What stops the show if it breaks, as a table; nothing where all that comes from outside has enough to spare. */
function SinglePoints({ page }: { page: BuildPage }): Html | null {
  const { forecast, clock } = page;
  const rows = spareRows(forecast);
  if (rows.length === 0) return null;
  return (
    <details class="single-points">
      <summary>{say.singlePoints(rows.length)}</summary>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">{say.single.part}</th>
            <th scope="col">{say.single.spares}</th>
            <th scope="col">{say.single.lead}</th>
            <th scope="col">{say.single.by}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ part, has, wanted, by, leadMinutes, leftMinutes }) => (
            <tr key={part.id}>
              <th scope="row">
                <a href={`${screenHref(page.build.id, 'design')}?open=parts/${part.id}`}>{part.name}</a>
              </th>
              <td>{say.hasOf(has, wanted, part.sparesWanted === undefined)}</td>
              <td>
                {leadMinutes === null
                  ? say.madeHere
                  : leftMinutes > 0
                    ? say.leadOf(lengthText(leadMinutes), lengthText(leftMinutes))
                    : say.leadPast(lengthText(leadMinutes))}
              </td>
              <td class={by === null && leadMinutes !== null ? 'threat' : undefined}>
                {by !== null
                  ? soonText(clock, by, forecast.now)
                  : leadMinutes === null
                    ? say.noOrder
                    : say.tooLateForOne}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet small">{say.singleNote(String(Math.round(forecast.confidence * 100)))}</p>
    </details>
  );
}

interface DayGroup {
  readonly days: WallDay[];
  readonly moments: Moment[];
}

/** Days with moments stand alone; blank days in a row stand as one line. */
function groupDays(page: BuildPage, days: readonly WallDay[], moments: readonly Moment[]): DayGroup[] {
  const byDate = new Map<string, Moment[]>();
  for (const moment of moments) {
    const { date } = page.clock.read(moment.at);
    byDate.set(date, [...(byDate.get(date) ?? []), moment]);
  }
  const groups: DayGroup[] = [];
  for (const day of days) {
    const own = byDate.get(day.date) ?? [];
    const before = groups.at(-1);
    const today = page.forecast.now >= day.start && page.forecast.now < day.end;
    if (own.length === 0 && !today && before !== undefined && before.moments.length === 0) before.days.push(day);
    else groups.push({ days: [day], moments: own });
  }
  return groups;
}

function blankWords(page: BuildPage, days: readonly WallDay[]): string {
  const [first, last] = [days[0]!, days.at(-1)!];
  const words = (day: WallDay) => dayText(page.clock, day.start, page.forecast.now);
  return first === last ? say.freeDay(words(first)) : say.freeDays(words(first), words(last));
}

function BookDay({ page, day, moments }: { page: BuildPage; day: WallDay; moments: readonly Moment[] }): Html {
  const isEvent = moments.some((it) => it.kind === 'event');
  const label = dayText(page.clock, day.start, page.forecast.now);
  const sheet = page.forecast.days.some((it) => it.date === day.date);
  return (
    <li class={isEvent ? 'book-day event-day' : 'book-day'} aria-label={label}>
      <DayStamp day={day} />
      <div>
        <MomentList page={page} moments={moments} />
        {sheet ? (
          <a class="day-link" href={`${screenHref(page.build.id, 'dates')}/${day.date}`}>
            {say.daySheet}
            <span class="heard"> {label}</span>
          </a>
        ) : null}
      </div>
    </li>
  );
}

interface MomentListProps {
  page: BuildPage;
  moments: readonly Moment[];
  withDay?: boolean;
}

function MomentList({ page, moments, withDay = false }: MomentListProps): Html {
  return (
    <ul class="moments">
      {moments.map((it) => (
        <li key={`${it.kind}-${it.key}`} class={`moment-${it.kind}`}>
          <span class="moment-time">{withDay ? missedText(page, it.at) : page.clock.read(it.at).time}</span>
          <span class="moment-kind">{say.kinds[it.kind]}</span>
          <span>
            {it.href === null ? it.text : <a href={it.href}>{it.text}</a>} <span class="quiet small">{it.more}</span>
          </span>
        </li>
      ))}
    </ul>
  );
}

function missedText({ clock, forecast }: BuildPage, at: number): string {
  const late = lateFromStart(forecast, at);
  return late === null ? soonText(clock, at, forecast.now) : `${texts.beforeStart}, ${late}`;
}
