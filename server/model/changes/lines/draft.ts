/** What a line has said so far. */
import type { Build } from '../../build.ts';
import type { Estimate } from '../../common.ts';
import type { Gate } from '../../gate.ts';
import type { Machine } from '../../hands.ts';
import type { Part } from '../../part.ts';
import type { Supplier } from '../../supplier.ts';
import type { Assumed, Fact, WhyNot } from './facts.ts';
import { isNamed } from './measures.ts';

/** Work that a line names: its phases once, which `times` repeats. */
export interface StepDraft {
  name: string;
  phases: PhaseDraft[];
  times: number;
  lot: number | null;
  who: string[] | null;
}

export type PhaseDraft =
  | { kind: 'hands'; time: Estimate; per: 'unit' | 'all'; people: number; oneGo: boolean }
  | { kind: 'run'; machine: string; minutes: number; per: 'unit' | 'lot' | 'all' }
  | { kind: 'wait'; minutes: number };

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
  /** Words that may name a supplier, until their days come, or work, until its time comes. */
  pending: string | null;
  /** How often, where those words turn out to be work. */
  pendingTimes: number;
  bought: boolean;
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
    pending: null,
    pendingTimes: 1,
    bought: false,
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

/** What a name looks like at the head of a sheet. */
export function capital(name: string): string {
  return name.replace(/^(?:cnc|3d)\b/, (short) => short.toUpperCase()).replace(/^./u, (first) => first.toUpperCase());
}

/** The ids that are taken by steps, gates and orders. */
export function stepIds({ steps, gates = [], parts = [] }: Build): Set<string> {
  return new Set([...steps, ...gates].map(({ id }) => id).concat(parts.map(({ id }) => `order-${id}`.slice(0, 60))));
}

/** A gate among those of the build. */
export function gatesOf(build: Build): readonly Gate[] {
  return build.gates ?? [];
}
