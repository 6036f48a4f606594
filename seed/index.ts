/** The builds that a newcomer may look at: the demo first, then examples of other trades. All of them are invented. */
import type { BuildFile } from '../server/model/index.ts';
import { dayNumber } from './days.ts';
import { DEMO } from './demo.ts';
import { paperFlock } from './examples/paper-flock.ts';
import { turningStage } from './examples/turning-stage.ts';

/** A build by its id, as a file whose dates lie ahead of an instant (whole minutes since the epoch). */
interface Example {
  readonly id: string;
  readonly file: (now: number) => BuildFile;
}

export const EXAMPLES: readonly [Example, ...Example[]] = [
  DEMO,
  { id: 'paper-flock', file: (now) => paperFlock('paper-flock', dayNumber(now)) },
  { id: 'turning-stage', file: (now) => turningStage('turning-stage', dayNumber(now)) },
];
