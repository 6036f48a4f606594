/** Below the tickets: feeds the maker has set, gates, decisions. */

import type { ComponentChildren } from 'preact';
import type { Decision, Feed, ForecastStep, Gate } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { ChangeLink, EditForm } from '../forms/form.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, EditList, OpenForm } from '../types.ts';
import { isOpenDecision, stepName } from '../words/marks.tsx';
import { lengthText, percent } from '../words/wording.ts';
import { decideText } from './due.tsx';

const say = texts.steps;

interface ListProps {
  page: BuildPage;
  open: OpenForm | null;
  href: string;
}

export function FeedList({ page, open, href }: ListProps): Html {
  const feeds = page.build.feeds ?? [];
  return (
    <ThingList
      page={page}
      open={open}
      href={href}
      list="feeds"
      title={say.feedsHeading}
      none={say.noFeeds}
      things={feeds.map((feed, i) => [String(i), feedName(page, feed), <FeedLine key="line" feed={feed} />])}
    />
  );
}

function feedName(page: BuildPage, feed: Feed): string {
  return `${stepName(page.forecast, feed.from)} → ${stepName(page.forecast, feed.to)}`;
}

function FeedLine({ feed }: { feed: Feed }): Html {
  const { link, lagIn } = texts.edit.choice;
  const parts = [
    link[feed.type ?? 'units'],
    feed.ratio === undefined ? null : say.ratio(String(feed.ratio)),
    feed.headStart === undefined ? null : `${texts.edit.field.headStart} ${feed.headStart}`,
    feed.lag === undefined ? null : `${say.lag(lagText(feed.lag))}, ${lagIn[feed.lagIn ?? 'clock']}`,
    feed.note ?? null,
  ];
  return <>{parts.filter((it) => it !== null).join(', ')}</>;
}

function lagText(lag: number | string): string {
  return typeof lag === 'string' ? lag : `${lag < 0 ? '−' : ''}${lengthText(lag)}`;
}

export function GateList({ page, open, href }: ListProps): Html {
  const gates = page.build.gates ?? [];
  return (
    <ThingList
      page={page}
      open={open}
      href={href}
      list="gates"
      title={say.gates}
      none={say.noGates}
      things={gates.map((gate) => [gate.id, gate.name, <GateLine key="line" page={page} gate={gate} />])}
    />
  );
}

function GateLine({ page, gate }: { page: BuildPage; gate: Gate }): Html {
  const step = byId(page.forecast.steps, gate.id);
  const names = (ids: readonly string[] | undefined) => (ids ?? []).map((id) => stepName(page.forecast, id)).join(', ');
  const parts = [
    say.gateLine(names(gate.after), names(gate.before)),
    typeof gate.minutes === 'number' ? lengthText(gate.minutes) : gate.minutes,
    gate.perSet === true ? say.perSet(page.forecast.setName) : null,
    failsText(gate, step),
    gate.proveFirst === true ? say.proveFirst : null,
    gate.signedBy === undefined ? null : say.signedBy(gate.signedBy),
    step?.onSite === true ? say.onSite : null,
  ];
  return <>{parts.filter((it) => it !== null).join('; ')}</>;
}

/** How often it fails: as given, or with the tries so far. */
function failsText({ failChance }: Gate, step: ForecastStep | undefined): string | null {
  const known = step?.gate;
  if (known === undefined || known.tries === 0) return failChance === undefined ? null : say.fails(percent(failChance));
  return say.failsBy(percent(known.failChance), known.failures, known.tries);
}

export function DecisionList({ page, open, href }: ListProps): Html {
  const decisions = page.build.decisions ?? [];
  return (
    <ThingList
      page={page}
      open={open}
      href={href}
      list="decisions"
      title={say.decisions}
      none={say.noDecisions}
      things={decisions.map((it) => [it.id, it.question, <DecisionLine key="line" page={page} decision={it} />])}
    />
  );
}

function DecisionLine({ page, decision }: { page: BuildPage; decision: Decision }): Html {
  const known = page.forecast.decisions.find((it) => it.id === decision.id);
  if (decision.decided !== undefined) return <>{say.decided(decision.decided)}</>;
  if (known !== undefined && !isOpenDecision(page.forecast, known)) return <>{say.notDecided}</>;
  const by = known?.decideBy ?? null;
  const waits = texts.countdown.waiting(decision.waits.map((id) => stepName(page.forecast, id)).join(', '));
  return (
    <>
      {by === null ? say.open : decideText(page, { question: '', decideBy: by })}; {waits}
    </>
  );
}

interface ThingListProps extends ListProps {
  list: EditList;
  title: string;
  note?: string;
  none: string;
  /** Key, name and line of each. */
  things: readonly (readonly [string, string, ComponentChildren])[];
}

/** A ruled list of things with a line each, where any can be opened as a form. */
export function ThingList({ page, open, href, list, title, note, none, things }: ThingListProps): Html {
  return (
    <section class="things" aria-labelledby={`${list}-title`}>
      <div class="heading">
        <h2 id={`${list}-title`}>{title}</h2>
        <ChangeLink href={href} list={list} id={null} of="" />
      </div>
      {note === undefined ? null : <p class="quiet">{note}</p>}
      {open?.list === list && open.key === null ? <EditForm build={page.build} form={open} href={href} /> : null}
      {things.length === 0 ? <p class="quiet">{none}</p> : null}
      <ul>
        {things.map(([key, name, line]) => (
          <li key={key} id={`${list}-${key}`}>
            {open?.list === list && open.key === key ? (
              <EditForm build={page.build} form={open} href={href} />
            ) : (
              <div class="thing">
                <strong>{name}</strong>
                <span>{line}</span>
                <ChangeLink href={href} list={list} id={key} of={name} />
              </div>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
