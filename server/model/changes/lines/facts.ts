/** What a line was understood to say, and what it left open, as codes with values: the views word them. */
import type { Amount, Estimate } from '../../common.ts';
import type { HazardGuess } from '../../step.ts';

/** Why a line is not added, where that is known; `views/texts/lines.ts` says each. */
export type WhyNot =
  | 'over-all'
  | 'nothing-to-test'
  | 'days-of-hands'
  | 'no-comma'
  | 'thousands'
  | 'each-of-what'
  | 'no-number'
  | 'clock-time'
  | 'dates'
  | 'bound'
  | 'spares-within'
  | 'part-in-part'
  | 'fails-each'
  | 'each-measure'
  | 'after-a-time'
  | 'altogether'
  | 'who';

/** Working days. */
type Lead = number | { readonly low: number; readonly high: number };

/** One thing that a line says. */
export type Fact =
  | { readonly code: 'parameter'; readonly name: string; readonly value: string }
  | {
      readonly code: 'part';
      readonly part: string;
      readonly count: Amount;
      readonly unit: string | null;
      readonly parent: string | null;
    }
  | { readonly code: 'spares' | 'on-hand'; readonly part: string; readonly units: number }
  | { readonly code: 'packs'; readonly part: string; readonly units: number }
  | { readonly code: 'yield'; readonly part: string; readonly share: number }
  | { readonly code: 'cost'; readonly part: string; readonly each: number }
  | {
      readonly code: 'supplier';
      readonly part: string;
      readonly supplier: string;
      readonly bought: boolean;
      readonly lead: Lead;
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
      readonly time: Estimate;
      readonly per: 'unit' | 'lot' | 'all';
      readonly lot: number | null;
    }
  | { readonly code: 'loading'; readonly step: string; readonly load: number; readonly unload: number }
  | { readonly code: 'express'; readonly supplier: string; readonly lead: Lead }
  | { readonly code: 'lead'; readonly step: string; readonly supplier: string; readonly lead: Lead }
  | { readonly code: 'wait'; readonly step: string; readonly minutes: number }
  | { readonly code: 'gate'; readonly gate: string; readonly minutes: number; readonly after: readonly string[] }
  | { readonly code: 'who'; readonly step: string; readonly person: string }
  | { readonly code: 'may-fail'; readonly gate: string; readonly chance: number }
  | { readonly code: 'sends-back'; readonly step: string; readonly units: number }
  | { readonly code: 'strike'; readonly job: string; readonly minutes: number; readonly people: number };

/** What a line did not say, and what takes its place. */
export type Assumed =
  | { readonly code: 'each'; readonly step: string }
  | { readonly code: 'lots'; readonly step: string }
  | { readonly code: 'sent-out'; readonly part: string }
  | { readonly code: 'unnamed-supplier'; readonly part: string; readonly supplier: string }
  | { readonly code: 'lead-kept'; readonly supplier: string; readonly lead: Lead }
  | { readonly code: 'hours-minutes'; readonly said: string; readonly minutes: number }
  | {
      readonly code: 'new-machine';
      readonly machine: string;
      readonly unattended: boolean;
      readonly overnight: boolean;
    }
  /** Minutes of one person before and after each run. */
  | { readonly code: 'loading'; readonly step: string; readonly load: number; readonly unload: number }
  | { readonly code: 'on-machine'; readonly step: string; readonly machine: string }
  | { readonly code: 'is-work'; readonly words: string }
  | { readonly code: 'over-night'; readonly step: string; readonly minutes: number }
  | { readonly code: 'likely-middle'; readonly what: string }
  | { readonly code: 'after-all'; readonly step: string; readonly after: readonly string[] }
  | { readonly code: 'tested-once'; readonly gate: string }
  | { readonly code: 'on-site'; readonly step: string }
  | { readonly code: 'hazards'; readonly step: string; readonly guesses: readonly HazardGuess[] };
