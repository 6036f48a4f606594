/** The rule where it says nothing new: a thin edge with the same marks, and its words in one line. */
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { siteLateText } from '../words/marks.tsx';
import { missingTexts } from '../words/missing-words.ts';
import { roomText, soonText, whenText } from '../words/wording.ts';
import { Freshness, ruleScale, ruleWords } from './rule.tsx';

const DAYS_MARKED = 75;

export function SlimRule({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const scale = ruleScale(page);
  const at = (instant: number) => `${scale(instant).toFixed(2)}%`;
  const [first, last] = scale.domain() as [number, number];
  const days = clock.days(first, last);
  const { finish, clock: room } = forecast.room.readyBy;
  const isLate = (room ?? 0) < 0;
  const missing = finish === null ? missingTexts(forecast)[0] : undefined;
  return (
    <section class="rule slim" aria-label={texts.rule.label}>
      <Freshness page={page} />
      <p class="heard">{ruleWords(page)}</p>
      <svg width="100%" height="1.6rem" aria-hidden="true" focusable="false">
        <line class="rule-edge" x1="0" x2="100%" y1="0.8rem" y2="0.8rem" />
        <g class="rule-marks">
          {days.length > DAYS_MARKED
            ? null
            : days.map(({ date, start }) => (
                <line
                  key={date}
                  x1={at(Math.max(start, first))}
                  x2={at(Math.max(start, first))}
                  y1="0.8rem"
                  y2="1.2rem"
                />
              ))}
        </g>
        {finish === null ? null : (
          <line
            class={isLate ? 'slim-room late' : 'slim-room'}
            x1={at(Math.min(finish, forecast.readyBy))}
            x2={at(Math.max(finish, forecast.readyBy))}
            y1="0.8rem"
            y2="0.8rem"
          />
        )}
        <line class="slim-target" x1={at(forecast.readyBy)} x2={at(forecast.readyBy)} y1="0" y2="0.8rem" />
        <line class="slim-event" x1={at(forecast.event)} x2={at(forecast.event)} y1="0" y2="0.8rem" />
        {finish === null ? null : (
          <line
            class={isLate ? 'slim-ready late' : 'slim-ready'}
            x1={at(finish)}
            x2={at(finish)}
            y1="0.8rem"
            y2="1.6rem"
          />
        )}
      </svg>
      <p class="small" aria-hidden="true">
        {finish === null ? (
          <span class="threat">{missing ?? texts.rule.notKnown}</span>
        ) : (
          <>
            <strong class={isLate ? 'threat' : undefined}>
              {texts.rule.ready(soonText(clock, finish, forecast.now))}
            </strong>
            , {texts.rule.room(roomText(room))}
            <SiteLate page={page} />
          </>
        )}
        {missing?.endsWith('.') ? ' ' : ', '}
        {texts.rule.target(texts.target.readyBy, whenText(clock, forecast.readyBy, forecast.now))},{' '}
        {texts.rule.target(texts.target.event, whenText(clock, forecast.event, forecast.now))}
      </p>
    </section>
  );
}

function SiteLate({ page }: { page: BuildPage }): Html | null {
  const late = siteLateText(page);
  if (late === null) return null;
  return (
    <>
      , <span class="threat">{late}</span>
    </>
  );
}
