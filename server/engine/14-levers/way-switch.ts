/** A part that comes about another way from now on. */
import { type Change, chosenWay, type Part, splitChanges, type Way, wayChanges } from '../../model/index.ts';
import { wholesOf } from '../01-quantities/index.ts';
import type { Planned } from '../stages/index.ts';
import { ownSteps } from './way-costs.ts';

/**
 * Units that are begun by a way and not lost since: passed one of its steps, on a machine, ordered or come. What was
 * scrapped can come another way.
 */
export function begunBy(planned: Planned, part: Part, way: Way): number {
  const begun = ownSteps(planned, part, way).map(({ sets, tally }) => {
    const open = tally.starts.reduce((sum, start) => sum + start.open, 0);
    return sets.reduce((sum, { counted }) => sum + counted, open);
  });
  return Math.max(0, ...begun);
}

/** What makes the part come another way, and how many units then do. */
interface WaySwitch {
  readonly changes: readonly Change[];
  readonly units: number;
}

/**
 * All units that are not begun by the present way come by another: all of the part where none is begun, else the part
 * split, so that what is made counts. `units` 0: nothing is left to come another way.
 */
export function switchTo(planned: Planned, part: Part, way: Way): WaySwitch {
  const chosen = chosenWay(part)!;
  const all = wantedOf(planned, part);
  const begun = way.id === chosen.id ? 0 : begunBy(planned, part, chosen);
  if (begun === 0) return { changes: wayChanges(part, way.id), units: all };
  const units = Math.max(0, all - begun);
  return { changes: splitChanges(part, new Map([[way.id, units]])), units };
}

/** Good units of a part that are wanted by all of its ways together. */
export function wantedOf({ asked, quantities }: Planned, part: Part): number {
  const whole = quantities.parts.get(part.id);
  const wholes = wholesOf(asked.build);
  const subs = [...quantities.parts.values()].filter((count) => wholes.get(count.part.id) === part.id);
  const isShared = subs.some((count) => count.usedIn.some((use) => use.part === part.id));
  const counts = [whole, ...(isShared ? [] : subs)];
  return counts.reduce((sum, count) => sum + (count?.wanted ?? 0), 0);
}
