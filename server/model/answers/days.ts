/**
 * Who does what on which day, what is left day by day, and the plan that counts are compared with.
 * Instants in minutes since the epoch, lengths in minutes.
 */
import type { Hazard } from '../step.ts';

export interface DaySpell {
  readonly start: number;
  readonly finish: number;
  readonly lot: string;
  readonly step: string;
  readonly set: number | null;
  readonly units: number;
  readonly kind: 'hands' | 'load' | 'unload' | 'run';
  readonly hazards: readonly Hazard[];
  readonly pinned?: boolean;
}

/** Lots that follow each other are one spell; `firstLot` is the first of them, `lot` the last. */
export interface BenchSpell extends DaySpell {
  readonly firstLot: string;
}

/**
 * A person's or machine's spells, in their order, as they are at the bench: lots of one step that follow each other
 * without a break are one spell, and so are the pieces of one lot.
 */
export function joinedSpells(spells: readonly DaySpell[]): BenchSpell[] {
  const joined: BenchSpell[] = [];
  for (const spell of spells) {
    const before = joined.at(-1);
    if (before !== undefined && goesOn(before, spell)) {
      const units = before.lot === spell.lot ? before.units : before.units + spell.units;
      joined[joined.length - 1] = { ...before, lot: spell.lot, finish: spell.finish, units };
    } else joined.push({ ...spell, firstLot: spell.lot });
  }
  return joined;
}

function goesOn(before: BenchSpell, spell: DaySpell): boolean {
  const isSameWork = before.step === spell.step && before.set === spell.set && before.kind === spell.kind;
  const isSameHold = before.pinned === spell.pinned && (spell.kind === 'hands' || before.lot === spell.lot);
  return isSameWork && isSameHold && before.finish === spell.start;
}

/** A day sheet: people and machines as its columns. */
export interface DaySheet {
  readonly date: string;
  readonly start: number;
  readonly end: number;
  readonly people: readonly {
    readonly id: string;
    readonly name: string;
    readonly open: readonly (readonly [number, number])[];
    readonly spells: readonly DaySpell[];
  }[];
  readonly machines: readonly {
    readonly id: string;
    readonly name: string;
    readonly unit: number;
    /** Minutes of its hours on that day, from now on. */
    readonly open: number;
    readonly spells: readonly DaySpell[];
  }[];
  readonly orders: readonly { readonly step: string; readonly name: string; readonly by: number }[];
  readonly decisions: readonly {
    readonly id: string;
    readonly question: string;
    readonly settles?: string;
    readonly by: number;
  }[];
  readonly arrivals: readonly { readonly step: string; readonly name: string; readonly at: number }[];
}

/**
 * Remaining units over time. `counted` from the log up to now, `planned` from the first schedule, `needed` from now to
 * the latest finish.
 */
export interface BurnLine {
  /** null: all steps together, in minutes of hands; otherwise the units of that step. */
  readonly step: string | null;
  readonly unit: string;
  readonly total: number;
  readonly left: number;
  readonly counted: readonly (readonly [number, number])[];
  readonly planned: readonly (readonly [number, number])[];
  readonly needed: readonly (readonly [number, number])[];
  /** Units (or minutes) an open hour that must be done from now to the last moment; null when that is too short. */
  readonly neededPerHour: number | null;
  readonly countedPerHour: number | null;
  /** What the first schedule said would be left by now; null where there was none. */
  readonly plannedLeft?: number | null;
}

/**
 * The plan that `planned` is of. `open`: nothing is counted yet, so it is the plan as it is; `kept`: as it stood when
 * the first thing was counted; `present`: made afterwards, of the build as it is now.
 */
export type ForecastFirstPlan =
  | { readonly kind: 'open' | 'present' }
  | { readonly kind: 'kept'; readonly revision: number };
