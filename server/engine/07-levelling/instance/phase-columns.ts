/** The phases of a work in flat arrays, with the crews, orders and demands that they ask for. */
import { atLeastOpen, intersectionOf } from '../../calendar/index.ts';
import type { ArrivalTable, HandsPhase, Lot, Phase, RunPhase, Work } from '../../types.ts';
import { ALONE, DEMAND, FREE, HANDS, LEAD, LOADED, OTHER, PLAIN, RUN, WAIT, WHOLE } from './codes.ts';
import type { SharedCalendars } from './compile-calendars.ts';
import { CrewSets, crewAmong, crewsOf, isCut } from './crews.ts';
import { Leads } from './leads.ts';
import { type Occupation, occupationsOf } from './occupations.ts';
import type { Pools } from './pools.ts';

const KIND = { hands: HANDS, run: RUN, wait: WAIT, lead: LEAD, demand: DEMAND } as const;

/**
 * More arrival tables for a lead phase, so that a caller can draw among them; they follow the phase's own in number.
 */
export type ExtraTables = ReadonlyMap<Phase, readonly ArrivalTable[]>;

/** A work in one direction of time; `tick`: minutes of one step of its time. */
export interface Direction {
  readonly work: Work;
  readonly mirrored: boolean;
  readonly isTextbook: boolean;
  readonly tick: number;
  readonly extraTables: ExtraTables;
}

/** The columns of all phases of a work, filled lot by lot. O(phases x their crews). */
export class PhaseColumns {
  readonly columns: Columns;
  readonly phaseFirst: Int32Array;
  readonly demand: Int32Array;
  readonly crews: CrewSets;
  readonly leads = new Leads();
  private readonly enoughOf = new Map<string, number>();

  constructor(
    private readonly direction: Direction,
    private readonly calendars: SharedCalendars,
    private readonly pools: Pools,
  ) {
    const { lots } = direction.work;
    this.crews = new CrewSets((resources) => calendars.shared(resources));
    this.phaseFirst = new Int32Array(lots.length + 1);
    lots.forEach(({ phases }, l) => {
      this.phaseFirst[l + 1] = this.phaseFirst[l]! + phases.length;
    });
    const phases = this.phaseFirst[lots.length]!;
    this.columns = emptyColumns(phases);
    this.demand = new Int32Array((phases + 1) * pools.words);
    for (const l of lots.keys()) this.addLot(l);
  }

  private addLot(l: number): void {
    const { columns, pools } = this;
    const { mirrored, tick, isTextbook } = this.direction;
    const lot = this.direction.work.lots[l]!;
    const first = this.phaseFirst[l]!;
    const n = lot.phases.length;
    const occupations = occupationsOf(lot.phases);
    for (const occupation of occupations) this.occupy(occupation, first, n);
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
        if (!isTextbook) columns.phaseCalendar[p] = this.calendars.shared(phase.demands.map((d) => d.resource));
      }
      if (mirrored) return;
      if (i > 0 && isLeftBefore(lot.phases, i, occupations)) columns.phaseLeft[p] = 1;
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
    const { mirrored, extraTables } = this.direction;
    this.columns.phaseTable[p] = this.leads.append(phase.arrivals, mirrored);
    for (const table of extraTables.get(phase) ?? []) this.leads.append(table, mirrored);
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

  private occupy({ machine, from, to }: Occupation, first: number, phases: number): void {
    const { columns } = this;
    const { mirrored } = this.direction;
    const begin = mirrored ? first + phases - 1 - to : first + from;
    const end = mirrored ? first + phases - 1 - from : first + to;
    columns.occupiedFrom[end] = begin;
    columns.occupiedUntil[begin] = end;
    columns.occupiedMachine[end] = machine;
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
    columns.phasePeople[p] = this.crews.peopleOf(first, end);
    if (machine === null && crews.every((crew) => crew.length === 1)) {
      columns.phaseSingly[p] = 1;
      columns.phaseHours[p] = this.crews.sharedCalendar(first, end);
    }
    if (!cut) return;
    columns.phaseCutCalendar[p] = this.enough(phase, machine);
    if ((lot.pinnedPeople ?? []).some((person) => eligible.includes(person))) return;
    const free = this.crews.free(eligible, people, machine, (person) => calendars.shared([person]));
    columns.phaseFreeCrew[p] = free;
    if (free >= 0) columns.phasePeople[p]! |= this.crews.peopleOf(free, free + 1);
  }

  /** The number of the calendar in which enough of those who may do it are there, and the machine. */
  private enough({ eligible, people }: HandsPhase | RunPhase, machine: number | null): number {
    const key = `${people} of ${eligible.join()} at ${machine}`;
    const known = this.enoughOf.get(key);
    if (known !== undefined) return known;
    const openOf = (resource: number) => this.direction.work.resources[resource]!.open;
    const there = atLeastOpen(people, eligible.map(openOf));
    const calendar = this.calendars.numberOf(machine === null ? there : intersectionOf([there, openOf(machine)]));
    this.enoughOf.set(key, calendar);
    return calendar;
  }

  /**
   * By phase, what is known of the part that begins with it (up to `partEnd`, left out), so that the generator need not
   * look at each of its phases: PLAIN, LOADED, WHOLE, ALONE or OTHER.
   */
  private patterns(partEnd: Int32Array): Uint8Array {
    const patterns = new Uint8Array(partEnd.length);
    this.direction.work.lots.forEach(({ begunAt, station }, l) => {
      const [first, end] = [this.phaseFirst[l]!, this.phaseFirst[l + 1]!];
      for (let p = first; p < end; p = partEnd[p]!) {
        const isLeft = partEnd[p]! < end;
        if (p > first || (begunAt === null && (isLeft || station === null)))
          patterns[p] = this.patternOf(p, partEnd[p]!, p === first, isLeft);
        if (patterns[p] === OTHER && begunAt === null && station === null && end === first + 1 && this.crewCount(p) > 0)
          patterns[p] = ALONE;
      }
    });
    return patterns;
  }

  private patternOf(first: number, end: number, isFirst: boolean, isLeft: boolean): number {
    const { phaseSingly, phaseOneGo, phaseKind } = this.columns;
    if (phaseSingly[first] === 0 || phaseOneGo[first] === 1) return OTHER;
    if (phaseKind.subarray(first + 1, end).every((kind) => kind === WAIT || kind === LEAD))
      return isFirst && !isLeft ? WHOLE : PLAIN;
    const runsAlone = end === first + 2 && phaseKind[first + 1] === RUN && this.crewCount(first + 1) === 0;
    return runsAlone && isFirst && isLeft ? LOADED : OTHER;
  }

  /**
   * By phase, the end of the part of its lot that begins with it: the next before which the lot may be left alone, or
   * the end of the lot. And of a lot that is left alone before the phase, the phase at whose end the machine is given
   * back that it keeps; -1 for none. And the pattern of each part, by its first phase.
   */
  parts() {
    const { phaseLeft, occupiedFrom } = this.columns;
    const partEnd = new Int32Array(phaseLeft.length);
    const keptUntil = new Int32Array(phaseLeft.length).fill(-1);
    for (let l = 0; l + 1 < this.phaseFirst.length; l++) {
      const end = this.phaseFirst[l + 1]!;
      for (let p = end - 1; p >= this.phaseFirst[l]!; p--) {
        partEnd[p] = p + 1 < end && phaseLeft[p + 1] === 0 ? partEnd[p + 1]! : p + 1;
        const kept = occupiedFrom.subarray(p, end).findIndex((from) => from >= 0 && from < p);
        if (phaseLeft[p] === 1 && kept >= 0) keptUntil[p] = p + kept;
      }
    }
    return { partEnd, keptUntil, partPattern: this.patterns(partEnd) };
  }

  /** Whether some phase that several crews may do must follow the one before it. */
  hangs(l: number): boolean {
    for (let p = this.phaseFirst[l]! + 1; p < this.phaseFirst[l + 1]!; p++) {
      if (this.columns.phaseLoose[p] === 0 && this.crewCount(p) > 1) return true;
    }
    return false;
  }

  /** Whether a lot may be left alone before one of its phases. */
  isLeft(l: number): boolean {
    return this.columns.phaseLeft.subarray(this.phaseFirst[l]!, this.phaseFirst[l + 1]!).includes(1);
  }

  /** Whether anybody is needed for a lot. */
  needsHands(l: number): boolean {
    for (let p = this.phaseFirst[l]!; p < this.phaseFirst[l + 1]!; p++) if (this.crewCount(p) > 0) return true;
    return false;
  }

  private crewCount(p: number): number {
    const { crewRange } = this.columns;
    return crewRange[2 * p + 1]! - crewRange[2 * p]!;
  }
}

type Columns = ReturnType<typeof emptyColumns>;

function emptyColumns(phases: number) {
  return {
    phaseKind: new Int32Array(phases),
    phaseMinutes: new Int32Array(phases + 1),
    phaseLoose: new Uint8Array(phases),
    phaseOneGo: new Uint8Array(phases),
    phaseLeft: new Uint8Array(phases),
    crewRange: new Int32Array(2 * phases),
    phasePeople: new Int32Array(phases),
    phaseFormerCrew: new Int32Array(phases).fill(-1),
    phaseWanted: new Int32Array(phases).fill(-1),
    phaseNotBefore: new Int32Array(phases).fill(FREE),
    phaseCutCalendar: new Int32Array(phases).fill(-1),
    phaseFreeCrew: new Int32Array(phases).fill(-1),
    phaseSingly: new Uint8Array(phases),
    phaseHours: new Int32Array(phases).fill(-1),
    phaseCalendar: new Int32Array(phases).fill(-1),
    phaseMachine: new Int32Array(phases).fill(-1),
    occupiedFrom: new Int32Array(phases).fill(-1),
    occupiedMachine: new Int32Array(phases).fill(-1),
    occupiedUntil: new Int32Array(phases).fill(-1),
    phaseTable: new Int32Array(phases).fill(-1),
  };
}

/** A flexible boundary: people may come later to what a machine or time has left; arrived goods may stand. */
function isLoose(before: Phase, after: Phase): boolean {
  const needsPeople = after.kind === 'hands' || (after.kind === 'run' && after.attended && after.people > 0);
  return before.kind === 'lead' || (needsPeople && before.kind !== 'hands');
}

/**
 * Whether a lot may be left alone before its phase i: people come back to what a machine, time or a supplier has left.
 * Not where more of it takes a further machine: while the piece is kept somewhere, that could be one whose own piece
 * waits for this one's machine.
 */
function isLeftBefore(phases: readonly Phase[], i: number, occupations: readonly Occupation[]): boolean {
  const [before, after] = [phases[i - 1]!, phases[i]!];
  const needsPeople = 'people' in after && after.people > 0 && after.minutes > 0;
  const isAttended = before.kind === 'demand' || (before.kind === 'run' && before.attended && before.people > 0);
  return needsPeople && !isAttended && isLoose(before, after) && occupations.every(({ from }) => from < i);
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
