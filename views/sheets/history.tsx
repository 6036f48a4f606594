/** History: every edit of the plan with what was and what became of it, and the ways back. */

import type { Problem, RevisionCause } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { causeText, type EditLine, lineText } from '../words/edit-words.ts';
import { type Answer, effectText } from '../words/what-if-words.ts';
import { soonText } from '../words/wording.ts';

const say = texts.history;

export interface PastEdit {
  readonly revision: number;
  /** Minutes since the epoch. */
  readonly savedAt: number;
  readonly who: string;
  readonly cause: RevisionCause;
  readonly lines: readonly EditLine[];
  /** What was said before and after it; null where that is not known, or where something else changed too. */
  readonly did: { readonly before: Answer; readonly after: Answer } | null;
}

interface HistoryProps {
  page: BuildPage;
  /** The newest first. */
  edits: readonly PastEdit[];
  problems: readonly Problem[];
  /** The largest file that is read, in words. */
  fileLimit: string;
  /** Where this page of edits is, and its neighbours; null where there are none. */
  at: string;
  newer: string | null;
  older: string | null;
}

/** Where a file is sent that is to be read over the plan. */
export function fileOverHref(build: string): string {
  return `/b/${build}/file`;
}

/** The page of the edits before one of them; without it, of the newest. */
export function historyHref(build: string, before?: number): string {
  const href = screenHref(build, 'history');
  return before === undefined ? href : `${href}?before=${before}`;
}

export function HistoryPage(props: HistoryProps): Html {
  return (
    <BuildLayout page={props.page} screen="history">
      <HistorySheet {...props} />
    </BuildLayout>
  );
}

export function HistorySheet({ page, edits, problems, fileLimit, at, newer, older }: HistoryProps): Html {
  const href = screenHref(page.build.id, 'history');
  return (
    <Sheet page={page} screen="history" refresh={at}>
      <h1>{say.heading}</h1>
      <p class="quiet">{say.note}</p>
      <SheetProblems problems={problems} />
      <ol class="edits">
        {edits.map((edit) => (
          <Row key={edit.revision} page={page} edit={edit} href={href} />
        ))}
      </ol>
      {newer === null && older === null ? null : (
        <p>
          {newer === null ? null : <a href={newer}>{say.newer}</a>}{' '}
          {older === null ? null : <a href={older}>{say.older}</a>}
        </p>
      )}
      <FileOver build={page.build.id} limit={fileLimit} />
    </Sheet>
  );
}

function FileOver({ build, limit }: { build: string; limit: string }): Html {
  return (
    <WhileOpen>
      <form
        id="over"
        class="edit"
        method="post"
        action={fileOverHref(build)}
        enctype="multipart/form-data"
        aria-labelledby="over-title"
      >
        <h2 id="over-title">{say.over}</h2>
        <p class="field">
          <label for="file">{texts.builds.file}</label>
          <input id="file" type="file" name="file" accept=".json,.yaml,.yml" />
          <span class="hint">{say.overNote(limit)}</span>
        </p>
        <p class="buttons">
          <button type="submit">{say.readOver}</button>
        </p>
      </form>
    </WhileOpen>
  );
}

function Row({ page, edit, href }: { page: BuildPage; edit: PastEdit; href: string }): Html {
  const { revision, savedAt, who } = edit;
  return (
    <li>
      <span class="stamp stamp-s">{revision}</span>
      <div>
        <What edit={edit} />
        {edit.did === null ? null : (
          <p>{say.did(effectText(page.clock, page.forecast.now, edit.did.before, edit.did.after))}</p>
        )}
        <span class="quiet small">
          {soonText(page.clock, savedAt, page.forecast.now)}, {who}
          {revision === page.revision ? `; ${say.now}` : ''}
        </span>
      </div>
      <WhileOpen>
        <form {...sheetForm(href)}>
          {revision === 1 ? null : (
            <button type="submit" name="undo" value={revision}>
              {say.undo}
              <span class="heard"> {say.ofEdit(revision)}</span>
            </button>
          )}
          {revision === page.revision ? null : (
            <button type="submit" name="revision" value={revision}>
              {say.takeBack}
              <span class="heard"> {say.ofEdit(revision)}</span>
            </button>
          )}
        </form>
      </WhileOpen>
    </li>
  );
}

const LINES_SHOWN = 6;

function What({ edit: { cause, lines } }: { edit: PastEdit }): Html {
  const why = causeText(cause);
  const [shown, rest] = [lines.slice(0, LINES_SHOWN), lines.slice(LINES_SHOWN)];
  return (
    <>
      {why === null ? null : <p>{why}</p>}
      {why === null && lines.length === 0 ? <p>{say.noChange}</p> : null}
      <Lines of={shown} />
      {rest.length === 0 ? null : (
        <details>
          <summary>{say.more(rest.length)}</summary>
          <Lines of={rest} />
        </details>
      )}
    </>
  );
}

function Lines({ of }: { of: readonly EditLine[] }): Html | null {
  if (of.length === 0) return null;
  return (
    <ul>
      {of.map((line) => (
        <li key={JSON.stringify(line)}>{lineText(line)}</li>
      ))}
    </ul>
  );
}
