/** The answer of the Countdown: how likely, ready when, what matters first, how much room. */
import type { ForecastRisk, Room, RoomSince } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import { Lead } from '../parts/lead.tsx';
import { RoomRules } from '../parts/room-rules.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, ShownLevers } from '../types.ts';
import { hasSiteWork, isMade, siteLateText } from '../words/marks.tsx';
import { isOnlyTooLarge, missingTexts } from '../words/missing-words.ts';
import { assumedLotsText, boundWords, keptOrderText } from '../words/schedule-words.ts';
import { chanceBy, dayText, errorText, figure, lengthText, roomText, soonText, whenText } from '../words/wording.ts';
import { RoomSinceLine } from './ledger.tsx';

const say = texts.countdown;

export interface VerdictProps {
  page: BuildPage;
  /** What became of the room since yesterday; null where nothing was kept yet. */
  since?: RoomSince | null | undefined;
  /** What would buy time, where it was looked for. */
  levers?: ShownLevers | null | undefined;
}

/**
 * How likely, as the largest figure, with the plan's date and the others beside it, none of them a promise; then what
 * matters first, and the rooms.
 */
export function Verdict({ page, since, levers }: VerdictProps): Html {
  const { forecast } = page;
  if (forecast.steps.length === 0 && forecast.parts.length === 0) return <NothingPlanned page={page} />;
  const missing = missingTexts(forecast);
  return (
    <div class="verdict">
      <div>
        <Answer page={page} isMissing={missing.length > 0} />
        {missing.length === 0 ? null : (
          <ul class="threats">
            {[...missing, ...earliestText(page)].map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        )}
        <Chances page={page} />
      </div>
      <Lead page={page} levers={levers} isMissing={missing.length > 0} />
      <div>
        <RoomSinceLine page={page} since={since} />
        <Proof page={page} />
        {forecast.complete || missing.length > 0 ? null : <p class="threat">{say.incomplete}</p>}
      </div>
      <RoomRules page={page} />
    </div>
  );
}

/** The chance where there is one; else the date, or why there is none. */
function Answer({ page, isMissing }: { page: BuildPage; isMissing: boolean }): Html {
  const { forecast, clock } = page;
  const { readyBy } = forecast.room;
  const chance = isMade(forecast) || readyBy.finish === null ? null : riskOf(page);
  if (chance !== null) {
    return (
      <h1 class="verdict-answer">
        <span class="stamp stamp-l">{chanceBy(chance.readyBy, forecast.now)}</span>
        <span class="verdict-word">
          {texts.lead.likelyBy(texts.target.readyBy, whenText(clock, forecast.readyBy, forecast.now))}
        </span>
        {isMissing ? null : <RoomLine room={readyBy} target={texts.target.readyBy} />}
        <SiteLine page={page} />
      </h1>
    );
  }
  return (
    <h1 class="verdict-answer">
      <span class="verdict-word">{readyBy.finish === null ? say.notReady : readyWord(page)}</span>
      {readyBy.finish === null ? null : (
        <time class="stamp" dateTime={clock.read(readyBy.finish).date}>
          <span>{dayText(clock, readyBy.finish, forecast.now)}</span> <span>{clock.read(readyBy.finish).time}</span>
        </time>
      )}
      {isMissing ? null : <RoomLine room={readyBy} target={texts.target.readyBy} />}
      <SiteLine page={page} />
    </h1>
  );
}

function readyWord({ forecast }: BuildPage): string {
  if (forecast.steps.every((step) => step.left === 0)) return say.nothingLeft;
  return isMade(forecast) && (forecast.room.readyBy.finish ?? 0) <= forecast.now ? say.readySince : say.ready;
}

/** The futures' chances; null where there are none, and of a plan with something left out, which is not in them. */
function riskOf({ forecast }: BuildPage): ForecastRisk | null {
  return forecast.complete ? (forecast.risk ?? null) : null;
}

/** What is known of a build that is too large to be planned. */
function earliestText({ forecast, clock }: BuildPage): string[] {
  const { unlimitedFinish } = forecast.room.readyBy;
  if (!isOnlyTooLarge(forecast) || unlimitedFinish === null) return [];
  return [say.earliest(whenText(clock, unlimitedFinish, forecast.now))];
}

function NothingPlanned({ page: { build } }: { page: BuildPage }): Html {
  return (
    <div class="verdict">
      <h1 class="verdict-answer">
        <span class="verdict-word">{say.nothingPlanned}</span>
        <span class="verdict-room">{say.addSteps}</span>
      </h1>
      <p>
        <a class="day-link" href={screenHref(build.id, 'lines')}>
          {texts.now.toLines}
        </a>
      </p>
    </div>
  );
}

function RoomLine({ room, target }: { room: Room; target: string }): Html {
  if (room.clock === null) return <span class="verdict-room">{say.notReadyWhy}</span>;
  return room.clock < 0 ? (
    <span class="verdict-room threat">{say.lateAfter(lengthText(room.clock, 'up'), target)}</span>
  ) : (
    <span class="verdict-room">{say.roomBefore(roomText(room.clock), target)}</span>
  );
}

function SiteLine({ page }: { page: BuildPage }): Html | null {
  const late = siteLateText(page);
  return late === null ? null : <span class="verdict-room threat">{late}</span>;
}

/** What is said beside the chance: that of the load-in and of the event, and by when at 50, 80 and 95 of a hundred. */
function Chances({ page }: { page: BuildPage }): Html | null {
  const { riskFrom, now, readyBy, room } = page.forecast;
  const risk = riskOf(page);
  if (risk === null) return null;
  const { p50, p80, p95 } = risk.readyAt;
  const byEvent = chanceBy(risk.event, now);
  const also = [
    ...(risk.loadIn === null ? [] : [say.chanceAlso(chanceBy(risk.loadIn, now), texts.target.loadIn)]),
    hasSiteWork(page) ? say.chanceOnSite(byEvent, texts.target.event) : say.chanceAlso(byEvent, texts.target.event),
  ];
  const made = isMade(page.forecast);
  const words = texts.lead;
  return (
    <div class="chances">
      {made ? (
        <p>
          <strong class="stamp">{byEvent}</strong> <strong>{say.chanceAfter(texts.target.event)}</strong>
        </p>
      ) : (
        <p>{also.join(', ')}</p>
      )}
      {made || room.readyBy.finish === null ? null : (
        <dl aria-label={words.dates}>
          <ByChance page={page} share={words.planned} instant={room.readyBy.finish} readyBy={readyBy} />
          <ByChance page={page} share={words.even} instant={p50} readyBy={readyBy} />
          <ByChance page={page} share={words.outOf(80)} instant={p80} readyBy={readyBy} />
          <ByChance page={page} share={words.outOf(95)} instant={p95} readyBy={readyBy} />
        </dl>
      )}
      {riskFrom === undefined ? null : (
        <p class="stale">
          {say.oldChance(
            soonText(page.clock, riskFrom.computedAt, now),
            page.entries - riskFrom.logSeq,
            page.revision - riskFrom.revision,
            page.failedAt !== undefined,
          )}
        </p>
      )}
    </div>
  );
}

interface ByChanceProps {
  page: BuildPage;
  share: string;
  instant: number;
  readyBy: number;
}

/**
 * The instant by which it is ready in that share of the futures. One that is too late says so below it; it is marked
 * only where the plan itself keeps the date, for where all are late the answer has said so.
 */
function ByChance({ page, share, instant, readyBy }: ByChanceProps): Html {
  const isLate = instant > readyBy;
  const isOpen = instant > (page.forecast.risk?.until ?? instant);
  const isNews = isLate && (page.forecast.room.readyBy.clock ?? -1) >= 0;
  return (
    <div>
      <dt>{share}</dt>
      <dd class={isNews ? 'threat' : undefined}>
        {isOpen ? texts.lead.noHours : whenText(page.clock, instant, page.forecast.now)}
      </dd>
      {isNews ? <dd class="quiet small">{texts.lead.isLate}</dd> : null}
    </div>
  );
}

/** How exact the chance is, and how good the schedule. */
function Proof({ page }: { page: BuildPage }): Html | null {
  const { forecast, clock } = page;
  const bound = boundWords(forecast, clock);
  const { risk } = forecast;
  const quiet = [
    risk == null ? null : say.futures(figure(risk.futures), errorText(risk.readyBy, risk.futures)),
    risk == null || risk.beyond === 0 ? null : say.unplaced(figure(risk.beyond), figure(risk.futures)),
    bound === null || bound.isThreat ? null : bound.text,
    bound === null || bound.isThreat ? null : assumedLotsText(forecast),
    bound === null ? null : keptOrderText(forecast),
  ].filter((words) => words !== null);
  if (quiet.length === 0) return null;
  return (
    <details class="proof">
      <summary>{say.howSure}</summary>
      {quiet.map((words) => (
        <p class="quiet" key={words}>
          {words}
        </p>
      ))}
    </details>
  );
}
