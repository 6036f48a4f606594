/** What the piece costs: what is committed, what is still to come, and what is kept back. */
import type { ForecastMoney, ForecastStep, ForecastSupply, MoneyLine, Person } from '../../../model/index.ts';
import { costOf, inWholePacks, type PartCount } from '../../01-quantities/index.ts';
import type { PlannedStep } from '../../02-steps/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import { daysBetween, openMinutesBetween, personNamed } from '../../calendar/index.ts';
import type { TimedEntry } from '../../log/index.ts';
import type { Planned } from '../../stages/index.ts';
import type { Spells } from '../spells.ts';

/**
 * What parts, express deliveries and paid hands cost. Committed is what was ordered or has come, what was begun of the
 * parts made here, all of it with what was scrapped, and the hours so far of who is paid; all else is to come. A cost
 * that comes once is committed with the first unit. Whoever is paid is paid for all their hours of the days on which
 * they work: so far those with an entry by them or for them, to come those on which the plan gives them work; today
 * counts up to now in the one and from now on in the other. Kept back is the build's contingency as a share of what is
 * to come. O(parts x steps + paid people x days).
 */
export function moneyAnswer(
  planned: Planned,
  steps: readonly ForecastStep[],
  supplies: readonly ForecastSupply[],
  spells: Spells,
): ForecastMoney {
  const { build, quantities } = planned;
  const lines = [
    ...[...quantities.parts.values()].flatMap((count) => partLine(planned, count)),
    ...expressLines(planned, steps),
    ...(build.people ?? []).flatMap((person) => hoursLine(planned, person, spells)),
  ];
  const committed = sum(lines.map((line) => line.committed));
  const toCome = sum(lines.map((line) => line.toCome));
  const share = build.contingency ?? 0;
  const contingency = share * toCome;
  const unpriced = supplies.filter(({ cost, part, units }) => cost === null && part !== null && units > 0);
  return {
    lines,
    ...{ committed, toCome, contingency, share, total: committed + toCome + contingency },
    unpriced: unpriced.map(({ name }) => name),
  };
}

const KIND_OF = { make: 'made', buy: 'bought', 'send-out': 'sent-out' } as const;

function partLine(planned: Planned, count: PartCount): MoneyLine[] {
  const { part } = count;
  const cost = costOfPart(planned, count);
  if (cost === null) return [];
  const supplier = part.source === 'make' ? null : (part.supplier ?? null);
  const { committed, inAll } = cost;
  return [{ kind: KIND_OF[part.source], id: part.id, name: part.name, supplier, committed, toCome: inAll - committed }];
}

/**
 * What the units of a part cost: committed, those begun or ordered so far, those scrapped and those counted in a set
 * beyond its own among them; in all, with those still to begin. In the build's currency; null where no price is given.
 * All sheets say this one. O(steps).
 */
export function costOfPart(
  { plans }: Pick<Planned, 'plans'>,
  count: PartCount,
): { readonly committed: number; readonly inAll: number } | null {
  const { part } = count;
  if (count.cost === null) return null;
  const plan = plans.find((one) => one.part === part.id && (part.source === 'make' || hasLead(one)));
  const [paid, open] = plan === undefined ? [0, count.toBuy ?? count.toMake] : paidAndOpen(plan);
  const cost = (units: number): number => costOf(part, inWholePacks(part, units))!;
  return { committed: cost(paid), inAll: cost(paid + open) };
}

function hasLead({ phases }: PlannedStep): boolean {
  return phases.some(({ kind }) => kind === 'lead');
}

/** Units begun or ordered at a step, those scrapped there too, for they are paid for; and those still to begin. */
function paidAndOpen({ tally, left }: PlannedStep): [number, number] {
  const underWay = tally.starts.reduce((sum, start) => sum + start.open, 0);
  return [tally.good + tally.scrapped + underWay, Math.max(0, left - underWay)];
}

/**
 * What is ordered by express at its extra cost, once for each step that orders: to come while some of it is still to be
 * ordered, since the log does not say which of several orders went by express.
 */
function expressLines({ build, plans, work }: Planned, steps: readonly ForecastStep[]): MoneyLine[] {
  return build.steps.flatMap((step): MoneyLine[] => {
    const lead = step.phases?.find((phase) => phase.kind === 'lead');
    const supplier = build.suppliers?.find(({ id }) => id === lead?.supplier);
    const extra = lead?.express === true ? (supplier?.express?.extraCost ?? 0) : 0;
    const known = steps.find(({ id }) => id === step.id);
    if (extra === 0 || supplier === undefined || known === undefined || known.total === 0) return [];
    const index = plans.findIndex(({ id }) => id === step.id);
    const isOpen = lotsOfStep(work, index).some((lot) => work.lots[lot]!.begunAt === null);
    const [committed, toCome] = isOpen ? [0, extra] : [extra, 0];
    return [{ kind: 'express', id: step.id, name: step.name, supplier: supplier.id, committed, toCome }];
  });
}

/** The hours of whoever is paid; nothing of the others. */
function hoursLine(planned: Planned, person: Person, spells: Spells): MoneyLine[] {
  const { id, name, rate = 0 } = person;
  const there = planned.surroundings.people.get(id);
  if (rate === 0 || there === undefined) return [];
  const { now, tally, surroundings } = planned;
  const paid = (days: readonly { readonly start: number; readonly end: number }[]): number =>
    sum(days.map(({ start, end }) => (end <= start ? 0 : openMinutesBetween(there.open, start, end))));
  const own = tally.standing.filter((entry) => isOfPerson(planned, entry, id));
  const planning = (spells.people.get(there.resource) ?? []).map(({ start, finish }) => [start, finish] as const);
  const counting = own.filter(({ at }) => at < now).map(({ at }) => [at, at + 1] as const);
  const worked = daysWith(counting, surroundings.zone);
  const coming = daysWith([...counting, ...planning], surroundings.zone);
  const soFar = paid(worked.map(({ start, end }) => ({ start, end: Math.min(end, now) })));
  const toCome = paid(coming.map(({ start, end }) => ({ start: Math.max(start, now), end })));
  const cost = (minutes: number): number => (minutes / 60) * rate;
  const money = { committed: cost(soFar), toCome: cost(toCome) };
  return [{ kind: 'hours', id, name, supplier: null, ...money, minutes: { soFar, toCome } }];
}

/** Whether an entry says that a person was there: by them or for them, but for hours that they lost. */
function isOfPerson({ surroundings }: Planned, { kind, person, who = '' }: TimedEntry, id: string): boolean {
  return kind === 'lost' && person !== undefined ? false : personNamed(surroundings, person ?? who)?.id === id;
}

interface DaySpan {
  readonly start: number;
  readonly end: number;
}

/** The days into which these times reach, each once. */
function daysWith(times: readonly (readonly [number, number])[], zone: string): DaySpan[] {
  const days = new Map<number, DaySpan>();
  for (const [start, finish] of times)
    for (const { day, start: dawn, end } of daysBetween(start, finish, zone)) days.set(day, { start: dawn, end });
  return [...days.values()];
}

function sum(values: readonly number[]): number {
  return values.reduce((all, value) => all + value, 0);
}
