/** The last stage: schedules that the hands and machines there are can do. */
import { MOST_SCHEDULED_LOTS } from '../../model/index.ts';
import {
  boundOf,
  compile,
  level,
  levelBackwards,
  orderOfSheet,
  remembered,
  withChoices,
} from '../07-levelling/index.ts';
import type { Lot, Schedule, Work } from '../types.ts';
import type { Dated, Planned } from './planned.ts';
import { lateThere, mixed } from './site-time.ts';

/**
 * A schedule forwards from now and one backwards from the deadlines, by the case's seed and budget, near to what stood
 * on the sheets before. The lots of the answer know who was to do them and what was chosen for them. With more than
 * MOST_SCHEDULED_LOTS lots there is a bound alone.
 */
export function withSchedules(dated: Dated): Planned {
  const { asked, work, previous } = dated;
  if (work.lots.length === 0) {
    return { ...dated, schedule: null, proof: null, ...NOTHING_LATE, beyond: new Set(), ...NO_DEADLINES };
  }
  if (work.lots.length > MOST_SCHEDULED_LOTS) return withBound(dated);
  const options = { ...(asked.levelling ?? { seed: 1 }), ...(previous === undefined ? {} : { previous }) };
  const keeping = remembered(work, previous);
  const compiled = compile(keeping);
  const forwards = level(keeping, options, compiled);
  const lots = withChoices(keeping.lots, compiled.forward, forwards.choices);
  // By what order it was found, the next forecast will not know.
  const schedule = { ...forwards.schedule, activityList: orderOfSheet(compiled, forwards.schedule) };
  return {
    ...dated,
    work: { ...keeping, lots },
    schedule,
    proof: forwards,
    ...latestOf(keeping, (other) =>
      levelBackwards(other, options, other === keeping ? compiled : compile(other), forwards),
    ),
    beyond: new Set(forwards.beyond),
    ...deadlinesKept(work.lots, schedule),
  };
}

/** The schedules worked backwards from the deadlines, by what levels one. */
export function latestOf(
  work: Work,
  levelled: (work: Work) => { readonly schedule: Schedule },
): Pick<Planned, 'backwards' | 'backwardsInTime'> {
  const late = lateThere(
    work,
    (other) => levelled(other).schedule,
    ({ starts }) => starts,
  );
  return { backwards: mixed(work, late), backwardsInTime: late.inTime };
}

const NOTHING_LATE = { backwards: null, backwardsInTime: null };
const NO_DEADLINES = { keepsDeadlines: false, sparesKeepDeadlines: false };

/** Whether a schedule finishes what is needed by its deadlines, and the spares by theirs. O(lots). */
export function deadlinesKept(lots: readonly Lot[], { finishes }: Schedule): typeof NO_DEADLINES {
  const keeps = (spare: boolean): boolean =>
    lots.every((lot, l) => (lot.spare === true) !== spare || finishes[l]! <= lot.deadline);
  return { keepsDeadlines: keeps(false), sparesKeepDeadlines: keeps(true) };
}

/** Too much to plan: what no order of work can beat, and no schedule. */
function withBound(dated: Dated): Planned {
  const bound = boundOf(compile(dated.work));
  const verdict = bound.readyAt > dated.work.readyBy ? 'impossible' : 'gap';
  return {
    ...dated,
    schedule: null,
    proof: { bound, verdict, forgone: null },
    ...NOTHING_LATE,
    beyond: new Set(),
    ...NO_DEADLINES,
  };
}
