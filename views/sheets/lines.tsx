/**
 * Quick lines: parts, steps, tests and jobs typed as one would say them, shown as they were understood before they are
 * added to the build.
 */
import { type Line, type LinesRead, messageOf, type Problem } from '../../server/model/index.ts';
import { SavedLine, Seen } from '../forms/seen-first.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { LinesToFill } from '../parts/lines-to-fill.tsx';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { afterTexts } from '../texts/paper/after.ts';
import type { BuildPage, SeenFirst } from '../types.ts';
import { assumedText, factText } from '../words/line-words.ts';

const say = texts.lines;

export interface LinesProps {
  page: BuildPage;
  /** What is in the field. */
  text: string;
  /** The lines as they were read; null before that. */
  read: LinesRead | null;
  /** What adding them would do. */
  seen: SeenFirst | null;
  /** Why nothing was read or added. */
  problems: readonly Problem[];
  /** How many lines were added just now; null where none were to be. */
  added: number | null;
  /** Figures of earlier builds that fit names of this one, the lines read here among them. */
  offers: number;
}

export function LinesPage(props: LinesProps): Html {
  return (
    <BuildLayout page={props.page} screen="lines">
      <LinesSheet {...props} />
    </BuildLayout>
  );
}

export function LinesSheet({ page, text, read, seen, problems, added, offers }: LinesProps): Html {
  const good = read === null ? 0 : read.lines.filter(isGood).length;
  return (
    <Sheet page={page} screen="lines" refresh={null}>
      <h1>{say.heading}</h1>
      <p>{say.intro}</p>
      {added === null ? null : <Added page={page} added={added} read={read} />}
      {offers === 0 ? null : (
        <p>
          <a class="day-link" href={`${screenHref(page.build.id, 'after')}#offers-title`}>
            {afterTexts.offers.onLines(offers)}
          </a>
        </p>
      )}
      <SheetProblems problems={problems} />
      {problems.length === 0 || (page.build.people ?? []).length > 0 ? null : (
        <p>
          <a href={`${screenHref(page.build.id, 'hands')}?open=people/new`}>{say.sayWho}</a>
        </p>
      )}
      <WhileOpen>
        <form class="quick-lines" {...sheetForm(screenHref(page.build.id, 'lines'))}>
          <input type="hidden" name="edit" value={page.revision} />
          <label for="lines">{say.field}</label>
          <textarea id="lines" name="lines" rows={8} spellcheck={false} autocapitalize="none" enterkeyhint="enter">
            {text}
          </textarea>
          <div class="buttons">
            <button type="submit" name="action" value="read" class={good === 0 ? 'main' : undefined}>
              {say.read}
            </button>
            {good === 0 || added !== null ? null : (
              <button type="submit" name="action" value="add" class="main">
                {say.add(good)}
              </button>
            )}
          </div>
          {read === null || added !== null ? null : <Understood read={read} />}
          {seen === null ? null : <Seen seen={seen} />}
          <LinesToFill build={page.build} />
        </form>
      </WhileOpen>
      <Help />
    </Sheet>
  );
}

/** Whether a line was understood and the build takes it. */
export function isGood({ wrong, problems }: Line): boolean {
  return wrong === null && problems.length === 0;
}

function Added({ page, added, read }: { page: BuildPage; added: number; read: LinesRead | null }): Html {
  const left = read === null ? 0 : read.lines.filter((line) => !isGood(line)).length;
  return (
    <div role="status">
      <p>
        {added === 0 ? say.nothingNew : say.added(added)} {left > 0 ? say.left(left) : null}
      </p>
      <SavedLine page={page} />
      <p>
        <a href={screenHref(page.build.id, 'countdown')}>{texts.screens.countdown}</a>{' '}
        <a href={screenHref(page.build.id, 'design')}>{texts.screens.design}</a>{' '}
        <a href={screenHref(page.build.id, 'steps')}>{texts.screens.steps}</a>
      </p>
    </div>
  );
}

function Understood({ read }: { read: LinesRead }): Html | null {
  if (read.lines.length === 0) return null;
  const assumed = read.lines.reduce((sum, line) => sum + line.assumed.length, 0);
  const bare = unmade(read);
  return (
    <section class="understood" aria-labelledby="understood">
      <h2 id="understood">{say.understood}</h2>
      <ol>
        {read.lines.map((line, at) => (
          <li key={`${at} ${line.text}`}>
            <OneLine line={line} />
          </li>
        ))}
      </ol>
      <p class="quiet">{say.assumedCount(assumed)}</p>
      {bare.length === 0 ? null : <p class="quiet">{say.noSteps(bare)}</p>}
    </section>
  );
}

function OneLine({ line }: { line: Line }): Html {
  const { text, facts, assumed, wrong, why, problems } = line;
  return (
    <>
      <p class="typed">{text}</p>
      {wrong === null ? null : (
        <p class="threat">
          {say.notUnderstood(wrong)} {why === undefined ? null : say.why[why]}
        </p>
      )}
      {problems.length === 0 ? null : (
        <p class="threat">
          {say.refused} {problems.map(messageOf).join(' ')}
        </p>
      )}
      {isGood(line) ? (
        <ul>
          {facts.map(factText).map((fact) => (
            <li key={fact}>{fact}</li>
          ))}
          {assumed.map(assumedText).map((one) => (
            <li key={one} class="origin-guessed">
              {one}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

/** Parts that are made, by no step so far. */
function unmade({ build }: LinesRead): string[] {
  const inside = new Set(build.steps.map(({ part }) => part));
  return (build.parts ?? []).filter(({ id, source }) => source === 'make' && !inside.has(id)).map(({ name }) => name);
}

function Help(): Html {
  return (
    <details class="line-help">
      <summary>{say.help}</summary>
      <dl>
        {say.examples.map(([line, means]) => (
          <div key={line}>
            <dt>{line}</dt>
            <dd>{means}</dd>
          </div>
        ))}
      </dl>
      <p>{say.helpNote}</p>
    </details>
  );
}
