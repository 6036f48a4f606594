/** What every page of a build is given. */
import type { Build, Forecast, Problem, ThingList } from '../server/model/index.ts';
import type { WallClock } from './words/wall-clock.ts';

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
  /** Null: as the device prefers. */
  readonly light: Light | null;
}
export type EditList = ThingList;

export type FormValues = Readonly<Record<string, string | readonly string[]>>;

/** The one form that is open on a page: what it edits, the text in it and what was wrong with that. */
export interface OpenForm {
  readonly list: EditList | 'build';
  /** Null: a new thing. */
  readonly key: string | null;
  readonly values: FormValues;
  /** The edit that the form was opened on. */
  readonly revision: number;
  readonly problems: readonly Problem[];
  /** Why a thing could not be taken out: the things that need it. */
  readonly needs?: readonly Need[];
  /** The list to which a row has just been added, so that one can type there. */
  readonly added?: string;
}

/** A thing that needs the one that was to be taken out. */
export interface Need {
  readonly name: string;
  /** Such as `waits for “Test bough”`. */
  readonly does: string;
  /** Where it is changed. */
  readonly href: string;
}
