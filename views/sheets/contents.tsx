/** Contents: every sheet of the build, its dates and names, the light, its files. One tap from anywhere. */
import { ChangeLink, EditForm } from '../forms/form.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { LANGUAGE_NAMES, LANGUAGES, language } from '../language.ts';
import { helpersHref, type Screen, screenHref } from '../links.ts';
import { TodayLink } from '../parts/today-link.tsx';
import { balanceHref, burnHref, waitsHref } from '../pictures/picture-links.ts';
import type { Html } from '../render.ts';
import { accessTexts } from '../texts/access.ts';
import { texts } from '../texts/index.ts';
import { keyTexts } from '../texts/programs/keys.ts';
import type { BuildPage, OpenForm } from '../types.ts';
import { whenText } from '../words/wording.ts';
import { keysHref } from './keys.tsx';
import { ledgerHref } from './ledger.tsx';

const say = texts.contents;
const SCREENS: readonly Screen[] = [
  'countdown',
  'now',
  'count',
  'steps',
  'dates',
  'orders',
  'money',
  'paper',
  'tables',
  'show',
  'after',
  'design',
  'lines',
  'hands',
  'options',
  'levers',
  'ways',
  'history',
];

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
      <ol class="contents">
        {SCREENS.map((screen) => (
          <li key={screen}>
            <a href={screenHref(id, screen)}>{texts.screens[screen]}</a>
            <span class="quiet">{say.sheetNotes[screen]}</span>
          </li>
        ))}
        <li>
          <a href={burnHref(id)}>{texts.pictures.burn}</a>
          <span class="quiet">{texts.pictures.burnNote}</span>
        </li>
        <li>
          <a href={balanceHref(id)}>{texts.pictures.balance}</a>
          <span class="quiet">{texts.pictures.contentsNote}</span>
        </li>
        <li>
          <a href={waitsHref(id)}>{texts.waits.heading}</a>
          <span class="quiet">{texts.waits.contentsNote}</span>
        </li>
        <li>
          <a href={ledgerHref(id)}>{texts.ledger.heading}</a>
          <span class="quiet">{say.ledgerNote}</span>
        </li>
        <li>
          <a href={helpersHref(id)}>{accessTexts.helpersTitle}</a>
          <span class="quiet">{say.helpersNote}</span>
        </li>
        <li>
          <a href={keysHref(id)}>{keyTexts.heading}</a>
          <span class="quiet">{keyTexts.contents}</span>
        </li>
        <li>
          <a href="/">{say.others}</a>
          <span />
        </li>
      </ol>
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
