/** What a closed build says to whoever would change it or count on it, and where its time stands still. */
import { isZone, readWall, wallText } from '../engine/index.ts';
import { type Build, type Problem, problem, problemTexts } from '../model/index.ts';
import type { Closed } from '../store/index.ts';

/** What keeps an edit or a count out: who closed the build, and when, on the clock where the event is. */
export function closedProblem({ zone }: Build, closed: Closed): Problem {
  const when = wallText(stillAt(closed), isZone(zone) ? zone : 'UTC').replace('T', ' ');
  return problem('closed', 'build', closed.at, problemTexts.edits.closed.by(closed.who, when));
}

/** The instant at which its clock stands still, in minutes since the epoch. */
export function stillAt({ at }: Closed): number {
  const read = readWall(at, 'UTC');
  if (!read.ok) throw new Error(`a build was closed at ${at}`);
  return read.value;
}
