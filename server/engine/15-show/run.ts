/** The run sheet: who does what on site when, as planned, with the last moment for each. */
import { type DaySpell, type ForecastShow, type RunLine, stepsOfNobody } from '../../model/index.ts';
import { levelledOfLot, placementsByLot } from '../10-answers/index.ts';
import { intersectionOf, openMinutesBetween, subtractOpenMinutes } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant, Placement } from '../types.ts';
import type { ShowSources } from './show-sources.ts';

/**
 * All work on site in the order of its beginning: the plan's own spells, those of the people who do one together as one
 * line, and what waits or runs with nobody there. The last moment of a line is when it begins where its lot begins as
 * late as it may, in the hours of those who do it then. Work that nobody may do waits for somebody and is no line;
 * `notYet` names it, and what has no place in the plan. O(spells + lots).
 */
export function runAnswer({ planned, spells, forecast }: ShowSources): Pick<ForecastShow, 'run' | 'notYet'> {
  const lots = siteLots(planned);
  const nobodys = stepsOfNobody(forecast);
  const lines = new Map<string, RunLine>();
  for (const [person, own] of spells.people) {
    const id = planned.work.resources[person]!.id;
    for (const spell of own) if (lots.has(spell.lot)) addTo(lines, lineOf(planned, spell, lots.get(spell.lot)!), id);
  }
  const alone = aloneLines(planned, lots).filter(({ step }) => !nobodys.has(step));
  return {
    run: [...lines.values(), ...alone].sort(
      (a, b) => a.start - b.start || a.finish - b.finish || (a.lot < b.lot ? -1 : 1),
    ),
    notYet: notYetIn(planned, lots, nobodys),
  };
}

function notYetIn(planned: Planned, lots: ReadonlyMap<string, SiteLot>, nobodys: ReadonlySet<string>): string[] {
  const placed = placementsByLot(planned);
  const unplaced = new Set(
    [...lots.values()].filter(({ index }) => !placed.has(index)).map(({ index }) => planned.work.lots[index]!.step),
  );
  return planned.plans.flatMap(({ id, onSite, left }, i) =>
    onSite && left > 0 && (unplaced.has(i) || nobodys.has(id)) ? [id] : [],
  );
}

/**
 * By lot on site, its place among the lots, by how many minutes it may be later, and where its phases lie as planned
 * and as late as they may; `latest` is empty where that is where they stand.
 */
interface SiteLot {
  readonly index: number;
  readonly later: number | null;
  readonly planned: readonly Placement[];
  readonly latest: readonly Placement[];
}

function siteLots(planned: Planned): Map<string, SiteLot> {
  const { work, plans, backwards, beyond } = planned;
  const [placed, latest] = [placementsByLot(planned), placementsByLot({ schedule: backwards, beyond })];
  return new Map(
    work.lots.flatMap((lot, index) => {
      if (!plans[lot.step]!.onSite || lot.lastUnit < lot.firstUnit) return [];
      const levelled = levelledOfLot(planned, index);
      const last = levelled?.lastStart ?? null;
      const later = last === null ? null : last - levelled!.start;
      const isMoved = later !== 0 && lot.begunAt === null;
      const phases = { planned: placed.get(index) ?? [], latest: isMoved ? (latest.get(index) ?? []) : [] };
      return [[lot.id, { index, later, ...phases }] as const];
    }),
  );
}

function lineOf(planned: Planned, spell: DaySpell, site: SiteLot): RunLine {
  const { lot, step, set, units, kind, start, finish } = spell;
  return { lot, step, set, units, kind, start, finish, last: lastOf(planned, site, start), people: [] };
}

/**
 * When what begins at `start` begins at the latest: as much of its phase is then still to be done as at `start`; never
 * before one may get in.
 */
function lastOf(planned: Planned, site: SiteLot, start: Instant): Instant | null {
  const last = lastByHands(planned, site, start);
  return last === null ? null : Math.max(last, planned.surroundings.loadIn ?? last);
}

function lastByHands({ work }: Planned, { later, planned, latest }: SiteLot, start: Instant): Instant | null {
  if (later === null) return null;
  const as = planned.find((one) => one.start <= start && start < one.finish);
  const then = latest.find(({ phase }) => phase === as?.phase);
  if (as === undefined || then === undefined) return start + later;
  if (as.start === start || then.people.length === 0) return then.start + start - as.start;
  const openOf = (people: readonly number[]) => intersectionOf(people.map((person) => work.resources[person]!.open));
  const left = openMinutesBetween(openOf(as.people), start, as.finish);
  return subtractOpenMinutes(openOf(then.people), then.finish, left);
}

function addTo(lines: Map<string, RunLine>, line: RunLine, person: string): void {
  const key = JSON.stringify([line.lot, line.kind, line.start, line.finish]);
  const known = lines.get(key) ?? line;
  lines.set(key, { ...known, people: [...known.people, person] });
}

/** Waits, and runs at which nobody stays. */
function aloneLines(planned: Planned, lots: ReadonlyMap<string, SiteLot>): RunLine[] {
  const { work, plans } = planned;
  const placed = placementsByLot(planned);
  return [...lots.values()].flatMap((site) => {
    const { index } = site;
    const lot = work.lots[index]!;
    return (placed.get(index) ?? []).flatMap(({ phase, people, start, finish }): RunLine[] => {
      const { kind } = lot.phases[phase]!;
      if ((kind !== 'wait' && kind !== 'run') || people.length > 0 || finish === start) return [];
      const units = lot.lastUnit - lot.firstUnit + 1;
      const base = { lot: lot.id, step: plans[lot.step]!.id, set: lot.set, units, kind, start, finish };
      return [{ ...base, last: lastOf(planned, site, start), people: [] }];
    });
  });
}
