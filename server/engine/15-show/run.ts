/** The run sheet: who does what on site when, as planned, with the last moment for each. */
import { type DaySpell, type ForecastShow, type RunLine, stepsOfNobody } from '../../model/index.ts';
import { levelledOfLot, placementsByLot } from '../10-answers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { ShowGiven } from './show-given.ts';

/**
 * All work on site in the order of its beginning: the plan's own spells, those of the people who do one together as one
 * line, and what waits or runs with nobody there. The last moment of a line lies as long before the last moment of its
 * lot as the line begins after the lot. Work that nobody may do waits for somebody and is no line; `notYet` names it,
 * and what has no place in the plan. O(spells + lots).
 */
export function runAnswer({ planned, spells, forecast }: ShowGiven): Pick<ForecastShow, 'run' | 'notYet'> {
  const lots = siteLots(planned);
  const nobodys = stepsOfNobody(forecast);
  const lines = new Map<string, RunLine>();
  for (const [person, own] of spells.people) {
    const id = planned.work.resources[person]!.id;
    for (const spell of own) if (lots.has(spell.lot)) addTo(lines, lineOf(spell, lots.get(spell.lot)!), id);
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
    [...lots.values()]
      .filter(({ index }) => planned.beyond.has(index) || !placed.has(index))
      .map(({ index }) => planned.work.lots[index]!.step),
  );
  return planned.plans.flatMap(({ id, onSite, left }, i) =>
    onSite && left > 0 && (unplaced.has(i) || nobodys.has(id)) ? [id] : [],
  );
}

/** By lot on site, its place among the lots and by how many minutes it may be later. */
interface SiteLot {
  readonly index: number;
  readonly later: number | null;
}

function siteLots(planned: Planned): Map<string, SiteLot> {
  const { work, plans } = planned;
  return new Map(
    work.lots.flatMap((lot, index) => {
      if (!plans[lot.step]!.onSite || lot.lastUnit < lot.firstUnit) return [];
      const levelled = levelledOfLot(planned, index);
      const last = levelled?.lastStart ?? null;
      return [[lot.id, { index, later: last === null ? null : last - levelled!.start }] as const];
    }),
  );
}

function lineOf({ lot, step, set, units, kind, start, finish }: DaySpell, { later }: SiteLot): RunLine {
  return { lot, step, set, units, kind, start, finish, last: later === null ? null : start + later, people: [] };
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
  return [...lots.values()].flatMap(({ index, later }) => {
    const lot = work.lots[index]!;
    return (placed.get(index) ?? []).flatMap(({ phase, people, start, finish }): RunLine[] => {
      const { kind } = lot.phases[phase]!;
      if ((kind !== 'wait' && kind !== 'run') || people.length > 0 || finish === start) return [];
      const units = lot.lastUnit - lot.firstUnit + 1;
      const base = { lot: lot.id, step: plans[lot.step]!.id, set: lot.set, units, kind, start, finish };
      return [{ ...base, last: later === null ? null : start + later, people: [] }];
    });
  });
}
