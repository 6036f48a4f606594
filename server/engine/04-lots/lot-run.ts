/** The lots of one step in one set, as other files of the room pass them on. */

/** The lots of one step in one set, in the order of their units. */
export interface LotRun {
  readonly set: number | null;
  readonly lots: readonly number[];
}
