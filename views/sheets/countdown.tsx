/** Countdown: will it be ready, when, with how much room, what is tight, what is left, what is due, what is wrong. */
import { messageOf, type Problem } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { Capacity, Left } from '../parts/capacity.tsx';
import { TiredHands } from '../parts/cautions.tsx';
import { Due } from '../parts/due.tsx';
import { LeversFold } from '../parts/levers-fold.tsx';
import { MissingThisWeek } from '../parts/missing-this-week.tsx';
import { Tight } from '../parts/tight.tsx';
import { Ways } from '../parts/ways.tsx';
import { Why } from '../parts/why.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { workHoursFooters } from '../words/hours-words.ts';
import { lookAtTexts } from '../words/look-at-words.ts';
import { BalanceWords } from './balance.tsx';
import { Burn } from './burn-down.tsx';
import { TroubleLinks } from './troubles.tsx';
import { Verdict, type VerdictProps } from './verdict.tsx';

const say = texts.countdown;
const PROBLEMS_SHOWN = 30;
const WARNINGS_SHOWN = 2;

export function CountdownPage({ page, since, levers = null }: VerdictProps): Html {
  return (
    <BuildLayout page={page} screen="countdown">
      <CountdownSheet page={page} since={since} levers={levers} />
    </BuildLayout>
  );
}

/** The fragment that a tap on the phone changes. */
export function CountdownSheet({ page, since, levers = null }: VerdictProps): Html {
  const isLate = (page.forecast.room.readyBy.clock ?? 0) < 0;
  return (
    <Sheet page={page} screen="countdown" refresh={screenHref(page.build.id, 'countdown')}>
      <Verdict page={page} since={since} levers={levers} />
      <Ways page={page} />
      <TroubleLinks build={page.build.id} />
      <Errors page={page} />
      <div class="columns">
        <section aria-labelledby="due-title">
          <h2 id="due-title">{say.due}</h2>
          <MissingThisWeek page={page} />
          <Due page={page} />
        </section>
        <section class="tight" aria-labelledby="tight-title">
          <h2 id="tight-title">{say.tight}</h2>
          <Tight page={page} />
        </section>
      </div>
      <Warnings page={page} />
      {isLate ? null : <LeversFold page={page} levers={levers} />}
      <Why page={page} />
      <Burn page={page} />
      <div class="columns">
        <section aria-labelledby="enough-title">
          <h2 id="enough-title">{say.enough}</h2>
          <Capacity page={page} />
        </section>
        <section aria-labelledby="left-title">
          <h2 id="left-title">{say.whatIsLeft}</h2>
          <Left page={page} />
        </section>
      </div>
      <BalanceWords page={page} />
    </Sheet>
  );
}

/** What has to be put right, each as its sentence. */
function Errors({ page }: { page: BuildPage }): Html | null {
  const errors = page.forecast.problems.filter((it) => it.severity === 'error');
  if (errors.length === 0) return null;
  return (
    <section class="problems" aria-labelledby="problems-title">
      <h2 id="problems-title">{say.problems}</h2>
      <ProblemList problems={errors} />
    </section>
  );
}

/** What to look at, each as its sentence. */
function Warnings({ page }: { page: BuildPage }): Html | null {
  const { forecast, clock } = page;
  const sentences = lookAtTexts(forecast, clock);
  if (sentences.length === 0) return null;
  return (
    <section class="problems" aria-labelledby="warnings-title">
      <h2 id="warnings-title">{say.warnings}</h2>
      <Sentences sentences={sentences} />
      <TiredHands warnings={forecast.workHours} />
      {workHoursFooters(forecast).map((footer) => (
        <p class="quiet" key={footer}>
          {footer}
        </p>
      ))}
    </section>
  );
}

function ProblemList({ problems }: { problems: readonly Problem[] }): Html {
  return (
    <ul>
      {problems.slice(0, PROBLEMS_SHOWN).map((it) => (
        <li key={`${it.field}-${it.code}-${it.value}`}>
          <span class="threat">{messageOf(it)}</span>
        </li>
      ))}
    </ul>
  );
}

/** The first few, the rest folded away. */
function Sentences({ sentences }: { sentences: readonly string[] }): Html {
  const list = (shown: readonly string[]) => (
    <ul>
      {shown.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
  const rest = sentences.slice(WARNINGS_SHOWN);
  return (
    <>
      {list(sentences.slice(0, WARNINGS_SHOWN))}
      {rest.length === 0 ? null : (
        <details>
          <summary>{say.furtherWarnings(rest.length)}</summary>
          {list(rest)}
        </details>
      )}
    </>
  );
}
