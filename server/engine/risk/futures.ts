/** One future after another of a compiled work: what is drawn, and the schedule that comes of it. */
import { type Compiled, dispatch } from '../levelling/index.ts';
import type { Instant, Minutes } from '../types.ts';
import type { Sampler } from './samplers.ts';
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

/** What is drawn together: the phases of one step and kind, by one factor a future, so that a slow step is slow throughout. */
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
  /** `stream` stands at this draw's own numbers; `factors[step]` is the pace factor of this future. Minutes it adds are returned. */
  draw(stream: Streams, minutes: Int32Array, factors: Float64Array): Minutes;
  /** As it is planned. */
  reset(minutes: Int32Array): void;
}

/** A compiled work with all that varies in it. */
export interface Uncertain {
  readonly compiled: Compiled;
  readonly order: Int32Array;
  readonly steps: number;
  readonly paces: readonly PaceDraw[];
  readonly others: readonly OtherDraw[];
}

/** What a future came to. `drawnMinutes[step]`: by how much the step's own work differs from the plan. */
export interface Future {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
  readonly latest: Instant;
  readonly drawnMinutes: Float64Array;
}

/**
 * A function that runs future number n (0, 1, 2 …; the same n gives the same future). `held`: a step that goes as planned in it. The
 * arrays of its answer are used again by the next call. Each future draws, then dispatches the levelled order: O(lots).
 */
export function futuresOf(uncertain: Uncertain, seed: number): (n: number, held?: number) => Future {
  const { compiled, order, paces, others, steps } = uncertain;
  const { forward } = compiled;
  const planned = forward.phaseMinutes.map((minutes) => minutes * forward.tick);
  const minutes = planned.slice();
  const streams = new Streams(seed);
  const factors = new Float64Array(steps).fill(1);
  const drawnMinutes = new Float64Array(steps);
  return (n, held = -1) => {
    minutes.set(planned);
    drawnMinutes.fill(0);
    factors.fill(1);
    for (const pace of paces) if (pace.step !== held) drawPace(pace, n, streams, minutes, factors, drawnMinutes);
    for (const other of others) {
      streams.turnTo(n, other.key);
      if (other.step === held && held >= 0) other.reset(minutes);
      else {
        const added = other.draw(streams, minutes, factors);
        if (other.step >= 0) drawnMinutes[other.step] = drawnMinutes[other.step]! + added;
      }
    }
    const latest = dispatch(compiled, order, minutes, forward);
    const { starts, finishes, phaseStarts, phaseFinishes } = forward;
    return { starts, finishes, phaseStarts, phaseFinishes, latest, drawnMinutes };
  };
}

function drawPace(
  { step, key, factor: sampler, unitNoise, phases }: PaceDraw,
  n: number,
  streams: Streams,
  minutes: Int32Array,
  factors: Float64Array,
  drawn: Float64Array,
): void {
  streams.turnTo(n, key);
  const factor = sampler(streams.unit());
  factors[step] = factor;
  for (const { phase, minutes: base, units, most } of phases) {
    const noise = unitNoise === 0 ? 1 : Math.max(0.2, 1 + (unitNoise / Math.sqrt(units)) * streams.normal());
    const taken = Math.max(1, Math.min(most, Math.round(base * factor * noise)));
    minutes[phase] = taken;
    drawn[step] = drawn[step]! + taken - base;
  }
}
