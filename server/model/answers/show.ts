/**
 * What is carried to the site, whether it fits, who does what there when, and what could stop the show. Sizes are in
 * millimetres, weights in kilograms, instants whole minutes since the epoch (UTC), lengths of time whole minutes.
 */
import type { PassageKind } from '../show.ts';
import type { Hazard } from '../step.ts';

/** Units of a part: for the piece, and spares. */
export interface ShowUnits {
  readonly part: string;
  readonly units: number;
  readonly spares: number;
}

export interface BoxSize {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
}

export interface ShowBox {
  readonly id: string;
  readonly name: string;
  /** null where nobody has said it. */
  readonly size: BoxSize | null;
  readonly weight: number | null;
  /** People who lift it together, and the weight up to which a published guideline lets that many people. */
  readonly carriers: number;
  readonly guideline: number;
  /** Kilograms above the guideline; 0 where it is kept, null where nobody has said the weight. */
  readonly above: number | null;
  /** The step or gate on site at which it is opened; null: tools and kits, or nothing that a step takes. */
  readonly opensAt: string | null;
  /** When that begins, as planned; null where it is done, or not placed. */
  readonly opens: number | null;
  readonly parts: readonly (ShowUnits & {
    /** More than what goes to the site and is in no box before this one. */
    readonly tooMany: number;
  })[];
  readonly tools: readonly string[];
  readonly kit: readonly string[];
  /** The entry of the log that says so, and stands; null where it is not packed. */
  readonly packed: { readonly entry: string; readonly at: number; readonly who: string | null } | null;
}

export type BoxSide = 'width' | 'height' | 'depth';

/** How a box that does not fit is best laid, and by how much each side is still too long. */
export interface NoFit {
  readonly box: string;
  /** The box turned so that the worst side is as little too long as can be. */
  readonly turned: BoxSize;
  readonly over: readonly { readonly side: BoxSide; readonly by: number }[];
}

/** What goes into a van, or through a door or a lift. */
export interface ShowPassage {
  readonly id: string;
  readonly name: string;
  readonly kind: PassageKind;
  /** Boxes that fit, as sizes go. */
  readonly fits: number;
  readonly noFit: readonly NoFit[];
  /** Boxes without a size. */
  readonly unknown: readonly string[];
  /** For a van: all boxes together; for a lift: the heaviest box. Null where no payload is given. */
  readonly weight: { readonly load: number; readonly payload: number; readonly by: number } | null;
  /** Boxes whose weight nobody has said, where there is a payload. */
  readonly unweighed: readonly string[];
  /**
   * For a van: litres of all boxes with a size against its own. More than it holds cannot go in; less may still not,
   * for boxes leave gaps.
   */
  readonly volume: { readonly load: number; readonly room: number; readonly by: number } | null;
}

export interface ShowPoint {
  readonly id: string;
  readonly name: string;
  /** null where it could not be computed. */
  readonly load: number | null;
  readonly limit: number;
  /** Load less limit: above zero it is too much. */
  readonly by: number | null;
  readonly gate: string | null;
  readonly signedBy: string | null;
  /** Its gate has been passed, and a competent person is named for it. */
  readonly signed: boolean;
}

/** A stretch of work on site as planned: some people, or nobody, for a lot of a step. */
export interface RunLine {
  readonly lot: string;
  readonly step: string;
  readonly set: number | null;
  readonly units: number;
  readonly kind: 'hands' | 'load' | 'unload' | 'run' | 'wait';
  readonly start: number;
  readonly finish: number;
  /** Its last moment, so that the event is kept; null where none is known. */
  readonly last: number | null;
  readonly people: readonly string[];
}

/** A gate at which the piece is switched on. */
export interface PowerOn {
  readonly gate: string;
  readonly onSite: boolean;
  readonly passed: boolean;
  readonly start: number | null;
  readonly last: number | null;
  /**
   * For one at home that is still to come: whether it is planned for a day before that of the load-in, or of the event
   * where there is no load-in. Null for the rest.
   */
  readonly dayBefore: boolean | null;
}

export interface StrikeLine {
  readonly id: string;
  readonly name: string;
  readonly start: number;
  readonly finish: number;
  readonly people: number;
  readonly who: readonly string[];
}

/**
 * What might go into a box and is in none: the units of a part or its spares, one more of a part that has no spare, a
 * tool that steps on site name, a material for repairs. `box` is the box that has the like; null: none, so a new
 * one.
 */
export type PackProposal = { readonly box: string | null } & (
  | { readonly code: 'units' | 'spares'; readonly of: string; readonly units: number }
  | { readonly code: 'one-more' | 'repair'; readonly of: string }
  | { readonly code: 'tool'; readonly of: string; readonly steps: readonly string[] }
);

/** A gate that might switch the piece on, at home or at the venue. */
export interface PowerProposal {
  readonly code: 'power-on';
  readonly of: 'home' | 'venue';
}

/** What could stop the show, as a code with its values. */
export type ShowStop =
  | { readonly code: 'late'; readonly by: number }
  | { readonly code: 'no-spare'; readonly part: string; readonly need: number }
  | { readonly code: 'unsigned'; readonly step: string; readonly hazard: Hazard; readonly gate: string | null }
  | { readonly code: 'no-certificate'; readonly step: string | null }
  | { readonly code: 'undecided'; readonly decision: string; readonly by: number | null }
  | { readonly code: 'gate-open'; readonly gate: string; readonly left: number }
  | { readonly code: 'no-power-on'; readonly where: 'home' | 'venue' }
  | { readonly code: 'point-over'; readonly point: string; readonly by: number }
  | { readonly code: 'point-unsigned'; readonly points: readonly string[] }
  | {
      readonly code: 'no-fit';
      readonly box: string;
      readonly passage: string;
      readonly side: BoxSide;
      readonly by: number;
    }
  | { readonly code: 'overloaded'; readonly passage: string; readonly by: number }
  | { readonly code: 'unpacked'; readonly part: string; readonly units: number; readonly spares: number };

export interface ForecastShow {
  /** In the order in which they are opened: the first comes out first, so it is packed and loaded last. */
  readonly boxes: readonly ShowBox[];
  /** What goes to the site and is in no box. */
  readonly unpacked: readonly ShowUnits[];
  /** What might go into a box, for the maker to take. */
  readonly proposals: readonly PackProposal[];
  /** What would be proposed if the maker had not said that it is not needed. */
  readonly notNeeded: readonly (PackProposal | PowerProposal)[];
  readonly passages: readonly ShowPassage[];
  readonly points: readonly ShowPoint[];
  /** In the order of its beginning, from the load-in to the event. */
  readonly run: readonly RunLine[];
  /** Steps and gates on site with something left that the run leaves out: nobody may do it, or it has no place. */
  readonly notYet: readonly string[];
  readonly power: readonly PowerOn[];
  /** Forwards from the event, or from when taking down may begin. */
  readonly strike: readonly StrikeLine[];
  readonly stops: readonly ShowStop[];
}
