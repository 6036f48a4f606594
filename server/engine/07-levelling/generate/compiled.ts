/** A work compiled for many passes, and one pass over it. */
import type { Instant, Work } from '../../types.ts';
import { compileDirection } from '../instance/compile.ts';
import type { Instance } from '../instance/instance.ts';
import type { ExtraTables } from '../instance/phase-columns.ts';
import { fillPhases, generateSerial } from './generate.ts';
import { dependencyOrderOf, keepLinks, keepsLinks } from './orders.ts';

/** A work compiled once for many passes; one at a time, since passes share its scratch. */
export interface Compiled {
  readonly work: Work;
  /** Time as it runs. Its phase columns are indexed like the phases of all lots in order: phaseFirst[lot] + phase. */
  readonly forward: Instance;
  /** Time reversed. Phases of a lot stand in reverse. */
  readonly mirrored: Instance;
}

/** What `dispatch` asks for: the work in the direction of time alone. */
export type CompiledForward = Pick<Compiled, 'work' | 'forward'>;

/**
 * Compiles `work` for `dispatch`. `extraTables` gives lead phases further arrival tables to draw among: those of a
 * phase whose own table is number forward.phaseTable[p] are the numbers after it, in their order. `losable`: when days
 * begin that `loseDays` may take out of all people's hours between passes. Cost and errors as `compile`.
 */
export function compileForward(work: Work, extraTables?: ExtraTables, losable?: Int32Array): CompiledForward {
  return { work, forward: compileDirection(work, false, extraTables, losable) };
}

/**
 * Compiles `work` for `level` and `levelBackwards`, and for `dispatch`. O(size of the work and its calendars), some
 * milliseconds for 300 lots. Throws RangeError where a phase can never be done (too few people, too large a demand, a
 * circle of links).
 */
export function compile(work: Work): Compiled {
  const { forward } = compileForward(work);
  const compiled = { work, forward, mirrored: compileDirection(work, true) };
  if (forward.underWay.length > 0) {
    forward.isWhole = true;
    generateSerial(forward, dependencyOrderOf(forward));
    forward.isWhole = false;
    mirrorUnderWay(compiled);
  }
  return compiled;
}

/** In the mirror, what is under way is where the last forward pass put it. */
function mirrorUnderWay({ forward, mirrored }: Compiled): void {
  for (const lot of forward.underWay) {
    const first = forward.phaseFirst[lot]!;
    const end = forward.phaseFirst[lot + 1]!;
    for (let p = first; p < end; p++) {
      const q = first + end - 1 - p;
      mirrored.phaseStarts[q] = -forward.phaseFinishes[p]!;
      mirrored.phaseFinishes[q] = -forward.phaseStarts[p]!;
      // The crews of both directions are numbered alike: they are met in the same order, lot by lot and phase by phase.
      const crew = forward.phaseCrew[p]!;
      mirrored.phaseCrew[q] = crew;
      if (crew < 0) continue;
      const members = forward.members.subarray(forward.memberFirst[crew]!, forward.memberFirst[crew + 1]!);
      mirrored.members.set(members, mirrored.memberFirst[crew]!);
    }
    mirrored.starts[lot] = -forward.finishes[lot]!;
    mirrored.finishes[lot] = -forward.starts[lot]!;
  }
}

/** What a dispatched future tells: instants, by lot and by phase (phaseFirst[lot] + phase). */
export interface Dispatched {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
}

/**
 * One schedule of the compiled work with other minutes: the levelled plan as it would go if the phases took these. Lots
 * are placed in `activityList` (a lot before which others must come has them placed first), each by the crew that
 * finishes first. `minutes[p]` replaces the minutes of phase p (forward.phaseFirst[lot] + phase); for a lead it is the
 * minutes it is late beyond its table, and compiled.forward.phaseTable[p] may be set to another table before the call.
 * Allocation-free when `out` is given the instance's own arrays (compiled.forward); else the results are copied into
 * it. Returns the latest finish. A finish beyond compiled.forward.calendars.horizon is beyond the calendars. A textbook
 * work wants `minutes` that are whole multiples of compiled.forward.tick.
 */
export function dispatch(
  compiled: CompiledForward,
  activityList: Int32Array,
  minutes: Int32Array,
  out: Dispatched,
): Instant {
  const instance = compiled.forward;
  const { phaseMinutes, origin, tick } = instance;
  if (phaseMinutes !== minutes) {
    if (tick === 1) phaseMinutes.set(minutes);
    else for (let p = 0; p < minutes.length; p++) phaseMinutes[p] = minutes[p]! / tick;
  }
  const latest = generateSerial(
    instance,
    instance.isTextbook && !keepsLinks(instance, activityList) ? keepLinks(instance, activityList) : activityList,
  );
  if (instance.isTextbook) fillPhases(instance);
  if (out.starts !== instance.starts) copyOut(instance, out);
  return origin + latest * tick;
}

function copyOut(instance: Instance, out: Dispatched): void {
  out.starts.set(instance.starts);
  out.finishes.set(instance.finishes);
  out.phaseStarts.set(instance.phaseStarts);
  out.phaseFinishes.set(instance.phaseFinishes);
  if (!instance.isTextbook) return;
  for (const times of [out.starts, out.finishes, out.phaseStarts, out.phaseFinishes]) {
    for (let i = 0; i < times.length; i++) times[i] = instance.origin + times[i]! * instance.tick;
  }
}
