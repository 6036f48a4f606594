/** What is asked about units that were made before a change, with the answers. */
import type { Build, LogEntry, MadeUnits, RippleAnswer } from '../../model/index.ts';

export interface Asked {
  /** The build with the change made. */
  readonly build: Build;
  readonly log: readonly LogEntry[];
  /** The units that are asked about, as they are now. */
  readonly made: readonly MadeUnits[];
  readonly answers: readonly RippleAnswer[];
  /** By part, the drawing that its units were made to; empty where it had no name. */
  readonly revisions: ReadonlyMap<string, string>;
  /** Parts that get a new revision: those whose drawing has changed without one. */
  readonly raised: ReadonlySet<string>;
  /** What was changed. */
  readonly because: string;
}
