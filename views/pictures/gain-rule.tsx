/** Room that is gained, as lengths from a common zero on one scale, each with the error of its end. */
import { scaleLinear } from 'd3-scale';
import type { Difference } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { chanceText, lengthText } from '../words/wording.ts';
import { DimensionLine } from './drawing.tsx';

const HOUR = 60;
const DAY = 24 * HOUR;
/** Marks of the scale are one of these apart, minutes. */
const APART = [HOUR, 3 * HOUR, 6 * HOUR, 12 * HOUR, DAY, 2 * DAY, 7 * DAY, 28 * DAY];
const MARKS = 6;

/** A scale of lengths: where a number of minutes is, and the minutes that have a mark. */
export interface GainScale {
  readonly at: (minutes: number) => string;
  readonly marks: readonly number[];
}

/** A scale for lengths up to `longest` minutes. */
export function gainScale(longest: number): GainScale {
  const whole = Math.max(HOUR, longest);
  const apart = APART.find((one) => whole / one <= MARKS) ?? whole / MARKS;
  const scale = scaleLinear().domain([0, whole]).range([0, 97]);
  return {
    at: (minutes) => `${Math.max(0, Math.min(100, scale(minutes))).toFixed(2)}%`,
    marks: Array.from({ length: Math.floor(whole / apart) }, (_, i) => (i + 1) * apart),
  };
}

/** The scale itself, with its lengths in words. */
export function GainMarks({ scale: { at, marks } }: { scale: GainScale }): Html {
  return (
    <svg class="gain gain-marks" width="100%" height="1.6rem" aria-hidden="true" focusable="false">
      <line class="gain-edge" x1="0" x2="100%" y1="1.5rem" y2="1.5rem" />
      {marks.map((minutes) => (
        <g key={minutes}>
          <line class="mark" x1={at(minutes)} x2={at(minutes)} y1="1.1rem" y2="1.6rem" />
          <text x={at(minutes)} y="0.85rem" text-anchor="middle">
            {lengthText(minutes)}
          </text>
        </g>
      ))}
    </svg>
  );
}

/** One gain on it; less room than now is drawn as what threatens. */
export function GainLength({ gain, scale: { at, marks } }: { gain: Difference; scale: GainScale }): Html {
  const length = Math.abs(gain.mean);
  return (
    <svg class={gain.mean < 0 ? 'gain late' : 'gain'} width="100%" height="1.5rem" aria-hidden="true" focusable="false">
      <line class="gain-zero" x1="0" x2="0" y1="0" y2="100%" />
      {marks.map((minutes) => (
        <line key={minutes} class="mark" x1={at(minutes)} x2={at(minutes)} y1="0" y2="100%" />
      ))}
      <line class="gain-error" x1={at(length - gain.error)} x2={at(length + gain.error)} y1="0.75rem" y2="0.75rem" />
      {length < 1 ? null : <DimensionLine x1="0%" x2={at(length)} y="0.75rem" />}
    </svg>
  );
}

interface ChanceStepProps {
  /** Shares from 0 to 1; null: not known. */
  before: number | null;
  after: number | null;
}

/** The answer at a glance: the chance as it is and as it would be, punched into the sheet. */
export function ChanceStep({ before, after }: ChanceStepProps): Html | null {
  if (before === null || after === null) return null;
  const [was, is] = [chanceText(before), chanceText(after)];
  return (
    <p class="chance-step">
      <span class="heard">
        {texts.options.figure.chance}: {texts.options.chances(was, is)}
      </span>
      <span aria-hidden="true">
        <span class="stamp">{was}</span> <span class="chance-arrow">→</span> <span class="stamp stamp-l">{is}</span>
      </span>
    </p>
  );
}
