/** Who stays with a machine that was loaded and may not be left alone: whoever loaded it. */
import { personNamed, type Surroundings } from '../calendar/index.ts';
import type { Instant, Lot, RunPhase } from '../types.ts';

/** An attended run under way, and who is with it. */
interface Attended {
  readonly lot: number;
  readonly run: RunPhase;
  readonly from: Instant;
  readonly until: Instant;
  readonly loader: number | undefined;
  readonly people: number[];
}

/**
 * The lots with the people of each attended run under way fixed: whoever loaded it (`loadedBy`, by lot, as the log
 * names them), and where it takes more, the first of those who may and are free. Nobody is at two at once: where too
 * few are free, the run goes on with fewer. O(runs under way squared).
 */
export function withAttendants(
  lots: readonly Lot[],
  loadedBy: ReadonlyMap<number, string>,
  surroundings: Surroundings,
): readonly Lot[] {
  const runs = [...loadedBy]
    .flatMap(([lot, by]) => attendedRun(lots[lot]!, lot, personNamed(surroundings, by)?.resource))
    .sort((a, b) => a.from - b.from || a.lot - b.lot);
  if (runs.length === 0) return lots;
  const add = (run: Attended, people: readonly number[]): void => {
    for (const person of people)
      if (run.people.length < run.run.people && isFree(person, run, runs)) run.people.push(person);
  };
  for (const run of runs) if (run.loader !== undefined) add(run, [run.loader]);
  for (const run of runs) add(run, run.run.eligible);
  const changed = [...lots];
  for (const run of runs) changed[run.lot] = withPeople(lots[run.lot]!, run);
  return changed;
}

function attendedRun(lot: Lot, index: number, loader: number | undefined): Attended[] {
  const [run] = lot.phases;
  if (lot.begunAt === null || run?.kind !== 'run' || !run.attended || run.people === 0) return [];
  const known = loader !== undefined && run.eligible.includes(loader) ? loader : undefined;
  return [{ lot: index, run, from: lot.begunAt, until: lot.begunAt + run.minutes, loader: known, people: [] }];
}

function isFree(person: number, run: Attended, runs: readonly Attended[]): boolean {
  return !runs.some((other) => other.people.includes(person) && other.from < run.until && run.from < other.until);
}

function withPeople(lot: Lot, { run, people }: Attended): Lot {
  const attended: RunPhase = { ...run, attended: people.length > 0, people: people.length, eligible: people };
  return { ...lot, phases: [attended, ...lot.phases.slice(1)] };
}
