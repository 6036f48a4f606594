/** History: every edit of the plan, and taking the plan back to how it was. */

import type { Problem } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { soonText } from '../words/wording.ts';

const say = texts.history;

export interface PastEdit {
  readonly revision: number;
  /** Minutes since the epoch. */
  readonly savedAt: number;
  readonly who: string;
  readonly cause: string;
}

interface HistoryProps {
  page: BuildPage;
  /** The newest first. */
  edits: readonly PastEdit[];
  problems: readonly Problem[];
}

export function HistoryPage(props: HistoryProps): Html {
  return (
    <BuildLayout page={props.page} screen="history">
      <HistorySheet {...props} />
    </BuildLayout>
  );
}

export function HistorySheet({ page, edits, problems }: HistoryProps): Html {
  const href = screenHref(page.build.id, 'history');
  return (
    <Sheet page={page} screen="history" refresh={href}>
      <h1>{say.heading}</h1>
      <p class="quiet">{say.note}</p>
      {problems.map((it) => (
        <p class="threat" role="alert" key={it.message}>
          {it.message}
        </p>
      ))}
      <ol class="edits">
        {edits.map((edit) => (
          <li key={edit.revision}>
            <span class="stamp stamp-s">{edit.revision}</span>
            <span>
              {edit.cause}
              <br />
              <span class="quiet small">
                {soonText(page.clock, edit.savedAt, page.forecast.now)}, {edit.who}
              </span>
            </span>
            {edit.revision === page.revision ? (
              <span class="quiet">{say.now}</span>
            ) : (
              <form {...sheetForm(href)}>
                <input type="hidden" name="revision" value={edit.revision} />
                <button type="submit">
                  {say.takeBack}
                  <span class="heard"> {edit.revision}</span>
                </button>
              </form>
            )}
          </li>
        ))}
      </ol>
    </Sheet>
  );
}
