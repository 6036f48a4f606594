/** The chain that drives the ready date, link by link. */
import type { WhyLine } from '../../model/index.ts';
import { type Cause, type DrivingLink, drivingChain } from '../07-levelling/index.ts';
import type { Planned } from '../stages/index.ts';
import { madeAt } from '../stages/index.ts';

/**
 * Why the workshop is ready when it is: the chain of lots that drives the end of the schedule, from now to the ready
 * finish. Lots of one step that follow each other are one line; milestones are left out. Empty where nothing is
 * scheduled, and where the workshop has nothing left to do.
 */
export function whyAnswer(planned: Planned): WhyLine[] {
  const { work, schedule, beyond } = planned;
  if (schedule === null || beyond.size > 0 || madeAt(planned, false) !== null) return [];
  const chain = withoutMilestones(planned, drivingChain(work, schedule).reverse());
  const runs: DrivingLink[][] = [];
  for (const link of chain) {
    const last = runs.at(-1);
    if (last !== undefined && work.lots[last[0]!.lot]!.step === work.lots[link.lot]!.step) last.push(link);
    else runs.push([link]);
  }
  return runs.map((run) => lineOf(planned, run));
}

/** What waited for a milestone waited for the lot that came last before it. */
function withoutMilestones({ work }: Planned, chain: readonly DrivingLink[]): DrivingLink[] {
  const kept: DrivingLink[] = [];
  let passed: DrivingLink | null = null;
  for (const link of chain) {
    if (work.lots[link.lot]!.phases.length === 0) {
      passed = passed === null || link.cause.kind !== 'lot' ? link : passed;
      continue;
    }
    if (passed === null || link.cause.kind !== 'lot') kept.push(link);
    else {
      const { cause } = passed;
      kept.push({ ...link, cause: cause.kind === 'lot' ? { ...cause, reason: link.cause.reason } : cause });
    }
    passed = null;
  }
  return kept;
}

function lineOf(planned: Planned, run: readonly DrivingLink[]): WhyLine {
  const { work, plans, surroundings } = planned;
  const [first, last] = [run[0]!, run.at(-1)!];
  const numbers = [...new Set(run.map((link) => link.lot))];
  const lots = numbers.map((l) => work.lots[l]!);
  const plan = plans[lots[0]!.step]!;
  const sets = new Set(lots.map((lot) => lot.set));
  const lead = plan.phases.find((phase) => phase.kind === 'lead');
  const names = (resources: readonly number[]) => [...new Set(resources)].map((r) => work.resources[r]!.name);
  return {
    step: plan.id,
    set: sets.size === 1 ? lots[0]!.set : null,
    lots: lots.length,
    firstUnit: Math.min(...lots.map((lot) => lot.firstUnit)),
    lastUnit: Math.max(...lots.map((lot) => lot.lastUnit)),
    start: first.start,
    finish: last.finish,
    people: names(run.flatMap((link) => link.people)),
    machine: names(run.flatMap((link) => link.machine ?? []))[0] ?? null,
    supplier: lead === undefined ? null : (surroundings.suppliers.get(lead.supplier)?.name ?? lead.supplier),
    waited: waitedFor(planned, first),
    stood: longestStand(run),
  };
}

function longestStand(run: readonly DrivingLink[]): WhyLine['stood'] {
  const stands = run.filter((link) => link.morning).map((link) => ({ from: link.causeOver, to: link.start }));
  return stands.reduce<WhyLine['stood']>((a, b) => (a === null || b.to - b.from > a.to - a.from ? b : a), null);
}

function waitedFor(planned: Planned, { cause, lot }: DrivingLink): WhyLine['waited'] {
  const { work, plans } = planned;
  const stepOf = (l: number) => plans[work.lots[l]!.step]!;
  switch (cause.kind) {
    case 'lot': {
      const from = stepOf(cause.lot);
      const lead = work.lots[cause.lot]!.phases.at(-1)?.kind === 'lead' || from.kind === 'order';
      const kind = from.kind === 'gate' ? 'gate' : UNITS.has(cause.reason) ? 'units' : 'step';
      return { kind: lead ? 'supplier' : kind, step: from.id, who: null };
    }
    case 'hands':
    case 'machine':
    case 'station':
    case 'pool':
      return {
        kind: cause.kind === 'pool' ? 'machine' : cause.kind,
        step: stepOf(cause.lot).id,
        who: work.resources[cause.resource]!.name,
      };
    case 'now':
      return { kind: work.lots[lot]!.begunAt === null ? 'now' : 'begun', step: null, who: null };
    case 'supplier':
    case 'phase':
      return { kind: 'step', step: stepOf(lot).id, who: null };
    default:
      return { kind: cause.kind, step: null, who: null };
  }
}

const UNITS: ReadonlySet<string> = new Set<(Cause & { kind: 'lot' })['reason']>(['units', 'route']);
