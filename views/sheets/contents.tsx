/**
 * Contents: every sheet of the build with what it answers now, its dates and names, the light, its files. One tap from
 * anywhere.
 */

import { LANGUAGE_NAMES, LANGUAGES, language } from '../../server/model/texts/language.ts';
import { ChangeLink, EditForm } from '../forms/form.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { helpersHref, ledgerHref, type Screen, screenHref } from '../links.ts';
import { TodayLink } from '../parts/today-link.tsx';
import { balanceHref, burnHref, waitsHref } from '../pictures/picture-links.ts';
import type { Html } from '../render.ts';
import { accessTexts } from '../texts/access.ts';
import { texts } from '../texts/index.ts';
import { keyTexts } from '../texts/programs/keys.ts';
import type { BuildPage, OpenForm } from '../types.ts';

import { whenText } from '../words/wording.ts';
import { answerOf } from './contents-answers.ts';
import { keysHref } from './keys.tsx';

const say = texts.contents;

interface Entry {
  readonly href: string;
  readonly name: string;
  /** What the sheet answers now, or what is on it. */
  readonly note: string;
  readonly isAnswer?: boolean;
}

const GROUPS = ['look', 'plan', 'change', 'show', 'access'] as const;
type Group = (typeof GROUPS)[number];

interface ContentsProps {
  page: BuildPage;
  open: OpenForm | null;
}

export function ContentsPage(props: ContentsProps): Html {
  return (
    <BuildLayout page={props.page} screen="contents">
      <ContentsSheet {...props} />
    </BuildLayout>
  );
}

export function ContentsSheet({ page, open }: ContentsProps): Html {
  const { id, note } = page.build;
  const href = screenHref(id, 'contents');
  return (
    <Sheet page={page} screen="contents" refresh={open === null ? href : null}>
      <h1>{say.heading}</h1>
      <TodayLink page={page} />
      <div class="contents">
        {GROUPS.map((group) => (
          <section key={group} aria-labelledby={`group-${group}`}>
            <h2 id={`group-${group}`}>{texts.answers.group[group]}</h2>
            <ul>
              {entriesOf(page)[group].map(({ href: to, name, note: said, isAnswer }) => (
                <li key={to}>
                  <a href={to}>{name}</a>
                  <span class={isAnswer ? 'says' : 'quiet'}>{said}</span>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
      <section aria-labelledby="build-title">
        <div class="heading">
          <h2 id="build-title">{say.build}</h2>
          {open?.list === 'build' ? null : <ChangeLink href={href} list="build" id={null} of={page.build.name} />}
        </div>
        {open?.list === 'build' ? (
          <EditForm build={page.build} form={open} href={href} />
        ) : (
          <>
            <BuildDates page={page} />
            {note === undefined ? null : <p>{note}</p>}
          </>
        )}
      </section>
      <section aria-labelledby="light-title">
        <h2 id="light-title">{say.light}</h2>
        <LightForm back={href} />
        <LanguageForm back={href} />
      </section>
      <section aria-labelledby="files-title">
        <h2 id="files-title">{say.files}</h2>
        <ul class="plain">
          <li>
            <a href={`/b/${id}/file.json`} download={`${id}.json`}>
              {say.exportFile}
            </a>
          </li>
          <li>
            <a href={`/b/${id}/forecast.json`} download={`${id}-forecast.json`}>
              {say.forecastFile}
            </a>
          </li>
          <li>
            <a href={`${screenHref(id, 'history')}#over`}>{say.readOver}</a>
          </li>
        </ul>
        <details>
          <summary>{say.remove}</summary>
          <form class="buttons" method="post" action={`/b/${id}/remove`}>
            <input type="hidden" name="edit" value={page.revision} />
            <p>{say.removeNote}</p>
            <button type="submit">{say.removeButton(page.build.name)}</button>
          </form>
        </details>
      </section>
    </Sheet>
  );
}

/** Every sheet in its group, those that are looked at first in front. */
function entriesOf(page: BuildPage): Readonly<Record<Group, readonly Entry[]>> {
  const { id } = page.build;
  const screens = (...names: readonly Screen[]): Entry[] => names.map((screen) => screenEntry(page, screen));
  const entry = (href: string, name: string, note: string): Entry => ({ href, name, note });
  return {
    look: [
      ...screens('countdown', 'now', 'count'),
      entry(burnHref(id), texts.pictures.burn, texts.pictures.burnNote),
      entry(balanceHref(id), texts.pictures.balance, texts.pictures.contentsNote),
      entry(waitsHref(id), texts.waits.heading, texts.waits.contentsNote),
      entry(ledgerHref(id), texts.ledger.heading, say.ledgerNote),
    ],
    plan: screens('steps', 'dates', 'orders', 'money', 'options', 'levers', 'ways'),
    change: screens('lines', 'design', 'hands', 'history'),
    show: screens('paper', 'tables', 'show', 'after'),
    access: [
      entry(helpersHref(id), accessTexts.helpersTitle, say.helpersNote),
      entry(keysHref(id), keyTexts.heading, keyTexts.contents),
      entry('/', say.others, ''),
    ],
  };
}

function screenEntry(page: BuildPage, screen: Screen): Entry {
  const answer = answerOf(page, screen);
  const there = { href: screenHref(page.build.id, screen), name: texts.screens[screen] };
  return answer === null ? { ...there, note: say.sheetNotes[screen] } : { ...there, note: answer, isAnswer: true };
}

function BuildDates({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const { start, readyBy, loadIn, event, now } = forecast;
  const rows: [string, number | null][] = [
    [texts.target.start, start],
    [texts.target.readyBy, readyBy],
    [texts.target.loadIn, loadIn],
    [texts.target.event, event],
  ];
  return (
    <dl class="figures">
      {rows.map(([name, at]) =>
        at === null ? null : (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{whenText(clock, at, now)}</dd>
          </div>
        ),
      )}
    </dl>
  );
}

/** The same sheet as chalk on slate, or on paper; kept in a cookie of this device. */
export function LightForm({ back }: { back: string }): Html {
  return (
    <form method="post" action="/light" class="buttons">
      <input type="hidden" name="back" value={back} />
      <button type="submit" name="light" value="night">
        {texts.sheetLight.night}
      </button>
      <button type="submit" name="light" value="day">
        {texts.sheetLight.day}
      </button>
    </form>
  );
}

/** The same sheets in another language than the browser asks for; kept in a cookie of this device. */
export function LanguageForm({ back }: { back: string }): Html {
  return (
    <form method="post" action="/language" class="buttons">
      <input type="hidden" name="back" value={back} />
      {LANGUAGES.map((one) => (
        <button key={one} type="submit" name="language" value={one} lang={one} aria-pressed={one === language()}>
          {LANGUAGE_NAMES[one]}
        </button>
      ))}
    </form>
  );
}
