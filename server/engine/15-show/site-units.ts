/** What goes to the site by itself: units of parts, and spares. */
import { type Evaluator, type PartCount, wholesOf } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { routesOf } from '../04-lots/index.ts';
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
 * as oil, is used up or is in a tin: both are left out. A part that is split between its ways is one part. A build
 * without work on site carries nothing.
 */
export function siteUnitsOf(planned: Planned): SiteUnits[] {
  const { asked, quantities, plans } = planned;
  if (plans.every(({ onSite, total }) => !onSite || total === 0)) return [];
  const wholes = wholesOf(asked.build);
  const carried = new Map<string, SiteUnits>();
  for (const count of quantities.parts.values()) {
    const { part, ownNeed, need, spares, usedIn } = count;
    const id = wholes.get(part.id) ?? part.id;
    // What all ways lead to is carried as that.
    if (count.measure !== null || (id !== part.id && usedIn.some((use) => use.part === id))) continue;
    const units = Math.min(need, ownNeed + mountedOnSite(planned, count));
    const before = carried.get(id) ?? { units: 0, spares: 0 };
    carried.set(id, { part: id, units: before.units + units, spares: before.spares + spares });
  }
  return [...carried.values()].filter(({ units, spares }) => units + spares > 0);
}

/** Whether a part is an amount of something, such as litres, and no number of pieces. */
export function isMeasured({ quantities }: Planned, part: string): boolean {
  return (quantities.parts.get(part)?.measure ?? null) !== null;
}

/** What reads how much of a part is in a box: whole pieces, or any amount of what is measured. */
export function boxedOf(planned: Planned, part: string, evaluator: Evaluator): Evaluator['count'] {
  return isMeasured(planned, part) ? evaluator.measure : evaluator.count;
}

interface Mount {
  readonly step: PlannedStep;
  /** Null: a job that is of no part. */
  readonly parent: string | null;
}

/**
 * Steps at which a part goes in, as it feeds them: those that say so, else the first of each part that it goes into,
 * which is its order where that part is sent out.
 */
export function mountsOf({ plans }: Planned, { part, usedIn }: Pick<PartCount, 'part' | 'usedIn'>): Mount[] {
  const users = plans.filter(({ step }) => step?.uses?.includes(part.id));
  if (users.length > 0) return users.map((step) => ({ step, parent: step.part }));
  const routes = routesOf(plans);
  return usedIn.flatMap((use) => {
    const step = use.count > 0 ? routes.get(use.part)?.[0] : undefined;
    return step === undefined ? [] : [{ step, parent: use.part }];
  });
}

/** Units that go in at steps on site; where some go in at home, as many as the parents there take. */
function mountedOnSite(planned: Planned, count: PartCount): number {
  const { quantities } = planned;
  const mounts = mountsOf(planned, count);
  const away = mounts.filter(({ step }) => step.onSite);
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
