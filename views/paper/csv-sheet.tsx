/**
 * Tables: parts, steps, orders and the log for a spreadsheet, and a table read back, looked at before it changes
 * anything.
 */

import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { csvTexts as say } from '../texts/paper/csv.ts';
import type { BuildPage } from '../types.ts';

export const READ_BACK = ['parts', 'steps', 'log'] as const;
export type ReadBack = (typeof READ_BACK)[number];

/** A table that was looked at. */
export interface LookedAt {
  readonly list: ReadBack;
  readonly text: string;
  /** What it would change, line by line; empty where there is something wrong. */
  readonly lines: readonly string[];
  /** What is wrong, each with its line. */
  readonly problems: readonly string[];
  readonly ignored: readonly string[];
  /** Entries that were added before something was wrong. */
  readonly added: number;
}

interface CsvProps {
  page: BuildPage;
  looked: LookedAt | null;
}

export function CsvPage(props: CsvProps): Html {
  return (
    <BuildLayout page={props.page} screen="tables">
      <CsvSheet {...props} />
    </BuildLayout>
  );
}

export function CsvSheet({ page, looked }: CsvProps): Html {
  const href = screenHref(page.build.id, 'tables');
  return (
    <Sheet page={page} screen="tables" refresh={null}>
      <h1>{say.heading}</h1>
      <p class="quiet">{say.intro}</p>
      {looked === null ? null : <Looked page={page} looked={looked} />}
      <h2>{say.out}</h2>
      <ul class="plain">
        {(['parts', 'steps', 'log', 'orders'] as const).flatMap((list) =>
          (['comma', 'semicolon'] as const).map((separator) => (
            <li key={`${list}-${separator}`}>
              <a href={`${href}/${list}.csv${separator === 'comma' ? '' : '?separator=semicolon'}`} download>
                {say.saved(say.lists[list], say[separator])}
              </a>
            </li>
          )),
        )}
      </ul>
      <h2>{say.back}</h2>
      <WhileOpen>
        <form method="post" action={href} class="table-in">
          <Lists chosen={looked?.list ?? 'parts'} />
          <label for="table-text">{say.paste}</label>
          <textarea id="table-text" name="text" rows={8} spellcheck={false}>
            {looked?.text ?? ''}
          </textarea>
          <button type="submit" name="do" value="look">
            {say.look}
          </button>
        </form>
      </WhileOpen>
      <WhileOpen>
        <form method="post" action={`${href}/file`} enctype="multipart/form-data" class="table-in">
          <label for="table-file">{say.file}</label>
          <input id="table-file" type="file" name="file" accept=".csv,.tsv,.txt,text/csv" />
          {READ_BACK.map((list) => (
            <button key={list} type="submit" formaction={`${href}/file?list=${list}`}>
              {say.look}: {say.lists[list]}
            </button>
          ))}
        </form>
      </WhileOpen>
    </Sheet>
  );
}

function Lists({ chosen }: { chosen: ReadBack }): Html {
  return (
    <>
      <label for="table-list">{say.which}</label>
      <select id="table-list" name="list">
        {READ_BACK.map((list) => (
          <option key={list} value={list} selected={list === chosen}>
            {say.lists[list]}
          </option>
        ))}
      </select>
    </>
  );
}

const SHOWN = 60;

function Looked({ page, looked }: { page: BuildPage; looked: LookedAt }): Html {
  const { list, text, lines, problems, ignored, added } = looked;
  const shown = problems.length > 0 ? problems : lines;
  return (
    <section aria-labelledby="looked-title">
      <h2 id="looked-title">{say.preview}</h2>
      {problems.length > 0 ? (
        <p class="threat" role="alert">
          {added === 0 ? say.wrong : say.partly(added)}
        </p>
      ) : null}
      {ignored.length === 0 ? null : <p class="quiet">{say.ignored(ignored.slice(0, 20).join(', '))}</p>}
      {shown.length === 0 ? <p>{say.nothing}</p> : null}
      <ul>
        {shown.slice(0, SHOWN).map((line) => (
          <li key={line}>{line}</li>
        ))}
        {shown.length > SHOWN ? <li>{say.more(shown.length - SHOWN)}</li> : null}
      </ul>
      {problems.length > 0 || lines.length === 0 ? null : (
        <WhileOpen>
          <form method="post" action={screenHref(page.build.id, 'tables')}>
            <input type="hidden" name="list" value={list} />
            <input type="hidden" name="edit" value={page.revision} />
            <textarea name="text" hidden>
              {text}
            </textarea>
            <button type="submit" name="do" value="save" class="main">
              {list === 'log' ? say.saveLog : say.save}
            </button>
          </form>
        </WhileOpen>
      )}
    </section>
  );
}
