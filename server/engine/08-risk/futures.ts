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
 * The futures of a work, one at a time. Each draws, then dispatches the levelled order: O(lots). A class, so that the
 * compiler knows what it calls whatever the work.
 */
export class FutureRuns {
  private readonly planned: Int32Array;
  private readonly minutes: Int32Array;
  private readonly streams: Streams;
  private readonly factors: Float64Array;
  private readonly drawnMinutes: Float64Array;
  private readonly paces: PaceColumns;
  private readonly times: Dispatched;

  constructor(
    private readonly uncertain: Uncertain,
    seed: number,
  ) {
    const { forward } = uncertain.compiled;
    this.planned = forward.phaseMinutes.map((minutes) => minutes * forward.tick);
    this.minutes = this.planned.slice();
    this.streams = new Streams(seed);
    this.factors = new Float64Array(uncertain.steps).fill(1);
    this.drawnMinutes = new Float64Array(uncertain.steps);
    this.paces = columnsOf(uncertain.paces);
    this.times = timesOf(forward);
  }

  /**
   * Future number n (0, 1, 2 …; the same n gives the same future). `asPlanned`: a step that goes as planned in it. The
   * arrays of the answer are used again by the next call.
   */
  run(n: number, asPlanned = -1): Future {
    const { minutes, streams, factors, drawnMinutes } = this;
    const { compiled, activityList, others } = this.uncertain;
    minutes.set(this.planned);
    drawnMinutes.fill(0);
    factors.fill(1);
    drawPaces(this.paces, n, asPlanned, streams, minutes, factors, drawnMinutes);
    for (const other of others) {
      streams.turnTo(n, other.key);
      if (other.step === asPlanned && asPlanned >= 0) other.reset(minutes);
      else {
        const added = other.draw(streams, minutes, factors);
        if (other.step >= 0) drawnMinutes[other.step] = drawnMinutes[other.step]! + added;
      }
    }
    const latest = dispatch(compiled, activityList, minutes, this.times);
    const { starts, finishes, phaseStarts, phaseFinishes } = this.times;
    return { starts, finishes, phaseStarts, phaseFinishes, latest, drawnMinutes };
  }
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
    drawn: Float64Array.from(
      phases.flatMap(({ pace, minutes, units, most }) => [
        minutes,
        pace.unitNoise / Math.sqrt(units),
        Math.min(most, 1 << 29),
      ]),
    ),
  };
}

/** A phase's numbers in `drawn`, one after the other: its minutes, the noise of its units, and the most that may be. */
const NUMBERS = 3;
const NOISE = 1;
const MOST = 2;

function drawPaces(
  { step, key, tables, first, phase, drawn: numbers }: PaceColumns,
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
    const end = first[i + 1]!;
    for (let j = first[i]!; j < end; j++) {
      const k = j * NUMBERS;
      const planned = numbers[k]!;
      const noise = numbers[k + NOISE]!;
      let taken = planned * factor;
      if (noise > 0) taken *= noiseOf(noise, streams.normal());
      const whole = Math.max(1, Math.min(numbers[k + MOST]!, taken + 0.5) | 0);
      minutes[phase[j]!] = whole;
      added += whole - planned;
    }
    drawn[s] = drawn[s]! + added;
  }
}
