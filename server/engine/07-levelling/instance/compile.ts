/** From a work to an instance: flat arrays in one direction of time. */
import type { Lot, Work } from '../../types.ts';
import { FREE, HOLDING, NEVER, START_START, TIED, UNTIED } from './codes.ts';
import { SharedCalendars } from './compile-calendars.ts';
import { refuseImpossible } from './impossible-work.ts';
import type { Instance } from './instance.ts';
import { binds, linkColumns } from './link-columns.ts';
import { keepsUntilItsEnd, occupationsOf } from './occupations.ts';
import { ownTimes } from './own-times.ts';
import { type Direction, type ExtraTables, PhaseColumns } from './phase-columns.ts';
import { Pools } from './pools.ts';
import { TakenMinutes } from './taken-minutes.ts';
import { commonTick, isTextbookWork } from './textbook-work.ts';
import { type TakenStretch, Timelines } from './timelines.ts';

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
  const direction = { work, mirrored, isTextbook, tick: isTextbook ? commonTick(work) : 1, extraTables };
  return new Builder(direction, losable).instance();
}

class Builder {
  private readonly calendars: SharedCalendars;
  private readonly pools: Pools;
  private readonly phases: PhaseColumns;

  constructor(
    private readonly direction: Direction,
    losable: Int32Array | null,
  ) {
    const { work, mirrored, isTextbook } = direction;
    this.calendars = new SharedCalendars(work, mirrored, mirrored && !isTextbook, losable);
    this.pools = poolsOf(direction, this.calendars);
    this.phases = new PhaseColumns(direction, this.calendars, this.pools);
  }

  instance(): Instance {
    const { pools, phases: own } = this;
    const { work, mirrored, isTextbook, tick } = this.direction;
    const { columns, phaseFirst } = own;
    const lots = work.lots.length;
    const phases = columns.phaseKind.length;
    const links = linkColumns(work, mirrored, this.calendars);
    const tied = this.tied();
    const [holdFirst, holds] = this.holds();
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
      ...own.parts(),
      lotLeft: Uint8Array.from(work.lots, (_, l) => Number(own.isLeft(l))),
      lotHands: Uint8Array.from(work.lots, (_, l) => Number(own.needsHands(l))),
      holdFirst,
      holds,
      capacity: Int32Array.from(work.resources, (r) => r.capacity),
      lotHangs: Uint8Array.from(work.lots, (_, l) => (own.hangs(l) ? 1 : 0)),
      ...own.crews.compiled(),
      demand: own.demand,
      lotStep: Int32Array.from(work.lots, (lot) => lot.step),
      underWay: this.underWay(tied),
      tied,
      calendars,
      leads: own.leads,
      people: new TakenMinutes(ownCalendar.map((k) => (k < 0 ? 0 : calendars.openMinutes(k)))),
      timelines: new Timelines(
        Int32Array.from(work.resources, (r) => r.capacity),
        this.uses(),
        this.outOfOrder(),
      ),
      pools,
      ...ownTimes(new Int32Array(2 * lots)),
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
      left: new Int32Array(lots),
      restFirst: new Int32Array(lots).fill(-1),
      restFrom: new Int32Array(lots),
      leftCount: 0,
      nextDue: NEVER,
      keeps: new Int32Array(work.resources.length),
      kept: -1,
      isWhole: false,
      restTurn: new Int32Array(phases).fill(lots),
      hasRestTurns: false,
      nextTurn: 0,
      passesOver: false,
      turn: new Int32Array(lots),
      missing: new Int32Array(lots),
      linkCount: Int32Array.from(work.lots, (_, l) => links.linkFirst[l + 1]! - links.linkFirst[l]!),
      bound: new Int32Array(lots),
      ready: new Int32Array((lots >> 5) + 1),
      readyFrom: 0,
      holdWaiter: new Int32Array(work.resources.length).fill(-1),
      lastWaiter: new Int32Array(work.resources.length),
      nextWaiter: new Int32Array(lots),
      heldFor: new Int32Array(lots).fill(-1),
      graceMinutes: 0,
    };
  }

  /**
   * First those who are on a machine or none, then those who keep one until an end that waits, then those of them who
   * go on to a further machine, then the others who do.
   */
  private underWay(tied: Uint8Array): Int32Array {
    const turn = (l: number) => {
      const goesOn = occupationsOf(this.direction.work.lots[l]!.phases).some(({ from }) => from > 0);
      if (tied[l] !== UNTIED) return goesOn ? 2 : 1;
      return goesOn ? 3 : 0;
    };
    const lots = [...this.direction.work.lots.keys()].filter((l) => isUnderWay(this.direction.work.lots[l]!));
    return Int32Array.from(lots.sort((a, b) => turn(a) - turn(b) || a - b));
  }

  private tied(): Uint8Array {
    const tied = new Uint8Array(this.direction.work.lots.length).fill(UNTIED);
    for (const link of this.direction.work.links) {
      const lot = this.direction.work.lots[link.to]!;
      if (isUnderWay(lot) && binds(link, lot)) tied[link.to] = keepsUntilItsEnd(lot) ? HOLDING : TIED;
    }
    return tied;
  }

  private earliest(l: number): number {
    const lot = this.direction.work.lots[l]!;
    if (this.direction.isTextbook) return 0;
    if (this.direction.mirrored) return -lot.deadline;
    return Math.max(this.direction.work.now, lot.release, lot.pinnedStart ?? this.direction.work.now);
  }

  /** Machines and places that each lot takes, each once. */
  private holds(): readonly [Int32Array, Int32Array] {
    const { lots } = this.direction.work;
    const holds = lots.map(({ phases, station }) => [
      ...new Set([
        ...phases.flatMap((p) => (p.kind === 'run' ? [p.machine] : [])),
        ...(station === null ? [] : [station]),
      ]),
    ]);
    const first = new Int32Array(lots.length + 1);
    holds.forEach((own, l) => {
      first[l + 1] = first[l]! + own.length;
    });
    return [first, Int32Array.from(holds.flat())];
  }

  private uses(): Int32Array {
    const uses = new Int32Array(this.direction.work.resources.length);
    for (const lot of this.direction.work.lots) {
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
    return this.direction.work.resources.flatMap(({ out = [] }, resource) =>
      out.map(([from, until]) =>
        this.direction.mirrored ? { resource, from: -until, to: -from } : { resource, from, to: until },
      ),
    );
  }
}

/** Demands are counted in slots; a work without any needs none. */
function poolsOf({ work, mirrored, isTextbook, tick }: Direction, { dawn, horizon }: SharedCalendars): Pools {
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

function isUnderWay({ begunAt, phases }: Lot): boolean {
  return begunAt !== null && phases.length > 0;
}
