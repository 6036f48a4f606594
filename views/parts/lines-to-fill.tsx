/** Lines to begin from on the sheet of quick lines: what the build lacks, and patterns of work; a tap fills one in. */
import { type Build, forgottenLines, patternLine, WORK_PATTERNS } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { forgottenTexts as say } from '../texts/begin/forgotten.ts';

/** What the buttons send in front of the line that they fill in. */
export const FILLS = 'fill:';

const PATTERNS = Object.keys(WORK_PATTERNS) as (keyof typeof WORK_PATTERNS)[];

export function LinesToFill({ build }: { build: Build }): Html {
  const lacking = forgottenLines(build);
  return (
    <div class="line-fills">
      {lacking.length === 0 ? null : (
        <section aria-labelledby="forgotten">
          <h2 id="forgotten">{say.heading}</h2>
          <p class="quiet">{say.note}</p>
          <ul>
            {lacking.map(({ code, line }) => (
              <Fill key={code} name={line} line={line} reason={say.reason[code]} />
            ))}
          </ul>
        </section>
      )}
      <details class="line-help">
        <summary>{say.patterns}</summary>
        <p class="quiet">{say.patternsNote}</p>
        <ul>
          {PATTERNS.map((code) => {
            const [name, reason] = say.pattern[code];
            const line = patternLine(code, build);
            return <Fill key={code} name={name} line={line} reason={`${line}. ${reason}`} />;
          })}
        </ul>
      </details>
    </div>
  );
}

function Fill({ name, line, reason }: { name: string; line: string; reason: string }): Html {
  return (
    <li>
      <button type="submit" name="action" value={`${FILLS}${line}`}>
        {name}
      </button>{' '}
      <span class="origin-guessed">{reason}</span>
    </li>
  );
}
