/**
 * What comes from outside and what it costs: how much of it, in which packs, from whom, until when, and how far it has
 * come. Instants are whole minutes since the epoch (UTC), money is in the build's currency.
 */

/**
 * How far a thing is: nothing of it is ordered, and there is time (`to-order`) or there is none (`late`); all of it is
 * on its way, for which the supplier has named a day (`promised`) or has not; some of it is here; all of it is; or
 * nobody is named who brings it, so that it is planned as if it were here.
 */
export const SUPPLY_STATES = ['to-order', 'late', 'ordered', 'promised', 'part-here', 'here', 'nobody'] as const;
export type SupplyState = (typeof SUPPLY_STATES)[number];

/** How a thing is counted: in its unit (null: pieces), so much of it in a pack. One unit of the log is a pack of it. */
export interface SupplyMeasure {
  readonly unit: string | null;
  readonly pack: number;
  /** Share of what is bought that is lost. */
  readonly waste: number;
}

/** An order that is out. `units` of the log are not here yet. */
interface SupplyOrder {
  readonly entry: string;
  readonly units: number;
  readonly at: number;
  readonly due: number;
  readonly promised: boolean;
}

/** A part that is bought or sent out, or work that a supplier does. */
export interface ForecastSupply {
  /** The part's id, else the step's. */
  readonly id: string;
  readonly part: string | null;
  /** Where it is logged: the step or implied order with the lead time; null where nobody is named. */
  readonly step: string | null;
  readonly name: string;
  readonly supplier: string | null;
  readonly kind: 'buy' | 'send-out';
  readonly measure: SupplyMeasure;
  /** In the piece, and to spare, as amounts of the measure. */
  readonly need: number;
  readonly spares: number;
  readonly onHand: number;
  /** To buy or send out in all, as an amount of the measure, and in whole packs where it comes in packs. */
  readonly amount: number;
  readonly packs: number | null;
  /** Units of the log: in all, here, on their way, and still to be ordered. */
  readonly units: number;
  readonly here: number;
  readonly onTheWay: number;
  readonly toOrder: number;
  readonly state: SupplyState;
  /** The last moment to order what is still to be ordered; null where nothing is, or nobody is named. */
  readonly orderBy: number | null;
  /** When what is missing should be here, and when it is needed; null where all is here or nobody is named. */
  readonly arrives: number | null;
  readonly neededBy: number | null;
  readonly orders: readonly SupplyOrder[];
  /** Null where it has no price. */
  readonly cost: number | null;
}

/** Loads of a machine: plates, trays, sheets on a bed. */
export interface ForecastLoads {
  readonly step: string;
  readonly name: string;
  readonly machine: string;
  /** Units in a load. */
  readonly size: number;
  readonly total: number;
  readonly left: number;
}

export interface ForecastSupplies {
  readonly supplies: readonly ForecastSupply[];
  readonly loads: readonly ForecastLoads[];
}

export const MONEY_KINDS = ['made', 'bought', 'sent-out', 'express', 'hours'] as const;
export type MoneyKind = (typeof MONEY_KINDS)[number];

/** One thing that costs: a part, an express, a person. */
export interface MoneyLine {
  readonly kind: MoneyKind;
  readonly id: string;
  readonly name: string;
  readonly supplier: string | null;
  /** Ordered, received, begun or worked. */
  readonly committed: number;
  readonly toCome: number;
  /** For a person: minutes that are paid, so far and to come. */
  readonly minutes?: { readonly soFar: number; readonly toCome: number };
}

/** What the piece costs. `total` is what is committed, what is to come, and what is kept back on that. */
export interface ForecastMoney {
  readonly lines: readonly MoneyLine[];
  readonly committed: number;
  readonly toCome: number;
  readonly contingency: number;
  readonly share: number;
  readonly total: number;
  /** Names of the parts that come from outside and have no price. */
  readonly unpriced: readonly string[];
}
