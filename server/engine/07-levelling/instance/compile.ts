/** From a work to an instance: flat arrays in one direction of time. */
import { atLeastOpen, intersectionOf } from '../../calendar/index.ts';
import type { ArrivalTable, Calendar, HandsPhase, Link, Lot, Phase, RunPhase, Work } from '../../types.ts';
import {
  DEMAND,
  FREE,
  HANDS,
  HOLDING,
  LEAD,
  LOADED,
  OTHER,
  PLAIN,
  RUN,
  START_START,
  TIED,
  UNTIED,
  WAIT,
} from './codes.ts';
import { SharedCalendars } from './compile-calendars.ts';
import { CrewSets, crewAmong, crewsOf, isCut } from './crews.ts';
import { holdsOf, keepsUntilItsEnd, type MachineHold } from './holds.ts';
import type { Instance } from './instance.ts';
import { Leads } from './leads.ts';
import { Pools } from './pools.ts';
import { TakenMinutes } from './taken-minutes.ts';
import { type TakenStretch, Timelines } from './timelines.ts';

const KIND = { hands: HANDS, run: RUN, wait: WAIT, lead: LEAD, demand: DEMAND } as const;
const TYPE = { 'finish-start': 0, 'start-start': 1, 'finish-finish': 2, 'start-finish': 3 } as const;
const MIRRORED_TYPE = { 'finish-start': 0, 'start-start': 2, 'finish-finish': 1, 'start-finish': 3 } as const;

/**
 * More arrival tables for a lead phase, so that a caller can draw among them; they follow the phase's own in number.
 */
export type ExtraTables = ReadonlyMap<Phase, readonly ArrivalTable[]>;

/**
 * Compiles `work` in one direction of time. O(size of the work and its calendars). The mirrored instance ends every lot
 * by its deadline. A textbook instance (textbook lots only) runs in ticks, the greatest common divisor of its minutes.
 * `losable`: when days begin that can be taken out of people's hours later, by `loseDays`. Throws RangeError where a
 * phase needs more people than are eligible, or a demand more than its pool has.
 */
export function compileDirection(
  work: Work,
  mirrored: boolean,
  extraTables: ExtraTables = new Map(),
  losable: Int32Array | null = null,
): Instance {
  refuseImpossible(work);
  const isTextbook = isTextbookWork(work);
  return new Builder(work, mirrored, isTextbook, isTextbook ? commonTick(work) : 1, extraTables, losable).instance();
}

function refuseImpossible(work: Work): void {
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      if (phase.kind === 'demand') {
        for (const { resource, amount } of phase.demands) {
          const pool = work.resources[resource]!;
          if (amount > pool.capacity) {
            throw new RangeError(
              `Lot ${lot.id} asks for ${amount} of ${pool.name}, of which there are ${pool.capacity}.`,
            );
          }
        }
      } else if ((phase.kind === 'hands' || (phase.kind === 'run' && phase.attended)) && phase.minutes > 0) {
        if (crewsOf(phase.eligible, phase.people, lot.pinnedPeople).length === 0) {
          throw new RangeError(`Lot ${lot.id} needs ${phase.people} people; ${phase.eligible.length} may do it.`);
        }
      }
    }
  }
}

function isAlwaysOpen(open: Calendar, from: number, until: number): boolean {
  return open.opens.length === 1 && open.opens[0]! <= from && open.closes[0]! >= until;
}

function isTextbookWork(work: Work): boolean {
  const total = work.lots.reduce(
    (sum, lot) => sum + lot.phases.reduce((s, p) => s + (p.kind === 'lead' ? 0 : p.minutes), 0),
    0,
  );
  const textbook = work.lots.every(
    (lot) =>
      lot.phases.length <= 1 &&
      lot.phases.every((phase) => phase.kind === 'demand' || phase.kind === 'wait') &&
      lot.release <= work.now &&
      lot.begunAt === null &&
      lot.pinnedStart === null &&
      lot.station === null &&
      !lot.onSite,
  );
  return (
    textbook &&
    work.links.every((link) => link.type === 'finish-start' && link.lagMinutes === 0) &&
    work.resources.every(
      (resource) => resource.kind !== 'pool' || isAlwaysOpen(resource.open, work.now, work.now + total),
    )
  );
}

function commonTick(work: Work): number {
  let tick = 0;
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      let minutes = phase.kind === 'lead' ? 1 : phase.minutes;
      while (minutes > 0) [tick, minutes] = [minutes, tick % minutes];
    }
  }
  return Math.max(1, tick);
}

/** A flexible boundary: people may come later to what a machine or time has left; arrived goods may stand. */
function isLoose(before: Phase, after: Phase): boolean {
  const needsPeople = after.kind === 'hands' || (after.kind === 'run' && after.attended && after.people > 0);
  return before.kind === 'lead' || (needsPeople && before.kind !== 'hands');
}

function isUnderWay({ begunAt, phases }: Lot): boolean {
  return begunAt !== null && phases.length > 0;
}

/** What is under way waits with its end alone. */
function binds({ type }: Link, to: Lot): boolean {
  return to.begunAt === null || type === 'finish-finish' || type === 'start-finish';
}

type Columns = ReturnType<typeof emptyColumns>;

function emptyColumns(phases: number) {
  return {
    phaseKind: new Int32Array(phases),
    phaseMinutes: new Int32Array(phases + 1),
    phaseLoose: new Uint8Array(phases),
    phaseOneGo: new Uint8Array(phases),
    crewRange: new Int32Array(2 * phases),
    phaseFormerCrew: new Int32Array(phases).fill(-1),
    phaseWanted: new Int32Array(phases).fill(-1),
    phaseNotBefore: new Int32Array(phases).fill(FREE),
    phaseCutCalendar: new Int32Array(phases).fill(-1),
    phaseFreeCrew: new Int32Array(phases).fill(-1),
    phaseSingly: new Uint8Array(phases),
    phaseCalendar: new Int32Array(phases).fill(-1),
    phaseMachine: new Int32Array(phases).fill(-1),
    heldFrom: new Int32Array(phases).fill(-1),
    heldMachine: new Int32Array(phases).fill(-1),
    heldUntil: new Int32Array(phases).fill(-1),
    phaseTable: new Int32Array(phases).fill(-1),
  };
}

class Builder {
  private readonly calendars: SharedCalendars;
  private readonly crews: CrewSets;
  private readonly enoughOf = new Map<string, number>();
  private readonly leads = new Leads();
  private readonly columns: Columns;
  private readonly phaseFirst: Int32Array;
  private readonly pools: Pools;
  private readonly demand: Int32Array;

  constructor(
    private readonly work: Work,
    private readonly mirrored: boolean,
    private readonly isTextbook: boolean,
    private readonly tick: number,
    private readonly extraTables: ExtraTables,
    losable: Int32Array | null,
  ) {
    this.calendars = new SharedCalendars(work, mirrored, mirrored && !isTextbook, losable);
    this.crews = new CrewSets((resources) => this.calendars.shared(resources));
    const lots = work.lots.length;
    this.phaseFirst = new Int32Array(lots + 1);
    for (let l = 0; l < lots; l++) this.phaseFirst[l + 1] = this.phaseFirst[l]! + work.lots[l]!.phases.length;
    const phases = this.phaseFirst[lots]!;
    this.columns = emptyColumns(phases);
    this.pools = this.buildPools();
    this.demand = new Int32Array((phases + 1) * this.pools.words);
  }

  instance(): Instance {
    const { work, mirrored, isTextbook, tick, phaseFirst, columns } = this;
    const lots = work.lots.length;
    const phases = columns.phaseKind.length;
    for (let l = 0; l < lots; l++) this.lot(l);
    const links = this.links();
    const tied = this.tied();
    const ownCalendar = Int32Array.from(work.resources, (resource, r) =>
      resource.kind === 'person' ? this.calendars.shared([r]) : -1,
    );
    const calendars = this.calendars.compiled();
    return {
      ownCalendar,
      lots,
      mirrored,
      origin: isTextbook ? (mirrored ? -work.now : work.now) : 0,
      tick,
      isTextbook,
      ...links,
      startsOnly: links.linkType.every((type) => type <= START_START),
      earliest: Int32Array.from(work.lots, (_, l) => this.earliest(l)),
      begun: Int32Array.from(work.lots, (lot) => (lot.begunAt === null ? FREE : lot.begunAt)),
      station: Int32Array.from(work.lots, (lot) => lot.station ?? -1),
      onlyPhase: Int32Array.from(work.lots, (lot, l) => (lot.phases.length === 0 ? phases : phaseFirst[l]!)),
      phaseFirst,
      ...columns,
      lotPattern: Uint8Array.from(work.lots, (_, l) => this.patternOf(l)),
      lotHangs: Uint8Array.from(work.lots, (_, l) => (this.hangs(l) ? 1 : 0)),
      ...this.crews.compiled(),
      demand: this.demand,
      lotStep: Int32Array.from(work.lots, (lot) => lot.step),
      underWay: this.underWay(tied),
      tied,
      calendars,
      leads: this.leads,
      people: new TakenMinutes(ownCalendar.map((k) => (k < 0 ? 0 : calendars.before[calendars.last[k]!]!))),
      timelines: new Timelines(
        Int32Array.from(work.resources, (r) => r.capacity),
        this.uses(),
        this.outOfOrder(),
      ),
      pools: this.pools,
      starts: new Int32Array(lots),
      finishes: new Int32Array(lots),
      phaseStarts: new Int32Array(phases),
      phaseFinishes: new Int32Array(phases),
      phaseCrew: new Int32Array(phases).fill(-1),
      phaseWork: new Int32Array(phases).fill(-1),
      lowStart: new Int32Array(phases),
      lowFinish: new Int32Array(phases),
      lastStep: new Int32Array(work.resources.length),
      placedIn: new Int32Array(lots),
      stack: new Int32Array(lots + 1),
      pass: 0,
      doubt: -1,
      graceMinutes: 0,
    };
  }

  /**
   * First those who are on a machine or none, then those who keep one until an end that waits, then those of them who
   * go on to a further machine, then the others who do.
   */
  private underWay(tied: Uint8Array): Int32Array {
    const turn = (l: number) => {
      const goesOn = holdsOf(this.work.lots[l]!.phases).some(({ from }) => from > 0);
      if (tied[l] !== UNTIED) return goesOn ? 2 : 1;
      return goesOn ? 3 : 0;
    };
    const lots = [...this.work.lots.keys()].filter((l) => isUnderWay(this.work.lots[l]!));
    return Int32Array.from(lots.sort((a, b) => turn(a) - turn(b) || a - b));
  }

  private tied(): Uint8Array {
    const tied = new Uint8Array(this.work.lots.length).fill(UNTIED);
    for (const link of this.work.links) {
      const lot = this.work.lots[link.to]!;
      if (isUnderWay(lot) && binds(link, lot)) tied[link.to] = keepsUntilItsEnd(lot) ? HOLDING : TIED;
    }
    return tied;
  }

  private patternOf(l: number): number {
    const { phaseSingly, phaseOneGo, phaseKind } = this.columns;
    const lot = this.work.lots[l]!;
    if (lot.begunAt !== null || lot.station !== null) return OTHER;
    const [first, end] = [this.phaseFirst[l]!, this.phaseFirst[l + 1]!];
    const isSingly = (p: number) => phaseSingly[p] === 1 && phaseOneGo[p] === 0;
    if (first === end || !isSingly(first)) return OTHER;
    if (phaseKind.subarray(first + 1, end).every((kind) => kind === WAIT)) return PLAIN;
    // In the mirror, loading comes last and may not wait.
    if (this.mirrored) return OTHER;
    const runsAlone = phaseKind[first + 1] === RUN && this.crewCount(first + 1) === 0;
    return end === first + 3 && runsAlone && isSingly(first + 2) ? LOADED : OTHER;
  }

  /** Whether some phase that several crews may do must follow the one before it. */
  private hangs(l: number): boolean {
    for (let p = this.phaseFirst[l]! + 1; p < this.phaseFirst[l + 1]!; p++) {
      if (this.columns.phaseLoose[p] === 0 && this.crewCount(p) > 1) return true;
    }
    return false;
  }

  private crewCount(p: number): number {
    const { crewRange } = this.columns;
    return crewRange[2 * p + 1]! - crewRange[2 * p]!;
  }

  private earliest(l: number): number {
    const lot = this.work.lots[l]!;
    if (this.isTextbook) return 0;
    if (this.mirrored) return -lot.deadline;
    return Math.max(this.work.now, lot.release, lot.pinnedStart ?? this.work.now);
  }

  /** Demands are counted in slots; a work without any needs none. */
  private buildPools(): Pools {
    const { work, isTextbook, tick, mirrored } = this;
    const { dawn, horizon } = this.calendars;
    let minutes = 0;
    let demands = false;
    for (const lot of work.lots) {
      for (const phase of lot.phases) {
        if (phase.kind !== 'lead') minutes += phase.minutes;
        if (phase.kind === 'demand') demands = true;
      }
    }
    if (!demands) return new Pools([], 0, 0);
    const span = isTextbook ? 0 : 2 * (horizon - dawn);
    const slots = Math.ceil(minutes / tick) + span + 1;
    if (slots > 1 << 26)
      throw new RangeError(`The pools of this work would need ${slots} slots of time; at most ${1 << 26} fit.`);
    const capacities = work.resources.map((resource) => (resource.kind === 'pool' ? resource.capacity : 0));
    return new Pools(capacities, slots, isTextbook ? 0 : mirrored ? -horizon : dawn);
  }

  private uses(): Int32Array {
    const uses = new Int32Array(this.work.resources.length);
    for (const lot of this.work.lots) {
      const taken: number[] = lot.station === null ? [] : [lot.station];
      for (const phase of lot.phases) {
        if (phase.kind === 'run') taken.push(phase.machine);
      }
      for (const r of taken) uses[r] = uses[r]! + 1;
    }
    return uses;
  }

  /** What is out of order, in the time of the instance. */
  private outOfOrder(): TakenStretch[] {
    return this.work.resources.flatMap(({ out = [] }, resource) =>
      out.map(([from, until]) =>
        this.mirrored ? { resource, from: -until, to: -from } : { resource, from, to: until },
      ),
    );
  }

  private lot(l: number): void {
    const { mirrored, tick, columns, pools } = this;
    const lot = this.work.lots[l]!;
    const first = this.phaseFirst[l]!;
    const n = lot.phases.length;
    for (const hold of holdsOf(lot.phases)) this.hold(hold, first, n);
    lot.phases.forEach((phase, i) => {
      const p = mirrored ? first + n - 1 - i : first + i;
      const before = mirrored ? phase : lot.phases[i - 1];
      const after = mirrored ? lot.phases[i + 1] : phase;
      columns.phaseKind[p] = KIND[phase.kind];
      columns.phaseMinutes[p] = phase.kind === 'lead' ? 0 : phase.minutes / tick;
      if (before !== undefined && after !== undefined && isLoose(before, after)) columns.phaseLoose[p] = 1;
      // What is under way cannot be moved, so what follows it may.
      if (lot.begunAt !== null && i === 1) columns.phaseLoose[p] = 1;
      // Mirrored, a lead may also begin later than what follows it ends: the order may wait for the cut-off.
      if (mirrored && after !== undefined && after.kind === 'lead') columns.phaseLoose[p] = 1;
      if (phase.kind === 'hands') this.hands(p, phase, lot, i);
      else if (phase.kind === 'run') this.run(p, phase, lot, i);
      else if (phase.kind === 'lead') this.lead(p, phase);
      else if (phase.kind === 'demand') {
        for (const { resource, amount } of phase.demands) pools.pack(this.demand, p * pools.words, resource, amount);
        if (!this.isTextbook) columns.phaseCalendar[p] = this.calendars.shared(phase.demands.map((d) => d.resource));
      }
      if (mirrored) return;
      if (lot.formerPeople !== undefined) columns.phaseFormerCrew[p] = this.crewOf(p, lot.formerPeople[i] ?? []);
      const { people = null, notBefore = null } = lot.chosen?.[i] ?? {};
      if (people !== null) columns.phaseWanted[p] = this.crewOf(p, people);
      if (notBefore !== null) columns.phaseNotBefore[p] = notBefore;
    });
  }

  /** The number of these people among the crews of phase p; -1 where they may not do it. */
  private crewOf(p: number, people: readonly number[]): number {
    const { crewRange } = this.columns;
    return crewAmong(people, crewRange[2 * p]!, crewRange[2 * p + 1]!, this.crews);
  }

  private lead(p: number, phase: Phase & { kind: 'lead' }): void {
    this.columns.phaseTable[p] = this.leads.append(phase.arrivals, this.mirrored);
    for (const table of this.extraTables.get(phase) ?? []) this.leads.append(table, this.mirrored);
  }

  private hands(p: number, phase: HandsPhase, lot: Lot, i: number): void {
    if (phase.oneGo) this.columns.phaseOneGo[p] = 1;
    this.whoever(p, phase, lot, i, null);
  }

  private run(p: number, phase: RunPhase, lot: Lot, i: number): void {
    const { columns } = this;
    columns.phaseMachine[p] = phase.machine;
    if (phase.attended && phase.people > 0) this.whoever(p, phase, lot, i, phase.machine);
    else columns.phaseCalendar[p] = this.calendars.shared([phase.machine]);
  }

  private hold({ machine, from, to }: MachineHold, first: number, phases: number): void {
    const { columns, mirrored } = this;
    const begin = mirrored ? first + phases - 1 - to : first + from;
    const end = mirrored ? first + phases - 1 - from : first + to;
    columns.heldFrom[end] = begin;
    columns.heldUntil[begin] = end;
    columns.heldMachine[end] = machine;
  }

  /**
   * Who may do phase p, with the machine where there is one: the crews there are, and whose it was or is chosen to be.
   */
  private whoever(p: number, phase: HandsPhase | RunPhase, lot: Lot, i: number, machine: number | null): void {
    const { columns, calendars } = this;
    const { eligible, people } = phase;
    const listed = crewsOf(eligible, people, lot.pinnedPeople);
    const cut = phase.minutes > 0 && isCut(eligible, people, lot.pinnedPeople);
    const crews = cut ? withNamed(listed, [lot.formerPeople?.[i], lot.chosen?.[i]?.people], phase) : listed;
    const [first, end] = this.crews.rangeOf(crews, machine);
    columns.crewRange[2 * p] = first;
    columns.crewRange[2 * p + 1] = end;
    if (machine === null && crews.every((crew) => crew.length === 1)) columns.phaseSingly[p] = 1;
    if (!cut) return;
    columns.phaseCutCalendar[p] = this.enough(phase, machine);
    if ((lot.pinnedPeople ?? []).some((person) => eligible.includes(person))) return;
    columns.phaseFreeCrew[p] = this.crews.free(eligible, people, machine, (person) => calendars.shared([person]));
  }

  /** The number of the calendar in which enough of those who may do it are there, and the machine. */
  private enough({ eligible, people }: HandsPhase | RunPhase, machine: number | null): number {
    const key = `${people} of ${eligible.join()} at ${machine}`;
    const known = this.enoughOf.get(key);
    if (known !== undefined) return known;
    const openOf = (resource: number) => this.work.resources[resource]!.open;
    const there = atLeastOpen(people, eligible.map(openOf));
    const calendar = this.calendars.numberOf(machine === null ? there : intersectionOf([there, openOf(machine)]));
    this.enoughOf.set(key, calendar);
    return calendar;
  }

  /** Links grouped by the lot they bind: forwards the one they lead to, mirrored the one they come from. */
  private links() {
    const { work, mirrored } = this;
    const lots = work.lots.length;
    const binding = work.links.filter((link) => binds(link, work.lots[link.to]!));
    const linkFirst = new Int32Array(lots + 1);
    for (const link of binding) linkFirst[(mirrored ? link.from : link.to) + 1]!++;
    for (let l = 0; l < lots; l++) linkFirst[l + 1] = linkFirst[l + 1]! + linkFirst[l]!;
    const at = linkFirst.slice();
    const linkFrom = new Int32Array(binding.length);
    const linkType = new Int32Array(binding.length);
    const linkLag = new Int32Array(binding.length);
    const linkCalendar = new Int32Array(binding.length).fill(-1);
    for (const link of binding) {
      const i = at[mirrored ? link.from : link.to]!++;
      linkFrom[i] = mirrored ? link.to : link.from;
      linkType[i] = (mirrored ? MIRRORED_TYPE : TYPE)[link.type];
      linkLag[i] = link.lagMinutes;
      if (link.lagOpen !== null && link.lagMinutes !== 0) linkCalendar[i] = this.calendars.numberOf(link.lagOpen);
    }
    return { linkFirst, linkFrom, linkType, linkLag, linkCalendar };
  }
}

/** The crews, and those of the named ones that may do the phase beside them. */
function withNamed(
  crews: readonly (readonly number[])[],
  named: readonly (readonly number[] | null | undefined)[],
  { eligible, people }: HandsPhase | RunPhase,
): readonly (readonly number[])[] {
  const key = (crew: readonly number[]) => [...crew].sort((a, b) => a - b).join();
  const known = new Set(crews.map(key));
  const more = named.flatMap((crew) => {
    const may = crew?.length === people && crew.every((person) => eligible.includes(person)) && !known.has(key(crew));
    return may ? [crew] : [];
  });
  return [...crews, ...more.slice(0, more.length > 1 && key(more[0]!) === key(more[1]!) ? 1 : 2)];
}

/**
 * Takes the first `count` of these days out of all people's hours, in place of those taken out before: work under way
 * pauses over them as over any hours in which nobody is there. Of an instance that was compiled with these days.
 * Forgets the schedule of the last pass.
 */
export function loseDays(instance: Instance, starts: Int32Array, ends: Int32Array, count: number): void {
  const { calendars, people, ownCalendar } = instance;
  calendars.takeOut(starts, ends, count);
  people.clear();
  people.shorten(ownCalendar.map((k) => (k < 0 ? 0 : calendars.before[calendars.last[k]!]!)));
}
