/** The checks of the plan in words, for the page and for the command line. */
import type { Forecast, SoundnessCheck } from '../server/model/index.ts';
import { texts } from './texts.ts';

const say = texts.soundness;

export interface SoundnessFinding {
  readonly code: SoundnessCheck['code'];
  readonly message: string;
  /** The first step that it is about. */
  readonly step: string | null;
}

export interface SoundnessWords {
  readonly heading: string;
  /** How many passed. */
  readonly count: string;
  /** Those that nothing else says. */
  readonly findings: readonly SoundnessFinding[];
  readonly elsewhere: string | null;
}

/** What was found and how many checks passed; null where nothing was checked. */
export function soundnessWords({ soundness = [] }: Forecast): SoundnessWords | null {
  if (soundness.length === 0) return null;
  const open = soundness.filter(({ fine }) => !fine);
  const findings = open.flatMap(({ code, message, saidElsewhere, steps }) =>
    message === null || saidElsewhere ? [] : [{ code, message, step: steps[0] ?? null }],
  );
  const told = open.length - findings.length;
  const passed = soundness.length - open.length;
  return {
    heading: say.heading,
    count: open.length === 0 ? say.allPassed(passed) : say.found(findings.length + told, passed, soundness.length),
    findings,
    elsewhere: told === 0 ? null : say.elsewhere(told),
  };
}
