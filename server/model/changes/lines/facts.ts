/** What a line was understood to say, and what it left open, as codes with values: the views word them. */
import type { Amount, Estimate } from '../../common.ts';
import type { HazardGuess } from '../../step.ts';

/**
 * Why a line is not added: a chance above all cases; a test with no work before it; hands said in days; a time within
 * the name of a part; a count that may be thousands or a fraction; a time for each of nothing.
 */
export type WhyNot = 'over-all' | 'nothing-to-test' | 'days-of-hands' | 'no-comma' | 'thousands' | 'each-of-what';

/** One thing that a line says. */
export type Fact =
  | { readonly code: 'parameter'; readonly name: string; readonly value: string }
  | { readonly code: 'part'; readonly part: string; readonly count: Amount; readonly parent: string | null }
  | { readonly code: 'spares' | 'on-hand'; readonly part: string; readonly units: number }
  | { readonly code: 'packs'; readonly part: string; readonly units: number }
  | { readonly code: 'yield'; readonly part: string; readonly share: number }
  | { readonly code: 'cost'; readonly part: string; readonly each: number }
  | {
      readonly code: 'supplier';
      readonly part: string;
      readonly supplier: string;
      readonly bought: boolean;
      readonly lead: number | { readonly low: number; readonly high: number };
    }
  | {
      readonly code: 'hands';
      readonly step: string;
      readonly time: Estimate;
      readonly per: 'unit' | 'all';
      readonly times: number;
      readonly people: number;
    }
  | {
      readonly code: 'run';
      readonly step: string;
      readonly machine: string;
      readonly minutes: number;
      readonly per: 'unit' | 'lot' | 'all';
      readonly lot: number | null;
    }
  | { readonly code: 'wait'; readonly step: string; readonly minutes: number }
  | { readonly code: 'gate'; readonly gate: string; readonly minutes: number; readonly after: readonly string[] }
  | { readonly code: 'may-fail'; readonly gate: string; readonly chance: number }
  | { readonly code: 'sends-back'; readonly step: string; readonly units: number }
  | { readonly code: 'strike'; readonly job: string; readonly minutes: number; readonly people: number };

/** What a line did not say, and what takes its place. */
export type Assumed =
  | { readonly code: 'each'; readonly step: string }
  | { readonly code: 'lots'; readonly step: string }
  | { readonly code: 'sent-out'; readonly part: string }
  | {
      readonly code: 'new-machine';
      readonly machine: string;
      readonly unattended: boolean;
      readonly overnight: boolean;
    }
  | { readonly code: 'on-machine'; readonly step: string; readonly machine: string }
  | { readonly code: 'is-work'; readonly words: string }
  | { readonly code: 'over-night'; readonly step: string; readonly minutes: number }
  | { readonly code: 'likely-middle'; readonly what: string }
  | { readonly code: 'after-all'; readonly step: string; readonly after: readonly string[] }
  | { readonly code: 'tested-once'; readonly gate: string }
  | { readonly code: 'on-site'; readonly step: string }
  | { readonly code: 'hazards'; readonly step: string; readonly guesses: readonly HazardGuess[] };
