/** The answer of the Countdown: ready when, how likely, what threatens it, how much room. */
import type { Room, RoomSince, Threat } from '../../server/model/index.ts';
import { RoomRules } from '../parts/room-rules.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { hasSiteWork, isMade } from '../words/marks.tsx';
import { isOnlyTooLarge, missingTexts } from '../words/missing-words.ts';
import { assumedLotsText, boundWords, keptOrderText } from '../words/schedule-words.ts';
import { threatText } from '../words/threat-words.ts';
import { chanceBy, dayText, errorText, figure, lengthText, roomText, soonText, whenText } from '../words/wording.ts';
import { RoomSinceLine } from './ledger.tsx';

const say = texts.countdown;

export interface VerdictProps {
  page: BuildPage;
  /** What became of the room since yesterday; null where nothing was kept yet. */
  since?: RoomSince | null | undefined;
}

/** The one large answer, in stamped figures, and the three rooms beside it. */
export function Verdict({ page, since }: VerdictProps): Html {
  const { forecast, clock } = page;
  const { readyBy } = forecast.room;
  if (forecast.steps.length === 0 && forecast.parts.length === 0) return <NothingPlanned />;
  const missing = missingTexts(forecast);
  const done = forecast.steps.every((step) => step.left === 0);
  const word = done
    ? say.nothingLeft
    : isMade(forecast) && (readyBy.finish ?? 0) <= forecast.now
      ? say.readySince
      : say.ready;
  return (
    <div class="verdict">
      <h1 class="verdict-answer">
        <span class="verdict-word">{readyBy.finish === null ? say.notReady : word}</span>
        {readyBy.finish === null ? null : (
          <time class="stamp stamp-l" dateTime={clock.read(readyBy.finish).date}>
            <span>{dayText(clock, readyBy.finish, forecast.now)}</span> <span>{clock.read(readyBy.finish).time}</span>
          </time>
        )}
        {missing.length > 0 ? null : <RoomLine room={readyBy} target={texts.target.readyBy} />}
        <SiteLine page={page} />
      </h1>
      {missing.length === 0 ? null : (
        <ul class="threats">
          {[...missing, ...earliestText(page)].map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <RoomSinceLine page={page} since={since} />
      <Chances page={page} />
      <Proof page={page} />
      {forecast.complete || missing.length > 0 ? null : <p class="threat">{say.incomplete}</p>}
      <Threats page={page} />
      <RoomRules page={page} />
    </div>
  );
}

/** What is known of a build that is too large to be planned. */
function earliestText({ forecast, clock }: BuildPage): string[] {
  const { unlimitedFinish } = forecast.room.readyBy;
  if (!isOnlyTooLarge(forecast) || unlimitedFinish === null) return [];
  return [say.earliest(whenText(clock, unlimitedFinish, forecast.now))];
}

function NothingPlanned(): Html {
  return (
    <div class="verdict">
      <h1 class="verdict-answer">
        <span class="verdict-word">{say.nothingPlanned}</span>
        <span class="verdict-room">{say.addSteps}</span>
      </h1>
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

/** What a ready-by that is kept would hide: that the work on site ends after the event. */
function SiteLine({ page }: { page: BuildPage }): Html | null {
  const { readyBy, event } = page.forecast.room;
  if ((readyBy.clock ?? -1) < 0 || event.finish === null || event.clock! >= 0) return null;
  const when = whenText(page.clock, event.finish, page.forecast.now);
  return <span class="verdict-room threat">{say.siteLate(when, lengthText(event.clock!, 'up'))}</span>;
}

/**
 * How likely, as the second large figure, and by when at 50, 80 and 95 of a hundred: what the futures say, with how
 * exact it is.
 */
function Chances({ page }: { page: BuildPage }): Html | null {
  const { complete, risk, riskFrom, now, readyBy } = page.forecast;
  // Of a plan with something left out a chance would promise what is not in it.
  if (!complete || risk === undefined || risk === null) return null;
  const { p50, p80, p95 } = risk.readyAt;
  const byEvent = chanceBy(risk.event, now);
  const also = [
    ...(risk.loadIn === null ? [] : [say.chanceAlso(chanceBy(risk.loadIn, now), texts.target.loadIn)]),
    hasSiteWork(page) ? say.chanceOnSite(byEvent, texts.target.event) : say.chanceAlso(byEvent, texts.target.event),
  ];
  const made = isMade(page.forecast);
  return (
    <div class="chances">
      <p>
        <strong class="stamp">{made ? byEvent : chanceBy(risk.readyBy, now)}</strong>{' '}
        {made ? (
          <strong>{say.chanceAfter(texts.target.event)}</strong>
        ) : (
          <>
            <strong>{say.chance(texts.target.readyBy)}</strong>, {also.join(', ')}
          </>
        )}
      </p>
      {made || page.forecast.room.readyBy.finish === null ? null : (
        <dl>
          <ByChance page={page} share={say.half} instant={p50} readyBy={readyBy} />
          <ByChance page={page} share={say.outOf(80)} instant={p80} readyBy={readyBy} />
          <ByChance page={page} share={say.outOf(95)} instant={p95} readyBy={readyBy} />
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

/** The instant by which it is ready in that share of the futures, marked where that is too late. */
function ByChance({ page, share, instant, readyBy }: ByChanceProps): Html {
  return (
    <div>
      <dt>{share}</dt>
      <dd class={instant > readyBy ? 'threat' : undefined}>
        {whenText(page.clock, instant, page.forecast.now)}
        {instant > readyBy ? ` ${say.afterReadyBy}` : ''}
      </dd>
    </div>
  );
}

const THREATS_SHOWN = 5;
/** What has threatened for less than that, in minutes, is new and needs no date. */
const SINCE_LATELY = 60;
const SAYS_WHEN: ReadonlySet<Threat['code']> = new Set(['silent-step', 'order-late', 'decision']);

/** What is likely to cost the date, worst first; nothing when all is well. */
function Threats({ page }: { page: BuildPage }): Html | null {
  const threats = page.forecast.threats ?? [];
  if (threats.length === 0) return null;
  const more = threats.slice(THREATS_SHOWN);
  return (
    <section class="threats" aria-labelledby="threats-title">
      <h2 id="threats-title">{say.threats}</h2>
      <ThreatList page={page} threats={threats.slice(0, THREATS_SHOWN)} />
      {more.length === 0 ? null : (
        <details>
          <summary>{say.furtherWarnings(more.length)}</summary>
          <ThreatList page={page} threats={more} />
        </details>
      )}
    </section>
  );
}

function ThreatList({ page, threats }: { page: BuildPage; threats: readonly Threat[] }): Html {
  return (
    <ol class="threat-list">
      {threats.map((threat) => (
        <li key={`${threat.code} ${threat.step}`}>
          <span class="threat">{threatText(page.forecast, page.clock, threat)}</span>
          <SinceWhen page={page} threat={threat} />
        </li>
      ))}
    </ol>
  );
}

/** Since when it threatens, where its own sentence does not begin with that. */
function SinceWhen({ page, threat }: { page: BuildPage; threat: Threat }): Html | null {
  const { clock, forecast } = page;
  if (SAYS_WHEN.has(threat.code) || threat.since >= forecast.now - SINCE_LATELY) return null;
  return <span class="quiet"> {say.since(soonText(clock, threat.since, forecast.now))}</span>;
}

/** That it cannot be done stands open; how exact the chance is, and how good the schedule, is folded away. */
function Proof({ page }: { page: BuildPage }): Html | null {
  const { forecast, clock } = page;
  const bound = boundWords(forecast, clock);
  const { risk } = forecast;
  const kept = bound === null ? null : keptOrderText(forecast);
  const lots = bound === null ? null : assumedLotsText(forecast);
  const quiet = [
    risk == null ? null : say.futures(figure(risk.futures), errorText(risk.readyBy, risk.futures)),
    bound === null || bound.isThreat ? null : bound.text,
    bound?.isThreat ? null : lots,
    kept,
  ].filter((words) => words !== null);
  return (
    <>
      {bound?.isThreat ? <p class="threat">{bound.text}</p> : null}
      {bound?.isThreat && lots !== null ? <p class="quiet">{lots}</p> : null}
      {quiet.length === 0 ? null : (
        <details class="proof">
          <summary>{say.howSure}</summary>
          {quiet.map((words) => (
            <p class="quiet" key={words}>
              {words}
            </p>
          ))}
        </details>
      )}
    </>
  );
}
