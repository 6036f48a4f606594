/**
 * Count: the phone's page. The steps that can be worked on now come first; one ticket is open, its first button is
 * huge.
 */
import type { Hazard, Problem } from '../../server/model/index.ts';
import { type Language, language } from '../../server/model/texts/language.ts';
import type { CountState, CountStep } from '../client/outbox/count-wire.ts';
import { packed, packedPieces } from '../client/tickets/packed.ts';
import { BookHead, Document, HelperHead, Sheet, TitleBlock } from '../frame/layout.tsx';
import { Rule } from '../frame/rule.tsx';
import { helpersHref } from '../links.ts';
import { CautionFooter } from '../parts/cautions.tsx';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import { TodayLink } from '../parts/today-link.tsx';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { TroubleLinks } from '../sheets/troubles.tsx';
import { phoneTexts } from '../texts/count/phone.ts';
import { countTexts as say } from '../texts/count/sheet.ts';
import type { BuildPage } from '../types.ts';
import { Ticket } from './count-ticket.tsx';
import { LostChoices } from './lost-choices.tsx';
import { PlainCount } from './plain-count.tsx';

/** One for each language, so that a phone fetches the words of its own. */
const SCRIPTS: Readonly<Record<Language, string>> = { en: 'count.js', de: 'count-german.js' };

/** Tickets that the page holds with all that is in them; in a longer list the phone draws what is in the others. */
const MOST_WHOLE = 60;

interface CountProps {
  page: BuildPage;
  state: CountState;
  /** The state as `packed` writes it, where that was done already. */
  data?: string;
  /** A helper sees this page and What goes wrong. */
  helper: boolean;
  /** Why what was sent by the plain form was not counted. */
  problems?: readonly Problem[];
}

/** The whole page. Its script is a module; the state it starts from is on the list of tickets. */
export function CountPage({ page, state, data = packed(state), helper, problems = [] }: CountProps): Html {
  const hazards = new Map(page.forecast.steps.map((step) => [step.id, step.hazards]));
  return (
    <Document
      title={`${say.title} · ${page.build.name}`}
      light={page.light}
      bare
      styles={['count.css']}
      modules={[SCRIPTS[language()]]}
      manifest={`/b/${page.build.id}/count.webmanifest`}
    >
      {helper ? (
        <HelperHead name={page.build.name} who={state.who} />
      ) : (
        <BookHead build={page.build.id} name={page.build.name} screen="count" light={page.light} />
      )}
      <Sheet page={page} screen="count" refresh={null}>
        <h1 class="heard">{say.title}</h1>
        <noscript>
          <p class="threat">{say.noScript}</p>
        </noscript>
        <SheetProblems problems={problems} />
        {page.closed === undefined ? (
          <InTurns>
            <PlainCount state={state} />
          </InTurns>
        ) : null}
        <Keeping state={state} today={helper ? null : <TodayLink page={page} />} />
        <InTurns>
          <Tickets state={state} data={data} hazards={hazards} />
        </InTurns>
        <CautionFooter hazards={[...hazards.values()].flat()} />
        <LastTap />
        <Doubts />
        <LostTime state={state} />
        <TroubleLinks build={page.build.id} helper={helper} />
        <Tools build={helper ? null : page.build.id} />
        <Mine />
      </Sheet>
    </Document>
  );
}

/** The state as `packed` writes it, in pieces, so that others may have their turn between. */
export function statePieces(state: CountState): Generator<string> {
  return packedPieces(state);
}

/** What is around the tickets and is drawn again when the plan moves: the rule and the title block. */
export function CountFrame({ page }: { page: BuildPage }): Html {
  return (
    <>
      <Rule page={page} />
      <TitleBlock page={page} screen="count" />
    </>
  );
}

interface TicketsProps {
  readonly state: CountState;
  readonly data: string;
  readonly hazards: ReadonlyMap<string, readonly Hazard[]>;
}

/** The tickets alone, for a page whose plan has changed under it. */
function Tickets({ state, data, hazards }: TicketsProps): Html {
  const groups = grouped(state.steps);
  const first = groups.now[0] ?? groups.later[0];
  const whole = new Set([...groups.now, ...groups.later, ...groups.done].slice(0, MOST_WHOLE));
  const list = (title: string, steps: readonly CountStep[]): Html | null =>
    steps.length === 0 ? null : (
      <section class="tickets">
        <h2>{title}</h2>
        <ListInTurns>
          {steps.map((step) => (
            <Ticket
              key={step.id}
              step={step}
              setName={state.setName}
              open={step === first}
              later={!whole.has(step)}
              hazards={hazards.get(step.id) ?? []}
            />
          ))}
        </ListInTurns>
      </section>
    );
  return (
    <div id="tickets" data-state={data}>
      {state.steps.length === 0 ? <p>{say.nothing}</p> : null}
      {list(say.now, groups.now)}
      {list(say.later, groups.later)}
      {list(say.done, groups.done)}
    </div>
  );
}

function grouped(steps: readonly CountStep[]): Record<'now' | 'later' | 'done', CountStep[]> {
  const groups = { now: [] as CountStep[], later: [] as CountStep[], done: [] as CountStep[] };
  const underWay: CountStep[] = [];
  for (const step of steps) {
    const left = step.sets.some((set) => set.left > 0);
    const workable = step.readyNow === null ? step.waitsFor === null : step.readyNow > 0;
    if (!left) groups.done.push(step);
    else if (workable && step.kind !== 'order') groups.now.push(step);
    else if (workable || step.underWay.length > 0) underWay.push(step);
    else groups.later.push(step);
  }
  // What hands can do comes first; what only has to arrive or to run out follows.
  return { ...groups, now: [...groups.now, ...underWay] };
}

/** Where the counts are, whose they are, and the way to what is to be done today. */
function Keeping({ state, today }: { state: CountState; today: Html | null }): Html {
  return (
    <section class="keeping" aria-label={say.keptLabel}>
      <p id="kept" role="status">
        {say.keptFirst}
      </p>
      <p id="place" class="quiet small" />
      <div class="who">
        {state.people.length === 0 ? null : (
          <label>
            {say.iAm}{' '}
            <select id="me">
              <option value="">{say.nobody}</option>
              {state.people.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </label>
        )}
        {today}
      </div>
    </section>
  );
}

/** An evening that somebody lost, or a machine that is out of order. */
function LostTime({ state }: { state: CountState }): Html {
  return (
    <section class="lost">
      <details class="more">
        <summary>{say.lost}</summary>
        <form class="back" data-typed="lost" novalidate>
          <p class="typed when">
            <label for="lost-of">{say.lostOf}</label>
            <select id="lost-of" name="of">
              <LostChoices state={state} />
            </select>
          </p>
          <p class="typed when">
            <label for="lost-from">{say.lostFrom}</label>
            <input id="lost-from" name="from" type="datetime-local" />
          </p>
          <p class="typed when">
            <label for="lost-until">{say.lostUntil}</label>
            <input id="lost-until" name="until" type="datetime-local" />
          </p>
          <button type="submit">{say.lostIt}</button>
        </form>
      </details>
    </section>
  );
}

/** What was refused and what is asked, until it is answered; under the tickets, so that none moves when one comes. */
function Doubts(): Html {
  return (
    <section class="doubts" aria-label={say.doubtsLabel}>
      <ul id="doubts" />
    </section>
  );
}

/** What the last tap was, and the way back from it, where the thumb is. */
function LastTap(): Html {
  return (
    <section class="last" aria-label={say.last}>
      <p id="last" aria-live="polite" />
      <a id="to-doubts" href="#doubts" class="threat" hidden>
        {say.doubtsLabel}
      </a>
      <button type="button" id="undo-last" hidden>
        {phoneTexts.undo}
      </button>
    </section>
  );
}

/** What helps with full hands; and, for the maker, the way to let a helper in. */
function Tools({ build }: { build: string | null }): Html {
  const tool = (id: string, label: string, checked = false): Html => (
    <label class="tool">
      <input type="checkbox" id={id} checked={checked} /> {label}
    </label>
  );
  return (
    <section class="tools">
      <h2>{say.tools}</h2>
      {tool('pedal', say.pedal)}
      {tool('sound', say.sound)}
      {tool('awake', say.awake)}
      <p id="tool-said" class="quiet small" role="status" />
      {build === null ? null : (
        <a class="tool" href={helpersHref(build)}>
          {say.letIn}
        </a>
      )}
    </section>
  );
}

function Mine(): Html {
  return (
    <section class="mine">
      <h2>{say.mine}</h2>
      <ol id="mine" />
      <button type="button" id="older" hidden>
        {say.older}
      </button>
    </section>
  );
}
