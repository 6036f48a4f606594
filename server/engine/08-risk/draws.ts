/** What is uncertain in a planned build: paces, runs, suppliers, gates, scrap and lost days, each with its own draw. */
import type { Range } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { failChanceOf, leadOf, nextUnitMinutes } from '../02-steps/index.ts';
import { ESTIMATE_SPREAD } from '../03-pace/index.ts';
import { compileForward } from '../07-levelling/index.ts';
import { arrivalOf, type LearntLead } from '../calendar/index.ts';
import type { Remaining } from '../stages/index.ts';
import type { ArrivalTable, HandsPhase, Lot, Minutes, Phase, RunPhase, Schedule } from '../types.ts';
import type { OtherDraw, PaceDraw, Uncertain, VaryingPhase } from './futures.ts';
import { type LossRate, losableDays, lossRateOf, lostDaysOf } from './lost-days.ts';
import { paceFactor, type Sampler, spreadFactor, threePointFactor, threePointSampler } from './samplers.ts';
import { sittingsOf } from './sittings.ts';
import { keyOf } from './streams.ts';

/** Single units scatter around the step's pace by this share (common practice, no source). */
const UNIT_NOISE = 0.25;
/** A run nobody attends keeps to its minutes, a guessed one less so (common practice, no source). */
const RUN_SPREAD = { guessed: 0.2, else: 0.05 };
/** Days are lost until so many after the planned end and the event: hardly a future is still at work then. */
const LOST_DAYS_AFTER = 60;
/** A gate fails this often in a row at most, even one that is said always to fail. */
const MOST_FAILURES = 5;

/**
 * The planned work compiled with all that is drawn. One pace factor a step: the belief of its pace where there are
 * hands a unit (beta-PERT of a range nobody has counted yet), else by the origin of its estimate. Suppliers: beta-PERT
 * between low and high, in whole working days (see `leadRangeOf`); what a supplier promised is believed. A gate that
 * fails is repeated, and what it sends back is done again by those at the gate, in the gate's time. Scrap: binomial
 * with the part's yield over the units left; what then lacks is made at the end of every step of its route, hands a
 * unit and one run more for each lot. Waits are certain.
 */
export function uncertaintyOf(planned: Remaining, schedule: Schedule): Uncertain & { readonly lossRate: LossRate } {
  const { work, plans, surroundings } = planned;
  const end = Math.max(schedule.finishAt, surroundings.event, surroundings.readyBy);
  const days = losableDays(planned, Math.min(surroundings.horizonEnd, end + LOST_DAYS_AFTER * 1440));
  const lossRate = lossRateOf(planned);
  const tables = new Map<Phase, readonly ArrivalTable[]>();
  const ranges = leadRanges(planned);
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      const range = ranges.get(lot.step);
      if (phase.kind === 'lead' && range !== undefined) tables.set(phase, range.tables);
    }
  }
  const compiled = compileForward(work, tables, days.starts);
  const { forward } = compiled;
  const lostDays = lostDaysOf(forward, days, lossRate);
  const { phaseFirst, phaseTable } = forward;
  const context: Context = { planned, phaseFirst, phaseTable, longest: sittingsOf(planned, schedule) };
  return {
    compiled,
    activityList: schedule.activityList.slice(),
    steps: plans.length,
    paces: plans.flatMap((plan, step) => paceDraws(context, plan, step)),
    others: [
      ...plans.flatMap((_, step) => leadDraws(context, step, ranges.get(step))),
      ...plans.flatMap((plan, step) => gateDraws(context, plan, step)),
      ...scrapDraws(context),
      ...(lostDays === null ? [] : [lostDays]),
    ],
    lossRate,
  };
}

interface Context {
  readonly planned: Remaining;
  readonly phaseFirst: Int32Array;
  readonly phaseTable: Int32Array;
  /** The most minutes that fit in one go before the lot is due; see `sittingsOf`. */
  readonly longest: (lot: number, phase: HandsPhase | RunPhase) => Minutes;
}

function lotsOf({ work }: Remaining, step: number): number[] {
  return work.runs[step]!.flatMap((run) => run.lots);
}

function paceDraws({ planned, phaseFirst, longest }: Context, plan: PlannedStep, step: number): PaceDraw[] {
  const hands: VaryingPhase[] = [];
  const runs: VaryingPhase[] = [];
  for (const lot of lotsOf(planned, step)) {
    const { phases, firstUnit, lastUnit, begunAt } = planned.work.lots[lot]!;
    phases.forEach((phase, i) => {
      if ((phase.kind !== 'hands' && phase.kind !== 'run') || (begunAt !== null && i === 0)) return;
      const byHand = phase.kind === 'hands' || phase.attended;
      (byHand ? hands : runs).push({
        phase: phaseFirst[lot]! + i,
        minutes: phase.minutes,
        units: Math.max(1, lastUnit - firstUnit + 1),
        most: longest(lot, phase),
      });
    });
  }
  const guessed = (plan.origin ?? 'guessed') === 'guessed';
  const runFactor = spreadFactor(guessed ? RUN_SPREAD.guessed : RUN_SPREAD.else);
  return [
    { step, key: keyOf(`${plan.id} hands`), factor: handsFactor(planned, plan), unitNoise: UNIT_NOISE, phases: hands },
    { step, key: keyOf(`${plan.id} runs`), factor: runFactor, unitNoise: 0, phases: runs },
  ].filter(({ phases }) => phases.length > 0);
}

function handsFactor({ paces }: Remaining, plan: PlannedStep): Sampler {
  const pace = paces.get(plan.id);
  if (pace === undefined) return spreadFactor(plan.kind === 'step' ? ESTIMATE_SPREAD[plan.origin ?? 'guessed'] : 0.3);
  const range = plan.phases.flatMap((phase) =>
    phase.kind === 'hands' && phase.estimate?.kind === 'range' ? [phase.estimate.range] : [],
  )[0];
  return pace.units === 0 && range !== undefined ? threePointFactor(range) : paceFactor(pace.belief.shape);
}

interface LeadRange {
  readonly range: Range;
  /** Of floor(low), floor(low) + 1 … working days. */
  readonly tables: readonly ArrivalTable[];
}

/** By step, the lead times that are given as a range. */
function leadRanges({ plans, surroundings }: Remaining): Map<number, LeadRange> {
  const ranges = new Map<number, LeadRange>();
  plans.forEach((plan, step) => {
    const lead = plan.phases.find((phase) => phase.kind === 'lead');
    const supplier = lead === undefined ? undefined : surroundings.suppliers.get(lead.supplier);
    if (supplier === undefined) return;
    const range = learntRange(leadRangeOf(leadOf(plan.step, supplier.source)), supplier.learnt);
    if (range === null || !(range.low >= 0 && range.low <= range.likely && range.likely <= range.high)) return;
    const first = Math.floor(range.low);
    const tables = Array.from({ length: Math.min(60, Math.ceil(range.high) - first + 1) }, (_, i) =>
      supplier.arrivals(first + i),
    );
    ranges.set(step, { range, tables });
  });
  return ranges;
}

/**
 * A lead time given as one number is taken as likely: never less than four fifths of it (rounded down, a day at least),
 * half as much again where it is late (rounded up). Common practice, no source. Example: 4 is 3 to 6, 1 is 1 to 2. Null
 * for what takes no time.
 */
export function leadRangeOf(lead: number | Range): Range | null {
  if (typeof lead !== 'number') return lead;
  return lead <= 0 ? null : { low: Math.max(1, Math.floor(0.8 * lead)), likely: lead, high: Math.ceil(1.5 * lead) };
}

/** The range in the days that deliveries have taken, and no narrower than they were. */
function learntRange(range: Range | null, learnt: LearntLead | null): Range | null {
  if (range === null || learnt === null) return range;
  const { factor, shortest, longest } = learnt;
  const likely = Math.round(range.likely * factor);
  return {
    low: Math.min(likely, Math.floor(range.low * factor), Math.round(range.likely * shortest)),
    likely,
    high: Math.max(likely, Math.ceil(range.high * factor), Math.round(range.likely * longest)),
  };
}

function leadDraws(
  { planned, phaseFirst, phaseTable }: Context,
  step: number,
  lead: LeadRange | undefined,
): OtherDraw[] {
  if (lead === undefined) return [];
  const plan = planned.plans[step]!;
  const sampler = threePointSampler(lead.range);
  const first = Math.floor(lead.range.low);
  const pick = (p: number) => Math.min(lead.tables.length - 1, Math.max(0, Math.round(sampler(p)) - first));
  return lotsOf(planned, step).flatMap((index): OtherDraw[] => {
    const lot = planned.work.lots[index]!;
    const key = keyOf(`${lot.id} lead`);
    if (lot.begunAt !== null) return underWayDraw(lot, plan, phaseFirst[index]!, step, key, planned, lead, pick);
    const at = lot.phases.findIndex((phase) => phase.kind === 'lead');
    if (at < 0) return [];
    const p = phaseFirst[index]! + at;
    const own = phaseTable[p]!;
    return [
      {
        step,
        key,
        draw: (stream) => {
          const chosen = pick(stream.unit());
          phaseTable[p] = own + 1 + chosen;
          return Math.round((first + chosen - lead.range.likely) * 1440);
        },
        reset: () => {
          phaseTable[p] = own;
        },
      },
    ];
  });
}

/** An order that is out and that nobody has promised: it may take as long as any, but is not back before now. */
function underWayDraw(
  lot: Lot,
  plan: PlannedStep,
  phase: number,
  step: number,
  key: number,
  { surroundings }: Remaining,
  lead: LeadRange,
  pick: (p: number) => number,
): OtherDraw[] {
  const begun = lot.begunAt!;
  const start = plan.tally.starts.find(
    ({ at, kind }) => kind === 'ordered' && Math.min(at, surroundings.now) === begun,
  );
  if (start === undefined || start.promisedAt !== null || lot.phases[0]?.kind !== 'wait') return [];
  const planned = lot.phases[0].minutes;
  return [
    {
      step,
      key,
      draw: (stream, minutes) => {
        const back = Math.max(surroundings.now, arrivalOf(lead.tables[pick(stream.unit())]!, begun));
        minutes[phase] = back - begun;
        return back - begun - planned;
      },
      reset: () => {},
    },
  ];
}

function gateDraws({ planned, phaseFirst }: Context, plan: PlannedStep, step: number): OtherDraw[] {
  const chance = failChanceOf(plan);
  if (chance <= 0) return [];
  const { evaluator } = planned.quantities;
  const back = (plan.gate?.sendsBack ?? []).flatMap(({ step: id, units }) => {
    const at = planned.plans.findIndex((other) => other.id === id);
    const count = at < 0 ? null : evaluator.count(units, `gates.${plan.id}.sendsBack`);
    return count === null ? [] : [{ at, minutes: count * nextUnitMinutes(planned.plans[at]!) }];
  });
  return lotsOf(planned, step).flatMap((index): OtherDraw[] => {
    const { phases, id } = planned.work.lots[index]!;
    const hands = phases.findIndex((phase) => phase.kind === 'hands');
    if (hands < 0) return [];
    const phase = phaseFirst[index]! + hands;
    const again = phases[hands]!.kind === 'hands' ? (phases[hands] as HandsPhase).minutes : 0;
    return [
      {
        step,
        key: keyOf(`${id} gate`),
        draw: (stream, minutes, factors) => {
          let failures = 0;
          while (failures < MOST_FAILURES && stream.unit() < chance) failures++;
          if (failures === 0) return 0;
          const rework = back.reduce((sum, sent) => sum + sent.minutes * factors[sent.at]!, 0);
          const added = Math.round(failures * (again + rework));
          minutes[phase] = minutes[phase]! + added;
          return added;
        },
        reset: () => {},
      },
    ];
  });
}

function scrapDraws({ planned, phaseFirst, longest }: Context): OtherDraw[] {
  return [...planned.quantities.parts.values()].flatMap((count): OtherDraw[] => {
    const route = planned.plans.flatMap((plan, step) =>
      plan.part === count.part.id && plan.kind === 'step' ? [{ plan, step }] : [],
    );
    const last = route.at(-1)?.plan;
    if (last === undefined || count.yield >= 1 || last.left === 0) return [];
    const need = Math.max(0, count.need - count.onHand - (last.total - last.left));
    const places = route.flatMap(({ plan, step }) => {
      const lot = lotsOf(planned, step).at(-1);
      return lot === undefined
        ? []
        : [{ plan, step, index: lot, lot: planned.work.lots[lot]!, first: phaseFirst[lot]! }];
    });
    const first = places[0];
    if (first === undefined) return [];
    return [
      {
        step: first.step,
        key: keyOf(`${count.part.id} scrap`),
        draw: (stream, minutes, factors) => {
          let good = 0;
          for (let unit = 0; unit < last.left; unit++) if (stream.unit() < count.yield) good++;
          if (good >= need) return 0;
          const extra = Math.ceil((need - good) / count.yield);
          let added = 0;
          for (const { plan, step, index, lot, first: from } of places) {
            lot.phases.forEach((phase, i) => {
              const more = extraMinutes(plan, phase, extra, factors[step]!);
              const room = phase.kind === 'hands' || phase.kind === 'run' ? longest(index, phase) : 0;
              const given = Math.max(0, Math.min(more, room - minutes[from + i]!));
              minutes[from + i] = minutes[from + i]! + given;
              added += given;
            });
          }
          return added;
        },
        reset: () => {},
      },
    ];
  });
}

function extraMinutes(plan: PlannedStep, phase: Phase, units: number, factor: number): Minutes {
  if (phase.kind === 'hands') return Math.round(units * nextUnitMinutes(plan) * factor);
  if (phase.kind === 'run') return Math.ceil(units / Math.max(1, plan.lotSize)) * phase.minutes;
  return 0;
}
