/** What a log says of machines and places under way that cannot be, and how it is planned all the same. */
import type { Problem } from '../../model/index.ts';
import { problemTexts, warning } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { Link, Lot, Resource } from '../types.ts';

interface Linked {
  readonly plans: readonly PlannedStep[];
  readonly resources: readonly Resource[];
  readonly lots: readonly Lot[];
  readonly links: readonly Link[];
}

/**
 * The links without those by which a lot under way would keep its machine or its place until work ends that needs it
 * too: both would wait for ever, so the one that is there ends first. Each with a warning. Linear in the links for each
 * such lot; most builds have none.
 */
export function withoutStandoffs({ plans, lots, links }: Linked): { links: readonly Link[]; problems: Problem[] } {
  const waiting = links.filter(({ to, type }) => type.endsWith('-finish') && keepsUntilItsEnd(lots[to]!));
  if (waiting.length === 0) return { links, problems: [] };
  const sources = new Map<number, number[]>();
  for (const { from, to } of links) sources.set(to, [...(sources.get(to) ?? []), from]);
  const dropped = new Set(
    waiting.filter(({ from, to }) => {
      const kept = needsOf(lots[to]!);
      return [...behind(from, sources)].some((lot) => needsOf(lots[lot]!).some((resource) => kept.includes(resource)));
    }),
  );
  const steps = new Set([...dropped].map(({ to }) => plans[lots[to]!.step]!));
  return {
    links: links.filter((link) => !dropped.has(link)),
    problems: [...steps].map(({ id, name }) => warning('log', `log.${id}`, id, problemTexts.steps.standoff(name))),
  };
}

/** A warning for each machine that more lots under way are on than there are of it. */
export function overloaded({ resources, lots }: Pick<Linked, 'resources' | 'lots'>): Problem[] {
  const begun = lots.filter(({ begunAt }) => begunAt !== null);
  return resources.flatMap(({ id, name, kind, capacity }, machine) => {
    const on = begun.filter(({ phases: [first] }) => isRunOn(first, machine));
    if (kind !== 'machine' || on.length <= capacity) return [];
    return [warning('log', `machines.${id}`, on.length, problemTexts.steps.overloaded(name, on.length, capacity))];
  });
}

function isRunOn(phase: Lot['phases'][number] | undefined, machine: number): boolean {
  return phase?.kind === 'run' && phase.machine === machine;
}

/** Whether a lot under way stays on its machine, or at its place, beyond what it is in. */
function keepsUntilItsEnd({ begunAt, phases: [first, next], station }: Lot): boolean {
  if (begunAt === null) return false;
  return station !== null || (first?.kind === 'run' && next !== undefined && next.kind !== 'wait');
}

function needsOf({ phases, station }: Lot): number[] {
  const machines = phases.flatMap((phase) => (phase.kind === 'run' ? [phase.machine] : []));
  return station === null ? machines : [...machines, station];
}

/** The lot and all that it waits for. */
function behind(lot: number, sources: ReadonlyMap<number, readonly number[]>): ReadonlySet<number> {
  const found = new Set([lot]);
  for (const one of found) for (const source of sources.get(one) ?? []) found.add(source);
  return found;
}
