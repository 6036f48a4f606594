/** The line under a sheet that says what is being worked out for its build, and how far it is. */
import { workForm } from '../hx.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';

/** A piece of background work. */
export interface WorkShown {
  readonly job: number;
  readonly kind: 'search' | 'what-if' | 'levers' | 'sizes' | 'ways' | 'ledger' | 'past';
  readonly isRunning: boolean;
  /** How much of it is done, 0 to 1; null where nobody knows. */
  readonly share: number | null;
}

interface AtWorkProps {
  build: string;
  /** The most urgent first. */
  work: readonly WorkShown[];
  /** Why something could not be stopped. */
  problem: string | null;
}

const say = texts.atWork;

/** Where the line is fetched, and where what it shows is stopped. */
export function atWorkHref(build: string): string {
  return `/b/${build}/at-work`;
}

/** The first of the work with a button that stops it, and how much waits behind; nothing where there is none. */
export function AtWork({ build, work, problem }: AtWorkProps): Html {
  const [first, ...others] = work;
  return (
    <>
      {problem === null ? null : (
        <p class="threat" role="status">
          {problem}
        </p>
      )}
      {first === undefined ? null : (
        <form {...workForm(atWorkHref(build))}>
          <p>
            {first.isRunning ? say.underWay(say.kinds[first.kind], percent(first)) : say.waits(say.kinds[first.kind])}
            {others.length > 0 ? say.more(others.length) : null}
          </p>
          <button type="submit" name="job" value={String(first.job)}>
            {hasBest(first) ? say.stopWithBest : say.stop}
          </button>
        </form>
      )}
    </>
  );
}

/** Whole per cent, and 100 only when it is done. */
function percent({ share }: WorkShown): number | null {
  return share === null ? null : Math.min(99, Math.floor(100 * share));
}

const HAVE_BEST: ReadonlySet<WorkShown['kind']> = new Set(['search', 'levers', 'sizes', 'ways']);

function hasBest({ kind, isRunning }: WorkShown): boolean {
  return isRunning && HAVE_BEST.has(kind);
}
