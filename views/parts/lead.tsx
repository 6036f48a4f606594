/**
 * What leads the Countdown: the one thing that matters first, root before symptom, the rest folded. Where
 * the plan is late the way back comes before what makes it late.
 */
import type { Threat } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, ShownLevers } from '../types.ts';
import { leverText, worthText } from '../words/lever-words.ts';
import { assumedLotsText, boundWords } from '../words/schedule-words.ts';
import { threatText } from '../words/threat-words.ts';
import { soonText } from '../words/wording.ts';
import { dueRows } from './due.tsx';

const say = texts.lead;
const WAYS_SHOWN = 3;
/** What has threatened for less than that, in minutes, is new and needs no date. */
const SINCE_LATELY = 60;
const SAYS_WHEN: ReadonlySet<Threat['code']> = new Set(['silent-step', 'order-late', 'decision']);

interface LeadProps {
  page: BuildPage;
  /** What would buy time, where it was looked for. */
  levers?: ShownLevers | null | undefined;
  /** Whether something is missing from the plan: then nobody knows the way back, nor that nothing threatens. */
  isMissing?: boolean;
}

export function Lead({ page, levers = null, isMissing = false }: LeadProps): Html | null {
  const { now, event, room } = page.forecast;
  // Nothing brings back a date that has gone by.
  const isOver = now >= event && (room.readyBy.clock ?? 0) < 0;
  const isLate = !isMissing && !isOver && (room.readyBy.clock ?? 0) < 0;
  const [first, ...rest] = threatsOf(page);
  if (first === undefined && (isMissing || isOver)) return null;
  if (first === undefined && !isLate) return <NothingThreatens page={page} />;
  return (
    <div class="lead">
      {isLate ? <WayBack page={page} levers={levers} /> : null}
      {first === undefined ? null : (
        <section aria-labelledby="threats-title">
          <h2 id="threats-title">{isLate ? say.cause : say.first}</h2>
          <p class="lead-first">
            <span class="threat">{first.text}</span>
            {first.since === null ? null : <span class="quiet"> {texts.countdown.since(first.since)}</span>}
          </p>
          {first.note === null ? null : <p class="quiet">{first.note}</p>}
          {isChanceToCome(page) ? <p class="quiet">{say.moreToCome}</p> : null}
          {rest.length === 0 ? null : (
            <details>
              <summary>{say.more(rest.length)}</summary>
              <ol class="threat-list">
                {rest.map(({ key, text }) => (
                  <li key={key}>{text}</li>
                ))}
              </ol>
            </details>
          )}
        </section>
      )}
    </div>
  );
}

interface Said {
  readonly key: string;
  readonly text: string;
  readonly since: string | null;
  readonly note: string | null;
}

/** After a count or an edit the dates come first; what only the chance shows, such as a slow step, comes with it. */
function isChanceToCome({ forecast, failedAt }: BuildPage): boolean {
  const { complete, risk, riskFrom } = forecast;
  return complete && (risk === undefined || riskFrom !== undefined) && failedAt === undefined;
}

/** That it cannot be done by these hands is the root of all; the engine puts the others root before symptom. */
function threatsOf({ forecast, clock }: BuildPage): Said[] {
  const bound = boundWords(forecast, clock);
  const proved = bound?.isThreat
    ? [{ key: 'bound', text: bound.text, since: null, note: assumedLotsText(forecast) }]
    : [];
  const threats = (forecast.threats ?? []).map((threat): Said => {
    const isNew = SAYS_WHEN.has(threat.code) || threat.since >= forecast.now - SINCE_LATELY;
    return {
      key: `${threat.code} ${threat.step}`,
      text: threatText(forecast, clock, threat),
      since: isNew ? null : soonText(clock, threat.since, forecast.now),
      note: null,
    };
  });
  return [...proved, ...threats];
}

/** What was found to buy time, or the way to have it looked for. It is the way back only where it keeps the date. */
function WayBack({ page, levers }: Pick<LeadProps, 'page' | 'levers'>): Html {
  const search = levers == null || levers.isStale ? null : levers.search;
  const gaining = (search?.rows ?? []).filter(({ verdict }) => verdict === 'gains').slice(0, WAYS_SHOWN);
  const isInVain = search?.isDone === true && gaining.length === 0;
  const href = screenHref(page.build.id, 'levers');
  return (
    <section aria-labelledby="back-title">
      <h2 id="back-title">{search?.takes?.keeps === true ? say.wayBack : say.helps}</h2>
      {isInVain ? <p class="threat">{texts.levers.takesNothing}</p> : null}
      {gaining.length === 0 ? null : (
        <>
          <p class="quiet">{say.wayBackNote}</p>
          <ol class="ways-back">
            {gaining.map((row) => (
              <li key={leverText(row.lever)}>
                <strong>{worthText(row)}</strong> {leverText(row.lever)}
              </li>
            ))}
          </ol>
        </>
      )}
      <p>
        <a class="day-link" href={href}>
          {gaining.length === 0 && !isInVain ? say.lookForWays : say.allWays}
        </a>{' '}
        <a class="day-link" href={screenHref(page.build.id, 'options')}>
          {say.fewerOrLater}
        </a>
      </p>
    </section>
  );
}

function NothingThreatens({ page }: { page: BuildPage }): Html {
  const next = dueRows(page)[0];
  return (
    <div class="lead">
      <p>{isChanceToCome(page) ? say.nothingYet : say.nothing}</p>
      {next === undefined ? null : <p>{say.next(next.text)}</p>}
    </div>
  );
}
