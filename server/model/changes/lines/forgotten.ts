/** What builds forget, and patterns of work of the trade: lines to begin from, each a guess. */
import type { Build } from '../../build.ts';

/** What a build may lack, in the order in which it comes. */
const FORGOTTEN = ['cure', 'test', 'spares', 'pack', 'drive', 'load-in', 'strike'] as const;
type Forgotten = (typeof FORGOTTEN)[number];

/** A line that may be filled in for something that the build lacks. */
interface ForgottenLine {
  readonly code: Forgotten;
  readonly line: string;
}

/**
 * A line for each thing that the build lacks; none for a build without steps. A name is enough to say that it is there:
 * `Pack crates` packs. Curing is asked for where something is painted, glued or cast and nothing waits; spares where a
 * part is made ten times or more, in a plain number, and none is spare (three in a hundred, one at least).
 */
export function forgottenLines(build: Build): ForgottenLine[] {
  if (build.steps.length === 0) return [];
  return FORGOTTEN.flatMap((code) => {
    const line = lacks[code](build);
    return line === null ? [] : [{ code, line: fitted(line, build) }];
  });
}

/** The line of a pattern as this build can take it: who is alone has nobody to do a job with. */
export function patternLine(pattern: keyof typeof WORK_PATTERNS, build: Build): string {
  return fitted(WORK_PATTERNS[pattern], build);
}

function fitted(line: string, { people = [] }: Build): string {
  return people.length === 1 ? line.replace(' with 2 people', '') : line;
}

const lacks: Readonly<Record<Forgotten, (build: Build) => string | null>> = {
  cure: (build) => (isNamed(build, /paint|glue|oil|varnish|lacquer|cast|resin/i) && !waits(build) ? 'cure 24 h' : null),
  test: (build) =>
    (build.gates ?? []).length > 0 || isNamed(build, /\btest|check/i) ? null : 'test 40 min, may fail 10 %',
  spares: sparesLine,
  pack: (build) => (isNamed(build, /\bpack|crate/i) ? null : 'pack 3 h with 2 people'),
  drive: (build) => (isNamed(build, /driv|transport|haul|carry/i) ? null : 'drive there 1 h'),
  'load-in': (build) => (isNamed(build, /load.?in|hang|install|set up|rig/i) ? null : 'load in 2 h with 2 people'),
  strike: ({ strike = [] }) => (strike.length > 0 ? null : 'strike 2 h with 2 people'),
};

function isNamed({ steps }: Build, what: RegExp): boolean {
  return steps.some(({ name }) => what.test(name));
}

/** Something dries by itself, or in a rack that is planned as a machine. */
function waits({ steps, machines = [] }: Build): boolean {
  const racks = machines.filter(({ name }) => /\brack|\bdry|\bcur|\boven/i.test(name)).map(({ id }) => id);
  return steps.some(({ phases = [] }) =>
    phases.some((phase) => phase.kind === 'wait' || (phase.kind === 'run' && racks.includes(phase.machine))),
  );
}

function sparesLine({ parts = [] }: Build): string | null {
  if (parts.some(({ spares }) => spares !== undefined && spares !== 0)) return null;
  const part = parts.find(({ source, count, usedIn = [] }) => {
    return source === 'make' && usedIn.length === 0 && typeof count === 'number' && count >= 10;
  });
  const count = Number(part?.count);
  return part === undefined ? null : `${count} ${part.name}, ${Math.max(1, Math.round(count * 0.03))} spares`;
}

/** Patterns of work: a line each, whose part, counts and times are there to be replaced. */
export const WORK_PATTERNS = {
  print: '24 brackets, on a plate of 6, 3 h 20 at night',
  cut: '60 slats, cut 2 min each in lots of 12',
  order: '12 motors, bought from the supplier, 3 to 7 days, 1 spare',
  paint: '40 panels, paint 2 coats 4 min each, dry 6 h',
  press: '80 bearings, press in 1 min each',
  fit: '20 frames, fit 8 min each',
  wire: '10 drivers, wire 25 min each in lots of 1',
  soak: 'soak 12 h',
  test: 'test 40 min, may fail 20 %',
  pack: 'pack 3 h with 2 people',
  'load-in': 'load in 2 h with 2 people',
  strike: 'strike 2 h with 2 people',
} as const;
