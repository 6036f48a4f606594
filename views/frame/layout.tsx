/** The frame of every page: head, the way from sheet to sheet, the sheet itself with its title block. */

import { type ComponentChildren, toChildArray } from 'preact';
import { language } from '../../server/model/texts/language.ts';
import { SavedLine } from '../forms/seen-first.tsx';
import { OfBuild } from '../forms/while-open.tsx';
import { changeStream, livingSheet, workLine } from '../hx.ts';
import { type Screen, screenHref } from '../links.ts';
import { type Html, InTurns } from '../render.ts';
import { countTexts } from '../texts/count/sheet.ts';
import { texts } from '../texts/index.ts';
import { closingTexts } from '../texts/paper/closing.ts';
import type { BuildPage, Light } from '../types.ts';
import { soonText, whenText } from '../words/wording.ts';
import { atWorkHref } from './at-work.tsx';
import { Rule } from './rule.tsx';
import { SlimRule } from './slim-rule.tsx';
import { styleFor } from './styles.ts';

/** Those a thumb reaches on the phone; the others stand on Contents, one tap further. */
const NEAREST: readonly Screen[] = ['countdown', 'now', 'count', 'dates'];
const FURTHER: readonly Screen[] = ['steps', 'design', 'hands', 'history'];
const LAST: readonly Screen[] = ['contents'];

interface DocumentProps {
  title: string;
  light: Light | null;
  children: ComponentChildren;
  /** Style sheets and scripts beyond those of every page, by their name under /assets. */
  styles?: readonly string[];
  scripts?: readonly string[];
  modules?: readonly string[];
  /** Where the page can be installed: the address of its web app manifest. */
  manifest?: string;
  /** Without htmx and the styles of the sheets: a page that brings its own, and weighs little. */
  bare?: boolean;
}

const SCRIPTS = ['htmx.min.js', 'hx-sse.min.js'];
const HTMX_CONFIG = JSON.stringify({
  includeIndicatorCSS: false,
  defaultTimeout: 20000,
  // What somebody has unfolded stays unfolded when the sheet is fetched again.
  morphIgnore: ['data-htmx-powered', 'open'],
});

/** The html element and what belongs in its head. Nothing inline: the content security policy allows none. */
export function Document(props: DocumentProps): Html {
  const { title, light, children, styles = [], scripts = [], modules = [], manifest, bare = false } = props;
  return (
    <html lang={language()} data-sheet={light ?? undefined}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        {bare ? null : <meta name="htmx-config" content={HTMX_CONFIG} />}
        <title>{title}</title>
        <link rel="icon" href="/assets/mark.svg" type="image/svg+xml" />
        {[styleFor(bare), ...styles].map((name) => (
          <link key={name} rel="stylesheet" href={`/assets/${name}`} />
        ))}
        {modules.map((name) => (
          <script key={name} src={`/assets/${name}`} type="module" />
        ))}
        {/* Browsers fetch a manifest without the session unless they are told to. */}
        {manifest === undefined ? null : <link rel="manifest" href={manifest} crossorigin="use-credentials" />}
      </head>
      <body>
        <a class="skip" href="#sheet">
          {texts.skip}
        </a>
        {children}
        {/* In order and before the page is complete: htmx must know its extension when it begins. */}
        {[...(bare ? [] : SCRIPTS), ...scripts].map((name) => (
          <script key={name} src={`/assets/${name}`} />
        ))}
      </body>
    </html>
  );
}

interface BuildLayoutProps {
  page: BuildPage;
  screen: Screen;
  /** Scripts of this page alone. */
  modules?: readonly string[];
  children: ComponentChildren;
}

/**
 * A page of a build: its frame and, inside, the sheet given.
 *
 *     BuildLayout({ page: { build: { name: 'Arch' } }, screen: 'dates', children: [] }).props.title // 'Dates · Arch'
 */
export function BuildLayout({ page, screen, modules = [], children }: BuildLayoutProps): Html {
  const { build } = page;
  return (
    <Document
      title={`${texts.screens[screen]} · ${build.name}`}
      light={page.light}
      modules={['cut-off.js', 'drafts.js', ...modules]}
    >
      <BookHead build={build.id} name={build.name} screen={screen} light={page.light} />
      <div {...changeStream(`/b/${build.id}/live?seen=${page.seen}`)} />
      <p id="cut-off" class="threat" role="status" hidden>
        {texts.fresh.cutOff}
      </p>
      <p id="unsaved" role="status" hidden data-build={build.id} data-words={texts.unsaved.left} />
      {children}
      <div {...workLine(atWorkHref(build.id))} />
    </Document>
  );
}

/** Name of the build and the way from sheet to sheet: across the top on the bench, under the thumb on the phone. */
export function BookHead(props: { build: string; name: string; screen: Screen; light: Light | null }): Html {
  const { build, name, screen } = props;
  return (
    <header class="book">
      <p class="book-name">
        <a href="/">{texts.product}</a>
        <strong>{name}</strong>
      </p>
      <nav aria-label={texts.nav}>
        <ul class="tabs">
          {[...NEAREST, ...FURTHER, ...LAST].map((to) => (
            <li key={to} class={FURTHER.includes(to) ? 'further' : undefined}>
              <a href={screenHref(build, to)} aria-current={to === screen ? 'page' : undefined}>
                {texts.screens[to]}
              </a>
            </li>
          ))}
        </ul>
      </nav>
    </header>
  );
}

/** The head for those who count along: the build and who they are, and no way to other sheets. */
export function HelperHead({ name, who }: { name: string; who: string }): Html {
  return (
    <header class="book">
      <p class="book-name">
        <span class="quiet">{texts.product} /</span>
        <strong>{name}</strong>
      </p>
      <p class="quiet">{countTexts.people(who)}</p>
    </header>
  );
}

interface SheetProps {
  page: BuildPage;
  screen: Screen;
  /**
   * Where the sheet is fetched again when the build changes; null while a form is open on it, so that nothing typed is
   * lost.
   */
  refresh: string | null;
  children: ComponentChildren;
}

/** Sheets on which the plan is changed: they say what the last edit did. */
const EDITED: ReadonlySet<Screen> = new Set([
  'design',
  'steps',
  'hands',
  'contents',
  'options',
  'wrong',
  'levers',
  'ways',
  'show',
]);

/** Sheets that are about when: there the rule is drawn large. */
const MEASURED: ReadonlySet<Screen> = new Set(['countdown', 'count', 'dates']);

/**
 * The sheet: the rule across its top, what it is about, the title block at its foot. The fragment that htmx swaps.
 *
 *     Sheet({ page: {}, screen: 'hands', refresh: null, children: [] }).props.id // 'sheet'
 */
export function Sheet({ page, screen, refresh, children }: SheetProps): Html {
  return (
    <main id="sheet" tabindex={-1} {...(refresh === null ? {} : livingSheet(refresh))}>
      {MEASURED.has(screen) ? <Rule page={page} /> : <SlimRule page={page} />}
      <div class={`body body-${screen}`}>
        {page.closed === undefined ? null : <ClosedLine page={page} closed={page.closed} />}
        {EDITED.has(screen) ? <SavedLine page={page} /> : null}
        <OfBuild isClosed={page.closed !== undefined}>
          {toChildArray(children).map((child, i) => (
            <InTurns key={i}>{child}</InTurns>
          ))}
        </OfBuild>
      </div>
      <TitleBlock page={page} screen={screen} />
    </main>
  );
}

/** Who closed the build, when, and where it is reopened. */
function ClosedLine({ page, closed }: { page: BuildPage; closed: NonNullable<BuildPage['closed']> }): Html {
  return (
    <p class="closed-build" role="status">
      {closingTexts.line(closed.who, whenText(page.clock, closed.at))}
    </p>
  );
}

function computedText({ clock, computedAt, stale, failedAt }: BuildPage): string {
  const when = soonText(clock, computedAt, computedAt);
  if (failedAt !== undefined) return texts.block.failed(when);
  return stale ? texts.block.stale(when) : when;
}

/** As in the corner of a drawing: what this is, its edit and count, and when it was computed. */
export function TitleBlock({ page, screen }: { page: BuildPage; screen: Screen }): Html {
  const { forecast, clock } = page;
  const cells: readonly (readonly [string, string])[] = [
    [texts.block.build, page.build.name],
    [texts.block.sheet, texts.screens[screen]],
    [texts.block.event, whenText(clock, forecast.event, forecast.now)],
    [texts.block.zone, clock.zone],
    [texts.block.edit, String(page.revision - (page.behind?.edits ?? 0))],
    [texts.block.counted, texts.block.entries(page.entries)],
    [texts.block.computed, computedText(page)],
  ];
  return (
    <section
      class={page.stale || page.failedAt !== undefined ? 'title-block stale' : 'title-block'}
      aria-label={texts.block.label}
    >
      <dl>
        {cells.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
