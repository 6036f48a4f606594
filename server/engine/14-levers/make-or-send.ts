/** Make or send out: each part with several ways, its ways and its splits beside each other. */
import {
  type Change,
  chosenWay,
  type LeverWorth,
  type Part,
  type PartWays,
  splitChanges,
  type TimeTurn,
  type Way,
  type WayFigures,
  type WayRefused,
  type WaySplit,
  type WaysBeside,
} from '../../model/index.ts';
import { lotsOfStep, unitsOf } from '../04-lots/index.ts';
import { ordersAnswer } from '../10-answers/index.ts';
import { type Case, madeAt, type Planned } from '../stages/index.ts';
import { madeBeyond } from './made-beyond.ts';
import { changedTrial, isTrial, type KnownPlan, type Trial, type TrialOptions, trialOf } from './trial.ts';
import { costByWay, costTurnOf, ownSteps } from './way-costs.ts';
import { minutesApart } from './way-minutes.ts';
import { lastMomentOf } from './way-moments.ts';
import { begunBy, switchTo, wantedOf } from './way-switch.ts';
import { comparedOf, gainErrorOf, gainOf, worthOf } from './worth.ts';

interface WaysAsked {
  readonly seed: number;
  /** Futures of each plan; 400 unless given. */
  readonly futures?: number;
  readonly isOver?: () => boolean;
  /** What the sheets say of the plan as it is. */
  readonly known?: KnownPlan;
  /** Hears of what is found so far, after each part, and of how many there are. */
  readonly onParts?: (found: WaysBeside, of: number) => void;
}

const FUTURES = 400;
/** A part is tried in this many shares between two ways. */
const SHARES = 8;
/** Less is not worth a split: minutes of room (our choice, no source). */
const LEAST_GAIN = 5;

/**
 * Each part with two ways or more: every way with all units that the present one has not begun, as a plan with futures
 * of the same luck; hours here against lead there, money, until when it is still possible; from how many units on one
 * costs less; how many would be made here by the time that the others would be back; and the part in eighths between
 * the way chosen and the other that gains most. O(parts x (ways + 8)) plans with their futures.
 */
export function waysBeside(asked: Case, options: WaysAsked): WaysBeside {
  const { seed, futures = FUTURES, isOver = () => false, known, onParts } = options;
  const trials: TrialOptions = { seed, futures };
  const present = trialOf(asked, trials, known);
  const { planned, readyAt, ends } = present;
  const { readyBy } = planned.surroundings;
  const several = (asked.build.parts ?? []).filter(({ ways = [] }) => ways.length > 1);
  const parts: PartWays[] = [];
  const answer = (isDone: boolean): WaysBeside => {
    const { room, chance } = worthBeside(present, present, futures);
    const hasDate = ends !== null && madeAt(planned, false) === null;
    return { now: planned.now, readyBy, present: hasDate ? { readyAt, room, chance } : null, parts, futures, isDone };
  };
  if (answer(false).present === null) return answer(true);
  for (const part of several) {
    if (isOver()) return answer(false);
    const found = new Beside(asked, present, part, trials).answer(isOver);
    if (found !== null) parts.push(found);
    onParts?.({ ...answer(false), parts: [...parts] }, several.length);
  }
  return answer(!isOver());
}

/** A way tried out for all units that it can still have. */
interface TriedWay {
  readonly way: Way;
  readonly units: number;
  readonly changes: readonly Change[];
  readonly trial: Trial;
}

class Beside {
  private readonly chosen: Way;

  constructor(
    private readonly asked: Case,
    private readonly present: Trial,
    private readonly part: Part,
    private readonly options: TrialOptions,
  ) {
    this.chosen = chosenWay(part)!;
  }

  /** Null: none of the part is wanted, or all of it is made. */
  answer(isOver: () => boolean): PartWays | null {
    const { part, present, chosen } = this;
    const units = wantedOf(present.planned, part);
    const made = begunBy(present.planned, part, chosen);
    if (units === 0 || made >= units) return null;
    const all = part.ways!.map((way) => this.tryOut(way));
    const tried = all.filter((one) => 'trial' in one);
    const own = tried.find(({ way }) => way.id === chosen.id);
    const others = tried.filter((one) => one !== own);
    const other = others.reduce<TriedWay | null>((a, b) => (a === null || this.gain(b) > this.gain(a) ? b : a), null);
    const between = own === undefined || other === null ? null : { chosen: chosen.id, other: other.way.id };
    const splits = between === null ? [] : this.splits(own!, other!, units, units - made, isOver);
    const apart = minutesApart(tried.map(({ trial }) => trial.planned));
    return {
      part: part.id,
      name: part.name,
      units,
      made,
      ways: tried.map((one, i) => this.figures(one, apart[i]!)),
      refused: all.filter((one): one is WayRefused => !('trial' in one)),
      cost: between === null ? null : this.costTurn(own!, other!, units),
      time: this.timeTurn(tried),
      between,
      splits: splits.map(({ split }) => split),
      best: between === null ? null : this.best(splits, [own!, other!]),
    };
  }

  private tryOut(way: Way): TriedWay | WayRefused {
    const { asked, present, part, options } = this;
    const { changes, units } = switchTo(present.planned, part, way);
    if (this.isPresent(way)) return { way, units, changes: [], trial: present };
    const trial = changedTrial(asked, changes, options, present);
    return isTrial(trial) ? { way, units, changes, trial } : { way: way.id, name: way.name, problems: trial };
  }

  private isPresent(way: Way): boolean {
    const isSplit = this.part.ways!.some(({ id, units }) => units !== undefined && id !== this.chosen.id);
    return way.id === this.chosen.id && !isSplit;
  }

  private gain({ trial }: Pick<TriedWay, 'trial'>): number {
    const compared = comparedOf(this.present, trial, this.options.futures);
    return compared === null ? Number.NEGATIVE_INFINITY : gainOf(compared);
  }

  private worth(trial: Trial): LeverWorth {
    return worthBeside(this.present, trial, this.options.futures);
  }

  private figures(
    { way, units, changes, trial }: TriedWay,
    minutes: ReturnType<typeof minutesApart>[number],
  ): WayFigures {
    const own = ownSteps(trial.planned, this.part, way);
    return {
      way: way.id,
      name: way.name,
      source: way.source,
      isPresent: this.isPresent(way),
      units,
      handsMinutes: minutes.hands,
      machineMinutes: minutes.machine,
      lead: leadBy(
        trial.planned,
        own.map(({ id }) => id),
      ),
      money: costByWay(this.part, { way, planned: trial.planned }, units, 0),
      last: lastMomentOf(trial.planned, own),
      worth: this.worth(trial),
      changes,
    };
  }

  private costTurn(own: TriedWay, other: TriedWay, wanted: number) {
    const [one, two] = [own, other].map(({ way, trial }) => ({ way, planned: trial.planned }));
    return costTurnOf(this.part, one!, two!, { wanted, build: this.asked.build });
  }

  /** The way made here against the one sent out: units whose last own step is through when the order would be here. */
  private timeTurn(tried: readonly TriedWay[]): TimeTurn | null {
    const here = tried.find(({ way }) => way.source === 'make');
    const there = tried.find(({ way }) => way.source !== 'make');
    if (here === undefined || there === undefined || here.trial.planned.schedule === null) return null;
    const ids = (one: TriedWay) => ownSteps(one.trial.planned, this.part, one.way).map(({ id }) => id);
    const lead = leadBy(there.trial.planned, ids(there));
    const steps = new Set(ids(here));
    if (lead === null || steps.size === 0) return null;
    const made = [...steps].map((id) => madeBy(here.trial.planned, id, lead.arrives));
    return { made: here.way.id, sent: there.way.id, units: Math.min(...made), arrives: lead.arrives };
  }

  /** Shares of what is not begun, the other way more and more of it. */
  private splits(own: TriedWay, other: TriedWay, all: number, open: number, isOver: () => boolean) {
    const paid = (part: Part, { way, trial }: TriedWay, units: number) =>
      costByWay(part, { way, planned: trial.planned }, units, 0);
    // What the part itself costs once comes once, with the way that has the rest unless that has a cost of its own.
    const { onceCost, ...bare } = this.part;
    const shared = own.way.onceCost === undefined || onceCost === undefined ? bare : this.part;
    const shares = new Set(Array.from({ length: SHARES - 1 }, (_, k) => Math.round((open * (k + 1)) / SHARES)));
    return [...shares].flatMap((units) => {
      if (units < 1 || units >= open || isOver()) return [];
      const changes = splitChanges(this.part, new Map([[other.way.id, units]]));
      const trial = changedTrial(this.asked, changes, this.options, this.present);
      if (!isTrial(trial) || madeBeyond(this.present.planned, trial.planned) !== null) return [];
      const rest = all - units;
      const [there, here] = [paid(shared, other, units), paid(this.part, own, rest)];
      const money = there === null || here === null ? null : there + here;
      const split: WaySplit = { rest, units, money, worth: this.worth(trial), changes };
      return [{ split, trial }];
    });
  }

  /** The split that gains most, where it gains more than each way alone by more than twice the error. */
  private best(splits: readonly { readonly trial: Trial }[], wholes: readonly TriedWay[]): number | null {
    const gains = splits.map((one) => this.gain(one));
    const place = gains.indexOf(Math.max(...gains));
    if (place < 0) return null;
    const isBetter = wholes.every(({ trial }) => {
      const compared = comparedOf(trial, splits[place]!.trial, this.options.futures);
      return compared !== null && gainOf(compared) > Math.max(LEAST_GAIN, 2 * gainErrorOf(compared));
    });
    return isBetter ? place : null;
  }
}

function worthBeside(present: Trial, trial: Trial, futures: number): LeverWorth {
  return worthOf(present, trial, { futures, relaxes: false, cost: 60 });
}

/** Who delivers and when it would be here: of several orders the last. */
function leadBy(planned: Planned, steps: readonly string[]): WayFigures['lead'] {
  const orders = ordersAnswer(planned).filter(({ step }) => steps.includes(step));
  const last = orders.reduce<(typeof orders)[number] | null>(
    (a, b) => (a === null || b.arrives > a.arrives ? b : a),
    null,
  );
  if (last === null) return null;
  const plan = planned.plans.find(({ id }) => id === last.step)!;
  const days = plan.phases.reduce((sum, phase) => sum + (phase.kind === 'lead' ? phase.workingDays : 0), 0);
  const supplier = planned.surroundings.suppliers.get(last.supplier)?.name ?? last.supplier;
  return { supplier, workingDays: days, arrives: last.arrives };
}

/** Good units of a step by an instant, those counted among them. */
function madeBy({ plans, work, schedule }: Planned, step: string, by: number): number {
  const index = plans.findIndex(({ id }) => id === step);
  const lots = lotsOfStep(work, index).filter((lot) => schedule!.finishes[lot]! <= by);
  return plans[index]!.total - plans[index]!.left + lots.reduce((sum, lot) => sum + unitsOf(work.lots[lot]!), 0);
}
