/**
 * A maker who works a build through by the planner's own interface, as people at the bench do: looks at the sheet, does
 * what it says, taps what was done, and looks again. How long things really take, and what goes wrong, is the world's.
 */

import { Random } from '../../../server/engine/numbers/random.ts';
import type { Build, Change, Forecast, ForecastLot, NewLogEntry, PhaseShape } from '../../../server/model/index.ts';
import {
  atOnce,
  type Background,
  computePlan,
  createPlanner,
  type RunningPlanner,
  tryPlan,
} from '../../../server/planner/index.ts';
import { createStore, openDatabase } from '../../../server/store/index.ts';

/** What the world does that no estimate knows. */
export interface World {
  readonly seed?: number;
  /** By step: how many times as long as its estimate the hands, the run and the waits take; 1 where it is not named. */
  readonly hands?: Readonly<Record<string, number>>;
  readonly runs?: Readonly<Record<string, number>>;
  /** Coefficient of variation of a lot's hands. */
  readonly noise?: number;
  /** By step: units of each lot that fail while it is worked. */
  readonly scrap?: Readonly<Record<string, number>>;
  /** How often each gate fails before it passes. */
  readonly gateFails?: number;
  /** By supplier: days that a delivery comes later than the plan says. */
  readonly lateDays?: Readonly<Record<string, number>>;
  /** Whether chances are drawn, which takes longer. */
  readonly chances?: boolean;
}

/** A forecast as it was at a moment. */
export interface Seen {
  readonly at: number;
  readonly forecast: Forecast;
}

const DAY = 1440;
const ORDER_MINUTES = 15;

interface Job {
  readonly key: string;
  readonly lot: ForecastLot;
  readonly people: readonly string[];
  readonly endsAt: number;
  /** Which of the phases of the step the hands are in. */
  readonly phase: number;
}

interface Load {
  readonly key: string;
  readonly lot: ForecastLot;
  readonly phase: number;
  readonly readyAt: number;
}

/** See `LivedMaker.mark`. */
export interface Mark {
  readonly entries: number;
  readonly revision: number;
  readonly now: number;
}

interface Delivery {
  readonly step: string;
  readonly units: number;
  readonly at: number;
}

/** The maker, over a planner of their own in memory. */
export class LivedMaker {
  readonly planner: RunningPlanner;
  now: number;
  /** What the planner asked or refused. */
  readonly said: string[] = [];
  private readonly world: World;
  private readonly random: Random;
  private readonly jobs: Job[] = [];
  private readonly loads: Load[] = [];
  private readonly deliveries: Delivery[] = [];
  /** By lot: minutes of hands that are left of what an evening cut off. */
  private readonly left = new Map<string, number>();
  private readonly gatesFailed = new Map<string, number>();
  private readonly id: string;
  private readonly closeStore: () => void;
  private entries = 0;

  private constructor(build: Build, begin: number, world: World) {
    const opened = openDatabase(':memory:');
    if (!opened.ok) throw new Error(opened.problems[0]!.message);
    this.closeStore = () => opened.value.close();
    this.id = build.id;
    this.now = begin;
    this.world = world;
    this.random = new Random(world.seed ?? 1);
    this.planner = createPlanner({
      store: createStore(opened.value),
      now: () => this.now,
      background: backgroundOf(world),
      pauses: { quiet: 0, calm: 0 },
    });
  }

  /** A maker with this build, at its first morning. */
  static async begin(build: Build, begin: number, world: World = {}): Promise<LivedMaker> {
    const maker = new LivedMaker(build, begin, world);
    const made = await maker.planner.create(build, [], 'maker');
    if (!made.ok) throw new Error(made.problems.map(({ message }) => message).join(' '));
    return maker;
  }

  end(): void {
    this.planner.close();
    this.closeStore();
  }

  /** The forecast as it is now, settled. */
  async look(): Promise<Forecast> {
    await this.planner.snapshot(this.id);
    await this.planner.settled();
    return (await this.planner.snapshot(this.id))!.forecast;
  }

  /** Changes the plan; what is wrong with it, nothing where it was taken. */
  async edit(changes: readonly Change[]): Promise<readonly string[]> {
    const result = await this.planner.edit(this.id, changes, 'maker');
    return result.ok ? [] : result.problems.map(({ message }) => message);
  }

  /** Taps an entry; what it was asked about it. */
  tap(kind: NewLogEntry['kind'], changes: Partial<NewLogEntry> = {}): readonly string[] {
    this.entries += 1;
    const entry = { id: entryId(this.entries), kind, at: iso(this.now), ...changes };
    const [receipt] = this.planner.append(this.id, [entry as NewLogEntry], 'maker');
    if (receipt!.state === 'refused') throw new Error(receipt!.problems.map(({ message }) => message).join(' '));
    return receipt!.questions.map(({ message }) => message);
  }

  /** Where the log and the plan are, to come back to. */
  mark(): Mark {
    return { entries: this.entries, revision: this.planner.build(this.id)!.revision, now: this.now };
  }

  /** Takes back every entry and every edit since a mark. */
  async takeBack(mark: Mark): Promise<void> {
    for (let n = this.entries; n > mark.entries; n--) this.tap('undo', { undoes: entryId(n) });
    if (this.planner.build(this.id)!.revision > mark.revision) {
      const result = await this.planner.takeBack(this.id, mark.revision, 'maker');
      if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join(' '));
    }
  }

  /** Works by the sheet until that instant, and says what was forecast each morning at 9 before anything was done. */
  async workUntil(end: number): Promise<Seen[]> {
    const mornings: Seen[] = [];
    let nextMorning = morningAfter(this.now);
    let forecast = await this.look();
    mornings.push({ at: this.now, forecast });
    while (this.now < end && forecast.steps.some(({ left }) => left > 0)) {
      const hasTapped = await this.meanwhile(forecast);
      if (hasTapped) {
        forecast = await this.look();
        continue;
      }
      this.now = Math.min(end, nextMorning, this.nextMoment(forecast));
      if (this.now < nextMorning) continue;
      forecast = await this.look();
      mornings.push({ at: this.now, forecast });
      nextMorning += DAY;
    }
    return mornings;
  }

  /** All that happens or is begun at this minute; whether anything was. */
  private async meanwhile(forecast: Forecast): Promise<boolean> {
    let before = this.entries;
    for (const job of this.jobs.filter(({ endsAt }) => endsAt <= this.now)) this.finish(job);
    this.closeUp(forecast);
    for (const delivery of this.deliveries.filter(({ at }) => at <= this.now)) this.receive(delivery);
    this.emptyMachines(forecast);
    if (this.entries > before) return true;
    before = this.entries;
    this.takeUp(forecast);
    return this.entries > before;
  }

  /** The next moment at which anything ends, comes, closes or is to be begun. */
  private nextMoment(forecast: Forecast): number {
    const later = [
      ...this.jobs.map(({ endsAt }) => endsAt),
      ...this.jobs.flatMap(({ people }) => this.closingOf(forecast, people[0]!)),
      ...this.loads.map(({ readyAt }) => readyAt),
      ...this.deliveries.map(({ at }) => at),
      ...forecast.lots.flatMap(({ placements }) => placements.map(({ start }) => start)),
      ...forecast.days.flatMap(({ people }) => people.flatMap(({ open }) => open.flat())),
    ].filter((at) => at > this.now);
    return Math.min(this.now + DAY, ...later);
  }

  /** What somebody finished: the machine is loaded, the order is out, the check passed or failed, the units counted. */
  private finish(job: Job): void {
    this.drop(this.jobs, job);
    this.left.delete(job.key);
    const { lot } = job;
    const phases = this.phasesOf(lot.step);
    const next = phases[job.phase + 1];
    const units = unitsOf(lot);
    const common = { step: lot.step, ...(lot.set === null ? {} : { set: lot.set }), person: job.people[0]! };
    const goesOn = next?.kind === 'run' || (next?.kind === 'wait' && phases.slice(job.phase + 2).length > 0);
    this.clock('paused', lot, job.people[0]!);
    if (goesOn) {
      const machine = next.kind === 'run' ? { machine: next.machine } : {};
      this.tap('loaded', { ...common, n: units, ...machine });
      const minutes = minutesOf(next, units) * (this.world.runs?.[lot.step] ?? 1);
      this.loads.push({ key: job.key, lot, phase: job.phase + 1, readyAt: this.now + Math.round(minutes) });
    } else if (next?.kind === 'lead') this.order(lot, next, units);
    else if (this.build.gates?.some(({ id }) => id === lot.step)) this.check(lot);
    else this.count(lot, units, common);
  }

  private order(lot: ForecastLot, lead: PhaseShape & { readonly kind: 'lead' }, units: number): void {
    this.tap('ordered', { step: lot.step, n: units });
    const arrives = lot.placements.find(({ kind }) => kind === 'lead')?.finish ?? this.now + 3 * DAY;
    const late = (this.world.lateDays?.[lead.supplier] ?? 0) * DAY;
    this.deliveries.push({ step: lot.step, units, at: Math.max(arrives, this.now) + late });
  }

  private check(lot: ForecastLot): void {
    const common = { step: lot.step, ...(lot.set === null ? {} : { set: lot.set }) };
    const failed = this.gatesFailed.get(lot.id) ?? 0;
    if (failed >= (this.world.gateFails ?? 0)) {
      this.tap('passed', common);
      return;
    }
    this.gatesFailed.set(lot.id, failed + 1);
    this.tap('failed', common);
    const gate = this.build.gates!.find(({ id }) => id === lot.step)!;
    for (const { step } of gate.sendsBack ?? []) {
      this.tap('sent-back', { step, n: 1, ...(lot.set === null ? {} : { set: lot.set }) });
    }
  }

  private count(lot: ForecastLot, units: number, common: Partial<NewLogEntry>): void {
    const bad = Math.min(units - 1, this.world.scrap?.[lot.step] ?? 0);
    this.tap('done', { ...common, n: units - bad });
    if (bad > 0) this.tap('scrapped', { ...common, n: bad, counted: false });
  }

  private receive(delivery: Delivery): void {
    this.drop(this.deliveries, delivery);
    this.tap('received', { step: delivery.step, n: delivery.units });
  }

  /** What nobody's hands have to take out is counted when somebody is there. */
  private emptyMachines(forecast: Forecast): void {
    for (const load of this.loads.filter(({ readyAt }) => readyAt <= this.now)) {
      const hasHands = this.phasesOf(load.lot.step)
        .slice(load.phase + 1)
        .some(({ kind }) => kind === 'hands');
      if (hasHands || !this.anybodyThere(forecast)) continue;
      this.drop(this.loads, load);
      this.count(load.lot, unitsOf(load.lot), { step: load.lot.step, ...this.setOf(load.lot) });
    }
  }

  /** Whoever is there and at nothing takes up what the sheet has for them by now. */
  private takeUp(forecast: Forecast): void {
    const lots = forecast.lots
      .flatMap((lot) => lot.placements.map((placement) => ({ lot, placement })))
      .filter(
        ({ placement }) => placement.people.length > 0 && placement.start <= this.now && placement.kind === 'hands',
      )
      .sort((a, b) => a.placement.start - b.placement.start);
    for (const { lot, placement } of lots) {
      const phase = this.phaseOf(lot);
      if (phase === null || !placement.people.every((person) => this.isFree(forecast, person))) continue;
      this.takeUpLot(lot, phase, placement.people);
    }
  }

  private takeUpLot(lot: ForecastLot, phase: number, people: readonly string[]): void {
    const load = this.loadOf(lot);
    const key = load?.key ?? keyOf(lot);
    if (this.jobs.some((job) => job.key === key)) return;
    const whole = load?.lot ?? lot;
    if (load !== undefined) this.drop(this.loads, load);
    const minutes = this.left.get(key) ?? this.handsMinutes(whole, phase);
    this.left.set(key, minutes);
    this.clock('began', lot, people[0]!);
    this.jobs.push({ key, lot: whole, people, endsAt: this.now + minutes, phase });
  }

  /** Those who leave stop their clocks: what is left of the lot is left. */
  private closeUp(forecast: Forecast): void {
    for (const job of [...this.jobs]) {
      if (job.people.every((person) => isOpen(forecast, person, this.now))) continue;
      this.drop(this.jobs, job);
      this.left.set(job.key, Math.max(1, job.endsAt - this.now));
      this.clock('paused', job.lot, job.people[0]!);
      if (job.phase > 0) this.loads.push({ key: job.key, lot: job.lot, phase: job.phase - 1, readyAt: this.now });
    }
  }

  /** Nobody's clock runs for an order. */
  private clock(kind: 'began' | 'paused', lot: ForecastLot, person: string): void {
    if (this.phasesOf(lot.step).some((phase) => phase.kind === 'lead')) return;
    this.tap(kind, { step: lot.step, ...this.setOf(lot), person });
  }

  /** Which hands of a lot come next: the first, or those after what is in a machine, once that is over. */
  private phaseOf(lot: ForecastLot): number | null {
    const phases = this.phasesOf(lot.step);
    if (!lot.begun) return phases.findIndex(({ kind }) => kind === 'hands');
    const load = this.loadOf(lot);
    if (load === undefined || load.readyAt > this.now) return null;
    const at = phases.findIndex(({ kind }, i) => i > load.phase && kind === 'hands');
    return at < 0 ? null : at;
  }

  private loadOf(lot: ForecastLot): Load | undefined {
    if (!lot.begun) return undefined;
    return this.loads.find((load) => load.lot.step === lot.step && load.lot.set === lot.set);
  }

  private handsMinutes(lot: ForecastLot, phase: number): number {
    const shape = this.phasesOf(lot.step)[phase]!;
    const noise = 1 + (this.world.noise ?? 0) * (2 * this.random.unit() - 1) * Math.sqrt(3);
    const factor = (this.world.hands?.[lot.step] ?? 1) * noise;
    return Math.max(1, Math.round(minutesOf(shape, unitsOf(lot)) * factor));
  }

  private phasesOf(id: string): readonly PhaseShape[] {
    const step = this.build.steps.find((one) => one.id === id);
    if (step !== undefined) return step.phases ?? [];
    const gate = this.build.gates?.find((one) => one.id === id);
    if (gate !== undefined) return [{ kind: 'hands', minutes: gate.minutes }];
    const part = this.build.parts?.find((one) => id === `order-${one.id}`);
    return [
      { kind: 'hands', minutes: ORDER_MINUTES },
      { kind: 'lead', supplier: part?.supplier ?? '' },
    ];
  }

  private get build(): Build {
    return this.planner.build(this.id)!.build;
  }

  private isFree(forecast: Forecast, person: string): boolean {
    return isOpen(forecast, person, this.now) && !this.jobs.some(({ people }) => people.includes(person));
  }

  private anybodyThere(forecast: Forecast): boolean {
    return (this.build.people ?? []).some(({ id }) => isOpen(forecast, id, this.now));
  }

  private closingOf(forecast: Forecast, person: string): number[] {
    return spansOf(forecast, person).flatMap(([from, to]) => (from <= this.now && this.now < to ? [to] : []));
  }

  private setOf({ set }: ForecastLot): { set?: number } {
    return set === null ? {} : { set };
  }

  private drop<T>(list: T[], one: T): void {
    list.splice(list.indexOf(one), 1);
  }
}

function backgroundOf({ chances = false }: World): Background {
  return {
    plan: async (task) => computePlan({ ...task, depth: 'quick', ...(chances ? {} : { noChance: true }) }),
    tryOut: async (task) => tryPlan({ ...task, depth: 'quick' }),
    attribute: async () => [],
    findLevers: atOnce.findLevers,
    rightSize: atOnce.rightSize,
    waysBeside: atOnce.waysBeside,
    read: async () => {
      throw new Error('the maker reads no file');
    },
  };
}

function spansOf(forecast: Forecast, person: string): readonly (readonly [number, number])[] {
  return forecast.days.flatMap(({ people }) => people.find(({ id }) => id === person)?.open ?? []);
}

function isOpen(forecast: Forecast, person: string, at: number): boolean {
  return spansOf(forecast, person).some(([from, to]) => from <= at && at < to);
}

function unitsOf({ firstUnit, lastUnit }: ForecastLot): number {
  return lastUnit - firstUnit + 1;
}

function keyOf({ step, set, firstUnit }: ForecastLot): string {
  return `${step}/${set}/${firstUnit}`;
}

/** Minutes of a phase as a build of plain numbers says: `4 h` or 240, and so many a unit. */
function minutesOf(shape: PhaseShape, units: number): number {
  if (shape.kind === 'lead') return 0;
  const each = 'perUnit' in shape && typeof shape.perUnit === 'number' ? shape.perUnit : 0;
  const text = shape.minutes ?? 0;
  const fixed = typeof text === 'number' ? text : Number.parseFloat(text) * 60;
  return fixed + units * each;
}

function entryId(number: number): string {
  return `lived-${String(number).padStart(6, '0')}`;
}

function iso(minute: number): string {
  return `${new Date(minute * 60_000).toISOString().slice(0, 16)}:00Z`;
}

function morningAfter(minute: number): number {
  const nine = Math.floor(minute / DAY) * DAY + 9 * 60;
  return nine > minute ? nine : nine + DAY;
}
