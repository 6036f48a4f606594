/**
 * What leads the Countdown: the one thing that matters first, root before symptom, the rest folded and shorter. Where
 * the plan is late the way back comes before what makes it late.
 */
import type { Threat } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import type { ShownLevers } from '../sheets/levers.tsx';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
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
}

export function Lead({ page, levers = null }: LeadProps): Html {
  const isLate = (page.forecast.room.readyBy.clock ?? 0) < 0;
  const said = threatsOf(page);
  const [first, ...rest] = said;
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
          {rest.length === 0 ? null : (
            <details>
              <summary>{say.more(rest.length)}</summary>
              <ol class="threat-list">
                {rest.map(({ key, text }) => (
                  <li key={key}>{firstSentence(text)}</li>
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

/** Up to the first full stop that ends a sentence. */
function firstSentence(text: string): string {
  return /^.*?[.?!](?=\s|$)/s.exec(text)?.[0] ?? text;
}

/** What was found to buy time, or the way to have it looked for. */
function WayBack({ page, levers }: Required<LeadProps>): Html {
  const found = levers === null || levers === undefined || levers.isStale ? [] : (levers.search?.rows ?? []);
  const gaining = found.filter(({ verdict }) => verdict === 'gains').slice(0, WAYS_SHOWN);
  const href = screenHref(page.build.id, 'levers');
  return (
    <section aria-labelledby="back-title">
      <h2 id="back-title">{say.wayBack}</h2>
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
          {gaining.length === 0 ? say.lookForWays : say.allWays}
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
      <p>{say.nothing}</p>
      {next === undefined ? null : <p>{say.next(next.text)}</p>}
    </div>
  );
}
