/** One future after another of a compiled work: what is drawn, and the schedule that comes of it. */
import { type CompiledForward, type Dispatched, dispatch } from '../07-levelling/index.ts';
import type { Instant, Minutes } from '../types.ts';
import { type Sampler, tableOf } from './samplers.ts';
import { Streams } from './streams.ts';

/** A phase whose minutes vary: `units` of it share the step's factor and each has some noise of its own. */
export interface VaryingPhase {
  /** Index among the phases of the compiled work. */
  readonly phase: number;
  readonly minutes: Minutes;
  readonly units: number;
  /** No more fit in one go, where it must be done in one go. */
  readonly most: Minutes;
}

/**
 * What is drawn together: the phases of one step and kind, by one factor a future, so that a slow step is slow
 * throughout.
 */
export interface PaceDraw {
  readonly step: number;
  readonly key: number;
  readonly factor: Sampler;
  /** Coefficient of variation of a single unit around the step's pace; 0 for none. */
  readonly unitNoise: number;
  readonly phases: readonly VaryingPhase[];
}

/** Anything else that is drawn: writes its minutes, tables or begins into the compiled work's forward problem. */
export interface OtherDraw {
  readonly step: number;
  readonly key: number;
  /**
   * `stream` stands at this draw's own numbers; `factors[step]` is the pace factor of this future. Whole minutes it
   * adds are returned.
   */
  draw(stream: Streams, minutes: Int32Array, factors: Float64Array): Minutes;
  /** As it is planned. */
  reset(minutes: Int32Array): void;
}

/** A compiled work with all that varies in it. */
export interface Uncertain {
  readonly compiled: CompiledForward;
  /** In which lots are dispatched; callers may overwrite it between futures. */
  readonly activityList: Int32Array;
  readonly steps: number;
  readonly paces: readonly PaceDraw[];
  readonly others: readonly OtherDraw[];
}

/**
 * What a future came to. `drawnMinutes[step]`: by how much the step's own work differs from the plan, in whole minutes.
 */
export interface Future {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
  readonly latest: Instant;
  readonly drawnMinutes: Float64Array;
}

/**
 * A function that runs future number n (0, 1, 2 …; the same n gives the same future). `asPlanned`: a step that goes as
 * planned in it. The arrays of its answer are used again by the next call. Each future draws, then dispatches the
 * levelled order: O(lots).
 */
export function futuresOf(uncertain: Uncertain, seed: number): (n: number, asPlanned?: number) => Future {
  const { compiled, activityList, others, steps } = uncertain;
  const { forward } = compiled;
  const planned = forward.phaseMinutes.map((minutes) => minutes * forward.tick);
  const minutes = planned.slice();
  const streams = new Streams(seed);
  const factors = new Float64Array(steps).fill(1);
  const drawnMinutes = new Float64Array(steps);
  const paces = columnsOf(uncertain.paces);
  const times = timesOf(forward);
  return (n, asPlanned = -1) => {
    minutes.set(planned);
    drawnMinutes.fill(0);
    factors.fill(1);
    drawPaces(paces, n, asPlanned, streams, minutes, factors, drawnMinutes);
    for (const other of others) {
      streams.turnTo(n, other.key);
      if (other.step === asPlanned && asPlanned >= 0) other.reset(minutes);
      else {
        const added = other.draw(streams, minutes, factors);
        if (other.step >= 0) drawnMinutes[other.step] = drawnMinutes[other.step]! + added;
      }
    }
    const latest = dispatch(compiled, activityList, minutes, times);
    const { starts, finishes, phaseStarts, phaseFinishes } = times;
    return { starts, finishes, phaseStarts, phaseFinishes, latest, drawnMinutes };
  };
}

/**
 * Where the instants of a future are written: the instance's own arrays, save where those count ticks instead of
 * minutes.
 */
function timesOf({ isTextbook, starts, finishes, phaseStarts, phaseFinishes }: CompiledForward['forward']): Dispatched {
  const own = { starts, finishes, phaseStarts, phaseFinishes };
  if (!isTextbook) return own;
  return {
    starts: starts.slice(),
    finishes: finishes.slice(),
    phaseStarts: phaseStarts.slice(),
    phaseFinishes: phaseFinishes.slice(),
  };
}

type PaceColumns = ReturnType<typeof columnsOf>;

/** A unit takes no less of its step's pace than this, however lucky. */
const LEAST_NOISE = 0.2;
/** Up to here hardly a draw is cut there. */
const MOST_CUT = 0.4;

/**
 * A factor of mean 1 with this coefficient of variation: normal, or lognormal where many of the normal ones would be
 * cut, so that however much units scatter they take no longer on average.
 */
function noiseOf(variation: number, normal: number): number {
  if (variation <= MOST_CUT) return Math.max(LEAST_NOISE, 1 + variation * normal);
  const square = Math.log(1 + variation * variation);
  return Math.exp(Math.sqrt(square) * normal - square / 2);
}

/** The draws as columns, each one's phases at first[i] .. first[i + 1]. */
function columnsOf(paces: readonly PaceDraw[]) {
  const phases = paces.flatMap((pace) => pace.phases.map((phase) => ({ ...phase, pace })));
  const first = new Int32Array(paces.length + 1);
  for (const [i, pace] of paces.entries()) first[i + 1] = first[i]! + pace.phases.length;
  return {
    step: Int32Array.from(paces, ({ step }) => step),
    key: Int32Array.from(paces, ({ key }) => key),
    tables: paces.map(({ factor }) => tableOf(factor)),
    first,
    phase: Int32Array.from(phases, ({ phase }) => phase),
    minutes: Int32Array.from(phases, ({ minutes }) => minutes),
    noise: Float64Array.from(phases, ({ pace, units }) => pace.unitNoise / Math.sqrt(units)),
    most: Int32Array.from(phases, ({ most }) => Math.min(most, 1 << 29)),
  };
}

function drawPaces(
  { step, key, tables, first, phase, minutes: base, noise, most }: PaceColumns,
  n: number,
  asPlanned: number,
  streams: Streams,
  minutes: Int32Array,
  factors: Float64Array,
  drawn: Float64Array,
): void {
  for (let i = 0; i < step.length; i++) {
    const s = step[i]!;
    if (s === asPlanned) continue;
    streams.turnTo(n, key[i]!);
    const factor = streams.of(tables[i]!);
    if (i === 0 || step[i - 1] !== s) factors[s] = factor;
    let added = 0;
    for (let j = first[i]!; j < first[i + 1]!; j++) {
      let taken = base[j]! * factor;
      if (noise[j]! > 0) taken *= noiseOf(noise[j]!, streams.normal());
      const whole = Math.max(1, Math.min(most[j]!, Math.floor(taken + 0.5)));
      minutes[phase[j]!] = whole;
      added += whole - base[j]!;
    }
    drawn[s] = drawn[s]! + added;
  }
}
