/** The calendar's addresses: the one just made, those there are, and the form that makes another. */
import type { Build } from '../../server/model/index.ts';
import { BookHead, Document } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { calendarTexts as say } from '../texts/paper/calendar.ts';
import type { Light } from '../types.ts';

/** An address just made: it is shown this once. */
export interface NewAddress {
  readonly address: string;
  readonly whose: string;
}

interface FeedLine {
  readonly number: number;
  readonly whose: string;
  readonly alarmMinutes: number | null;
  readonly since: string;
}

interface CalendarProps {
  build: Build;
  light: Light | null;
  made: NewAddress | null;
  /** Why no address is made, where the build is closed. */
  closed: string | null;
  /** Whether any phone can reach this server. */
  reachable: boolean;
  feeds: readonly FeedLine[];
}

export function CalendarPage({ build, light, made, closed, reachable, feeds }: CalendarProps): Html {
  return (
    <Document
      title={`${say.heading} · ${build.name}`}
      light={light}
      bare
      styles={['join.css']}
      modules={['copy-field.js']}
    >
      <BookHead build={build.id} name={build.name} screen="dates" light={light} />
      <main id="sheet" tabindex={-1}>
        <div class="body">
          <h1>{say.heading}</h1>
          <p>{say.intro}</p>
          {reachable ? null : <p class="threat">{say.notReachable}</p>}
          {made === null ? null : (
            <p class="letting-in">
              <label for="address">
                {made.whose}: {say.made}
              </label>
              <input id="address" value={made.address} readonly />
              <button type="button" data-copies="address" hidden>
                {say.copy}
              </button>
              <span id="address-copied" role="status" data-copied={say.copied} data-selected={say.selected} />
            </p>
          )}
          {closed === null ? null : <p class="threat">{closed}</p>}
          <CalendarForm build={build} isClosed={closed !== null} />
          <h2>{say.addresses}</h2>
          {feeds.length === 0 ? <p>{say.none}</p> : null}
          <ul class="helpers">
            {feeds.map((feed) => (
              <FeedItem key={feed.number} build={build.id} feed={feed} />
            ))}
          </ul>
          <p>
            <a href={screenHref(build.id, 'dates')}>{say.toDates}</a>
          </p>
        </div>
      </main>
    </Document>
  );
}

/** Whose and with which alarms: an address of its own, unless the build is closed, or a file. */
export function CalendarForm({ build, isClosed }: { build: Build; isClosed: boolean }): Html {
  const { id, people = [] } = build;
  return (
    <form method="post" action={`/b/${id}/calendar`} class="letting-in">
      <label for="calendar-person">{say.whose}</label>
      <select id="calendar-person" name="person">
        <option value="">{say.all}</option>
        {people.map((person) => (
          <option key={person.id} value={person.id}>
            {person.name}
          </option>
        ))}
      </select>
      <label for="calendar-alarm">{say.alarm}</label>
      <select id="calendar-alarm" name="alarm">
        {ALARMS.map((alarm) => (
          <option key={alarm} value={alarm}>
            {say.alarms[alarm]}
          </option>
        ))}
      </select>
      {isClosed ? null : <button type="submit">{say.make}</button>}
      <button type="submit" formmethod="get" formaction={`/b/${id}/calendar.ics`}>
        {say.download}
      </button>
    </form>
  );
}

const ALARMS = ['none', '120', '1440', '2880'] as const;

function FeedItem({ build, feed }: { build: string; feed: FeedLine }): Html {
  const { number, whose, alarmMinutes, since } = feed;
  const alarm = ALARMS.find((known) => known === String(alarmMinutes));
  return (
    <li>
      <span>
        {whose} <span class="quiet">{say.since(since)}</span>
        {alarm === undefined ? null : <span class="quiet">, {say.alarms[alarm]}</span>}
      </span>
      <form method="post" action={`/b/${build}/calendar`}>
        <button type="submit" name="end" value={number}>
          {say.end(whose)}
        </button>
      </form>
    </li>
  );
}
