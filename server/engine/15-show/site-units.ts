/** What goes to the site by itself: units of parts, and spares. */
import type { Build } from '../../model/index.ts';
import { type Evaluator, type PartCount, wholesOf } from '../01-quantities/index.ts';
import { ceilCount } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';

/** Units of one part that go to the site by themselves. */
interface SiteUnits {
  readonly part: string;
  /** For the piece. */
  readonly units: number;
  readonly spares: number;
}

/**
 * The parts that somebody carries to the site, in the order of the build: what goes into nothing else, what goes in at
 * a step on site, and all spares. What goes in before the load-in travels inside its parent, and what is measured, such
 * as oil, is used up or lies in a tin: both are left out. A part that is split between its ways is one part. A build
 * without work on site carries nothing.
 */
export function siteUnitsOf(planned: Planned): SiteUnits[] {
  const { asked, build, quantities, plans } = planned;
  if (plans.every(({ onSite }) => !onSite)) return [];
  const wholes = wholesOf(asked.build);
  const carried = new Map<string, SiteUnits>();
  for (const count of quantities.parts.values()) {
    const { part, ownNeed, need, spares, usedIn } = count;
    const id = wholes.get(part.id) ?? part.id;
    // What all ways lead to is carried as that.
    if (count.measure !== null || (id !== part.id && usedIn.some((use) => use.part === id))) continue;
    const units = Math.min(need, ownNeed + mountedOnSite(planned, build, count));
    const before = carried.get(id) ?? { units: 0, spares: 0 };
    carried.set(id, { part: id, units: before.units + units, spares: before.spares + spares });
  }
  return [...carried.values()].filter(({ units, spares }) => units + spares > 0);
}

/** Whether a part is an amount of something, such as litres, and no number of pieces. */
export function isMeasured({ quantities }: Planned, part: string): boolean {
  return (quantities.parts.get(part)?.measure ?? null) !== null;
}

/** What reads how much of a part lies in a box: whole pieces, or any amount of what is measured. */
export function boxedOf(planned: Planned, part: string, evaluator: Evaluator): Evaluator['count'] {
  return isMeasured(planned, part) ? evaluator.measure : evaluator.count;
}

/** Steps at which a part goes in: those that say so, else the first of each part that it goes into. */
export function mountsOf({ steps }: Build, { part, usedIn }: Pick<PartCount, 'part' | 'usedIn'>) {
  const users = steps.filter(({ uses }) => uses?.includes(part.id));
  if (users.length > 0) return users.map((step) => ({ step, parent: step.part ?? null }));
  return usedIn.flatMap((use) => {
    const step = steps.find((one) => one.part === use.part);
    return step === undefined ? [] : [{ step, parent: use.part }];
  });
}

/** Units that go in at steps on site; where some go in at home, as many as the parents there take. */
function mountedOnSite({ quantities }: Planned, build: Build, count: PartCount): number {
  const mounts = mountsOf(build, count);
  const away = mounts.filter(({ step }) => step.onSite === true);
  const rest = count.need - count.ownNeed;
  if (away.length === mounts.length) return away.length === 0 ? 0 : rest;
  const units = away.map(({ parent }) => {
    const use = count.usedIn.find((one) => one.part === parent);
    const of = parent === null ? undefined : quantities.parts.get(parent);
    return use === undefined || of === undefined ? 0 : ceilCount(use.count * of.fedFor);
  });
  return Math.min(
    rest,
    units.reduce((sum, one) => sum + one, 0),
  );
}
