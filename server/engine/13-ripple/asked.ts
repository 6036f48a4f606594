/** What is asked when a change is to be saved, or when units that nobody looked at are. */
import type { Build, Change, CouldUseList, LogEntry, MadeUnits, Part, RippleAsked } from '../../model/index.ts';
import { chosenOf, learntYields, quantitiesOf } from '../01-quantities/index.ts';
import { type Tally, tallyLog, timedEntries } from '../log/index.ts';
import { couldUseIn } from './could-use.ts';
import { madeOf, passedAlong, routeOf } from './made.ts';
import { rippleOf } from './ripple.ts';

/**
 * The ripple of changes that lead from `before` to `after`, with what could use the units that are made. Where the
 * changes reach no made unit and a part is named, its unchecked units are asked about, as many as there still are.
 */
export function askedBy(
  before: Build,
  after: Build,
  changes: readonly Change[],
  log: readonly LogEntry[],
  named: string | null,
): RippleAsked {
  const ripple = rippleOf(before, after, changes, log);
  const part = after.parts?.find(({ id }) => id === named);
  const isAnswer = ripple.made.length === 0 && part !== undefined;
  if (ripple.made.length === 0 && part?.unchecked === undefined) return { ripple, made: [], isAnswer, couldUse: {} };
  const tally = tallyLog(timedEntries(log).entries);
  const made = isAnswer ? stillUnchecked(part, after, tally) : ripple.made;
  const touched = [...new Set(made.map((units) => units.part))];
  const couldUse = couldUseIn(after, leftToBegin(after, tally));
  const uses = touched.map((id): [string, CouldUseList] => [id, couldUse(id)]);
  return { ripple, made, isAnswer, couldUse: Object.fromEntries(uses) };
}

/** The units of a part that were left unchecked, each state cut to what is there of the part at all. */
function stillUnchecked(part: Part, build: Build, tally: Tally): MadeUnits[] {
  let there = madeOf(part, build, tally).reduce((sum, { units }) => sum + units, 0);
  return (part.unchecked ?? []).flatMap(({ at, step = null, units }): MadeUnits[] => {
    const left = Math.min(units, there);
    there -= left;
    return left > 0 ? [{ part: part.id, at, step, units: left }] : [];
  });
}

/** By part, the units that have not passed its first step yet. */
function leftToBegin(build: Build, tally: Tally): ReadonlyMap<string, number> {
  const { build: chosen } = chosenOf(build);
  const { parts } = quantitiesOf(chosen, new Map(), learntYields(chosen, tally));
  return new Map(
    [...parts.values()].map(({ part, toMake, scrapped }) => {
      const passed = passedAlong(routeOf(part, chosen), tally);
      return [part.id, Math.max(0, toMake - scrapped - Math.max(0, ...passed))];
    }),
  );
}
