import { describe, expect, it } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import type { Forecast, SoundnessCheck, SoundnessCode } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { renderFragment } from '../../../views/render.ts';
import { StepsSheet } from '../../../views/sheets/steps.tsx';
import type { BuildPage } from '../../../views/types.ts';
import { soundnessWords } from '../../../views/words/soundness-words.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { fakeForecast } from '../../support/fake-forecast.ts';

const check = <Code extends SoundnessCode>(code: Code, more: Partial<SoundnessCheck<Code>> = {}) => ({
  code,
  fine: true,
  value: 0,
  of: 10,
  limit: 0,
  steps: [],
  saidElsewhere: false,
  values: null,
  ...more,
});

const FINE = [check('totals'), check('missing-logic'), check('no-hands')];
const GUESSED = check('guessed', { fine: false, value: 1, steps: ['wire'] });
const AHEAD = check('invalid-date', { fine: false, value: 1, saidElsewhere: true });

const withChecks = (soundness: readonly SoundnessCheck[]): Forecast => ({ ...fakeForecast(), soundness });

function sheet(soundness: readonly SoundnessCheck[]): string {
  const page = {
    build: fakeBuild(),
    forecast: withChecks(soundness),
    clock: wallClock('Europe/Amsterdam'),
    snapshot: { stale: false },
  } as unknown as BuildPage;
  return renderFragment(StepsSheet({ page, open: null }));
}

describe('the checks of the plan', () => {
  it('are one line where all passed', () => {
    expect(soundnessWords(withChecks(FINE))).toEqual({
      heading: 'Is the plan sound?',
      count: 'Yes: 3 checks passed.',
      findings: [],
      elsewhere: null,
    });
    const html = sheet(FINE);
    expect(html).toContain('Yes: 3 checks passed.');
    expect(html).not.toContain('<details class="soundness"');
  });

  it('are folded with a line for each finding and the way to its step', () => {
    const html = sheet([...FINE, GUESSED]);
    expect(html).toContain('1 thing to look at, 3 of 4 checks passed');
    expect(html).toMatch(/<details class="soundness">/);
    expect(html).toContain(
      '<li>1 of 10 steps is only guessed: wire a panel. Time a few units of each. <a href="#steps-wire">See wire a panel</a></li>',
    );
  });

  it('do not say again what a problem or a threat says', () => {
    const words = soundnessWords(withChecks([...FINE, GUESSED, AHEAD]))!;
    expect(words.count).toBe('2 things to look at, 3 of 5 checks passed');
    expect(words.findings.map(({ code }) => code)).toEqual(['guessed']);
    expect(words.elsewhere).toBe('1 more is listed under “To fix”, “To look at” or the threats.');
  });

  it('are left out where a forecast has none', () => {
    expect(soundnessWords(fakeForecast())).toBeNull();
    expect(sheet([])).not.toContain('Is the plan sound?');
  });

  it('stand on the command line', () => {
    const lines = summaryOf(withChecks([...FINE, GUESSED])).split('\n');
    const at = lines.indexOf('Is the plan sound?');
    expect(lines.slice(at, at + 3)).toEqual([
      'Is the plan sound?',
      '  1 thing to look at, 3 of 4 checks passed',
      '  1 of 10 steps is only guessed: wire a panel. Time a few units of each.',
    ]);
  });
});
