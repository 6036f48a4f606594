/** What a line has said so far. */
import type { Build } from '../../build.ts';
import type { Estimate } from '../../common.ts';
import type { Gate } from '../../gate.ts';
import type { Machine } from '../../hands.ts';
import type { Parameter } from '../../parameter.ts';
import type { Part } from '../../part.ts';
import type { Supplier } from '../../supplier.ts';
import type { Clause } from './clause.ts';
import type { Assumed, Fact, WhyNot } from './facts.ts';
import { type Days, isNamed } from './measures.ts';

/** Work that a line names: its phases once, which `times` repeats. */
export interface StepDraft {
  name: string;
  phases: PhaseDraft[];
  times: number;
  lot: number | null;
  who: string[] | null;
  onSite: boolean;
  /** Minutes of loading and unloading that a line says; left out where it says nothing of them. */
  loading?: { readonly load?: number; readonly unload?: number };
}

export type PhaseDraft =
  | { kind: 'hands'; time: Estimate; per: 'unit' | 'all'; people: number; oneGo: boolean }
  | { kind: 'run'; machine: string; time: Estimate; per: 'unit' | 'lot' | 'all' }
  | { kind: 'wait'; minutes: number }
  | { kind: 'lead'; supplier: string; days: Days | null };

interface GateDraft {
  name: string;
  minutes: number;
  perSet: boolean;
  people: number;
  failChance: number | null;
  sendsBack: { step: string; units: number }[];
}

export interface LineDraft {
  readonly build: Build;
  /** The part that the line is about; null for a job of its own. */
  part: { id: string; name: string; isNew: boolean; fields: Partial<Part> } | null;
  steps: StepDraft[];
  gates: GateDraft[];
  /** Jobs after the event. */
  strike: { readonly name: string; readonly minutes: number; readonly people: number }[];
  machines: Machine[];
  /** Why a clause was not taken, where more is known than that it was not. */
  why: WhyNot | null;
  suppliers: Supplier[];
  /** Suppliers of the build whose express the line says. */
  express: { supplier: string; lead: Days }[];
  /** A count that is not sure yet, as a number of the design. */
  parameters: Parameter[];
  /** Words that may name a supplier, until their days come, or work, until its time comes. */
  pending: string | null;
  /** The clause of those words, where they turn out to be work. */
  pendingClause: Clause | null;
  /** Days that were said before the supplier's name, and whether they can be nothing else. */
  leadBefore: { lead: Days; isDelivery: boolean; said: string } | null;
  bought: boolean;
  /** Whether the line says that it goes to somebody, such as `sent to`. */
  sentOut: boolean;
  /** Units on a plate or in a lot that were said before the time. */
  lotBefore: { lot: number; onPlate: boolean; atNight: boolean } | null;
  facts: Fact[];
  assumed: Assumed[];
}

export function emptyDraft(build: Build): LineDraft {
  return {
    build,
    part: null,
    steps: [],
    gates: [],
    strike: [],
    machines: [],
    why: null,
    suppliers: [],
    express: [],
    parameters: [],
    pending: null,
    pendingClause: null,
    leadBefore: null,
    bought: false,
    sentOut: false,
    lotBefore: null,
    facts: [],
    assumed: [],
  };
}

/** The thing that a name means among those of a list; null where it means none. */
export function named<T extends { readonly id: string; readonly name: string }>(
  things: readonly T[] | undefined,
  said: string,
): T | null {
  return things?.find(({ id, name }) => isNamed(name, said) || isNamed(id, said)) ?? null;
}

/** The ids that are taken by steps, gates and orders. */
export function stepIds({ steps, gates = [], parts = [] }: Build): Set<string> {
  return new Set([...steps, ...gates].map(({ id }) => id).concat(parts.map(({ id }) => `order-${id}`.slice(0, 60))));
}

/** A gate among those of the build. */
export function gatesOf(build: Build): readonly Gate[] {
  return build.gates ?? [];
}
