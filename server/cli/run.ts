/** The command line: what each command reads, answers and refuses. */
import { parseArgs } from 'node:util';
import { stringify } from 'yaml';
import { readWall } from '../engine/index.ts';
import {
  type Build,
  type BuildFile,
  buildFileSchema,
  FILE_FORMAT,
  FILE_VERSION,
  type Forecast,
  isError,
  type LogEntry,
  type Problem,
  problem,
  type Result,
} from '../model/index.ts';
import { atOnce, createPlanner, MAKER, MOST_FILE_MEGABYTES, type RunningPlanner } from '../planner/index.ts';
import { databaseFileOf, type Environment } from '../settings.ts';
import { createStore, openDatabase, restoreDatabase, type Store } from '../store/index.ts';
import { readBuildFile } from './read-file.ts';
import { problemLine, summaryOf } from './summary.ts';

/** What the command line needs from the world. `now` in minutes since the epoch. */
export interface World {
  readonly env: Environment;
  readonly now: () => number;
  readonly stamp: () => string;
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly plan: (build: Build, log: readonly LogEntry[], now: number) => Forecast;
}

export const FINE = 0;
export const BAD_INPUT = 2;

export const HELP = `Daywright on the command line

  daywright plan FILE [--now INSTANT] [--json]
        works out a build file: when it is ready, the room, the critical path, what to order.
        --now takes an instant such as 2026-11-30T18:00Z or 2026-11-30T18:00+01:00 (default: now)
  daywright schema
        prints the JSON Schema of the build file
  daywright import FILE [--db FILE]
        takes a build and its log into the database
  daywright export BUILD [--yaml] [--db FILE]
        prints a build and its log as a build file
  daywright backup FILE [--db FILE]
        copies the database while it is in use
  daywright restore FILE [--db FILE]
        puts a backup in its place, while Daywright is stopped; what was there is kept beside it
  daywright --help
        this page

FILE is JSON or YAML of at most ${MOST_FILE_MEGABYTES} MB. The database is --db, or DAYWRIGHT_DB, or data/daywright.sqlite.
Exit code 0: fine. 2: something was wrong with the input; each problem is a line on standard error.
`;

const FLAGS = {
  now: { type: 'string' },
  json: { type: 'boolean' },
  yaml: { type: 'boolean' },
  db: { type: 'string' },
  help: { type: 'boolean', short: 'h' },
} as const;

type Flags = ReturnType<typeof parseArgs<{ options: typeof FLAGS }>>['values'];

interface Command {
  /** What its one operand is called; null: it takes none. */
  readonly operand: string | null;
  readonly flags: readonly (keyof Flags)[];
  readonly run: (operand: string, flags: Flags, world: World) => number | Promise<number>;
}

const COMMANDS: Readonly<Record<string, Command>> = {
  plan: { operand: 'FILE', flags: ['now', 'json'], run: plan },
  schema: { operand: null, flags: [], run: schema },
  import: { operand: 'FILE', flags: ['db'], run: bring },
  export: { operand: 'BUILD', flags: ['db', 'yaml'], run: give },
  backup: { operand: 'FILE', flags: ['db'], run: backup },
  restore: { operand: 'FILE', flags: ['db'], run: restore },
};

/** Runs one command and returns its exit code. Answers go to `out`, sentences about what was wrong to `err`. */
export async function runCommand(args: readonly string[], world: World): Promise<number> {
  const read = readArguments(args);
  if (!read.ok) return refuse(world, read.problems);
  const { command, operand, flags } = read.value;
  if (command === null) {
    world.out(HELP);
    return FINE;
  }
  return command.run(operand, flags, world);
}

interface Arguments {
  readonly command: Command | null;
  readonly operand: string;
  readonly flags: Flags;
}

function readArguments(args: readonly string[]): Result<Arguments> {
  const wrong = (message: string): Result<never> => ({
    ok: false,
    problems: [problem('shape', 'command', args.join(' '), `${message} See daywright --help.`)],
  });
  let flags: Flags;
  let words: string[];
  try {
    ({ values: flags, positionals: words } = parseArgs({ args: [...args], options: FLAGS, allowPositionals: true }));
  } catch (error) {
    return wrong(`${(error as Error).message.split('.')[0]}.`);
  }
  if (flags.help) return { ok: true, value: { command: null, operand: '', flags } };
  const [name, operand, ...more] = words;
  if (name === undefined) return wrong(`A command is missing: one of ${Object.keys(COMMANDS).join(', ')}.`);
  if (name === 'help') return { ok: true, value: { command: null, operand: '', flags } };
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) return wrong(`"${name}" is no command; there are ${Object.keys(COMMANDS).join(', ')}.`);
  const stray = Object.keys(flags).find((flag) => !command.flags.includes(flag as keyof Flags));
  if (stray !== undefined) return wrong(`--${stray} does not go with ${name}.`);
  if (command.operand !== null && operand === undefined) return wrong(`${name} needs a ${command.operand}.`);
  const extra = command.operand === null ? operand : more[0];
  if (extra !== undefined) return wrong(`"${extra}" is one word too many for ${name}.`);
  return { ok: true, value: { command, operand: operand ?? '', flags } };
}

function plan(path: string, flags: Flags, world: World): number {
  const now = flags.now === undefined ? ({ ok: true, value: world.now() } as const) : readNow(flags.now);
  if (!now.ok) return refuse(world, now.problems);
  const file = readBuildFile(path);
  if (!file.ok) return refuse(world, file.problems);
  const forecast = world.plan(file.value.build, file.value.log ?? [], now.value);
  world.out(flags.json ? `${JSON.stringify(forecast, null, 2)}\n` : summaryOf(forecast));
  const errors = forecast.problems.filter(isError);
  return errors.length > 0 ? refuse(world, errors) : FINE;
}

/** An instant names its offset: without one, the same words would mean another moment in another place. */
function readNow(text: string): Result<number> {
  const read = readWall(text, 'UTC');
  const exact = /(Z|[+-]\d{2}:\d{2})$/.test(text);
  if (read.ok && exact) return read;
  const message = `--now must be an instant such as 2026-11-30T18:00Z or 2026-11-30T18:00+01:00; it is "${text}".`;
  return { ok: false, problems: [problem('not-a-date', '--now', text, read.ok ? message : read.problem.message)] };
}

function schema(_: string, __: Flags, world: World): number {
  world.out(`${JSON.stringify(buildFileSchema(), null, 2)}\n`);
  return FINE;
}

function bring(path: string, flags: Flags, world: World): Promise<number> {
  const file = readBuildFile(path);
  if (!file.ok) return Promise.resolve(refuse(world, file.problems));
  return withDatabase(flags, world, async (planner) => {
    const { build, log = [] } = file.value;
    const made = await planner.create(build, log, MAKER);
    if (!made.ok) return refuse(world, made.problems);
    const forecast = planner.latest(build.id)?.forecast;
    for (const one of forecast?.problems ?? []) world.err(`${problemLine(one)}\n`);
    world.out(`Taken in: ${build.name} (${build.id}), ${log.length} log ${log.length === 1 ? 'entry' : 'entries'}.\n`);
    return FINE;
  });
}

function give(id: string, flags: Flags, world: World): Promise<number> {
  return withDatabase(flags, world, (planner) => {
    const found = planner.build(id);
    if (!found) {
      const there = planner.builds().map((build) => build.id);
      const message = `There is no build "${id}"; there ${there.length === 0 ? 'are none' : `is ${there.join(', ')}`}.`;
      return refuse(world, [problem('unknown-name', 'build', id, message)]);
    }
    const log = planner.log(id);
    const file: BuildFile = { format: FILE_FORMAT, version: FILE_VERSION, build: found.build, log };
    world.out(flags.yaml ? stringify(file) : `${JSON.stringify(file, null, 2)}\n`);
    return FINE;
  });
}

function backup(path: string, flags: Flags, world: World): Promise<number> {
  return withDatabase(flags, world, async (_, store) => {
    try {
      await store.backup(path);
    } catch (error) {
      const message = `The backup could not be written to ${path}: ${(error as Error).message}.`;
      return refuse(world, [problem('shape', 'file', path, message)]);
    }
    world.out(`Backed up to ${path}.\n`);
    return FINE;
  });
}

async function restore(path: string, flags: Flags, world: World): Promise<number> {
  const file = databaseFileOf(flags.db, world.env);
  const restored = await restoreDatabase(path, file);
  if (!restored.ok) return refuse(world, restored.problems);
  const { keptAs } = restored.value;
  world.out(`Restored ${file} from ${path}.${keptAs === null ? '' : ` What was there is kept as ${keptAs}.`}\n`);
  return FINE;
}

async function withDatabase(
  flags: Flags,
  world: World,
  work: (planner: RunningPlanner, store: Store) => number | Promise<number>,
): Promise<number> {
  const db = openDatabase(databaseFileOf(flags.db, world.env));
  if (!db.ok) return refuse(world, db.problems);
  const store = createStore(db.value);
  const { now, stamp } = world;
  const planner = createPlanner({ store, now, stamp, background: atOnce });
  try {
    return await work(planner, store);
  } finally {
    planner.close();
    store.close();
  }
}

function refuse(world: World, problems: readonly Problem[]): number {
  for (const one of problems) world.err(`${problemLine(one)}\n`);
  return BAD_INPUT;
}
