/** What is made of a part so far, by where its units are. */
import type { Build, MadeUnits, Part } from '../../model/index.ts';
import { hasLead, impliedOrderId, stepsOfPart } from '../01-quantities/index.ts';
import type { Tally } from '../log/index.ts';
import { ceilCount } from '../numbers/index.ts';

/**
 * The units of a part that are made, bought or under way, by their state: on hand, on their way under an order, passed
 * a step as their last one, or gone into another part at a step. A unit is in one state alone. What went into a parent
 * is what the parts list says goes into as many of them as have passed the step that takes it, stock first; several
 * steps that take it share alike. Empty states are left out. O(steps).
 */
export function madeOf(part: Part, build: Build, tally: Tally): MadeUnits[] {
  const route = routeOf(part, build);
  const passed = passedAlong(route, tally);
  const last = passed.at(-1) ?? 0;
  const onHand = part.onHand ?? 0;
  const taken = takenOf(part, build, tally);
  const mounted = Math.min(last + onHand, taken?.units ?? 0);
  const states: MadeUnits[] = [
    { part: part.id, at: 'on-hand', step: null, units: Math.max(0, onHand - mounted) },
    ...route.map((step): MadeUnits => ({ part: part.id, at: 'on-its-way', step, units: underWay(step, tally) })),
    ...route.map((step, i): MadeUnits => {
      const beyond = i + 1 < route.length ? Math.max(0, ...passed.slice(i + 1)) : Math.max(0, mounted - onHand);
      return { part: part.id, at: 'passed', step, units: Math.max(0, passed[i]! - beyond) };
    }),
    { part: part.id, at: 'mounted', step: taken?.step ?? null, units: mounted },
  ];
  return states.filter(({ units }) => units > 0);
}

/** The steps that a unit of the part passes, in order: its order first, where nobody typed a step for it. */
export function routeOf(part: Part, build: Build): string[] {
  const isOrdered = part.source !== 'make' && part.supplier !== undefined && !hasLead(part, build);
  const own = stepsOfPart(part.id, build).map(({ id }) => id);
  return isOrdered ? [impliedOrderId(part), ...own] : own;
}

/** Good units that have passed each step of a route, those scrapped at later steps taken off. */
export function passedAlong(route: readonly string[], tally: Tally): number[] {
  const scrapped = route.map((step) => tally.steps.get(step)?.scrapped ?? 0);
  return route.map((step, i) => {
    const lost = scrapped.slice(i + 1).reduce((sum, units) => sum + units, 0);
    return Math.max(0, (tally.steps.get(step)?.good ?? 0) - lost);
  });
}

/** A step at which a part goes into something, and how many of it go into one unit there. */
interface Taker {
  readonly step: string;
  readonly perUnit: number;
}

/** The steps that take a part: those whose `uses` names it, else the first of each part that it goes into. */
export function takersOf(part: Part, build: Build): Taker[] {
  const uses = (part.usedIn ?? []).map((use) => ({ ...use, count: typeof use.count === 'number' ? use.count : 1 }));
  const users = build.steps.filter((step) => step.uses?.includes(part.id));
  if (users.length > 0) {
    const countIn = (parent: string | undefined) =>
      uses.find((use) => use.part === parent)?.count ?? uses[0]?.count ?? 1;
    return users.map((step) => ({ step: step.id, perUnit: countIn(step.part) / users.length }));
  }
  return uses.flatMap((use) => {
    const parent = build.parts?.find(({ id }) => id === use.part);
    const first = parent === undefined ? undefined : routeOf(parent, build)[0];
    return first === undefined || use.count <= 0 ? [] : [{ step: first, perUnit: use.count }];
  });
}

function takenOf(part: Part, build: Build, tally: Tally): { readonly step: string; readonly units: number } | null {
  const takers = takersOf(part, build);
  if (takers.length === 0) return null;
  const units = takers.map(({ step, perUnit }) => ceilCount(passedAt(step, build, tally) * perUnit));
  const busiest = units.indexOf(Math.max(...units));
  return { step: takers[busiest]!.step, units: units.reduce((sum, one) => sum + one, 0) };
}

function passedAt(id: string, build: Build, tally: Tally): number {
  const own = build.steps.find((step) => step.id === id)?.part;
  const part = build.parts?.find((one) => one.id === own);
  if (part === undefined) return Math.max(0, tally.steps.get(id)?.good ?? 0);
  const route = routeOf(part, build);
  return passedAlong(route, tally)[route.indexOf(id)] ?? 0;
}

function underWay(step: string, tally: Tally): number {
  const starts = tally.steps.get(step)?.starts ?? [];
  return starts.reduce((sum, { kind, open }) => sum + (kind === 'ordered' ? open : 0), 0);
}
