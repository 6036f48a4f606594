/** From the loads of one step to how long each was on its own, against what was thought. */
import { effectOf } from '../../model/log/index.ts';
import { type PlannedPhase, type PlannedStep, phasesByThemselves } from '../02-steps/index.ts';
import { closedWithin, isOpen, type Surroundings } from '../calendar/index.ts';
import type { TimedEntry } from '../log/index.ts';
import type { Calendar, Instant, Minutes } from '../types.ts';

/** One load that is back: what a machine ran, or what waited in the middle of its work. */
export interface RunReading {
  /** When the last of it was counted. */
  readonly at: Instant;
  readonly units: number;
  /** From the load to that count; hours in which the machine may not run, and later work of hands, left out. */
  readonly minutes: Minutes;
  readonly thought: Minutes;
  /** Nobody was there when it may have ended: it was over by then, and that is all it tells. */
  readonly isBound: boolean;
}

/** What closed a load, and the load. */
interface Back {
  readonly from: Instant;
  readonly at: Instant;
  readonly units: number;
}

/**
 * The loads of a step that are back, in the order of their counts, by the standing entries of a log. A run has ended
 * when it is counted or before. Where the count is later than thought and somebody was not there from the thought end
 * on to see it, it is no more than a bound. `plan`: the step by its estimates. O(entries).
 *
 * @example loaded 13:00, 12 done at 17:10, 200 minutes thought and somebody there: 250 minutes, 200 thought.
 */
export function runReadingsOf(
  plan: PlannedStep,
  standing: readonly TimedEntry[],
  surroundings: Surroundings,
): RunReading[] {
  const own = phasesByThemselves(plan);
  const runs = own.flatMap((phase) => (phase.kind === 'run' ? [phase.open] : []));
  const there = handsThere(plan, surroundings);
  return loadsBack(plan, standing).flatMap(({ from, at, units }): RunReading[] => {
    const thought = minutesOf(own, units);
    const closed = Math.max(0, ...runs.map((open) => closedWithin(open, from, at)));
    const minutes = at - from - closed - minutesOf(handsAfter(plan), units);
    if (thought <= 0 || minutes <= 0) return [];
    const isSeen = minutes <= thought || isThereThrough(there, at - (minutes - thought), at);
    return [{ at, units, minutes, thought, isBound: !isSeen }];
  });
}

/** Each load with the moment when the last of it was counted, the oldest closed first, set by set. */
function loadsBack({ id, phases }: PlannedStep, standing: readonly TimedEntry[]): Back[] {
  const waitsOnly = phases.every(({ kind }) => kind === 'wait');
  const open: { at: Instant; units: number; left: number; set: number | undefined }[] = [];
  const back: Back[] = [];
  for (const entry of standing) {
    if (entry.step !== id) continue;
    const effect = effectOf(entry);
    const begun =
      entry.kind === 'loaded' ? effect.begun : entry.kind === 'began' && waitsOnly && open.length === 0 ? 1 : 0;
    if (begun > 0) open.push({ at: entry.at, units: begun, left: begun, set: entry.set });
    for (let units = effect.back; units > 0; ) {
      const at = open.findIndex(({ set }) => set === undefined || entry.set === undefined || set === entry.set);
      const oldest = open[at];
      if (oldest === undefined) break;
      const taken = Math.min(units, oldest.left);
      units -= taken;
      oldest.left -= taken;
      if (oldest.left > 0) break;
      back.push({ from: oldest.at, at: entry.at, units: oldest.units });
      open.splice(at, 1);
    }
  }
  return back;
}

function minutesOf(phases: readonly PlannedPhase[], units: number): Minutes {
  return phases.reduce((sum, phase) => {
    if (phase.kind === 'lead') return sum;
    const each = phase.kind === 'hands' ? phase.firstUnitMinutes : phase.minutesPerUnit;
    return sum + phase.fixedMinutes + units * each;
  }, 0);
}

/** Work of hands between the end of what goes on by itself and the count. */
function handsAfter(plan: PlannedStep): PlannedPhase[] {
  const [first] = phasesByThemselves(plan);
  const at = first === undefined ? -1 : plan.phases.indexOf(first);
  return plan.phases.filter(({ kind }, i) => i > at && at >= 0 && kind === 'hands');
}

/** When somebody is there who may count it: one of those who do its hands, or anybody. */
function handsThere({ phases }: PlannedStep, { people, together }: Surroundings): Calendar {
  const hands = phases.flatMap((phase) => ('eligible' in phase ? phase.eligible : []));
  const anybody = [...people.values()].map(({ resource }) => resource);
  return together(1, hands.length > 0 ? [...new Set(hands)] : anybody);
}

function isThereThrough(open: Calendar, from: Instant, to: Instant): boolean {
  return isOpen(open, from) && closedWithin(open, from, to) === 0;
}
