/** Dates: the last moment for everything, day under day like the pages of a job book, the event at the foot. */
import type { Forecast, ForecastOrder } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { FreeUntil } from '../parts/free-until.tsx';
import { TodayLink } from '../parts/today-link.tsx';
import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { calendarTexts } from '../texts/paper/calendar.ts';
import type { BuildPage } from '../types.ts';
import { highText, questionText, uncheckedText } from '../words/design-words.ts';
import { openSteps, stepName, supplierName } from '../words/marks.tsx';
import { arrivalText, packsText } from '../words/schedule-words.ts';
import { spareRows } from '../words/spare-words.ts';
import { noDayText, orderedText } from '../words/supply-words.ts';
import type { WallDay } from '../words/wall-clock.ts';
import { dayText, lateFromStart, lengthText, roomText, soonText } from '../words/wording.ts';
import { CalendarForm } from './calendar.tsx';

const say = texts.dates;

type MomentKind = keyof typeof say.kinds;

interface Moment {
  readonly at: number;
  readonly kind: MomentKind;
  readonly key: string;
  readonly text: string;
  readonly more: string;
  readonly href: string | null;
}

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
  const missed = moments.filter((it) => it.at < forecast.now && !FIXED.has(it.kind));
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
        <CalendarForm build={page.build} />
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
        {groupDays(page, days, coming).map((group) =>
          group.moments.length > 0 ? (
            <InTurns key={group.days[0]!.date}>
              <BookDay page={page} day={group.days[0]!} moments={group.moments} />
            </InTurns>
          ) : (
            <li key={group.days[0]!.date} class="blank-days quiet small">
              {blankWords(page, group.days)}
            </li>
          ),
        )}
      </ol>
    </Sheet>
  );
}

/** All last moments as lines, what has passed first. */
export function momentLines(page: BuildPage): { readonly at: number; readonly text: string }[] {
  return momentsOf(page).map(({ at, kind, text, more }) => ({
    at,
    text: [say.kinds[kind], text, more === '' ? '' : `(${more})`].filter((words) => words !== '').join(' '),
  }));
}

/** Instants that are fixed or forecast stay where they are, even when they have passed. */
const FIXED: ReadonlySet<MomentKind> = new Set<MomentKind>(['readyBy', 'loadIn', 'event', 'ready', 'arrival']);

function momentsOf(page: BuildPage): Moment[] {
  return [
    ...orderMoments(page),
    ...spareMoments(page),
    ...decisionMoments(page),
    ...startMoments(page),
    ...dueMoments(page),
    ...fixedMoments(page),
  ].sort((a, b) => a.at - b.at);
}

function orderMoments({ forecast, build, clock }: BuildPage): Moment[] {
  const moments: Moment[] = [];
  const href = screenHref(build.id, 'design');
  for (const order of forecast.orders) {
    const units = orderedText(order);
    const from = texts.countdown.from(supplierName(build, order.supplier));
    if (order.state === 'to-order' || order.state === 'late') {
      const arrives = arrivalText(forecast, clock, order);
      const packs = packsText(build, forecast, order);
      const high = highText(forecast, order);
      const noDay = noDayText(forecast, clock, order.step);
      const more = [packs, from, noDay, arrives, high, uncheckedText(forecast, order.part)]
        .filter((it) => it !== null)
        .join(', ');
      const kind = order.kind === 'buy' ? 'order' : 'sendOut';
      moments.push({ at: order.orderBy, kind, key: order.step, text: units, more, href });
    }
    if (order.state === 'ordered') {
      moments.push({
        at: order.arrives,
        kind: 'arrival',
        key: order.step,
        text: units,
        more: arrivalMore(forecast, order, from),
        href: null,
      });
    }
  }
  return moments;
}

function arrivalMore(forecast: Forecast, order: ForecastOrder, from: string): string {
  return [from, uncheckedText(forecast, order.part)].filter((it) => it !== null).join(', ');
}

/** Until when one more of what comes from outside can be had, where fewer are to spare than are wanted. */
function spareMoments({ forecast, build, clock }: BuildPage): Moment[] {
  return spareRows(forecast).flatMap(({ part, has, wanted, by }) => {
    if (by === null) return [];
    const again = part.againAt == null ? '' : say.sparesAgain(soonText(clock, part.againAt, forecast.now));
    const href = `${screenHref(build.id, 'design')}#parts-${part.id}`;
    return [
      {
        at: by,
        kind: 'spare' as const,
        key: part.id,
        text: part.name,
        more: `${say.spares(has, wanted)}${again}`,
        href,
      },
    ];
  });
}

/** What is wanted before the rest. */
function dueMoments({ forecast, build, clock }: BuildPage): Moment[] {
  const open = (forecast.dues ?? []).filter(({ at, left }) => left > 0 || at >= forecast.now);
  return open.map(({ list, id, name, at, left, finish, clock: room }) => {
    const done = finish === null ? texts.unknown : soonText(clock, finish, forecast.now);
    const more = left === 0 ? say.dueDone(done) : momentWords(say.planned(done), room);
    const href = `${screenHref(build.id, list === 'parts' ? 'design' : 'steps')}#${list}-${id}`;
    return { at, kind: 'due' as const, key: `${list}-${id}`, text: name, more, href };
  });
}

function decisionMoments({ forecast, build, clock }: BuildPage): Moment[] {
  return forecast.decisions
    .filter((it) => it.decided === null && it.decideBy !== null)
    .map((it) => ({
      at: it.decideBy!,
      kind: 'decide' as const,
      key: it.id,
      text: questionText(forecast, it),
      more:
        it.settles === undefined
          ? (it.answers ?? [])
              .map(({ name, by }) => say.answer(name, by === null ? null : soonText(clock, by, forecast.now)))
              .join(', ')
          : texts.countdown.waiting(it.waits.map((id) => stepName(forecast, id)).join(', ')),
      href:
        it.settles === undefined
          ? `${screenHref(build.id, 'steps')}#decisions-${it.id}`
          : `${screenHref(build.id, 'design')}#parameters-${it.settles}`,
    }));
}

/** What has not been begun must start by then; what is under way must be done by then. */
function startMoments(page: BuildPage): Moment[] {
  const { forecast, build, clock } = page;
  const moments: Moment[] = [];
  for (const step of openSteps(forecast)) {
    const { levelled } = step;
    if (step.kind === 'order' || levelled === null || levelled.lastStart === null) continue;
    const begun = step.state === 'under-way' && levelled.lastFinish !== null;
    const planned = begun ? levelled.finish : levelled.start;
    moments.push({
      at: begun ? levelled.lastFinish! : levelled.lastStart,
      kind: begun ? 'finish' : 'start',
      key: step.id,
      text: step.name,
      more: momentWords(
        say.planned(soonText(clock, planned, forecast.now)),
        levelled.room ?? null,
        uncheckedText(forecast, step.part),
      ),
      href: `${screenHref(build.id, 'steps')}#steps-${step.id}`,
    });
  }
  return moments;
}

function momentWords(planned: string, room: number | null, unchecked: string | null = null): string {
  const left = room === null ? null : `${texts.room.word} ${roomText(room)}`;
  return [planned, left, unchecked].filter((it) => it !== null).join(', ');
}

function fixedMoments({ forecast }: BuildPage): Moment[] {
  const { event, loadIn, readyBy, room } = forecast;
  const fixed = (at: number, kind: MomentKind): Moment => ({ at, kind, key: kind, text: '', more: '', href: null });
  return [
    fixed(readyBy, 'readyBy'),
    ...(loadIn === null ? [] : [fixed(loadIn, 'loadIn')]),
    fixed(event, 'event'),
    ...((room.readyBy.finish ?? 0) < forecast.now ? [] : [fixed(room.readyBy.finish!, 'ready')]),
  ];
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
