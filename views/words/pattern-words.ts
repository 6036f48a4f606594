/** How the phases of a step are said in a line. */
import type { Build, ForecastPhase } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import { supplierName } from './marks.tsx';
import { lengthText, minutesText } from './wording.ts';

const say = texts.steps;

/** `hands 10 min 2.5 min each + wait 3 h`; `Ropewalk 5 working days`. */
export function patternText(build: Build, pattern: readonly ForecastPhase[]): string {
  return pattern.map((phase) => phaseText(build, phase)).join(' + ');
}

function phaseText(build: Build, phase: ForecastPhase): string {
  if (phase.kind === 'lead') return say.lead(supplierName(build, phase.supplier), phase.workingDays);
  const { kind, fixedMinutes, minutesPerUnit } = phase;
  const fixed = fixedMinutes > 0 ? lengthText(Math.round(fixedMinutes)) : '';
  const each = minutesPerUnit > 0 ? say.each(minutesText(minutesPerUnit, 1)) : '';
  return [say.phase[kind], fixed, each].filter((word) => word !== '').join(' ');
}
