/** What every page of a build is given. */
import type {
  Build,
  Forecast,
  FuturesCompared,
  LeverSearch,
  MadeUnits,
  Problem,
  RippleAsked,
  ThingList,
} from '../server/model/index.ts';
import type { WallClock } from './wall-clock.ts';

export const LIGHTS = ['day', 'night'] as const;
export type Light = (typeof LIGHTS)[number];

export interface BuildPage {
  readonly build: Build;
  readonly revision: number;
  readonly forecast: Forecast;
  /** Number of the last log entry that the forecast knows. */
  readonly entries: number;
  /** Minutes since the epoch. */
  readonly computedAt: number;
  /** The ground has moved on and a newer forecast is on its way. */
  readonly stale: boolean;
  /** What a stale forecast does not know yet; left out where it is not stale. */
  readonly behind?: { readonly edits: number; readonly entries: number };
  /** When the last try for a newer or better forecast failed; left out where it did not. */
  readonly failedAt?: number;
  /** Names the state that is shown, for the stream of changes. */
  readonly seen: string;
  readonly clock: WallClock;
  /** What was said before the last edit, for a while after it was made; left out otherwise. */
  readonly saved?: {
    readonly readyAt: number | null;
    readonly chance: number | null;
    readonly installed: number | null;
  };
  /** Who closed the build, and when; left out while it is open. */
  readonly closed?: { readonly who: string; readonly at: number };
  /** Null: as the device prefers. */
  readonly light: Light | null;
}
export type EditList = ThingList;

export type FormValues = Readonly<Record<string, string | readonly string[]>>;

/** What the form that starts a build asks for, as it was typed; the week as ticks and the text that they came from. */
export interface TypedBuild
  extends Readonly<
    Record<'name' | 'zone' | 'event' | 'readyBy' | 'loadIn' | 'who' | 'hours' | 'others' | 'machines', string>
  > {
  readonly week: readonly string[];
  readonly 'week-from': string;
}

/** The one form that is open on a page: what it edits, the text in it and what was wrong with that. */
export interface OpenForm {
  readonly list: EditList | 'build';
  /** Null: a new thing. */
  readonly key: string | null;
  /** The key that a new thing would have, by which problems name it. */
  readonly as?: string;
  readonly values: FormValues;
  /** The edit that the form was opened on. */
  readonly revision: number;
  readonly problems: readonly Problem[];
  /** Why a thing could not be taken out: the things that need it. */
  readonly needs?: readonly Need[];
  /** What it would do if it were saved, where that was asked. */
  readonly seen?: SeenFirst;
  /** What it reaches, and what is asked about the units that are made. */
  readonly ripple?: RippleForm;
  /** What it is to be kept as, where that was asked. */
  readonly keep?: KeepAs;
  /** The list to which a row has just been added, so that one can type there. */
  readonly added?: string;
}

/** What an edit would do: the plan as it is and as it would be, worked out alike. */
export interface SeenFirst {
  readonly present: Forecast;
  readonly forecast: Forecast;
  readonly compared: FuturesCompared | null;
  /** Whether it changes anything. */
  readonly changes: boolean;
  readonly clock: WallClock;
}

/** What a change reaches, with what was typed about the units that are made. */
export interface RippleForm {
  readonly asked: RippleAsked;
  /** By the names of the inputs. */
  readonly values: Readonly<Record<string, string>>;
  /** It is shown for the first time, instead of saving. */
  readonly isNew: boolean;
  readonly partName: (id: string) => string;
  /** The id of a step, a gate or an order. */
  readonly stepName: (id: string) => string;
  /** The steps that units in a state may be done again at, each with its minutes a unit as they are now. */
  readonly redoOf: (units: MadeUnits) => readonly { readonly step: string; readonly minutes: number | null }[];
}

/** What was typed to keep an edit as an option, and the options that it may be added to. */
export interface KeepAs {
  readonly name: string;
  /** The number of an option; empty: a new one. */
  readonly into: string;
  readonly options: readonly { readonly number: number; readonly name: string }[];
}

/** A thing that needs the one that was to be taken out. */
export interface Need {
  readonly name: string;
  /** Such as `waits for “Test bough”`. */
  readonly does: string;
  /** Where it is changed. */
  readonly href: string;
}

/** A search for levers as far as it is; `search` null: nothing is found yet. */
export interface ShownLevers {
  readonly search: LeverSearch | null;
  readonly state: 'running' | 'ended' | 'failed';
  readonly isStale: boolean;
}
