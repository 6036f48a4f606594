/**
 * A `Work` as the generator reads it: lots, phases, links and calendars as flat typed arrays, once forwards and once as
 * its mirror image in time. The mirror is the same kind of instance, so the same generator builds schedules from the
 * end backwards: every instant t becomes -t, every phase chain runs from its end, every link points the other way.
 */
import type { Calendars } from './calendars.ts';
import type { FreeCrew } from './crews.ts';
import type { Leads } from './leads.ts';
import type { Pools } from './pools.ts';
import type { TakenMinutes } from './taken-minutes.ts';
import type { Timelines } from './timelines.ts';

/** One direction of a compiled work, with the state of the schedule being generated. */
export interface Instance {
  readonly lots: number;
  readonly mirrored: boolean;
  /**
   * Time of a textbook instance runs in ticks from `origin`: instant = origin + tick * time. Otherwise origin 0, tick
   * 1.
   */
  readonly origin: number;
  readonly tick: number;
  /**
   * Every lot is one demand (or nothing), every link finish-start without lag, no calendar ever closes: the textbook
   * case.
   */
  readonly isTextbook: boolean;
  /** No link binds the finish of a lot, only starts. */
  readonly startsOnly: boolean;

  /** Links into lot l: linkFirst[l] .. linkFirst[l + 1]. */
  readonly linkFirst: Int32Array;
  readonly linkFrom: Int32Array;
  readonly linkType: Int32Array;
  readonly linkLag: Int32Array;
  /** The calendar that counts the lag, or -1 for the clock. */
  readonly linkCalendar: Int32Array;
  /** Which of `times` a link by the clock binds the start by; -1 for every other link. */
  readonly linkTime: Int32Array;

  /** No start before this (forwards: now, release, pinned start; mirrored: the deadline's mirror image). */
  readonly earliest: Int32Array;
  /**
   * Exact start of the first phase of a lot under way, else FREE. In the mirror they stand where the forward pass put
   * them.
   */
  readonly begun: Int32Array;
  readonly station: Int32Array;

  /**
   * For a textbook instance: the one phase of each lot; of a milestone the spare one at the end of the columns, which
   * takes nothing.
   */
  readonly onlyPhase: Int32Array;
  /** Phases of lot l: phaseFirst[l] .. phaseFirst[l + 1]. */
  readonly phaseFirst: Int32Array;
  readonly phaseKind: Int32Array;
  /**
   * Minutes (ticks in a textbook instance); of a lead, minutes late beyond its table. Callers may overwrite between
   * passes.
   */
  readonly phaseMinutes: Int32Array;
  /** 1 where the phase may begin later than the one before it ends. */
  readonly phaseLoose: Uint8Array;
  readonly phaseOneGo: Uint8Array;
  /**
   * 1 where a lot may be left alone before this phase: hands that come back after a run, a wait or a delivery that
   * nobody attends. What comes from here on is the lot's rest: it has a turn of its own, when hands are free.
   */
  readonly phaseLeft: Uint8Array;
  /** The end of the part of its lot that begins with the phase: the next such phase, or the end of the lot. */
  readonly partEnd: Int32Array;
  /**
   * By the first phase of a part: PLAIN, LOADED, WHOLE, ALONE or OTHER. What has begun, and a whole lot that takes a
   * place, is OTHER.
   */
  readonly partPattern: Uint8Array;
  /**
   * The phase at whose end the machine is given back that a lot keeps while it is left before this one; -1 for none.
   */
  readonly keptUntil: Int32Array;
  /** Crews that may do the phase: crewRange[2p] .. crewRange[2p + 1]; none where nobody is needed. */
  readonly crewRange: Int32Array;
  /**
   * All people of these crews, one bit each by the last five bits of their number: where two phases have no bit in
   * common, nobody may do both.
   */
  readonly phasePeople: Int32Array;
  /**
   * The crew that was to do the phase on the sheet before, -1 for none; asked about where `graceMinutes` is above 0.
   */
  readonly phaseFormerCrew: Int32Array;
  /**
   * The crew that is to do the phase whoever would end it first; -1: whoever does. Callers may overwrite between
   * passes.
   */
  readonly phaseWanted: Int32Array;
  /**
   * The instant before which a phase that may wait (the first of its lot, or `phaseLoose`) does not begin, so that
   * other work comes first; FREE for none. Callers may overwrite between passes.
   */
  readonly phaseNotBefore: Int32Array;
  /**
   * Where not every crew is listed: when enough of those who may do it are there (and the machine); -1 where all are.
   */
  readonly phaseCutCalendar: Int32Array;
  /**
   * Where not every crew is listed: the crew whose members are chosen as the phase is placed; -1 for none. See
   * `FreeCrew`.
   */
  readonly phaseFreeCrew: Int32Array;
  /** 1 where every crew is one person, by that person's own calendar. */
  readonly phaseSingly: Uint8Array;
  /** The calendar of all of them; -1 where their hours differ, where they are many, and for every other phase. */
  readonly phaseHours: Int32Array;
  /** What a phase without people needs open: its machine's or pools' calendar, -1 for none. */
  readonly phaseCalendar: Int32Array;
  readonly phaseMachine: Int32Array;
  /**
   * The machine occupiedMachine[p] is given back at the end of phase p and taken at the start of phase
   * occupiedFrom[p]; -1 for none.
   */
  readonly occupiedFrom: Int32Array;
  readonly occupiedMachine: Int32Array;
  /**
   * The other way round: the phase at whose end the machine is given back that is taken at the start of phase p; -1 for
   * none.
   */
  readonly occupiedUntil: Int32Array;
  /** The lead table in use; callers may overwrite between passes. */
  readonly phaseTable: Int32Array;
  readonly crewCalendar: Int32Array;
  /** The calendar of each person, by resource. */
  readonly ownCalendar: Int32Array;
  /** People of crew c: memberFirst[c] .. memberFirst[c + 1] of `members`. */
  readonly memberFirst: Int32Array;
  readonly members: Int32Array;
  /** The first of them, who is the only one where a crew is one person. */
  readonly crewPerson: Int32Array;
  /** The people of a crew as in `phasePeople`. */
  readonly crewPeople: Int32Array;
  /** Packed demands of phase p begin at p * pools.words. */
  readonly demand: Int32Array;

  /** 1 where a lot may be left alone before one of its phases, and where anybody is needed for it at all. */
  readonly lotLeft: Uint8Array;
  readonly lotHands: Uint8Array;
  /** Machines and places that lot l takes: holdFirst[l] .. holdFirst[l + 1] of `holds`. */
  readonly holdFirst: Int32Array;
  readonly holds: Int32Array;
  readonly capacity: Int32Array;
  /** 1 where a phase that several crews may do must follow the one before it. */
  readonly lotHangs: Uint8Array;
  readonly lotStep: Int32Array;
  /** By crew number: whose members are chosen as their phase is placed. */
  readonly freeCrews: ReadonlyMap<number, FreeCrew>;
  /** Lots under way, which every pass begins with: those that are on a machine for some time before the others. */
  readonly underWay: Int32Array;
  /**
   * By lot, what is asked of the end of one under way: UNTIED where nothing is, TIED where a link binds it, HOLDING
   * where it also keeps a machine or a place until then.
   */
  readonly tied: Uint8Array;
  readonly calendars: Calendars;
  readonly leads: Leads;
  /** Who of the people is taken when, in their own open minutes. */
  readonly people: TakenMinutes;
  /** Which machines and stations are, by the clock. */
  readonly timelines: Timelines;
  readonly pools: Pools;

  /** The schedule of the last pass: by lot, and by phase with the crew chosen (-1 for nobody). */
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  /** See `ownTimes`. */
  readonly times: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
  readonly phaseCrew: Int32Array;
  /** The open minute in which the one person of a phase begins; -1 where it was not asked for. */
  readonly phaseWork: Int32Array;
  /** Scratch of the generator. */
  readonly lowStart: Int32Array;
  readonly lowFinish: Int32Array;
  readonly lastStep: Int32Array;
  /** By lot, the pass in which it was placed; below zero while it is left alone. */
  readonly placedIn: Int32Array;
  readonly stack: Int32Array;
  pass: number;
  /**
   * A phase of the lot placed last that another crew might end earlier, if what comes before it came later; -1 for
   * none.
   */
  doubt: number;
  /**
   * Lots that are left alone: the first `leftCount` of `left`, those first whose rest may begin first. By lot, the
   * phase with which its rest begins, -1 for none, and when that may begin.
   */
  readonly left: Int32Array;
  readonly restFirst: Int32Array;
  readonly restFrom: Int32Array;
  leftCount: number;
  /** When the rest of the first of them may begin; NEVER where nothing is left alone. */
  nextDue: number;
  /** How many of each machine and place are kept by lots that are left alone. */
  readonly keeps: Int32Array;
  /** The machine that the lot whose rest is placed has kept, -1 for none. */
  kept: number;
  /** Nothing is left alone: lots are placed as a whole. */
  isWhole: boolean;
  /**
   * The place in the activity list at which the rest that begins with the phase has its turn at the latest; beyond the
   * list where hands alone decide. Callers may overwrite between passes, and say by `hasRestTurns` whether any is in
   * it.
   */
  readonly restTurn: Int32Array;
  hasRestTurns: boolean;
  /** No rest of a lot that is left alone has its turn before this place. */
  nextTurn: number;
  /**
   * What waits for the rest of another lot is passed over; else that rest is placed first. Callers may overwrite
   * between passes.
   */
  passesOver: boolean;
  /**
   * The links once more by the lot they come from: those that go by its start are outFirst[2l] .. outFirst[2l + 1] of
   * `out`, those that go by its finish come after them to outFirst[2l + 2]. Each is four numbers: the link's own, the
   * lot it binds, its `linkTime` and its lag.
   */
  readonly outFirst: Int32Array;
  readonly out: Int32Array;
  /**
   * Where lots are passed over: by lot its place in the activity list, how many of its links still wait for what they
   * come from, and how early those that do not let it begin. One bit for each place in the list whose lot waits for
   * none; no word of `ready` before `readyFrom` has any.
   */
  readonly turn: Int32Array;
  readonly missing: Int32Array;
  readonly linkCount: Int32Array;
  readonly bound: Int32Array;
  readonly ready: Int32Array;
  readyFrom: number;
  /**
   * By machine and place, the first and the last lot that waits until one of it is given back; by lot, the next that
   * waits for the same, and which gave it its turn, -1 for none.
   */
  readonly holdWaiter: Int32Array;
  readonly lastWaiter: Int32Array;
  readonly nextWaiter: Int32Array;
  readonly heldFor: Int32Array;
  /** How much later the crew of the sheet before may finish a phase and still keep it; 0: it is not asked about. */
  graceMinutes: number;
}
