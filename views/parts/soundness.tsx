/** Is the plan sound? One line, and under it a line for each finding; what is fine is only counted. */
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { soundnessWords } from '../words/soundness-words.ts';

/** Stands above the tickets, folded; nothing where nothing was checked. */
export function Soundness({ page }: { page: BuildPage }): Html | null {
  const words = soundnessWords(page.forecast);
  if (words === null) return null;
  const { heading, count, findings, elsewhere } = words;
  if (findings.length === 0 && elsewhere === null) {
    return (
      <p class="soundness">
        {heading} <span class="quiet">{count}</span>
      </p>
    );
  }
  return (
    <details class="soundness">
      <summary>
        {heading} <span class="quiet">{count}</span>
      </summary>
      <ul class="findings">
        {findings.map(({ code, said, step }) => (
          <li key={code}>
            {said} {step === null ? null : <StepLink page={page} step={step} />}
          </li>
        ))}
        {elsewhere === null ? null : (
          <li>
            <a href={screenHref(page.build.id, 'countdown')}>{elsewhere}</a>
          </li>
        )}
      </ul>
    </details>
  );
}

function StepLink({ page, step }: { page: BuildPage; step: string }): Html {
  return <a href={`#steps-${step}`}>{texts.soundness.toStep(stepName(page.forecast, step))}</a>;
}
