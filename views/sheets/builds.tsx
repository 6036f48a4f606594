/** The list of builds, beginning a new one, reading one in from a file; and the page for what went wrong. */
import type { Problem } from '../../server/model/index.ts';
import { BeginForm, ProblemLines } from '../forms/begin-form.tsx';
import { Document } from '../frame/layout.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { closingTexts } from '../texts/paper/closing.ts';
import type { Light, TypedBuild } from '../types.ts';
import { LanguageForm, LightForm } from './contents.tsx';

const say = texts.builds;

interface BuildLine {
  readonly id: string;
  readonly name: string;
  /** In words, on its own clock. */
  readonly event: string;
  readonly entries: number;
  /** Made up, to look around in. */
  readonly isDemo: boolean;
  readonly isClosed: boolean;
}

export interface BuildsProps {
  builds: readonly BuildLine[];
  light: Light | null;
  /** What was typed into the form for a new build. */
  typed: TypedBuild;
  problems: readonly Problem[];
  fileProblems: readonly Problem[];
  fileLimit: string;
  /** The names a time zone can have. */
  zones: readonly string[];
  /** Why nothing was brought back. */
  backProblems: readonly Problem[];
  removed: readonly { readonly key: number; readonly name: string; readonly removedAt: string }[];
  /** Builds to look at that are not there, the demo first. */
  examples: readonly { readonly id: string; readonly name: string; readonly isDemo: boolean }[];
  /** Why none was brought in. */
  exampleProblems: readonly Problem[];
}

export function BuildsPage(props: BuildsProps): Html {
  const { builds, light, fileProblems, fileLimit } = props;
  return (
    <Document
      title={`${say.heading} · ${texts.product}`}
      light={light}
      bare
      styles={['sheets.css', 'contents.css', 'narrow.css']}
      modules={['own-zone.js', 'week.js']}
    >
      <header class="book">
        <p class="book-name">
          <strong>{texts.product}</strong>
        </p>
      </header>
      <main id="sheet" tabindex={-1}>
        <div class="body body-builds">
          <h1>{say.heading}</h1>
          <p>{say.what}</p>
          {builds.length === 0 ? <p>{say.none}</p> : null}
          <ul class="builds">
            {builds.map((build) => (
              <li key={build.id}>
                <a href={`/b/${build.id}`}>{build.name}</a>
                <span>
                  {say.event} {build.event}
                </span>
                <span class="quiet small">
                  {build.isDemo ? say.demo : say.entries(build.entries)}
                  {build.isClosed ? `, ${closingTexts.inList}` : null}
                </span>
              </li>
            ))}
          </ul>
          <BeginForm {...props} />
          <details class="read-file" open={fileProblems.length > 0}>
            <summary>{say.read}</summary>
            <form class="edit" method="post" action="/builds/file" enctype="multipart/form-data">
              <ProblemLines problems={fileProblems} />
              <p class="field">
                <label for="file">{say.file}</label>
                <input id="file" type="file" name="file" accept=".json,.yaml,.yml" />
                <span class="hint">{say.readNote(fileLimit)}</span>
              </p>
              <p class="buttons">
                <button type="submit">{say.readButton}</button>
              </p>
            </form>
          </details>
          <Examples {...props} />
          <Back {...props} />
          <LightForm back="/" />
          <LanguageForm back="/" />
        </div>
      </main>
    </Document>
  );
}

/** Builds that are made up, each brought in by one press: the demo where it is gone, and other trades. */
function Examples({ examples, exampleProblems }: BuildsProps): Html | null {
  if (examples.length === 0 && exampleProblems.length === 0) return null;
  return (
    <section id="examples" aria-labelledby="examples-title">
      <h2 id="examples-title">{say.examples}</h2>
      <p>{say.examplesNote}</p>
      <ProblemLines problems={exampleProblems} />
      <ul class="plain">
        {examples.map(({ id, name, isDemo }) => (
          <li key={id}>
            <form class="buttons" method="post" action="/builds/example">
              <button type="submit" name="id" value={id}>
                {isDemo ? say.bringDemo : say.lookAt(name)}
              </button>
              <span class="quiet">{isDemo ? say.demo : say.example[id]}</span>
            </form>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Builds that were removed, each brought back by one press. */
function Back({ removed, backProblems }: BuildsProps): Html | null {
  if (removed.length === 0 && backProblems.length === 0) return null;
  return (
    <section id="removed" aria-labelledby="removed-title">
      <h2 id="removed-title">{say.back}</h2>
      <ProblemLines problems={backProblems} />
      <ul class="plain">
        {removed.map(({ key, name, removedAt }) => (
          <li key={key}>
            <form class="buttons" method="post" action="/builds/back">
              <button type="submit" name="key" value={key}>
                {say.bringBack(name)}
              </button>
              <span class="quiet">{say.removedAt(removedAt)}</span>
            </form>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Any refusal that has no form to stand beside. */
export function ErrorPage({ sentence, light }: { sentence: string; light: Light | null }): Html {
  return (
    <Document title={texts.errors.heading} light={light} bare>
      <ErrorSheet sentence={sentence} />
    </Document>
  );
}

/** The same where a page is open already. */
export function ErrorSheet({ sentence }: { sentence: string }): Html {
  return (
    <main id="sheet" tabindex={-1}>
      <div class="body">
        <h1>{texts.errors.heading}</h1>
        <p>{sentence}</p>
        <p>
          <a href="/">{texts.errors.back}</a>
        </p>
      </div>
    </main>
  );
}

/** In the place of a page whose forecast is not there yet. */
export function WaitPage({ sentence, light }: { sentence: string; light: Light | null }): Html {
  return (
    <Document title={texts.wait.heading} light={light} bare>
      <main id="sheet" tabindex={-1}>
        <div class="body">
          <h1>{texts.wait.heading}</h1>
          <p role="status">{sentence}</p>
          <p>
            <a href="/">{texts.errors.back}</a>
          </p>
        </div>
      </main>
    </Document>
  );
}
